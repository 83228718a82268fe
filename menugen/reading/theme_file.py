"""A theme.yaml to what it says: the tokens of a look, each with where it is written."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import NamedTuple

from menugen.problems import Place, Problem, Span
from menugen.reading.keys import LOOK, STANDS_IN, Table, Units, as_list, fields_of, quoted, read_keys
from menugen.reading.places import span_within
from menugen.reading.text import decode
from menugen.reading.yaml_nodes import read_nodes
from menugen.reading.yaml_text import Data, plain
from menugen.records import Look

__all__ = ["NEEDED", "SCHEMES", "STANDS_IN", "ThemeFile", "Token", "Tokens", "quoted", "read_theme"]

SCHEMES = ("light", "dark")
_MOST_PROBLEMS = 20


def _needed(table: Table, path: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], tuple[str, ...]]]:
    for key in table.keys:
        if key.value.table is not None and key.value.table.record is None:
            yield from _needed(key.value.table, (*path, key.name))
    if names := tuple(
        key.name for key in table.keys if key.value.table is None and key.name not in STANDS_IN
    ):
        yield path, names


NEEDED: Mapping[tuple[str, ...], tuple[str, ...]] = {path: names for path, names in _needed(LOOK) if path}
"""The tokens of a whole look, by the keys that lead to them."""


class Token(NamedTuple):
    """A value and where it is written."""

    value: str
    where: Span


Tokens = Mapping[str, Token]


@dataclass(frozen=True, slots=True)
class ThemeFile:
    """What one theme.yaml says; it need not be all a look needs.

    Attributes:
        where: Its beginning, for what is wrong with the whole.
        look: What it says, without what has faults.
        extends: The look it builds on; None for none, or where it has a fault.
        light: Colours by name.
        dark: The same, for a dark room.
        type: Families and sizes by name.
        space: Lengths by name.
        font_files: Each file named for a font: its key, "licence" or "file", its name, and where that is written.
        written: The keys that lead to each value that is written, be it at fault or not.
    """

    where: Span
    look: Look
    extends: Token | None
    light: Tokens
    dark: Tokens
    type: Tokens
    space: Tokens
    font_files: tuple[tuple[str, Token], ...]
    written: frozenset[tuple[str, ...]]

    def is_written(self, *path: str) -> bool:
        """Return whether something stands at the end of these keys, or in the place of the keys that lead there."""
        return any(path[:end] in self.written for end in range(1, len(path) + 1))


class ThemeReading(NamedTuple):
    """What a theme.yaml says, and everything that is wrong with it; None where there is no telling what was meant."""

    theme: ThemeFile | None
    problems: tuple[Problem, ...]


def read_theme(content: bytes, file: str) -> ThemeReading:
    """Read a theme.yaml.

    Args:
        content: It.
        file: Its name, for the problems.
    """
    decoded = decode(content, file)
    if decoded.problem is not None:
        return ThemeReading(None, (decoded.problem,))
    text = decoded.text
    found = read_nodes(text, file)
    if found.entries is None:
        hint = f"a look is a list of keys: {', '.join(LOOK.names())}"
        return ThemeReading(
            None,
            tuple(
                replace(one, hints=(hint,)) if one.code in ("empty-file", "not-a-mapping") else one
                for one in found.problems
            ),
        )
    data = plain(found.entries)
    values, faults = read_keys(LOOK, data, Place(file), Units())

    def where(*path: str | int) -> Span:
        return span_within(text, found.top, Place(file, path))

    def tokens(values: Mapping[str, str], *path: str) -> Tokens:
        return {name: Token(value, where(*path, name)) for name, value in values.items()}

    look = Look(**fields_of(LOOK, values))
    theme = ThemeFile(
        where=Span(file, 1, 1, 1),
        look=look,
        extends=Token(look.extends, where("extends")) if look.extends else None,
        light=tokens(look.colours.get("light", {}), "colours", "light"),
        dark=tokens(look.colours.get("dark", {}), "colours", "dark"),
        type=tokens(look.type, "type"),
        space=tokens(look.space, "space"),
        font_files=tuple(
            (key, Token(name, where("fonts", index, key)))
            for index, font in enumerate(as_list(data.get("fonts", [])))
            for key in ("licence", "file")
            if isinstance(font, dict) and isinstance(name := font.get(key), str)
        ),
        written=frozenset(_written(LOOK, data)),
    )
    placed = (
        replace(one, where=span_within(text, found.top, one.where)) if isinstance(one.where, Place) else one
        for one in faults
    )
    return ThemeReading(theme, (*found.problems, *placed)[:_MOST_PROBLEMS])


def _written(table: Table, data: dict[str, Data], path: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """Yield the keys that lead to each value; a mapping that was left empty has none."""
    for name, value in data.items():
        key = table.by_name.get(name)
        inner = key.value.table if key else None
        if isinstance(value, dict) and inner:
            yield from _written(inner, value, (*path, name))
        elif key and (value or key.reads_blank):
            yield (*path, name)
