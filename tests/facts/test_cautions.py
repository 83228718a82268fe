"""Cautions that nobody has said: what a kind is known for is shown until a line says otherwise."""

import pytest

from menugen.facts import stock_cautions, unsaid_cautions, work_out_event
from menugen.menu import guest_menu
from menugen.problems import Severity
from tests.houses import EVENT, HOUSE, STOCK, reading_of, with_drinks

RUM = "dark rum:\n  bottle: 700 ml\n  abv: 40 %\n  contains: none\n  checked: 2026-11-01\n"


def line(name: str, *more: str) -> str:
    rows = "".join(f"  {row}\n" for row in more)
    return f"{name}:\n  contains: none\n  checked: 2026-11-01\n{rows}"


def spec(*lines: str, more: str = "", notes: str = "") -> str:
    poured = "".join(f"  - {one}\n" for one in lines)
    return f"---\nname: Tried\npour:\n{poured}glass: collins\nmethod: build\n{more}---\n{notes}\n"


def house_of(specs: dict[str, str], stock: str = "", event: str = EVENT):
    reading = reading_of(with_drinks(specs, stock=STOCK + stock, event=event, house=HOUSE))
    assert reading.house is not None
    assert not reading.problems, reading.problems
    return reading.house


def worked_out(text: str, stock: str = "", event: str = EVENT):
    house = house_of({"tried": text}, stock, event)
    facts, problems = work_out_event(house, next(iter(house.events.values())))
    assert facts is not None
    return facts, (*problems, *unsaid_cautions(house))


def told(problems) -> list[tuple[str, str, str]]:
    return [
        (problem.code, problem.where.file, problem.message)
        for problem in problems
        if problem.code in {"caution-not-said", "must-not-be-served"}
    ]


def cautions(facts) -> tuple[str, ...]:
    return facts.drinks["tried"].serve.cautions


@pytest.mark.parametrize(
    ("name", "more", "caution"),
    [
        ("farm egg white", "each: 20 ml", "raw egg"),
        ("harbour tonic", "", "quinine"),
        ("hedge honey", "", "honey"),
        ("unpasteurised apple juice", "", "unpasteurised juice"),
        ("raw milk", "", "raw milk"),
        ("black tea", "", "caffeine"),
        ("liquorice syrup", "", "liquorice"),
        ("dry ice", "", "dry ice"),
        ("pink grapefruit soda", "", "grapefruit"),
    ],
)
def test_what_a_line_is_known_for_is_carried_and_warned_of_until_it_answers(name, more, caution):
    rows = [more] if more else []
    facts, problems = worked_out(spec(f"20 ml {name}"), line(name, *rows))
    assert cautions(facts) == (caution,)
    (problem,) = problems
    assert (problem.code, problem.severity) == ("caution-not-said", Severity.WARNING)
    assert problem.where.path == (name,)
    assert f'"{name}" says nothing of cautions' in problem.message
    assert f'"cautions: [{caution}]"' in problem.hints[0]
    assert '"cautions: none"' in problem.hints[0]
    assert problem.hints[1].endswith("with Tried")

    facts, problems = worked_out(spec(f"20 ml {name}"), line(name, *rows, "cautions: none"))
    assert (cautions(facts), problems) == ((), ())
    facts, problems = worked_out(spec(f"20 ml {name}"), line(name, *rows, f"cautions: [{caution}]"))
    assert (cautions(facts), problems) == ((caution,), ())


def test_an_empty_list_is_no_answer():
    facts, problems = worked_out(spec("20 ml tonic water"), line("tonic water", "cautions: []"))
    assert cautions(facts) == ("quinine",)
    assert [problem.code for problem in problems] == ["caution-not-said"]


def test_a_line_that_names_another_caution_has_been_answered():
    facts, problems = worked_out(spec("20 ml coffee syrup"), line("coffee syrup", "cautions: [infusion]"))
    assert (cautions(facts), problems) == (("infusion",), ())


def test_a_pasteurised_egg_white_is_not_raw():
    facts, problems = worked_out(
        spec("20 ml pasteurised egg white"), line("pasteurised egg white", "kind: egg_white")
    )
    assert (cautions(facts), problems) == ((), ())


def test_a_kind_carries_its_caution_under_any_name():
    facts, problems = worked_out(spec("20 ml cloud"), line("cloud", "kind: egg_white"))
    assert cautions(facts) == ("raw egg",)
    assert [problem.code for problem in problems] == ["caution-not-said"]


