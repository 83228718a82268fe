"""A spec file to a Spec."""

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from typing import Any, NamedTuple

from menugen.measures import OunceKind
from menugen.names import name_key, slug_of
from menugen.problems import Place, Problem, did_you_mean, error
from menugen.reading.front_matter import SpecText, divide
from menugen.reading.keys import SPEC, Problems, Units, fields_of, read_keys
from menugen.reading.keys.spec_keys import PART, ROLES, WrittenLine
from menugen.reading.yaml_text import Data, read_mapping
from menugen.records import Line, Measure, Role, Spec, Swap

_UNUSED_PART_ML = 1.0


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
    values, wrong = read_keys(SPEC, data, place, Units(ounce, _part_ml(data, place, ounce)))
    problems += [*wrong, *_swaps_of_nothing(data, values, place)]
    return SpecReading(None if problems else _spec(values, data, divided, place), tuple(problems))


def _part_ml(data: dict[str, Data], place: Place, ounce: OunceKind) -> float | None:
    """Return what one part is; one that is itself at fault is reported once, at its own place."""
    if not data.get("part"):
        return None
    part_ml = PART.read(data["part"], place, Units(ounce))
    return _UNUSED_PART_ML if isinstance(part_ml, Problems) else part_ml


def _swaps_of_nothing(data: dict[str, Data], values: dict[str, Any], place: Place) -> Iterator[Problem]:
    """Yield a problem for each swap of something the spec does not hold, unless the lines themselves are at fault."""
    swaps = data.get("swap")
    if not isinstance(swaps, dict) or any(data.get(role, "") != "" and role not in values for role in ROLES):
        return
    names = [line.parsed.name for role in ROLES for line in values.get(role, ())]
    for name in swaps if names else ():
        if name_key(name) not in map(name_key, names):
            hints = did_you_mean(name, names) or (f"the lines here are: {', '.join(names)}",)
            where = place.at("swap", name, on="key")
            yield error("swap-without-line", f'no line of this spec is called "{name}"', where, hints[0])


def _spec(values: dict[str, Any], data: dict[str, Data], divided: SpecText, place: Place) -> Spec:
    lines = tuple(
        _line(written if isinstance(data[key], list) else _not_listed(written), key)
        for key in data
        if key in ROLES
        for written in values.get(key, ())
    )
    of_words = (text for words in values.get("translations", {}).values() for text in words.comments)
    fields = {
        **fields_of(SPEC, values),
        "lines": lines,
        "swaps": tuple(_swaps(values.get("swap", {}), lines)),
    }
    return Spec(
        slug=slug_of(place.file),
        guest_notes=divided.guest_notes,
        bar_notes=divided.bar_notes,
        comments=(*divided.comments, *of_words),
        place=place,
        **fields,
    )


def _not_listed(written: WrittenLine) -> WrittenLine:
    """Return a line that stands behind its key alone, with a place that is no place in a list."""
    key, _, *inside = written.place.path
    return replace(written, place=Place(written.place.file, (key, *inside)))


def _line(written: WrittenLine, key: str) -> Line:
    parsed = written.parsed
    role = Role(written.role or ("top" if parsed.top else key))
    unit, count = parsed.unit, parsed.count
    if role is Role.TOP and unit == "each" and not parsed.text:
        # Under "top", a name alone asks for as much as reaches the wash line.
        unit, count = "top", None
    measure = Measure(parsed.text, unit, parsed.volume_ml, parsed.mass_g, count)
    place = Place(written.place.file, written.place.path, quote=parsed.name)
    return Line(parsed.name, measure, role, written.note, place)


def _swaps(written: dict[str, tuple[WrittenLine, ...]], lines: tuple[Line, ...]) -> Iterator[Swap]:
    by_name: dict[str, Line] = {}
    for line in lines:
        by_name.setdefault(name_key(line.name), line)
    for name, alternatives in written.items():
        replaced = by_name[name_key(name)]
        for one in alternatives:
            instead = _line(one, replaced.role.value)
            if not one.parsed.text:
                instead = Line(instead.name, replaced.measure, instead.role, instead.note, instead.place)
            yield Swap(replaced.name, instead)
