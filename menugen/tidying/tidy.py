"""One file's text, tidied; or the reason why it is left as it is."""

import re
from typing import NamedTuple

from menugen.reading import Data, Node, YamlReading, decode, divide, plain, read_mapping, read_nodes
from menugen.records import Role
from menugen.tidying.order import Kind, is_by_table, put_in_order
from menugen.tidying.setting import Spaced, all_comments, set_document
from menugen.tidying.spaces import even_spaces, one_space
from menugen.tidying.taking_apart import take_apart

_SPACED: dict[Kind, Spaced] = {
    "spec": "never",
    "stock": "always",
    "event": "big",
    "house": "big",
    "theme": "never",
}
_MOST_TURNS = 4
"""After so many, a text is not tidy the second time either."""
_BOM = "\ufeff"
_SAYS_SOMETHING_ELSE = "it is written in a way that cannot be tidied without changing what it says"
_ROLES = frozenset(role.value for role in Role)


class Tidied(NamedTuple):
    """What became of a file.

    Attributes:
        content: As it should be; the same bytes where it is tidy, or is left alone.
        left_alone: Why it was not tidied; empty where it was.
    """

    content: bytes
    left_alone: str = ""


def tidy(content: bytes, file: str, kind: Kind) -> Tidied:
    """Return a file with its keys in order and its spacing even; what it says stays the same.

    The Markdown of a spec is not touched. A file that cannot be read as YAML is left alone: there is no telling what
    was meant. So is one that would say something else afterwards, which is a bug of ours.

    Args:
        content: The file.
        file: Its name, for the reason.
        kind: What it holds.
    """
    decoded = decode(content, file)
    if decoded.problem:
        return Tidied(content, f"{decoded.problem.message}")
    raw = content.decode("utf-8")
    mark = _BOM if raw.startswith(_BOM) else ""
    text = decoded.text
    start, end = 0, len(text)
    if kind == "spec":
        divided, problems = divide(text, file)
        if divided is None:
            return Tidied(content, problems[0].message)
        start, end = divided.yaml_start, divided.yaml_end
    part, left_alone = _tidied_part(text, start, end, file, kind)
    if left_alone:
        return Tidied(content, left_alone)
    return Tidied((mark + _with_line_ends(raw.removeprefix(mark), text, part, start, end)).encode("utf-8"))


def _tidied_part(text: str, start: int, end: int, file: str, kind: Kind) -> tuple[str, str]:
    """Return the YAML of a file tidied, and an empty text; or why it is left alone."""
    part = text[start:end]
    found = read_nodes(part, file)
    if found.top is None or found.problems:
        return part, found.problems[0].message
    meant = _meant(found, kind)
    again, comments = _set_in_order(part, found.top, kind)
    for _ in range(_MOST_TURNS):
        part = again
        found = read_nodes(part, file)
        if found.top is None or found.problems or _meant(found, kind) != meant:
            return part, _SAYS_SOMETHING_ELSE
        again, kept = _set_in_order(part, found.top, kind)
        ends = kind != "spec" or _ends_there(text[:start] + part, text[end:], file)
        if kept != comments or not ends:
            return part, _SAYS_SOMETHING_ELSE
        # A key that has moved may have brought a comment beside what it seems to belong to.
        if again == part:
            return part, ""
    return part, "nobody can tell what its comments belong to: put each beside what it is about"


def _set_in_order(text: str, top: Node, kind: Kind) -> tuple[str, list[str]]:
    """Return a YAML text set anew, and the comments it had."""
    document = take_apart(text, top)
    put_in_order(document, kind)
    even_spaces(document)
    return set_document(document, spaced=_SPACED[kind]), all_comments(document)


def is_spec(content: bytes) -> bool:
    """Return whether a file has the two keys that make it a spec and nothing else with front matter."""
    text = decode(content, "").text
    divided, _ = divide(text, "")
    data = read_mapping(text, "", base=divided.yaml_start, end=divided.yaml_end)[0] if divided else None
    return data is not None and {"name", "pour"} <= data.keys()


def _ends_there(before: str, after: str, file: str) -> bool:
    """Return whether the front matter of a spec ends where a text does."""
    divided, _ = divide(before + after, file)
    return divided is not None and divided.yaml_end == len(before)


def _meant(read: YamlReading, kind: Kind) -> object:
    """Return what a file says, with the order of what means something by it: roles, swaps, names of the user's own."""
    said = {key: _single_spaced(value) for key, value in plain(read.entries or {}).items()}
    if kind == "stock":
        return said
    if kind == "event" and isinstance(off := said.get("off"), list):
        said["off"] = sorted(off, key=str)
    inner = [
        (key, list(value))
        for key, value in sorted(said.items())
        if isinstance(value, dict) and not is_by_table(kind, key)
    ]
    return said, [key for key in said if key in _ROLES], inner


def _single_spaced(data: Data) -> Data:
    if isinstance(data, str):
        # Reading draws white space together; a block at the end of a file has no line end where the file has none.
        return one_space(data).rstrip("\n")
    if isinstance(data, list):
        return [_single_spaced(value) for value in data]
    return {key: _single_spaced(value) for key, value in data.items()}


def _with_line_ends(raw: str, text: str, part: str, start: int, end: int) -> str:
    """Return the whole file with the line ends it had; what was not tidied keeps its own, line by line."""
    newline = "\r\n" if "\r\n" in raw else "\n"
    lines = re.findall(r"[^\r\n]*(?:\r\n|\r|\n)|[^\r\n]+$", raw)
    before, after = text.count("\n", 0, start), text.count("\n", 0, end)
    tail = lines[after:] if end < len(text) else []
    return "".join(lines[:before]) + part.replace("\n", newline) + "".join(tail)
