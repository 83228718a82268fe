import pytest

from menugen.regions import caution, known_cautions, with_alcohol


def test_hyphens_and_spaces_are_alike():
    assert caution("raw-egg") == caution("raw egg")
    assert caution("cross-contact") == caution("cross contact")


def test_what_must_not_be_served_comes_first_and_tells_guests_nothing():
    forbidden = [caution(name) for name in known_cautions() if caution(name).forbids]
    assert [one.id for one in forbidden] == list(known_cautions()[: len(forbidden)])
    assert {one.id for one in forbidden} == {
        "liquid nitrogen",
        "tobacco infusion",
        "poisonous garnish",
        "apricot kernel",
    }
    for one in forbidden:
        assert one.guest is None
        assert one.bar.split()[0] in {"Do", "Never"}


@pytest.mark.parametrize("name", known_cautions())
def test_every_caution_tells_the_bar_and_names_its_source(name):
    known = caution(name)
    assert known.bar.endswith((".", ")."))
    assert known.facts
    assert known.sources
    assert known.guest is None or known.guest[-1] in ".!"


def test_an_unknown_caution_is_a_bug():
    with pytest.raises(KeyError):
        caution("mild peril")


def test_what_comes_with_alcohol_comes_with_the_caution_that_brings_it_alone():
    assert with_alcohol(["caffeine", "raw egg"]) == ("caffeine with alcohol",)
    assert with_alcohol(["raw egg"]) == ()
