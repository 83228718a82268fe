"""Where on the page a place in a document is. Looked up only when a problem is drawn."""

import unicodedata
from typing import Any, NamedTuple

import yaml

from menugen.problems import Place, Span
from menugen.reading.files import LARGEST_BYTES, HouseFiles, NotHere
from menugen.reading.front_matter import front_matter_range
from menugen.reading.text import decode, span_of
from menugen.reading.yaml_text import LOADER

_Path = tuple[str | int, ...]


class _Stretch(NamedTuple):
    """Where a key and its value lie in a text; a list's element has no key and repeats its value."""

    key: tuple[int, int]
    value: tuple[int, int]


class Sources:
    """The texts of a house as they were read, and the places in them."""

    def __init__(self, files: HouseFiles) -> None:
        """Remember where the files come from; texts are kept from when they are first read."""
        self._files = files
        self._contents: dict[str, bytes] = {}
        self._texts: dict[str, str] = {}
        self._stretches: dict[str, dict[_Path, _Stretch]] = {}

    def content(self, file: str) -> bytes:
        """Return a file's bytes, the same each time.

        Raises:
            OSError: It is not there or cannot be read.
        """
        if file not in self._contents:
            self._contents[file] = self._files.read(file)
        return self._contents[file]

    def text(self, file: str) -> str:
        """Return the file's text, its lines divided by line feeds; empty where it cannot be read."""
        if file not in self._texts:
            try:
                self._texts[file] = decode(self.content(file)[:LARGEST_BYTES], file).text
            except (OSError, NotHere):
                self._texts[file] = ""
        return self._texts[file]

    def span(self, place: Place) -> Span:
        """Return where a place is on the page; of one that is not there, the nearest thing around it."""
        text = self.text(place.file)
        if place.file not in self._stretches:
            self._stretches[place.file] = _stretches_of(text, place.file)
        stretches = self._stretches[place.file]
        path = place.path
        while path and path not in stretches:
            path = path[:-1]
        if not path:
            start, end = _narrowed(text, 0, len(text), place.quote) if place.quote else (0, len(text))
            if end - start < len(text):
                return span_of(text, place.file, start, end)
            return _first_line(text, place.file)
        stretch = stretches[path]
        start, end = stretch.key if place.on == "key" and path == place.path else stretch.value
        if start == end:
            start, end = stretch.key
        if place.quote and path == place.path:
            start, end = _narrowed(text, start, end, place.quote)
        return span_of(text, place.file, start, end)


def _first_line(text: str, file: str) -> Span:
    end = text.find("\n")
    return span_of(text, file, 0, end if end >= 0 else len(text))


def _narrowed(text: str, start: int, end: int, quote: str) -> tuple[int, int]:
    """Return where the quote stands in text[start:end]: best as a whole word, else anywhere, else all."""
    found = -1
    at = text.find(quote, start, end)
    while at >= 0:
        after = at + len(quote)
        if found < 0:
            found = at
        if not (text[at - 1 : at].isalnum() and quote[0].isalnum()) and not (
            text[after : after + 1].isalnum() and quote[-1].isalnum()
        ):
            found = at
            break
        at = text.find(quote, at + 1, end)
    return (start, end) if found < 0 else (found, found + len(quote))


def _stretches_of(text: str, file: str) -> dict[_Path, _Stretch]:
    """Return where every key and value of a document lies, by its path."""
    base, end = front_matter_range(text) if file.casefold().endswith(".md") else (0, len(text))
    found: dict[_Path, _Stretch] = {}
    try:
        _walk(yaml.parse(text[base:end], Loader=LOADER), base, found)
    except yaml.YAMLError:
        # What could be read up to the fault still has its place.
        return found
    return found


def _begin_with_first_key(found: dict[_Path, _Stretch], path: _Path, key: tuple[int, int]) -> None:
    """Let a mapping that is an element of a list, and has no mark of its own, be shown by its first key."""
    if path in found and found[path].value[0] == found[path].value[1]:
        found[path] = _Stretch(key, key)


class _Level(NamedTuple):
    path: _Path
    is_list: bool


def _walk(events: Any, base: int, found: dict[_Path, _Stretch]) -> None:
    levels: list[_Level] = []
    counts: list[int] = []
    keys: list[tuple[str, tuple[int, int]] | None] = []
    for event in events:
        if isinstance(event, (yaml.MappingEndEvent, yaml.SequenceEndEvent)):
            levels.pop()
            counts.pop()
            keys.pop()
            continue
        if not isinstance(event, yaml.NodeEvent) or event.start_mark is None or event.end_mark is None:
            continue
        stretch = (base + event.start_mark.index, base + event.end_mark.index)
        path: _Path = ()
        if levels:
            level, key = levels[-1], keys[-1]
            if level.is_list:
                path = (*level.path, counts[-1])
                counts[-1] += 1
                found.setdefault(path, _Stretch(stretch, stretch))
            elif key is None and isinstance(event, yaml.ScalarEvent):
                keys[-1] = (unicodedata.normalize("NFC", event.value), stretch)
                _begin_with_first_key(found, level.path, stretch)
                continue
            elif key is None:
                keys[-1] = ("", stretch)
                path = (*level.path, "")
            else:
                path = (*level.path, key[0])
                shown = stretch if isinstance(event, yaml.ScalarEvent) else key[1]
                found.setdefault(path, _Stretch(key[1], shown))
                keys[-1] = None
                if isinstance(event, yaml.ScalarEvent):
                    # A single line may stand for a list of one.
                    found.setdefault((*path, 0), _Stretch(key[1], stretch))
        if isinstance(event, (yaml.MappingStartEvent, yaml.SequenceStartEvent)):
            levels.append(_Level(path, isinstance(event, yaml.SequenceStartEvent)))
            counts.append(0)
            keys.append(None)
