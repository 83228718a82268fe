"""An event worked out: bottles, allergens, swaps, and every problem on the way."""

import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.facts import EventFacts, find_vessel, work_out_event, work_out_unlisted
from menugen.mixing import volume_to_mm
from menugen.problems import Place, Problem, Severity
from tests.houses import EVENT, HOUSE, SOUR, STOCK, reading_of, texts, with_drinks


def worked_out(files: dict[str, str]) -> tuple[EventFacts | None, tuple[Problem, ...]]:
    reading = reading_of(files)
    assert reading.house is not None
    assert not reading.problems, reading.problems
    return work_out_event(reading.house, next(iter(reading.house.events.values())))


def codes(problems: tuple[Problem, ...]) -> list[str]:
    return sorted(problem.code for problem in problems)


def contains(facts: EventFacts, slug: str) -> list[str]:
    return [word for item in facts.drinks[slug].serve.declaration.contains for word in item.words]


def test_a_sound_event_has_no_problems_and_its_figures_follow_the_pours():
    facts, problems = worked_out(texts())
    assert problems == ()
    assert facts is not None
    serve = facts.drinks["marsh-sour"].serve
    assert serve.made.ethanol_ml == pytest.approx(20.0, abs=0.01)
    assert serve.made.served_abv_percent.value < serve.made.poured_abv_percent.value
    assert contains(facts, "marsh-sour") == ["eggs"]
    assert serve.cautions == ("raw egg",)


def test_a_swap_has_its_own_allergens():
    facts, _ = worked_out(texts())
    assert facts is not None
    (swap,) = facts.drinks["marsh-sour"].swaps
    assert swap.serve.declaration.contains == ()
    assert [item.entry_id for item in swap.serve.declaration.may_contain] == ["lupin"]
    assert swap.serve.cautions == ()


def test_a_swap_without_a_measure_takes_that_of_the_line_it_replaces_and_its_place():
    spec = (
        "---\nname: Floated\npour: 40 ml gin\nfloat: 20 ml single cream\nglass: coupe\nmethod: stir\n"
        "swap:\n  single cream: orgeat\n---\n"
    )
    facts, problems = worked_out(with_drinks({"floated": spec}))
    assert codes(problems) == []
    assert facts is not None
    (swap,) = facts.drinks["floated"].swaps
    changed = swap.serve.lines[1]
    assert (changed.stock.name, changed.volume_ml, changed.line.role.value) == ("orgeat", 20.0, "float")


def test_the_bottle_of_the_night_decides_strength_and_allergens():
    stock = STOCK + (
        "almond gin:\n  bottle: 700 ml\n  abv: 50 %\n  contains: [almond]\n  checked: 2026-11-01\n"
    )
    event = EVENT.replace("menu:", "bottles:\n  gin: almond gin\nmenu:")
    facts, problems = worked_out(with_drinks({"marsh-sour": SOUR}, event=event, stock=stock))
    assert codes(problems) == []
    assert facts is not None
    assert facts.drinks["marsh-sour"].serve.made.ethanol_ml == pytest.approx(25.0, abs=0.01)
    assert "almonds" in contains(facts, "marsh-sour")


def test_top_with_reaches_the_wash_line_beside_the_ice():
    spec = (
        "---\nname: Long\npour: 40 ml gin\ntop: top with soda water\nglass: highball\nice: cubed\n"
        "method: build\n---\n"
    )
    facts, problems = worked_out(with_drinks({"long": spec}))
    assert codes(problems) == []
    assert facts is not None
    drink = facts.drinks["long"]
    assert drink.vessel is not None
    assert drink.serve.fit is not None
    assert drink.serve.lines[1].volume_ml > 20
    assert drink.serve.fit.surface_ml == pytest.approx(drink.vessel.wash_line_ml, rel=0.02)


