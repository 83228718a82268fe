"""house.yaml to the house's settings."""

from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from pydantic import ValidationError

from menugen.measures import Fault, OunceKind, parse_volume
from menugen.problems import Place, Problem, Span, error, warning
from menugen.reading.forms.house_form import HouseForm
from menugen.reading.forms.refusal import known_keys, problems_of
from menugen.reading.forms.translation_form import HouseWordsForm
from menugen.reading.spec_file import filled_in
from menugen.reading.yaml_text import Data, read_mapping
from menugen.records import HouseGlass

HOUSE_FILE = "house.yaml"
_KEYS = frozenset(known_keys(HouseForm))


class Settings(NamedTuple):
    """What house.yaml says.

    Attributes:
        form: Its values; where the file has faults, the rest of it.
        said: The keys that are written, without a fault.
        read: Whether it could be read at all.
        problems: Everything that is wrong.
    """

    form: HouseForm
    said: frozenset[str]
    read: bool
    problems: list[Problem]


def read_settings(text: str) -> Settings:
    """Read house.yaml; its text is divided by line feeds."""
    data, problems = read_mapping(text, HOUSE_FILE)
    if data is None:
        return Settings(_form_of_nothing(), frozenset(), False, problems)
    filled = filled_in(data, _KEYS)
    try:
        form = HouseForm.model_validate(filled)
    except ValidationError as failure:
        problems += problems_of(failure, Place(HOUSE_FILE), HouseForm, {"translations": HouseWordsForm})
        faulty = {fault["loc"][0] for fault in failure.errors(include_url=False, include_context=False)}
        if "rules" in faulty:
            faulty.add("translations")  # theirs are counted against rules that cannot be read
        sound: dict[str, Data] = {"name": "-"}
        sound.update({key: value for key, value in filled.items() if key not in faulty})
        form = HouseForm.model_validate(sound)
        return Settings(form, frozenset(sound), True, problems)
    problems += _tax_faults(form)
    return Settings(form, frozenset(filled), True, problems)


def _tax_faults(form: HouseForm) -> Iterator[Problem]:
    """Yield what is wrong with what the house says of tax: both of its keys are needed, and they must agree."""
    registered, included, place = form.tax_registered, form.prices_include_tax, Place(HOUSE_FILE)
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
    return Settings(_form_of_nothing(), frozenset(), False, [missing])


def glasses_of(form: HouseForm, ounce: OunceKind) -> dict[str, HouseGlass]:
    """Return the house's own glasses by name."""
    return {
        name: HouseGlass(
            name,
            _volume_ml(glass.brim, ounce),
            _volume_ml(glass.wash_line, ounce) if glass.wash_line else None,
            glass.profile_mm,
            Place(HOUSE_FILE, ("glasses", name), "key"),
        )
        for name, glass in form.glasses.items()
    }


def _volume_ml(text: str, ounce: OunceKind) -> float:
    """Return a volume that the form has found sound."""
    volume_ml = parse_volume(text, ounce=ounce)
    if isinstance(volume_ml, Fault):
        raise TypeError(volume_ml.message)
    return volume_ml


def _form_of_nothing() -> HouseForm:
    return HouseForm.model_validate({"name": "-"})
