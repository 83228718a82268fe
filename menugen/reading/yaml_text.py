"""One YAML document as plain data: mappings, lists, and every value as the text that was typed.

What a value means is decided later and by us: `off` is a word, `NO` is Norway, `19:30` is a time.
"""

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Any, TypeAlias

import yaml

from menugen.problems import Problem, Span, error
from menugen.reading.text import FORBIDDEN, merge_unfinished, span_of
from menugen.reading.yaml_words import in_plain_words

Data: TypeAlias = dict[str, "Data"] | list["Data"] | str
"""A document. An empty value, "~" and "null" are the empty text."""

DEEPEST = 20
MOST_VALUES = 100_000
_MOST_PROBLEMS = 20
_MIDDLE_OF_A_MERGE = re.compile(r"^={7}$", re.MULTILINE)
"""What git leaves between two sides; alone where somebody took out the other marks and not this one."""
_NOT_THERE = frozenset({"~", "null", "Null", "NULL"})
LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
"""The parser written in C where PyYAML was built with it; both read the same YAML."""


@dataclass(slots=True)
class _Frame:
    """A mapping or list that is still being filled."""

    holder: dict[str, Data] | list[Data]
    key: str | None = None
    key_starts: dict[str, int] = field(default_factory=dict)
    repeat: int | None = None


def read_mapping(
    text: str, file: str, *, base: int = 0, end: int | None = None
) -> tuple[dict[str, Data] | None, list[Problem]]:
    """Return the mapping a YAML text holds, and everything that is wrong with it as YAML.

    Keys written twice are told and the first is kept, so that the rest can still be checked; after any other
    fault there is no telling what was meant, and the mapping is None.

    Args:
        text: The whole file, lines divided by line feeds.
        file: Its name, for the problems.
        base: Where in the text the YAML begins: after the first "---" line of a spec.
        end: Where it ends; None is the end of the text.
    """
    builder = _Builder(text, file, base)
    try:
        builder.build(yaml.parse(text[base:end], Loader=LOADER))
    except _Enough:
        pass
    except yaml.YAMLError as fault:
        builder.problems.append(_syntax_problem(fault, text, file, base, end or len(text)))
    if any(problem.code != "repeated-key" for problem in builder.problems):
        return None, builder.problems
    if not isinstance(builder.top, dict) or not builder.top:
        return None, [_no_mapping(builder.top, text, file, base)]
    return builder.top, builder.problems


class _Enough(Exception):
    """The document is given up: what is wrong with it is already told."""


