"""Single drinks worked out from a few lines, for tests of what a drink holds."""

from datetime import date

from menugen.facts import DrinkFacts, Serve, Setting, setting_for, taste, work_out
from menugen.records import House, Spec
from menugen.regions import load_region
from tests.houses import HOUSE, STOCK, reading_of, with_drinks


def house_with(front: str, *, stock: str = "", house: str = HOUSE) -> House:
    """Return a house with one spec, "tried", of this front matter; the glass is a collins unless it says."""
    glass = "" if "glass:" in front else "glass: collins\n"
    files = with_drinks(
        {"tried": f"---\nname: Tried\n{front.strip()}\n{glass}---\n"}, stock=STOCK + stock, house=house
    )
    reading = reading_of(files)
    assert reading.house is not None
    assert not reading.problems, reading.problems
    return reading.house


def setting_of(house: House) -> Setting:
    """Return the house at home."""
    setting, problems = setting_for(house, None)
    assert setting is not None, problems
    return setting


def worked_out(front: str, *, stock: str = "") -> DrinkFacts:
    """Return a drink of this front matter worked out."""
    house = house_with(front, stock=stock)
    facts, problems = work_out(house.specs["tried"], setting_of(house))
    assert facts is not None, problems
    return facts


def spec_of(house: House) -> Spec:
    """Return the one spec of `house_with`."""
    return house.specs["tried"]


def taste_of(serve: Serve, region: str = "GB") -> taste.TasteFacts:
    """Return a drink's taste by the law of a place."""
    return taste.taste_of(serve, load_region(region, date(2026, 12, 12)).energy_factors)
