"""One bottle poured and nothing else goes by its label; a mixed drink by all that is in doubt."""

import pytest

from menugen.facts import work_out_event
from menugen.menu import strength_words
from menugen.problems import Severity
from tests.houses import EVENT, HOUSE, STOCK, reading_of, with_drinks


def bottle(name: str, abv: str, kind: str = "") -> str:
    of_kind = f"  kind: {kind}\n" if kind else ""
    return f"{name}:\n{of_kind}  bottle: 330 ml\n  abv: {abv} %\n  contains: none\n  checked: 2026-11-01\n"


def worked_out(name: str, stock: str, region: str, lines: str = "pour: 330 ml small bottle", more: str = ""):
    spec = f"---\nname: {name}\n{lines}\nglass: pint\nmethod: build\n{more}---\n"
    files = with_drinks(
        {"tried": spec}, event=EVENT, stock=STOCK + stock, house=HOUSE.replace("GB-ENG", region)
    )
    reading = reading_of(files)
    assert not reading.problems, reading.problems
    facts, problems = work_out_event(reading.house, next(iter(reading.house.events.values())))
    claims = [problem for problem in problems if problem.code == "untrue-strength-claim"]
    return facts.drinks["tried"].serve, claims


def beer(abv: str, kind: str = "lager") -> str:
    return bottle("small bottle", abv, kind)


@pytest.mark.parametrize(
    ("name", "abv", "region", "kind", "shown"),
    [
        ("Low Alcohol Pale", "1.0", "GB-ENG", "pale ale", "1 %"),
        ("Low Alcohol Pale", "1.2", "GB-ENG", "pale ale", "1.2 %"),
        ("Low Alcohol Pale", "2.4", "US-OR", "pale ale", "2.4 %"),
        ("Alcohol-Free Pale", "0.05", "GB-ENG", "pale ale", "0.05 %"),
        ("Non-Alcoholic Lager", "0.4", "US-OR", "lager", "0.4 %"),
        ("Alkoholfreies Helles", "0.4", "DE", "lager", "0.4 %"),
        ("Alkoholfreies Helles", "0.5", "DE", "alkoholfreies Helles", "0.5 %"),
        ("Alcoholvrij Pils", "0.1", "NL", "pils", "0.1 %"),
        ("Alcohol-Free White", "0.4", "IE", "dry_white_wine", "0.4 %"),
        ("De-alcoholised Sparkling", "0.4", "US-OR", "sparkling wine", "0.4 %"),
        ("Light Cider", "4", "CA-ON", "cider", "4 %"),
        ("Low Alcohol Bottled Punch", "1.1", "GB-ENG", "", "1.1 %"),
    ],
)
def test_a_claim_that_is_true_by_the_label_and_the_rules_of_its_class_passes(name, abv, region, kind, shown):
    serve, claims = worked_out(name, beer(abv, kind), region)
    assert claims == []
    assert shown in strength_words(serve).replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.parametrize(
    ("name", "abv", "region", "kind", "asks"),
    [
        ("Low Alcohol Pale", "1.3", "GB-ENG", "pale ale", "at most 1.2 % vol"),
        ("Alcohol-Free Pale", "0.06", "GB-ENG", "pale ale", "at most 0.05 % vol"),
        ("Non-Alcoholic Lager", "0.5", "US-OR", "lager", "under 0.5 % vol"),
        ("Alcohol-Free Lager", "0.4", "US-OR", "lager", "no alcohol at all"),
        ("Alkoholfreies Helles", "0.6", "DE", "lager", "at most 0.5 % vol"),
        ("Alcoholvrij Pils", "0.2", "NL", "pils", "at most 0.1 % vol"),
        ("Low Alcohol Lager", "2.5", "US-OR", "lager", "under 2.5 % vol"),
        # Rules for beer are no rules for wine, cider or anything else.
        ("Alkoholfreier Wein", "0.5", "DE", "dry_white_wine", "under 0.5 % vol"),
        ("Alkoholfreier Apfelwein", "0.4", "DE", "cider", "no alcohol at all"),
        ("Non-Alcoholic White", "0.4", "US-OR", "dry_white_wine", "no alcohol at all"),
        ("Alkoholfreier Met", "0.4", "DE", "mead", "no alcohol at all"),
        ("Alkoholfreier Sherry", "0.4", "DE", "fino_sherry", "no alcohol at all"),
        ("Alkoholfreier Punsch", "0.4", "DE", "", "no alcohol at all"),
    ],
)
def test_a_claim_that_is_untrue_by_the_label_is_refused(name, abv, region, kind, asks):
    _, (claim,) = worked_out(name, beer(abv, kind), region)
    assert claim.severity is Severity.ERROR
    assert f"is {float(abv):g} % vol by its label" in claim.message
    assert asks in claim.hints[0]


