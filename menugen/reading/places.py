"""Where on the page a place in a document is. Looked up only when a problem is drawn."""

from menugen.problems import Place, Span
from menugen.reading.files import LARGEST_BYTES, HouseFiles, NotOnThisMachine
from menugen.reading.front_matter import front_matter_range
from menugen.reading.text import decode, span_of
from menugen.reading.yaml_nodes import Node, read_nodes


class Sources:
    """The texts of a house as they were read, and the places in them."""

    def __init__(self, files: HouseFiles) -> None:
        """Remember where the files come from; texts are kept from when they are first read."""
        self._files = files
        self._contents: dict[str, bytes] = {}
        self._texts: dict[str, str] = {}
        self._tops: dict[str, Node | None] = {}

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
            except (OSError, NotOnThisMachine):
                self._texts[file] = ""
        return self._texts[file]

    def span(self, place: Place) -> Span:
        """Return where a place is on the page; of one that is not there, the nearest thing around it."""
        text = self.text(place.file)
        if place.file not in self._tops:
            self._tops[place.file] = _top_of(text, place.file)
        return span_within(text, self._tops[place.file], place)


def span_within(text: str, top: Node | None, place: Place) -> Span:
    """Return where a place is in a text; of one that is not there, the nearest thing around it.

    Args:
        text: The whole file.
        top: The document it holds; None where nothing could be read.
        place: What to look for.
    """
    found = top
    steps = 0
    while found is not None and steps < len(place.path):
        inner = found.inside(place.path[steps])
        if inner is None:
            break
        found, steps = inner, steps + 1
    if found is None or steps == 0:
        start, end = _narrowed(text, 0, len(text), place.quote) if place.quote else (0, len(text))
        whole = end - start == len(text)
        return _first_line(text, place.file) if whole else span_of(text, place.file, start, end)
    is_whole = steps == len(place.path)
    start, end = _shown(found, text)
    if is_whole and place.on == "key" and found.key is not None:
        start, end = found.key
    if is_whole and place.quote:
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


def _top_of(text: str, file: str) -> Node | None:
    """Return what a document holds; of one with a fault, what could be read up to there."""
    base, end = front_matter_range(text) if file.casefold().endswith(".md") else (0, len(text))
    return read_nodes(text, file, base=base, end=end).top


def _shown(node: Node, text: str) -> tuple[int, int]:
    """Return what is pointed at where a value is meant: of a mapping or a list, the key, or how it begins."""
    value = node.value
    if isinstance(value, str):
        return (node.start, node.end) if node.start < node.end or node.key is None else node.key
    if node.key is not None:
        return node.key
    if text.startswith(("[", "{"), node.start):
        return node.start, node.start + 1
    first = next(iter(value.values()), None) if isinstance(value, dict) else None
    return first.key if first is not None and first.key is not None else (node.start, node.start)