@pytest.mark.parametrize(
    ("change", "code", "severity"),
    [
        (("specs/marsh-sour.md", "25 ml lemon juice", "25 ml lemon jiuce"), "unknown-stock", Severity.ERROR),
        (("specs/marsh-sour.md", "glass: sour", "glass: soour"), "unknown-glass", Severity.ERROR),
        (
            ("specs/marsh-sour.md", "name: Marsh Sour", "name: Alcohol-Free Sour"),
            "untrue-strength-claim",
            Severity.ERROR,
        ),
        (("specs/marsh-sour.md", "glass: sour", "glass: nick and nora"), "overfull-glass", Severity.WARNING),
        (("specs/marsh-sour.md", "glass: sour", "glass: shot"), "glass-far-too-small", Severity.ERROR),
        (("stock/all.yaml", "  contains: [egg]\n", ""), "label-not-read", Severity.ERROR),
        (("stock/all.yaml", "contains: [egg]", "contains: [eggg]"), "unknown-substance", Severity.ERROR),
        (("stock/all.yaml", "cautions: [raw egg]", "cautions: [raw eg]"), "unknown-caution", Severity.ERROR),
        (("stock/all.yaml", "  abv: 40 %\n", ""), "strength-not-stated", Severity.ERROR),
        (("stock/all.yaml", "sugar: 615 g/l", "sugar: 1800 g/l"), "label-contradicts-itself", Severity.ERROR),
        (("events/small-supper.yaml", "2026-12-12", "2027-12-12"), "label-read-long-ago", Severity.WARNING),
        (
            ("events/small-supper.yaml", "- marsh-sour: 9.50", "- mash-sour: 9.50"),
            "unknown-drink",
            Severity.ERROR,
        ),
        (("events/small-supper.yaml", "menu:", "off: [negroni]\nmenu:"), "off-not-on-menu", Severity.ERROR),
        (
            ("events/small-supper.yaml", "menu:", "bottles:\n  gin: no such gin\nmenu:"),
            "unknown-stock",
            Severity.ERROR,
        ),
        (
            ("events/small-supper.yaml", "menu:", "bottles:\n  rum: garden gin\nmenu:"),
            "bottle-for-nothing",
            Severity.WARNING,
        ),
        (("events/small-supper.yaml", "menu:", "region: XK\nmenu:"), "unknown-region", Severity.ERROR),
        (("house.yaml", "region: GB-ENG\n", ""), "region-missing", Severity.ERROR),
    ],
)
def test_each_fault_is_told_once_with_its_code(change, code, severity):
    file, old, new = change
    files = texts()
    assert old in files[file]
    files[file] = files[file].replace(old, new, 1)
    _, problems = worked_out(files)
    told = {problem.code: problem.severity for problem in problems}
    assert told.get(code) is severity, problems
    assert len(problems) == len(set(problems))
    assert all(isinstance(problem.where, Place) for problem in problems)
    nothing_close = {"bottle-for-nothing", "off-not-on-menu", "unknown-stock"}
    assert all(problem.hints or problem.code in nothing_close for problem in problems)


@pytest.mark.parametrize("hidden", ["yes", "no"])
def test_a_menu_whose_every_drink_is_sold_out_is_empty_only_where_those_are_hidden(hidden):
    files = texts()
    file = "events/small-supper.yaml"
    files[file] = files[file].replace("menu:", f"off: [marsh-sour]\nhide off: {hidden}\nmenu:", 1)
    _, problems = worked_out(files)
    assert ["menu-empty"] * (hidden == "yes") == [problem.code for problem in problems]


def test_an_unread_label_in_a_garnish_a_rim_or_a_swap_stops_the_publish_too():
    stock = STOCK + "nut dust:\n  bottle: 1 kg\nodd cream:\n  bottle: 1 l\n"
    spec = SOUR.replace("garnish: lemon twist", "rim: nut dust\ngarnish: lemon twist").replace(
        "egg white: 20 ml aquafaba", "egg white: 20 ml odd cream"
    )
    _, problems = worked_out(with_drinks({"marsh-sour": spec}, stock=stock))
    assert codes(problems) == ["label-not-read", "label-not-read"]


