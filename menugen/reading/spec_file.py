"""A spec file to a Spec."""

from functools import lru_cache
from typing import NamedTuple

from pydantic import ValidationError

from menugen.measures import OunceKind
from menugen.problems import Place, Problem
from menugen.reading.comments import without_comments
from menugen.reading.forms.refusal import known_keys, problems_of
from menugen.reading.forms.spec_form import ROLES, SpecForm, WrittenLine
from menugen.reading.forms.translation_form import SpecWordsForm
from menugen.reading.front_matter import SpecText, divide
from menugen.reading.slugs import slug_of
from menugen.reading.yaml_text import Data, read_mapping
from menugen.records import Line, Measure, Role, Spec, SpecWords, Swap

_KEYS = frozenset(known_keys(SpecForm))


class SpecReading(NamedTuple):
    """What a spec file says; the spec is None where it has a fault."""

    spec: Spec | None
    problems: tuple[Problem, ...]


REMEMBERED = 32_768
"""Files of one kind whose reading is remembered: two revisions of a house mostly hold the very same texts, as does a
house before and after a save."""


@lru_cache(maxsize=REMEMBERED)
def read_spec(text: str, file: str, ounce: OunceKind) -> SpecReading:
    """Read a spec.

    Args:
        text: The file, lines divided by line feeds.
        file: Its path, relative to the house.
        ounce: The ounce the house means.
    """
    divided, problems = divide(text, file)
    if divided is None:
        return SpecReading(None, tuple(problems))
    data, faults = read_mapping(text, file, base=divided.yaml_start, end=divided.yaml_end)
    problems += faults
    if data is None:
        return SpecReading(None, tuple(problems))
    place = Place(file)
    try:
        form = SpecForm.model_validate(filled_in(data, _KEYS), context={"ounce": ounce})
    except ValidationError as failure:
        problems += problems_of(failure, place, SpecForm, {"translations": SpecWordsForm})
        return SpecReading(None, tuple(problems))
    return SpecReading(None if problems else _spec(form, data, divided, place), tuple(problems))


def filled_in(
    data: dict[str, Data], keys: frozenset[str], kept: frozenset[str] = frozenset()
) -> dict[str, Data]:
    """Return the data without known keys that nothing was written behind: those are not said.

    Args:
        data: A document.
        keys: The keys its form knows.
        kept: Keys of which an empty value is a fault of its own.
    """
    if "" not in data.values():
        return data
    return {key: value for key, value in data.items() if value != "" or key in kept or key not in keys}


def _spec(form: SpecForm, data: dict[str, Data], divided: SpecText, place: Place) -> Spec:
    lines = tuple(
        _line(written, key, place.at(key, index), listed=isinstance(data[key], list))
        for key in data
        if key in ROLES
        for index, written in enumerate(_written(form, key))
    )
    translated = {language: without_comments(words.notes) for language, words in form.translations.items()}
    return Spec(
        slug=slug_of(place.file),
        name=form.name,
        lines=lines,
        method=form.method,
        strain=form.strain,
        glass=form.glass,
        ice="" if form.ice == "none" else form.ice,
        swaps=tuple(_swaps(form, lines, place)),
        cautions=form.cautions,
        family=form.family,
        melt_ratio=form.melt.ratio if form.melt else None,
        melt_by_weight=form.melt.by_weight if form.melt else False,
        serves=form.serves or 1,
        source=form.source,
        guest_notes=divided.guest_notes,
        bar_notes=divided.bar_notes,
        place=place,
        translations={
            language: SpecWords(words.name, translated[language].text)
            for language, words in form.translations.items()
        },
        comments=(*divided.comments, *(text for notes in translated.values() for text in notes.comments)),
    )


def _written(form: SpecForm, key: str) -> tuple[WrittenLine, ...]:
    written: tuple[WrittenLine, ...] = getattr(form, "float_" if key == "float" else key)
    return written


def _line(written: WrittenLine, key: str, place: Place, *, listed: bool) -> Line:
    parsed = written.parsed
    role = Role(written.role or ("top" if parsed.top else key))
    unit, count = parsed.unit, parsed.count
    if role is Role.TOP and unit == "each" and not parsed.text:
        # Under "top", a name alone asks for as much as reaches the wash line.
        unit, count = "top", None
    measure = Measure(parsed.text, unit, parsed.volume_ml, parsed.mass_g, count)
    path = (*place.path, *written.steps) if listed else (*place.path[:-1], *written.steps)
    return Line(parsed.name, measure, role, written.note, Place(place.file, path, quote=parsed.name))


def _swaps(form: SpecForm, lines: tuple[Line, ...], place: Place) -> list[Swap]:
    by_name: dict[str, Line] = {}
    for line in lines:
        by_name.setdefault(line.name.casefold(), line)
    swaps = []
    for name, alternatives in form.swap.items():
        replaced = by_name[name.casefold()]
        for index, written in enumerate(alternatives):
            instead = _line(written, replaced.role.value, place.at("swap", name, index), listed=True)
            if not written.parsed.text:
                instead = Line(instead.name, replaced.measure, instead.role, instead.note, instead.place)
            swaps.append(Swap(replaced.name, instead))
    return swaps