def test_a_warning_comes_once_for_a_stock_line_with_all_its_drinks_of_all_events():
    drinks = {
        f"d{number}": spec("20 ml tonic water").replace("Tried", f"Drink {number}") for number in range(9)
    }
    files = with_drinks(drinks, stock=STOCK + line("tonic water"))
    files["events/second-supper.yaml"] = files["events/small-supper.yaml"].replace("Small", "Second")
    files["specs/unlisted.md"] = spec("20 ml tonic water").replace("Tried", "Unlisted")
    house = reading_of(files).house
    (problem,) = unsaid_cautions(house)
    assert problem.hints[1] == (
        "until then guests are shown it with Drink 0, Drink 1, Drink 2, Drink 3, Drink 4, Drink 5 and 4 more"
    )
    (of_one,) = unsaid_cautions(house, house.events["second-supper"])
    assert of_one.hints[1].endswith("and 3 more")


def test_stock_that_no_drink_holds_is_not_warned_of():
    facts, problems = worked_out(spec("20 ml orgeat"), line("tonic water"))
    assert (cautions(facts), problems) == ((), ())


def test_a_bottle_of_the_night_carries_what_the_spec_calls_it_where_it_says_nothing():
    event = EVENT.replace("menu:", "bottles:\n  tonic water: saltern number four\nmenu:")
    stock = line("tonic water", "cautions: [quinine]") + line("saltern number four")
    facts, problems = worked_out(spec("20 ml tonic water"), stock, event)
    assert cautions(facts) == ("quinine",)
    (problem,) = problems
    assert problem.where.path == ("saltern number four",)
    answered = stock.replace("saltern number four:", "saltern number four:\n  cautions: none")
    facts, problems = worked_out(spec("20 ml tonic water"), answered, event)
    assert (cautions(facts), problems) == ((), ())


def test_a_bottle_of_the_night_of_another_kind_carries_its_own():
    event = EVENT.replace("menu:", "bottles:\n  egg white: aquafaba\nmenu:")
    facts, problems = worked_out(spec("20 ml egg white"), "", event)
    assert (cautions(facts), problems) == ((), ())
    event = EVENT.replace("menu:", "bottles:\n  orgeat: coffee syrup\nmenu:")
    facts, _ = worked_out(spec("20 ml orgeat"), line("coffee syrup"), event)
    assert cautions(facts) == ("caffeine",)


def test_an_alias_that_names_the_thing_counts():
    facts, problems = worked_out(
        spec("20 ml egg white foam", "1 fresh egg"), line("cloud", "aliases: [egg white foam, fresh egg]")
    )
    assert cautions(facts) == ("raw egg",)
    assert [problem.where.path for problem in problems] == [("cloud",)]


def test_a_swap_has_the_cautions_of_its_own_way():
    text = spec("40 ml gin", "20 ml aquafaba", more="swap:\n  aquafaba: 20 ml farm egg white\n")
    facts, problems = worked_out(text, line("farm egg white", "each: 20 ml"))
    (swap,) = facts.drinks["tried"].swaps
    assert (cautions(facts), swap.serve.cautions) == ((), ("raw egg",))
    assert [problem.code for problem in problems] == ["caution-not-said"]
    (drink,) = guest_menu(facts, "slate").sections[0].drinks
    assert drink.cautions == ()
    assert drink.swaps[0].cautions[0].startswith("Made with raw egg.")


def test_a_notice_on_raw_egg_is_shown_where_only_a_swap_has_it():
    text = spec("40 ml gin", "20 ml aquafaba", more="swap:\n  aquafaba: 1 egg white\n")
    house = HOUSE.replace("GB-ENG", "US-OR")
    reading = reading_of(with_drinks({"tried": text}, house=house))
    facts, _ = work_out_event(reading.house, next(iter(reading.house.events.values())))
    told_of = [notice.text for notice in guest_menu(facts, "slate").notices]
    assert any("raw or undercooked" in text.casefold() for text in told_of)


def test_caffeine_and_alcohol_in_one_drink_carry_a_caution_of_their_own():
    stock = RUM + line("black tea", "cautions: [caffeine]")
    facts, problems = worked_out(spec("40 ml dark rum", "80 ml black tea"), stock)
    assert cautions(facts) == ("caffeine with alcohol", "caffeine")
    assert problems == ()
    assert cautions(worked_out(spec("80 ml black tea"), stock)[0]) == ("caffeine",)
    assert cautions(worked_out(spec("40 ml dark rum", "80 ml orgeat"), stock)[0]) == ()


def test_caffeine_beside_a_trace_of_alcohol_that_the_place_calls_alcohol_free_is_caffeine_alone():
    stock = line("kombucha", "abv: 0.04 %") + line("black tea", "cautions: [caffeine]")
    facts, _ = worked_out(spec("5 ml kombucha", "80 ml black tea"), stock)
    assert facts.drinks["tried"].serve.descriptor.alcohol_free
    assert cautions(facts) == ("caffeine",)


