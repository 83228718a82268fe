"""What is told of how an event is to be published."""

from pathlib import Path

import pytest

from menugen.event_settings import check_event_settings
from menugen.problems import Problem, Severity
from menugen.publishing import theme_folders
from tests.houses import EVENT, SOUR, reading_of, with_drinks


def told(event: str = EVENT, spec: str = SOUR, house_lines: str = "") -> list[Problem]:
    files = with_drinks({"marsh-sour": spec}, event=event)
    files["house.yaml"] += house_lines
    reading = reading_of(files)
    assert reading.house is not None
    assert not reading.problems, reading.problems
    found = reading.house.events["small-supper"]
    return list(
        check_event_settings(found, reading.house, theme_folders(Path("no-house-here")), reading.sources)
    )


def codes(problems: list[Problem]) -> list[str]:
    return [problem.code for problem in problems]


def test_a_sound_event_is_told_nothing():
    assert told() == []


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("theme: slaet", "unknown-theme"),
        ("languages: [en, tlh]", "language-not-there"),
        ("currency: XYZ", "unknown-currency"),
    ],
)
def test_what_is_not_there_is_told_with_what_is(line, code):
    (problem,) = told(EVENT.replace("menu:", f"{line}\nmenu:", 1))
    assert problem.code == code
    assert problem.hints


@pytest.mark.parametrize(
    ("region", "named"),
    [("LT", "Lithuanian"), ("NO", "Norwegian"), ("IS", "Icelandic"), ("AT", ""), ("CH", "")],
)
def test_a_place_in_whose_language_there_are_no_words_is_told(region, named):
    found = told(EVENT.replace("menu:", f"region: {region}\nmenu:", 1))
    assert codes(found) == (["language-not-there"] if named else [])
    assert all(named in problem.message for problem in found)
    assert codes(told(EVENT.replace("menu:", f"region: {region}\nlanguages: [en]\nmenu:", 1))) == []


def test_a_price_finer_than_the_coin_is_told():
    event = EVENT.replace("date: 2026", "currency: JPY\ndate: 2026")
    files = with_drinks({"marsh-sour": SOUR}, event=event)
    files["events/small-supper.yaml"] = files["events/small-supper.yaml"].replace(
        "- marsh-sour", "- marsh-sour: 9.50"
    )
    reading = reading_of(files)
    assert reading.house is not None
    problems = check_event_settings(
        reading.house.events["small-supper"], reading.house, theme_folders(Path("none")), reading.sources
    )
    assert codes(list(problems)) == ["price-too-fine"]


@pytest.mark.parametrize(
    ("address", "expected"),
    [
        ("https://menu.example/s/", []),
        ("https://x.example/", []),
        ("https://menu.example/longer/", ["address-long"]),
    ],
)
def test_an_address_is_called_long_only_where_its_path_could_lose_enough(address, expected):
    assert codes(told(EVENT.replace("https://menu.example/s/", address))) == expected


@pytest.mark.parametrize(
    ("address", "code", "severity"),
    [
        ("", "address-missing", Severity.WARNING),
        (f"address: https://menu.example/{'ä' * 90}/", "address-unusable", Severity.ERROR),
    ],
)
def test_an_address_that_no_code_can_carry_is_told(address, code, severity):
    (problem,) = told(EVENT.replace("address: https://menu.example/s/", address))
    assert (problem.code, problem.severity) == (code, severity)


def test_a_dead_link_in_a_note_is_told_where_it_stands():
    spec = SOUR.replace("Bright and short.", "Bright, and [like this one](drinks/negroni.html).")
    (problem,) = told(spec=spec)
    assert (problem.code, problem.where.line) == ("dead-link", 14)
    assert told(spec=spec.replace("drinks/negroni.html", "drinks/marsh-sour.html")) == []
    assert told(spec=spec.replace("drinks/negroni.html", "https://menu.example/")) == []


