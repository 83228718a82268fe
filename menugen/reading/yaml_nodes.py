"""The one reader of YAML: every value as the text that was typed, and where it is written.

What a value means is decided later and by us: `off` is a word, `NO` is Norway, `19:30` is a time. What no file of ours
may hold (references, type tags, a key twice, values without end) is refused here, and nowhere else.
"""

import re
import unicodedata
from dataclasses import dataclass, replace
from typing import Any, ClassVar, NamedTuple, TypeAlias

import yaml

from menugen.problems import Problem, Span, error
from menugen.reading.text import FORBIDDEN, merge_unfinished, span_of
from menugen.reading.yaml_words import in_plain_words

DEEPEST = 20
MOST_VALUES = 100_000
_MOST_PROBLEMS = 20
_MIDDLE_OF_A_MERGE = re.compile(r"^={7}$", re.MULTILINE)
"""What git leaves between two sides; alone where somebody took out the other marks and not this one."""
_NOT_THERE = frozenset({"~", "null", "Null", "NULL"})
_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
"""The parser written in C where PyYAML was built with it; both read the same YAML."""


@dataclass(slots=True, eq=False)
class Node:
    """A value, and where in the text it is written.

    Attributes:
        value: The text that was typed, a list of nodes, or the nodes of a mapping by their keys. An empty value, "~"
            and "null" are the empty text.
        start: Where it begins, counted from 0.
        end: One past its last character.
        key: Where its key begins and ends; None for what has none: an item of a list, and the document.
        style: Of a text, "" where it is plain, else the mark it begins with: a quote, "|" or ">". Of a list or a
            mapping, "[" where it is written in brackets, else "".
    """

    value: "Value"
    start: int
    end: int
    key: tuple[int, int] | None
    style: str

    def children(self) -> "list[tuple[str, Node]]":
        """Return what it holds, each with its key; the key is empty in a list."""
        if isinstance(self.value, dict):
            return list(self.value.items())
        return [("", item) for item in self.value] if isinstance(self.value, list) else []

    def inside(self, step: str | int) -> "Node | None":
        """Return what stands one step further in, by a key or a position; None where there is no such thing.

        A single line behind a key may stand for a list of one.
        """
        value = self.value
        if isinstance(value, dict):
            return value.get(step) if isinstance(step, str) else None
        if isinstance(value, list):
            return value[step] if isinstance(step, int) and 0 <= step < len(value) else None
        return self if step == 0 and self.key is not None else None


Value: TypeAlias = dict[str, Node] | list[Node] | str


class YamlReading(NamedTuple):
    """What was read of a YAML text.

    Attributes:
        top: Its top, as far as it could be read; None where nothing could.
        problems: Everything that is wrong with it as YAML.
    """

    top: Node | None
    problems: list[Problem]

    @property
    def entries(self) -> dict[str, Node] | None:
        """The nodes of the mapping it holds; None where there is no telling what was meant.

        A key that is written twice is a problem, and its first value counts.
        """
        if self.top is None or any(problem.code != "repeated-key" for problem in self.problems):
            return None
        return self.top.value if isinstance(self.top.value, dict) else None


def read_nodes(text: str, file: str, *, base: int = 0, end: int | None = None) -> YamlReading:
    """Return the mapping a YAML text holds, and everything that is wrong with it as YAML.

    Args:
        text: The whole file, lines divided by line feeds.
        file: Its name, for the problems.
        base: Where in the text the YAML begins: after the first "---" line of a spec.
        end: Where it ends; None is the end of the text.
    """
    reader = _Reader(text, file, base)
    try:
        reader.read(text[base:end])
    except _Enough:
        pass
    except yaml.YAMLError as fault:
        reader.problems.append(_syntax_problem(fault, text, file, base, end or len(text)))
    top = reader.tops[0] if reader.tops else None
    found = YamlReading(top, reader.problems)
    if found.entries or any(problem.code != "repeated-key" for problem in reader.problems):
        return found
    return YamlReading(top, [_no_mapping(top, text, file, base)])


class _Enough(Exception):
    """The document is given up: what is wrong with it is already told."""


@dataclass(slots=True, eq=False)
class _Open:
    """A mapping or list that is still being filled.

    Attributes:
        node: It; None for one that stands where a key should, and for what is around the document.
        value: What it holds so far.
        name: The key whose value comes next; None where a key comes next, "" for a key at fault.
        key: Where that key is written.
        repeat: Which problem tells of a key that repeats.
    """

    node: Node | None
    value: dict[str, Node] | list[Node]
    name: str | None = None
    key: tuple[int, int] = (0, 0)
    repeat: int | None = None