def test_a_swap_that_takes_the_alcohol_out_takes_its_caution_along():
    stock = RUM + line("black tea", "cautions: [caffeine]") + line("juniper water")
    text = spec("40 ml dark rum", "80 ml black tea", more="swap:\n  dark rum: 40 ml juniper water\n")
    facts, _ = worked_out(text, stock)
    assert facts.drinks["tried"].swaps[0].serve.cautions == ("caffeine",)


@pytest.mark.parametrize("answer", [(), ("cautions: none",), ("cautions: [quinine]",)])
def test_liquid_nitrogen_is_an_error_whatever_its_line_answers(answer):
    facts, problems = worked_out(spec("40 ml gin", "20 ml liquid nitrogen"), line("liquid nitrogen", *answer))
    assert [(problem.code, problem.severity) for problem in problems] == [
        ("must-not-be-served", Severity.ERROR)
    ]
    assert problems[0].where.file == "specs/tried.md"
    assert problems[0].where.path == ("pour", 1)
    assert problems[0].hints[0].startswith("Do not serve it")
    assert "liquid nitrogen" in cautions(facts)


def test_liquid_nitrogen_that_a_line_names_itself_is_told_once():
    _, problems = worked_out(
        spec("40 ml gin", "20 ml liquid nitrogen"), line("liquid nitrogen", "cautions: [liquid nitrogen]")
    )
    assert [problem.code for problem in problems] == ["must-not-be-served"]


@pytest.mark.parametrize(
    ("lines", "more", "notes", "caution"),
    [
        (("40 ml gin",), "garnish: flamed orange zest\n", "", "flaming"),
        (("40 ml gin", "{pour: 5 ml orgeat, note: set alight at the bar}"), "", "", "flaming"),
        (("40 ml gin",), "", "## Bar notes\nSet it alight, then cover.", "flaming"),
        (("40 ml gin",), "", "Comes in a plume of dry ice.", "dry ice"),
        (("40 ml gin",), "", "Cold.\n\n## Bar notes\nOne chip of Dry ice in the cage.", "dry ice"),
    ],
)
def test_a_specs_own_words_show_how_it_is_made(lines, more, notes, caution):
    stock = line("flamed orange zest")
    facts, problems = worked_out(spec(*lines, more=more, notes=notes), stock)
    assert cautions(facts) == (caution,)
    (problem,) = problems
    assert (problem.code, problem.where.file) == ("caution-not-said", "specs/tried.md")
    assert f'"cautions: [{caution}]"' in problem.hints[0]
    for answer, expected in (("none", ()), (f"[{caution}]", (caution,))):
        answered = spec(*lines, more=f"{more}cautions: {answer}\n", notes=notes)
        facts, problems = worked_out(answered, stock)
        assert (cautions(facts), problems) == (expected, ())


def test_what_a_line_of_stock_carries_is_not_asked_of_the_spec_again():
    facts, problems = worked_out(
        spec("40 ml gin", more="garnish: dry ice\n", notes="A plume of dry ice."),
        line("dry ice", "cautions: [dry ice]"),
    )
    assert (cautions(facts), problems) == (("dry ice",), ())


def test_a_name_or_a_guests_note_may_speak_of_flames():
    text = spec("40 ml gin", notes="A flaming sunset in a glass.").replace("Tried", "Flaming Marsh")
    facts, problems = worked_out(text)
    assert (cautions(facts), problems) == ((), ())


def test_notes_on_liquid_nitrogen_stop_the_publish_until_the_spec_says_it_is_not_in_it():
    notes = "Cold.\n\n## Bar notes\nChilled with Liquid Nitrogen."
    _, problems = worked_out(spec("40 ml gin", notes=notes))
    (problem,) = problems
    assert (problem.code, problem.severity) == ("must-not-be-served", Severity.ERROR)
    assert problem.where.quote == "Liquid Nitrogen"
    assert '"cautions: none"' in problem.hints[1]
    facts, problems = worked_out(spec("40 ml gin", more="cautions: none\n", notes=notes))
    assert (cautions(facts), problems) == ((), ())


def test_a_stock_line_has_its_own_cautions_without_a_spec():
    house = house_of(
        {"tried": spec("20 ml orgeat")}, line("tonic water") + line("bitter lemon", "cautions: none")
    )
    assert stock_cautions(house.stock["tonic water"]) == ("quinine",)
    assert stock_cautions(house.stock["bitter lemon"]) == ()


def test_what_a_comment_shows_is_told_as_what_bar_notes_show():
    facts, problems = worked_out(spec("50 ml gin", notes="Bright. <!-- a plume of dry ice at the table -->"))
    assert facts.drinks["tried"].serve.cautions == ("dry ice",)
    assert [(code, file) for code, file, _ in told(problems)] == [("caution-not-said", "specs/tried.md")]
    assert 'the comment shows "dry ice"' in told(problems)[0][2]