def test_what_no_event_reaches_is_told_apart():
    files = texts()
    files["stock/all.yaml"] += "idle bottle:\n  bottle: 700 ml\n"
    files["specs/draft.md"] = SOUR.replace("lemon juice", "lemon jiuce").lstrip("\n")
    reading = reading_of(files)
    assert reading.house is not None
    problems = work_out_unlisted(reading.house, ())
    assert {(problem.code, problem.severity) for problem in problems} == {
        ("label-not-read", Severity.WARNING),
        ("unknown-stock", Severity.ERROR),
    }
    assert work_out_unlisted(reading.house, problems) == ()


@pytest.mark.slow
@given(st.permutations(range(4)), st.integers(1, 4))
def test_allergens_only_grow_as_lines_are_added_and_their_order_does_not_matter(order, kept):
    lines = ["30 ml gin", "20 ml orgeat", "1 egg white", "20 ml single cream"]

    def found(chosen: list[str]) -> set[str]:
        pours = "".join(f"  - {line}\n" for line in chosen)
        spec = f"---\nname: Grown\npour:\n{pours}method: shake\nglass: collins\n---\n"
        facts, _ = worked_out(with_drinks({"grown": spec}))
        assert facts is not None
        return set(contains(facts, "grown"))

    some = [lines[position] for position in order[:kept]]
    assert found(some) <= found(lines)
    assert found(some) == found(sorted(some))


def test_two_regions_declare_the_same_drink_by_their_own_lists():
    stock = (
        STOCK
        + "celery bitters:\n  bottle: 100 ml\n  abv: 44 %\n  contains: [celery]\n  checked: 2026-11-01\n"
    )
    spec = "---\nname: Green\npour: [40 ml gin, 2 dashes celery bitters]\nmethod: stir\nglass: coupe\n---\n"
    files = with_drinks({"green": spec}, stock=stock)
    duty, bases = {}, {}
    for region in ("GB-ENG", "US"):
        files["house.yaml"] = HOUSE.lstrip("\n").replace("GB-ENG", region)
        facts, _ = worked_out(files)
        assert facts is not None
        duty[region] = {
            word: item.duty
            for item in facts.drinks["green"].serve.declaration.contains
            for word in item.words
        }
        declaration = facts.drinks["green"].serve.declaration
        bases[region] = [word for item in declaration.distilled_from for word in item.words]
    assert duty["GB-ENG"]["celery"] is True
    assert duty["US"]["celery"] is False
    assert not any("wheat" in word for words in duty.values() for word in words), "a spirit is no cereal"
    assert bases == {"GB-ENG": [], "US": ["wheat"]}, "exempt in Great Britain, unsettled in the United States"


def test_records_are_not_changed_by_working_them_out():
    reading = reading_of(texts())
    assert reading.house is not None
    before = replace(reading.house)
    work_out_event(reading.house, reading.house.events["small-supper"])
    assert reading.house == before


@pytest.mark.parametrize(
    "figures",
    ["density: 1.20 g/ml\n  sugar: 0 g/l", "density: 0.80 g/ml", "sugar: 900 g/l"],
)
def test_a_label_that_holds_more_than_dissolves_or_weighs_too_little_gives_no_numbers(figures):
    files = texts()
    files["stock/all.yaml"] = files["stock/all.yaml"].replace("abv: 40 %", f"abv: 40 %\n  {figures}", 1)
    facts, problems = worked_out(files)
    assert codes(problems) == ["label-contradicts-itself"]
    assert facts is not None
    assert "marsh-sour" not in facts.drinks


def test_an_overfull_glass_is_told_in_millilitres_and_millimetres():
    files = texts()
    files["specs/marsh-sour.md"] = files["specs/marsh-sour.md"].replace(
        "glass: sour", "glass: nick and nora", 1
    )
    _, problems = worked_out(files)
    (problem,) = problems
    assert problem.code == "overfull-glass"
    told = re.search(r"(\d+) ml over the brim; the wash line is (\d+) mm under it", problem.message)
    assert told is not None, problem.message
    vessel = find_vessel("nick and nora", {})
    assert vessel is not None
    left_ml = vessel.brim_ml - volume_to_mm(vessel.profile_mm, vessel.profile_mm[-1][0] - int(told[2]))
    assert left_ml == pytest.approx(vessel.brim_ml - vessel.wash_line_ml, rel=0.15)