class _Builder:
    """Turns the parser's events into data; a class because the events share one state."""

    def __init__(self, text: str, file: str, base: int) -> None:
        self.problems: list[Problem] = []
        self.top: Data | None = None
        self._text = text
        self._file = file
        self._base = base
        self._stack: list[_Frame] = []
        self._values = 0
        self._documents = 0

    def build(self, events: Iterator[Any]) -> None:
        for event in events:
            # Nearly all events are of the first few kinds, and the parser makes no subclasses of its own.
            kind = type(event)
            if kind is yaml.ScalarEvent:
                self._refuse_extras(event)
                self._add(self._as_typed(event), event)
            elif kind is yaml.MappingStartEvent:
                self._refuse_extras(event)
                self._open({}, event)
            elif kind is yaml.SequenceStartEvent:
                self._refuse_extras(event)
                self._open([], event)
            elif kind in (yaml.MappingEndEvent, yaml.SequenceEndEvent):
                _drop_stand_ins(self._stack.pop())
            elif kind is yaml.AliasEvent:
                self._report(
                    "yaml-reference", f'"*{event.anchor}" refers to another place', event, _WRITE_OUT
                )
                self._add("", event)
            elif kind is yaml.DocumentStartEvent:
                self._documents += 1
                if self._documents > 1:
                    self._report(
                        "several-documents",
                        "a second document begins here",
                        event,
                        'take the line "---" out; one file holds one document',
                    )
                    raise _Enough

    def _open(self, holder: dict[str, Data] | list[Data], event: Any) -> None:
        self._add(holder, event)
        if len(self._stack) >= DEEPEST:
            self._report("too-deep", f"this is nested more than {DEEPEST} levels deep", event)
            raise _Enough
        self._stack.append(_Frame(holder))

    def _add(self, value: Data, event: Any) -> None:
        self._values += 1
        if self._values > MOST_VALUES:
            self._report(
                "too-many-values", f"this file holds more than {MOST_VALUES} values", event, "split it"
            )
            raise _Enough
        if not self._stack:
            self.top = value
            return
        frame = self._stack[-1]
        if isinstance(frame.holder, list):
            frame.holder.append(value)
        elif frame.key is None:
            frame.key = self._key(value, frame, event)
        else:
            frame.holder[frame.key] = value
            frame.key = None

    def _key(self, value: Data, frame: _Frame, event: Any) -> str:
        """Return the key; for one at fault a stand-in, so that the rest is still looked at."""
        start = self._base + event.start_mark.index
        if not isinstance(value, str) or not value:
            self._report("key-not-text", "this key is not a word", event, 'write it as "key: value"')
            return f"\0{start}"
        if value in frame.key_starts:
            self._repeated(value, frame, event)
            return f"\0{start}"
        frame.key_starts[value] = start
        return value

    def _repeated(self, key: str, frame: _Frame, event: Any) -> None:
        """Tell of a key that repeats; several in one mapping are one fault, a name missing above them."""
        if frame.repeat is not None:
            told = self.problems[frame.repeat]
            self.problems[frame.repeat] = replace(told, hints=("keep one of the two", _RUN_TOGETHER))
            return
        frame.repeat = len(self.problems)
        first = frame.key_starts[key]
        self._report(
            "repeated-key",
            f'"{key}" stands here a second time',
            event,
            "keep one of the two",
            also=(span_of(self._text, self._file, first, first + len(key)), "the first one"),
        )

    def _as_typed(self, event: Any) -> str:
        value: str = event.value
        if value.isascii() and value.isprintable():
            return "" if value in _NOT_THERE and not event.style else value
        # A code such as "\\x1b" in double quotes brings in what the text itself may not hold.
        if event.style == '"' and (found := FORBIDDEN.search(value)):
            letter = f"U+{ord(found.group()):04X}"
            self._report(
                "control-character",
                f"an invisible character ({letter}) is written here",
                event,
                "take it out",
            )
        return unicodedata.normalize("NFC", value)

    def _refuse_extras(self, event: Any) -> None:
        if event.anchor is not None:
            self._report("yaml-reference", f'"&{event.anchor}" marks a place to refer to', event, _WRITE_OUT)
        if event.tag is not None:
            start = self._base + event.start_mark.index
            typed = self._text[start : start + 80].split()[0]
            self._report(
                "yaml-tag", f'"{typed}" is a type tag', event, "take it out; every value is read as text"
            )

    def _report(
        self, code: str, message: str, event: Any, *hints: str, also: tuple[Span, str] | None = None
    ) -> None:
        start, end = self._base + event.start_mark.index, self._base + event.end_mark.index
        where = span_of(self._text, self._file, start, end)
        told = error(code, message, where, *hints)
        if also:
            told = replace(told, also=(also,))
        self.problems.append(told)
        if len(self.problems) >= _MOST_PROBLEMS:
            raise _Enough


_RUN_TOGETHER = "keys below it repeat as well: a line with a name may be missing above it"
_WRITE_OUT = "write the value out at each place; references between values are not read here"


def _drop_stand_ins(frame: _Frame) -> None:
    if isinstance(frame.holder, dict) and len(frame.holder) > len(frame.key_starts):
        for key in [key for key in frame.holder if key.startswith("\0")]:
            del frame.holder[key]


def _syntax_problem(fault: yaml.YAMLError, text: str, file: str, base: int, end: int) -> Problem:
    if found := _MIDDLE_OF_A_MERGE.search(text, base, end):
        return merge_unfinished(text, found, file)
    words = in_plain_words(fault, text, base)
    return error(words.code, words.message, span_of(text, file, words.start, words.end), words.hint)


def _no_mapping(top: Data | None, text: str, file: str, base: int) -> Problem:
    if not top:
        return error(
            "empty-file",
            "nothing is written here",
            span_of(text, file, base, base),
            'write lines such as "name: ..."',
        )
    kind = "a list" if isinstance(top, list) else "one text"
    start = base + len(text[base:]) - len(text[base:].lstrip())
    end = text.find("\n", start)
    return error(
        "not-a-mapping",
        f"this is {kind}, where keys and values are expected",
        span_of(text, file, start, end if end >= 0 else len(text)),
        'write lines such as "name: ..."',
    )