@pytest.mark.parametrize(
    "lines",
    ["pour: [330 ml small bottle, 20 ml soda water]", "pour: [330 ml small bottle, 5 ml sugar syrup]"],
)
def test_a_mixed_drink_keeps_the_cautious_rule(lines):
    for name, abv, region in (("Alkoholfreies Helles", "0.4", "DE"), ("Low Alcohol Pale", "1.0", "GB-ENG")):
        serve, claims = worked_out(name, beer(abv), region, lines)
        assert serve.labelled_percent is None
        assert serve.claims_as == ""
        assert len(claims) == 1
        assert "comes to about" in claims[0].message


@pytest.mark.parametrize(
    "lines",
    [
        "pour: 330 ml small bottle\ngarnish: lemon twist",
        "pour: 200 ml small bottle\ntop: 100 ml small bottle",
        "pour: 200 ml small bottle\nice: cubed",
        "pour: 200 ml small bottle\ntop: top with small bottle",
    ],
)
def test_a_garnish_ice_and_more_of_the_same_leave_it_one_bottle(lines):
    serve, claims = worked_out("Alkoholfreies Helles", beer("0.4"), "DE", lines)
    assert claims == []
    assert serve.claims_as == "beer"


def test_ice_thins_what_is_shown_and_not_what_is_claimed():
    neat, _ = worked_out("Pale", beer("1.0"), "GB-ENG")
    iced, _ = worked_out("Pale", beer("1.0"), "GB-ENG", "pour: 330 ml small bottle\nice: cubed")
    assert (neat.labelled_percent, iced.labelled_percent) == (1.0, None)
    assert iced.at_most_percent == neat.at_most_percent == 1.0


def test_a_neat_bottle_is_called_by_its_label_on_the_page_too():
    serve, _ = worked_out("Alcohol-Free Pale", beer("0.05"), "GB-ENG")
    assert serve.descriptor.alcohol_free
    assert strength_words(serve).replace("\N{NO-BREAK SPACE}", " ").startswith("alcohol free, 0.05 %")
    serve, _ = worked_out("Helles", beer("0.4"), "DE")
    assert serve.descriptor is None or not serve.descriptor.alcohol_free
    serve, _ = worked_out("Pale", beer("1.0"), "GB-ENG")
    assert serve.descriptor.term == "low alcohol"


def test_a_mocktail_wholly_of_bottles_without_alcohol_may_say_so():
    stock = bottle("juniper water", "0.0")
    for region in ("GB-ENG", "DE", "US-OR"):
        serve, claims = worked_out(
            "Alcohol-Free Highball", stock, region, "pour: [50 ml juniper water]\ntop: 100 ml soda water"
        )
        assert claims == []
        assert serve.made.served_abv_percent.high == 0


def test_a_name_without_its_kind_tells_the_class_by_itself_or_by_what_the_spec_calls_it():
    for name in ("non-alcoholic lager", "Harbour Non-Alcoholic Lager", "alcohol-free lager"):
        serve, claims = worked_out(
            "Non-Alcoholic Lager", bottle(name, "0.4"), "US-OR", f"pour: 330 ml {name}"
        )
        assert (serve.claims_as, claims) == ("beer", [])
    stock = bottle("saltern number four", "0.4").replace("330 ml\n", "330 ml\n  aliases: [house lager]\n")
    serve, claims = worked_out("Non-Alcoholic Lager", stock, "US-OR", "pour: 330 ml house lager")
    assert (serve.claims_as, claims) == ("beer", [])


def test_a_section_is_judged_by_each_drink_s_own_rule():
    event = EVENT.replace("section: All", "section: Alkoholfrei")
    beers = "---\nname: Helles\npour: 330 ml small bottle\nglass: pint\nmethod: build\n---\n"
    soda = "---\nname: Soda\npour: 200 ml soda water\nglass: pint\nmethod: build\n---\n"
    shandy = (
        "---\nname: Radler\npour: [165 ml small bottle, 165 ml soda water]\nglass: pint\nmethod: build\n---\n"
    )
    house = HOUSE.replace("GB-ENG", "DE")

    def told(specs):
        reading = reading_of(with_drinks(specs, event=event, stock=STOCK + beer("0.4"), house=house))
        _, problems = work_out_event(reading.house, next(iter(reading.house.events.values())))
        return [problem.message for problem in problems if problem.code == "untrue-strength-claim"]

    assert told({"helles": beers, "soda": soda}) == []
    (message,) = told({"helles": beers, "soda": soda, "radler": shandy})
    assert "and Radler comes to" in message


def test_a_swap_for_another_bottle_is_judged_by_its_own_label():
    stock = beer("0.4") + bottle("strong bottle", "0.7", "lager")
    _, claims = worked_out(
        "Alkoholfreies Helles", stock, "DE", more="swap:\n  small bottle: 330 ml strong bottle\n"
    )
    (claim,) = claims
    assert "Alkoholfreies Helles with strong bottle is 0.7 % vol by its label" in claim.message


def test_a_bottle_that_states_no_strength_has_no_label_to_go_by():
    stock = "small bottle:\n  kind: lager\n  bottle: 330 ml\n  contains: none\n  checked: 2026-11-01\n"
    serve, _ = worked_out("Helles", stock, "DE")
    assert serve.labelled_percent is None
    assert serve.strengthless == ("small bottle",)