def test_a_look_of_the_house_is_told_what_cannot_be_read_and_what_is_wrong_with_it(tmp_path):
    look = tmp_path / "themes" / "mine"
    look.mkdir(parents=True)
    event = EVENT.replace("menu:", "theme: mine\nmenu:", 1)
    house = reading_of(with_drinks({"marsh-sour": SOUR}, event=event))
    assert house.house is not None
    found = house.house.events["small-supper"]

    def problems() -> list[Problem]:
        assert house.house is not None
        return list(check_event_settings(found, house.house, theme_folders(tmp_path), house.sources))

    (look / "theme.yaml").write_text(
        'title: Mine\nextends: slate\ncolours:\n  light: {quiet: "#c0b8a8"}\n', encoding="utf-8"
    )
    (problem,) = problems()
    assert (problem.code, problem.where.file, problem.where.line) == (
        "theme-contrast",
        "themes/mine/theme.yaml",
        4,
    )
    assert problem.hints
    (look / "theme.yaml").write_text("title: Mine\nextends: slaet\n", encoding="utf-8")
    (problem,) = problems()
    assert (problem.code, problem.where.line) == ("theme-fault", 2)


TWO = EVENT.replace("marsh-sour: 9.50", "marsh-sour: 9.50\n      - ebb-sour")


def told_of_two(event: str = TWO, house_lines: str = "") -> list[Problem]:
    files = with_drinks({"marsh-sour": SOUR, "ebb-sour": SOUR.replace("Marsh", "Ebb")}, event=event)
    files["events/small-supper.yaml"] = event.lstrip("\n")
    files["house.yaml"] += house_lines
    reading = reading_of(files)
    assert reading.house is not None
    assert not reading.problems, reading.problems
    found = reading.house.events["small-supper"]
    return list(
        check_event_settings(found, reading.house, theme_folders(Path("no-house-here")), reading.sources)
    )


def test_a_drink_without_a_price_among_priced_ones_is_told():
    (problem,) = told_of_two()
    assert (problem.code, problem.severity) == ("price-missing", Severity.WARNING)
    assert problem.message == "Ebb Sour has no price, and other drinks on this menu have one"
    assert problem.hints[0] == 'write "- ebb-sour: 9.50", or "- ebb-sour: 0" where it is free'
    assert "hosted: yes" in problem.hints[1]


def test_a_free_drink_counts_as_priced():
    assert told_of_two(TWO.replace("ebb-sour", "ebb-sour: 0")) == []
    assert codes(told_of_two(TWO.replace("9.50", "0"))) == ["price-missing"]


def test_an_event_that_prices_nothing_or_is_hosted_misses_no_price():
    assert told_of_two(TWO.replace(": 9.50", "")) == []
    assert told_of_two(TWO + "hosted: yes\n") == []


WITHOUT_TAX = "tax registered: yes\nprices include tax: no\n"


@pytest.mark.parametrize(
    ("house_lines", "event", "told_of_tax"),
    [
        (WITHOUT_TAX, EVENT, True),
        ("tax registered: yes\nprices include tax: yes\n", EVENT, False),
        ("tax registered: no\nprices include tax: no\n", EVENT, False),
        (WITHOUT_TAX, EVENT.replace("9.50", "0"), False),
        (WITHOUT_TAX, EVENT + "hosted: yes\n", False),
        (WITHOUT_TAX, EVENT + "region: US-OR\n", False),
        (WITHOUT_TAX, EVENT + "region: IE\n", False),
        (WITHOUT_TAX, EVENT + "region: GB-SCT\n", True),
        ("", EVENT, False),
    ],
)
def test_prices_without_tax_are_told_where_guests_are_to_be_shown_them_with_it(
    house_lines, event, told_of_tax
):
    found = told_of_two(event, house_lines)
    assert ("tax-not-in-prices" in codes(found)) is told_of_tax
    if told_of_tax:
        (problem,) = found
        assert problem.severity is Severity.WARNING
        assert problem.where.path == ("prices include tax",)
