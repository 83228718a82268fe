from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.regions import Carried, Declaration, Made, declare, load_region, substances
from menugen.regions.declaration import SULPHITES

ON = date(2026, 12, 12)
REGIMES = [load_region(code, ON).regime for code in ("EU", "GB", "US", "CA", "AU")]

some_substances = st.frozensets(st.sampled_from(substances()), max_size=5)
words = st.sampled_from([(), (), ("mango",), ("Mango", "chestnut"), ("maize",)])
made = st.builds(
    Made,
    thing=st.sampled_from(["isinglass", "refined-soya-oil", "wheat-glucose", ""]),
    use=st.sampled_from(["ingredient", "fining"]),
    substances=st.sampled_from(["fish", "soy", "wheat", SULPHITES]).map(lambda one: frozenset({one})),
    said=st.just("as said"),
)
lines = st.builds(
    Carried,
    substances=some_substances,
    may_contain=some_substances,
    distilled_from=some_substances.map(lambda found: found - {SULPHITES}),  # no one distils from them
    sulphites_mg_per_l=st.none() | st.floats(0, 400),
    volume_ml=st.floats(0, 200),
    kind=st.sampled_from(["", "spirit", "beer", "wine"]),
    kind_id=st.sampled_from(["", "ale", "cider"]),
    made=st.just(()) | st.tuples(made),
    said=words,
    may_said=words,
    distilled_said=words,
)
drinks = st.lists(lines, max_size=5)
regimes = st.sampled_from(REGIMES)
volumes = st.floats(0, 500)


def contained(declaration: Declaration) -> set[str]:
    return {one for group in declaration.contains for one in group.substances}


def perhaps(declaration: Declaration) -> set[str]:
    return {one for group in declaration.may_contain for one in group.substances}


def bases(declaration: Declaration) -> set[str]:
    return {one for group in declaration.distilled_from for one in group.substances}


def declared(declaration: Declaration) -> set[str]:
    return contained(declaration) | perhaps(declaration) | bases(declaration)


@pytest.mark.parametrize(("mg_per_l", "shown"), [(9.9, False), (10.1, True), (None, True)])
def test_sulphites_are_declared_from_what_the_place_says_and_where_no_figure_is_known(mg_per_l, shown):
    wine = Carried(frozenset({SULPHITES}), sulphites_mg_per_l=mg_per_l, volume_ml=100)
    assert contained(declare(load_region("GB", ON).regime, [wine], 100)) == ({SULPHITES} if shown else set())


@pytest.mark.slow
@given(regimes, drinks, lines, volumes)
def test_another_line_never_takes_an_allergen_away(regime, drink, line, served_ml):
    before = declare(regime, drink, served_ml)
    after = declare(regime, [*drink, line], served_ml)
    assert contained(before) <= contained(after)
    assert contained(before) | perhaps(before) <= contained(after) | perhaps(after)
    assert declared(before) <= declared(after)
    for kind in ("said", "may_said"):
        words = [{word.casefold() for word in getattr(one, kind)} for one in (before, after)]
        assert words[0] <= words[1]


@pytest.mark.slow
@given(regimes, drinks, lines, volumes, st.floats(0, 500))
def test_dilution_takes_nothing_but_sulphites_away(regime, drink, line, served_ml, more_ml):
    before = declare(regime, drink, served_ml)
    after = declare(regime, [*drink, line], served_ml + more_ml)
    assert contained(before) - contained(after) <= {SULPHITES}


@pytest.mark.slow
@given(regimes, drinks, volumes)
def test_may_contain_never_repeats_contains(regime, drink, served_ml):
    declaration = declare(regime, drink, served_ml)
    assert not contained(declaration) & perhaps(declaration)
    assert not bases(declaration) & (contained(declaration) | perhaps(declaration))


@pytest.mark.slow
@given(regimes, drinks, volumes)
def test_what_a_label_says_is_never_lost(regime, drink, served_ml):
    declaration = declare(regime, drink, served_ml)
    said = {one for line in drink for one in line.substances}
    assert said - {SULPHITES} <= contained(declaration)
    said_perhaps = {one for line in drink for one in line.may_contain}
    assert said_perhaps <= contained(declaration) | perhaps(declaration)
    for kind in ("said", "may_said"):
        typed = {word.casefold() for line in drink for word in getattr(line, kind)}
        assert typed <= {word.casefold() for word in getattr(declaration, kind)}
    for line in drink:
        for one in line.made:
            shown = one.substances - {SULPHITES} <= contained(declaration)
            assert shown or regime.exempts(one.thing, one.use, line.kind_id)
            assert shown or one.use == "fining" or one.said in declaration.said


