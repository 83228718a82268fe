from menugen.problems import did_you_mean, near


def test_close_words_come_closest_first() -> None:
    assert near("samfire syrup", ["sugar syrup", "samphire syrup", "gin"])[0] == "samphire syrup"
    assert near("brim", ["rim", "brim"]) == ("brim",)
    assert near("Gin", ["gin", "gum"]) == ("gin",)


def test_at_most_three_and_nothing_far() -> None:
    assert len(near("rum a", ["rum b", "rum c", "rum d", "rum e"])) == 3
    assert near("gin", ["absinthe", "soda water"]) == ()
    assert near("", ["gin"]) == ()


def test_the_order_of_what_is_known_changes_nothing() -> None:
    known = ["rum b", "rum c", "rum d", "rum e"]
    assert near("rum a", known) == near("rum a", known[::-1])


def test_the_hint_is_one_sentence() -> None:
    assert did_you_mean("ginn", ["gin"]) == ('did you mean "gin"?',)
    assert did_you_mean("rum a", ["rum b", "rum c"]) == ('did you mean "rum b" or "rum c"?',)
    assert did_you_mean("gin", ["absinthe"]) == ()
