"""house.yaml to the house's settings."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from typing import Any, NamedTuple

from menugen.measures import OunceKind
from menugen.problems import Place, Problem, Span, error, warning
from menugen.reading.keys import HOUSE, Units, fields_of, read_keys
from menugen.reading.yaml_text import Data, read_mapping
from menugen.records import House, HouseWords

HOUSE_FILE = "house.yaml"
_PLACE = Place(HOUSE_FILE)


class Settings(NamedTuple):
    """What house.yaml says.

    Attributes:
        house: The house, without specs, stock and events; where the file has faults, the rest of it.
        said: The keys that are written, without a fault.
        read: Whether it could be read at all.
        problems: Everything that is wrong.
    """

    house: House
    said: frozenset[str]
    read: bool
    problems: list[Problem]


def read_settings(text: str) -> Settings:
    """Read house.yaml; its text is divided by line feeds."""
    data, problems = read_mapping(text, HOUSE_FILE)
    if data is None:
        return Settings(_house_of_nothing(), frozenset(), False, problems)
    values, wrong = read_keys(HOUSE, data, _PLACE, Units(_ounce_of_glasses(data)))
    if "rules" not in values and data.get("rules"):
        values.pop("translations", None)  # theirs are counted against rules that cannot be read
    if miscounted := list(_miscounted(values)):
        del values["translations"]
    house = _house({"name": "-"} | values)
    problems += [*wrong, *miscounted]
    if not problems:
        problems += _tax_faults(house)
    return Settings(house, frozenset(values), True, problems)


def ounce_of(house: House) -> OunceKind:
    """Return the ounce specs mean: the house's word, else its region's custom, else the trade's."""
    if house.ounce or not house.region:
        return house.ounce or "trade"
    from menugen.regions import UnknownRegion, load_region

    try:
        # What an ounce is does not change with the day: any will do.
        return load_region(house.region, date(2026, 1, 1)).ounce
    except UnknownRegion:
        return "trade"


def _ounce_of_glasses(data: dict[str, Data]) -> OunceKind:
    """Return the ounce that glasses are measured in; the trade's where there are none to measure."""
    if "glasses" not in data:
        return "trade"
    said = {key: value for key, value in data.items() if key in ("region", "ounce")}
    return ounce_of(_house({"name": "-"} | read_keys(HOUSE, said, _PLACE, Units()).values))


def _miscounted(values: dict[str, Any]) -> Iterator[Problem]:
    """Yield a problem for each language that has more rules than the house, or fewer."""
    rules = values.get("rules", ())
    for language, words in values.get("translations", {}).items():
        if words.rules and len(words.rules) != len(rules):
            yield error(
                "translation-count",
                f'of the {len(rules)} rules of the house there are {len(words.rules)} in "{language}"',
                _PLACE.at("translations", language, "rules", on="key"),
                "translate each rule, in the same order",
            )


def _house(values: dict[str, Any]) -> House:
    house = House(place=_PLACE, **fields_of(HOUSE, values))
    translations = {
        language: HouseWords(_beside_rules(words.rules, house.rules), words.names)
        for language, words in house.translations.items()
    }
    return replace(house, rules=tuple(rule for rule in house.rules if rule), translations=translations)


def _beside_rules(said: tuple[str, ...], rules: tuple[str, ...]) -> tuple[str, ...]:
    """Return the translations of those rules that are not empty, as the house itself keeps only those."""
    return tuple(words for words, rule in zip(said, rules, strict=True) if rule) if said else ()


def _tax_faults(house: House) -> Iterator[Problem]:
    """Yield what is wrong with what the house says of tax: both of its keys are needed, and they must agree."""
    registered, included, place = house.tax_registered, house.prices_include_tax, _PLACE
    if registered is False and included:
        yield replace(
            error(
                "tax-contradicts-itself",
                "prices cannot include a tax that the bar is not registered for",
                place.at("prices include tax"),
                'write "prices include tax: no", or "tax registered: yes" if it is',
            ),
            also=((place.at("tax registered"), "not registered"),),
        )
    elif registered is None and included is not None:
        yield warning(
            "tax-half-said",
            "nothing says whether the bar is registered for the tax, so menus say nothing of it",
            place.at("prices include tax"),
            'write "tax registered: yes" or "tax registered: no" beside it',
        )
    elif registered and included is None:
        yield warning(
            "tax-half-said",
            "nothing says whether prices include the tax, so menus say nothing of it",
            place.at("tax registered"),
            'write "prices include tax: yes" or "prices include tax: no" beside it',
        )


def no_settings() -> Settings:
    """Return the settings of a house without house.yaml."""
    missing = error(
        "house-missing",
        f"there is no {HOUSE_FILE} here",
        Span(HOUSE_FILE, 1, 1, 1),
        f'write a {HOUSE_FILE} with at least "name: " and the bar\'s name',
    )
    return Settings(_house_of_nothing(), frozenset(), False, [missing])


def _house_of_nothing() -> House:
    return House(name="-", place=_PLACE)
