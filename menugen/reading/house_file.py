"""house.yaml to the house's settings."""

from typing import NamedTuple

from pydantic import ValidationError

from menugen.measures import Fault, OunceKind, parse_volume
from menugen.problems import Place, Problem, Span, error
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
    return Settings(form, frozenset(filled), True, problems)


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