@pytest.mark.slow
@given(regimes, drinks, volumes)
def test_what_a_spirit_was_distilled_from_is_said_whole_or_is_wholly_exempt(regime, drink, served_ml):
    declaration = declare(regime, drink, served_ml)
    for line in drink:
        shown = [one for one in line.distilled_from if one in declared(declaration)]
        exempt = all(
            one in regime.listed and regime.listed[one].distillate_exempt for one in line.distilled_from
        )
        listed = [one for one in line.distilled_from if one in regime.listed]
        if any(not regime.listed[one].distillate_exempt for one in listed):
            assert set(shown) == line.distilled_from, "never some cereals and not others"
            if bases(declaration):
                assert len(line.distilled_from) <= len(declaration.distilled_words)
                words = {word.casefold() for word in declaration.distilled_said}
                assert {word.casefold() for word in line.distilled_said} <= words
        if exempt and len(drink) == 1 and not line.substances | line.may_contain:
            assert bases(declaration) == set()


@pytest.mark.slow
@given(regimes, drinks, volumes)
def test_every_entry_stands_once_in_the_order_of_the_law_then_the_rest(regime, drink, served_ml):
    order = [entry.id for entry in regime.entries]
    declaration = declare(regime, drink, served_ml)
    for groups in (declaration.contains, declaration.may_contain, declaration.distilled_from):
        ids = [group.entry_id for group in groups]
        assert len(set(ids)) == len(ids)
        listed = [name for name in ids if name in order]
        assert ids[: len(listed)] == listed == sorted(listed, key=order.index)
        for group in groups:
            assert len(group.words) == len(group.substances) > 0
            assert group.entry_id in order or not group.duty


@pytest.mark.slow
@given(regimes, drinks, volumes, st.randoms(use_true_random=False))
def test_the_order_of_lines_changes_nothing(regime, drink, served_ml, random):
    shuffled = drink.copy()
    random.shuffle(shuffled)
    one, other = declare(regime, shuffled, served_ml), declare(regime, drink, served_ml)
    for kind in ("contains", "may_contain", "distilled_from"):
        assert getattr(one, kind) == getattr(other, kind)
    for kind in ("said", "may_said", "distilled_said"):
        assert {word.casefold() for word in getattr(one, kind)} == {
            word.casefold() for word in getattr(other, kind)
        }


@pytest.mark.slow
@given(regimes, drinks)
def test_without_a_served_volume_every_sulphite_counts(regime, drink):
    carries = any(
        SULPHITES in line.substances
        or line.sulphites_mg_per_l
        or any(
            SULPHITES in one.substances and not regime.exempts(one.thing, one.use, line.kind_id)
            for one in line.made
        )
        for line in drink
    )
    assert (SULPHITES in contained(declare(regime, drink, 0))) == carries


def test_several_nuts_are_one_entry_with_each_nut_named():
    regime = load_region("EU", ON).regime
    drink = [
        Carried(frozenset({"walnut"})),
        Carried(frozenset({"almond"}), may_contain=frozenset({"hazelnut"})),
    ]
    declaration = declare(regime, drink, 100)
    (nuts,) = declaration.contains
    assert (nuts.entry_id, nuts.entry_name, nuts.icon, nuts.duty) == ("nuts", "Nuts", "nuts", True)
    assert nuts.words == ("almonds", "walnuts")
    (maybe,) = declaration.may_contain
    assert (maybe.entry_id, maybe.words, maybe.duty) == ("nuts", ("hazelnuts",), True)


@pytest.mark.parametrize(
    ("code", "substance", "word"),
    [
        ("EU", "barley", "barley (gluten)"),
        ("EU", "sulphites", "sulphites"),
        ("US", "sulphites", "sulfites"),
        ("US", "oats", "oats"),
        ("AU", "egg", "egg"),
        ("GB", "egg", "eggs"),
        ("GB", "coconut", "coconut"),
    ],
)
def test_words_are_those_of_the_place(code, substance, word):
    declaration = declare(load_region(code, ON).regime, [Carried(frozenset({substance}))], 100)
    assert declaration.contains[0].words == (word,)


def test_a_substance_on_no_list_stands_last_under_its_own_name():
    drink = [Carried(frozenset({"coconut", "milk"}))]
    milk, coconut = declare(load_region("GB", ON).regime, drink, 100).contains
    assert (milk.entry_id, milk.duty) == ("milk", True)
    assert (coconut.entry_id, coconut.entry_name, coconut.icon, coconut.duty) == (
        "coconut",
        "Coconut",
        "coconut",
        False,
    )


def test_an_unknown_substance_is_a_bug_and_never_dropped():
    with pytest.raises(ValueError, match="moon dust"):
        declare(load_region("GB", ON).regime, [Carried(frozenset({"moon dust"}))], 100)