class _Reader:
    """Turns the parser's events into nodes; a class because the events share one state."""

    def __init__(self, text: str, file: str, base: int) -> None:
        self.problems: list[Problem] = []
        self.tops: list[Node] = []
        self._text = text
        self._file = file
        self._base = base
        self._open = _Open(None, self.tops)
        self._around: list[_Open] = []
        self._closed = 0

    def read(self, part: str) -> None:
        base, take, text_event = self._base, self._TAKE, yaml.ScalarEvent
        next_event = _LOADER(part).get_event
        number = 0
        while (event := next_event()) is not None:
            number += 1
            if number > MOST_VALUES:
                self._count(number, event)
            # The parser makes no subclasses of its own.
            kind = type(event)
            if kind is not text_event:
                if kind in take:
                    take[kind](self, event)
                continue
            # Nearly all events are these, and nearly all of them plain words: what is done for each is done here.
            text = event.value
            if event.anchor or event.tag or text in _NOT_THERE or not (text.isascii() and text.isprintable()):
                text = self._text_of(event)
            start, end = base + event.start_mark.index, base + event.end_mark.index
            around = self._open
            # The parser written in C calls a plain style "", the other one None.
            if isinstance(around.value, list):
                around.value.append(Node(text, start, end, None, event.style or ""))
            elif (name := around.name) is not None:
                around.value[name] = Node(text, start, end, around.key, event.style or "")
                around.name = None
            else:
                around.key = start, end
                around.name = (
                    text if text and text not in around.value else self._refused(text, around, event)
                )

    def _text_of(self, event: Any) -> str:
        """Return what a text that is no plain word says, and tell of what it may not hold."""
        self._refuse_extras(event)
        text: str = event.value
        if text in _NOT_THERE:
            return text if event.style else ""
        # A code such as "\\x1b" in double quotes brings in what the text itself may not hold.
        if event.style == '"' and (found := FORBIDDEN.search(text)):
            letter = f"U+{ord(found.group()):04X}"
            self._report(
                "control-character",
                f"an invisible character ({letter}) is written here",
                event,
                "take it out",
            )
        return unicodedata.normalize("NFC", text)

    def _count(self, number: int, event: Any) -> None:
        # Of the events so far, two began the stream and the document, and some ended a list or a mapping.
        if number - 2 - self._closed > MOST_VALUES and isinstance(event, yaml.NodeEvent):
            self._report(
                "too-many-values", f"this file holds more than {MOST_VALUES} values", event, "split it"
            )
            raise _Enough

    def _begin(self, event: Any) -> None:
        self._refuse_extras(event)
        value: dict[str, Node] | list[Node] = {} if type(event) is yaml.MappingStartEvent else []
        node = self._add(value, event, "[" if event.flow_style else "")
        if len(self._around) >= DEEPEST:
            self._report("too-deep", f"this is nested more than {DEEPEST} levels deep", event)
            raise _Enough
        self._around.append(self._open)
        self._open = _Open(node, value)

    def _close(self, event: Any) -> None:
        closed = self._open
        self._closed += 1
        if closed.node is not None:
            closed.node.end = self._base + event.end_mark.index
        if isinstance(closed.value, dict):
            # What stood behind keys at fault.
            closed.value.pop("", None)
        self._open = self._around.pop()

    def _alias(self, event: Any) -> None:
        self._report("yaml-reference", f'"*{event.anchor}" refers to another place', event, _WRITE_OUT)
        self._add("", event, "")

    def _document(self, event: Any) -> None:
        if self.tops:
            self._report(
                "several-documents",
                "a second document begins here",
                event,
                'take the line "---" out; one file holds one document',
            )
            raise _Enough

    def _add(self, value: Value, event: Any, style: str) -> Node | None:
        """Put what is no text into what is open; return its node, None where it stands where a key should."""
        start, end = self._base + event.start_mark.index, self._base + event.end_mark.index
        around = self._open
        if isinstance(around.value, list):
            node = Node(value, start, end, None, style)
            around.value.append(node)
            return node
        if around.name is None:
            around.name = self._refused("", around, event)
            return None
        node = around.value[around.name] = Node(value, start, end, around.key, style)
        around.name = None
        return node

    def _refused(self, key: str, around: _Open, event: Any) -> str:
        """Tell of a key at fault, and return what stands for it, so that the rest is still looked at."""
        if key and isinstance(around.value, dict):
            self._repeated(key, around.value[key], around, event)
        else:
            self._report("key-not-text", "this key is not a word", event, 'write it as "key: value"')
        return ""

    def _repeated(self, key: str, first: Node, around: _Open, event: Any) -> None:
        """Tell of a key that repeats; several in one mapping are one fault, a name missing above them."""
        if around.repeat is not None:
            told = self.problems[around.repeat]
            self.problems[around.repeat] = replace(told, hints=("keep one of the two", _RUN_TOGETHER))
            return
        around.repeat = len(self.problems)
        start = (first.key or (0, 0))[0]
        self._report(
            "repeated-key",
            f'"{key}" stands here a second time',
            event,
            "keep one of the two",
            also=(span_of(self._text, self._file, start, start + len(key)), "the first one"),
        )

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
        told = error(code, message, span_of(self._text, self._file, start, end), *hints)
        self.problems.append(replace(told, also=(also,)) if also else told)
        if len(self.problems) >= _MOST_PROBLEMS:
            raise _Enough

    _TAKE: ClassVar = {
        yaml.MappingStartEvent: _begin,
        yaml.SequenceStartEvent: _begin,
        yaml.MappingEndEvent: _close,
        yaml.SequenceEndEvent: _close,
        yaml.AliasEvent: _alias,
        yaml.DocumentStartEvent: _document,
    }


_RUN_TOGETHER = "keys below it repeat as well: a line with a name may be missing above it"
_WRITE_OUT = "write the value out at each place; references between values are not read here"


def _syntax_problem(fault: yaml.YAMLError, text: str, file: str, base: int, end: int) -> Problem:
    if found := _MIDDLE_OF_A_MERGE.search(text, base, end):
        return merge_unfinished(text, found, file)
    words = in_plain_words(fault, text, base)
    return error(words.code, words.message, span_of(text, file, words.start, words.end), words.hint)


def _no_mapping(top: Node | None, text: str, file: str, base: int) -> Problem:
    if top is None or not top.value:
        return error(
            "empty-file",
            "nothing is written here",
            span_of(text, file, base, base),
            'write lines such as "name: ..."',
        )
    kind = "a list" if isinstance(top.value, list) else "one text"
    start = base + len(text[base:]) - len(text[base:].lstrip())
    end = text.find("\n", start)
    return error(
        "not-a-mapping",
        f"this is {kind}, where keys and values are expected",
        span_of(text, file, start, end if end >= 0 else len(text)),
        'write lines such as "name: ..."',
    )
