"""Prices under the lowest a place allows."""

import pytest

from menugen.facts import work_out_event
from menugen.problems import Problem, Severity
from tests.houses import HOUSE, SOUR, reading_of, texts

CODE = "price-below-minimum"


def problems(
    price: str, region: str, day: str = "2026-12-12", spec: str = SOUR, **event: str
) -> list[Problem]:
    files = texts(**{"house.yaml": HOUSE.replace("GB-ENG", region), "specs/marsh-sour.md": spec})
    more = "".join(f"{key}: {value}\n" for key, value in event.items())
    files["events/small-supper.yaml"] = (
        files["events/small-supper.yaml"].replace("9.50", price).replace("2026-12-12", day) + more
    )
    reading = reading_of(files)
    assert reading.house is not None
    _, found = work_out_event(reading.house, reading.house.events["small-supper"])
    return [problem for problem in found if "price" in problem.code]


# The sour holds 50 ml of gin at 40 %: 20 ml or 15.78 g of pure alcohol.
@pytest.mark.parametrize(
    ("region", "least", "under"),
    [
        ("GB-SCT", "1.30", "1.29"),
        ("GB-WLS", "1.30", "1.29"),
        ("IE", "1.58", "1.57"),
        ("CA-ON", "2.32", "2.31"),
    ],
)
def test_the_least_lawful_price_passes_and_a_penny_less_does_not(region, least, under):
    assert problems(least, region) == []
    [problem] = problems(under, region)
    assert (problem.code, problem.severity) == (CODE, Severity.ERROR)
    assert least in problem.message
    assert least in problem.hints[0]
    assert (problem.where.on, problem.where.path[-1]) == ("value", "marsh-sour")


@pytest.mark.parametrize("region", ["GB-ENG", "GB-NIR", "AU-NT", "CA-QC", "DE", "US"])
def test_elsewhere_any_price_will_do(region):
    assert problems("0.10", region) == []


def test_the_day_of_the_event_decides():
    assert problems("1.00", "GB-WLS", "2026-09-30") == []
    [problem] = problems("1.00", "GB-WLS", "2026-10-01")
    assert "1.30" in problem.message
    assert problems("0.10", "GB-SCT", "2018-04-30") == []


def test_a_council_in_scotland_is_in_scotland():
    assert [problem.code for problem in problems("0.10", "GB-EDH")] == [CODE]


def test_a_swap_that_holds_more_is_named_with_its_price():
    stronger = SOUR.replace("  egg white: 20 ml aquafaba", "  gin: 100 ml gin\n  egg white: 20 ml aquafaba")
    [problem] = problems("1.50", "GB-SCT", spec=stronger)
    assert "Marsh Sour with 100 ml gin" in problem.message
    assert "2.60" in problem.message
    [problem] = problems("1.00", "GB-SCT", spec=stronger)
    assert "2.60" in problem.message, "one price is asked for all: the highest floor is the one that counts"


def test_a_swap_that_holds_no_more_is_not_named():
    [problem] = problems("0.10", "GB-SCT")
    assert problem.message.startswith("Marsh Sour may not be sold for 0.10 GBP in Scotland")


def test_prices_in_another_money_are_said_not_to_be_compared():
    [problem] = problems("0.10", "GB-SCT", currency="EUR")
    assert (problem.code, problem.severity) == ("lowest-price-not-compared", Severity.WARNING)
    assert "GBP" in problem.message
    assert "EUR" in problem.message
    assert problems("0.10", "GB-ENG", currency="EUR") == []


def test_a_drink_without_a_price_is_not_priced_too_low():
    files = texts(**{"house.yaml": HOUSE.replace("GB-ENG", "GB-SCT")})
    files["events/small-supper.yaml"] = files["events/small-supper.yaml"].replace(": 9.50", "")
    reading = reading_of(files)
    assert reading.house is not None
    _, found = work_out_event(reading.house, reading.house.events["small-supper"])
    assert found == ()


def test_a_free_drink_is_below_the_minimum_unless_someone_else_pays():
    [problem] = problems("0", "GB-SCT")
    assert (problem.code, problem.severity) == (CODE, Severity.ERROR)
    assert any("hosted: yes" in hint for hint in problem.hints)
    assert not any("hosted" in hint for hint in problems("0.50", "GB-SCT")[0].hints)
    assert problems("0", "GB-SCT", hosted="yes") == []
    assert problems("0", "GB-ENG") == []


def test_ontario_says_that_its_price_is_with_tax():
    [problem] = problems("0.10", "CA-ON")
    assert "with tax" in problem.hints[0]
    [problem] = problems("0.10", "GB-SCT")
    assert "tax" not in problem.hints[0]


@pytest.mark.parametrize("region", ["GB-SCT", "GB-WLS", "IE", "CA-ON"])
@pytest.mark.parametrize("nothing", ["0", "0.00"])
def test_a_free_drink_with_alcohol_is_under_the_least_price(region, nothing):
    [problem] = problems(nothing, region)
    assert (problem.code, problem.severity) == (CODE, Severity.ERROR)
    assert problem.message.startswith("Marsh Sour may not be free in ")
    assert "hosted: yes" in problem.hints[-1]


def test_a_free_drink_without_alcohol_is_lawful_everywhere():
    soft = SOUR.replace("50 ml gin", "50 ml soda water")
    assert problems("0", "GB-SCT", spec=soft) == []


def test_a_free_drink_is_under_the_least_price_in_any_money():
    [problem] = problems("0", "GB-SCT", currency="EUR")
    assert problem.code == CODE


@pytest.mark.parametrize("price", ["0", "0.10"])
def test_a_hosted_event_sells_nothing_to_its_guests(price):
    assert problems(price, "GB-SCT", hosted="yes") == []
    assert [problem.code for problem in problems(price, "GB-SCT", hosted="no")] == [CODE]


def test_beside_priced_drinks_in_another_money_a_free_one_is_still_told():
    files = texts(**{"house.yaml": HOUSE.replace("GB-ENG", "GB-SCT"), "specs/ebb-sour.md": SOUR.lstrip()})
    files["events/small-supper.yaml"] = (
        files["events/small-supper.yaml"].replace("9.50", "9.50\n      - ebb-sour: 0") + "currency: EUR\n"
    )
    house = reading_of(files).house
    assert house is not None
    _, found = work_out_event(house, house.events["small-supper"])
    told = {problem.code: problem for problem in found}
    assert set(told) == {"lowest-price-not-compared", CODE}
    assert told["lowest-price-not-compared"].where.path[-1] == "marsh-sour"
    assert told[CODE].where.path[-1] == "ebb-sour"
