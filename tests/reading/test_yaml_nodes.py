"""Nodes of YAML: every value with the stretch of text it was read from."""

import json
import re
import unicodedata
from collections.abc import Iterator

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.problems import Span
from menugen.reading import Data, Node, plain, read_mapping, read_nodes
from menugen.reading.text import FORBIDDEN
from menugen.reading.yaml_nodes import DEEPEST, MOST_VALUES
from tests.strategies import nearly_yaml

WORDS = st.one_of(
    st.text(alphabet="abzé' \"#:-,[]{}~&*!|>%@\\", max_size=12),
    st.sampled_from(["30 ml gin", "NO", "off", "19:30", "null", "e\u0301te\u0301", "Bær & Bjørk", "x" * 60]),
)
KEYS = WORDS.filter(bool)
DOCUMENTS = st.dictionaries(
    KEYS,
    st.recursive(
        WORDS,
        lambda inner: st.lists(inner, max_size=4) | st.dictionaries(KEYS, inner, max_size=4),
        max_leaves=12,
    ),
    min_size=1,
    max_size=5,
)


class Hand:
    """Writes values as YAML: in brackets or in lines, in either quotes or none, with remarks, as it is drawn."""

    def __init__(self, data: st.DataObject) -> None:
        self.drawn = lambda number: data.draw(st.integers(0, number)) == number

    def word(self, text: str) -> str:
        if re.fullmatch("[a-z0-9é]+( [a-z]+)*", text) and text != "null" and self.drawn(1):
            return text
        return "'" + text.replace("'", "''") + "'" if self.drawn(1) else json.dumps(text, ensure_ascii=False)

    def value(self, value: Data, indent: int) -> str:
        """Return what stands behind a key or a dash."""
        if isinstance(value, str):
            if re.fullmatch("[a-z]+", value) and self.drawn(3):
                return f">-\n{' ' * indent}{value}"
            return self.word(value)
        if not value or self.drawn(2):
            return self.in_brackets(value)
        remark = " # 'it, [is: - x" if self.drawn(2) else ""
        return f"{remark}\n{' ' * indent}{self.lines(value, indent)}"

    def lines(self, value: dict[str, Data] | list[Data], indent: int) -> str:
        deeper = indent + 1 + self.drawn(1)
        if isinstance(value, dict):
            items = [f"{self.word(key)}: {self.value(inner, deeper)}" for key, inner in value.items()]
        else:
            items = [f"- {self.value(inner, deeper)}" for inner in value]
        between = f"\n{' ' * indent}# - a: 'b\n" if self.drawn(2) else "\n"
        return f"{between}{' ' * indent}".join(items)

    def in_brackets(self, value: Data) -> str:
        if isinstance(value, str):
            return self.word(value)
        space = "\n   " if self.drawn(3) else " "
        if isinstance(value, dict):
            inside = [f"{self.word(key)}: {self.in_brackets(inner)}" for key, inner in value.items()]
            return "{" + f",{space}".join(inside) + "}"
        return "[" + f",{space}".join(self.in_brackets(inner) for inner in value) + "]"


def meant(value: Data) -> Data:
    """Return a value as reading gives it."""
    if isinstance(value, str):
        return unicodedata.normalize("NFC", value)
    if isinstance(value, list):
        return [meant(inner) for inner in value]
    return {str(meant(key)): meant(inner) for key, inner in value.items()}


def everything(node: Node) -> Iterator[tuple[str | None, Node]]:
    """Yield all nodes with their keys."""
    if isinstance(node.value, dict):
        for key, inner in node.value.items():
            yield key, inner
            yield from everything(inner)
    if isinstance(node.value, list):
        for inner in node.value:
            yield None, inner
            yield from everything(inner)


def reread(text: str, start: int, end: int) -> Node | None:
    """Return what a stretch of a text says by itself, in the column it stands in."""
    column = start - (text.rfind("\n", 0, start) + 1)
    return read_nodes(" " * column + text[start:end], "").top


@pytest.mark.slow
@given(DOCUMENTS, st.data())
def test_a_stretch_says_what_its_node_says(document: dict[str, Data], data: st.DataObject) -> None:
    yaml = Hand(data).lines(document, 0) + "\n"
    text = f"---\n{yaml}---\nNotes: {{\n"
    found = read_nodes(text, "a.md", base=4, end=4 + len(yaml))
    assert found.problems == []
    assert found.entries is not None
    assert plain(found.entries) == meant(document)
    assert found.top is not None
    for key, node in everything(found.top):
        again = reread(text, node.start, node.end)
        empty = node.value == "" and again is None
        assert empty or (again is not None and plain({"": again}) == plain({"": node})), text[
            node.start : node.end
        ]
        assert (key is None) == (node.key is None)
        if node.key is not None:
            again = reread(text, *node.key)
            assert again is not None
            assert again.value == key
        if not isinstance(node.value, str):
            assert (text[node.start] in "[{") == (node.style == "[")
        elif node.style:
            assert text[node.start] == node.style


@pytest.mark.slow
@given(nearly_yaml().filter(lambda text: FORBIDDEN.search(text) is None))
def test_nodes_and_plain_data_are_one_reading(text: str) -> None:
    found = read_nodes(text, "a")
    assert read_mapping(text, "a") == (
        None if found.entries is None else plain(found.entries),
        found.problems,
    )
    assert (found.entries is None) == any(problem.code != "repeated-key" for problem in found.problems)


def styles(text: str) -> dict[str, str]:
    entries = read_nodes(text, "a").entries
    assert entries is not None
    return {key: node.style for key, node in entries.items()}


def test_how_a_value_was_written_is_kept() -> None:
    text = "a: b\nc: 'd'\ne: \"f\"\ng: |\n  h\ni: >\n  j\nk: [l]\nm: {n: o}\np:\n  - q\nr:\n  s: t\n"
    assert styles(text) == dict(zip("acegikmpr", ("", "'", '"', "|", ">", "[", "[", "", ""), strict=True))


def test_what_stands_behind_a_key_at_fault_is_looked_at_and_not_kept() -> None:
    found = read_nodes("a: 1\na: {b: *c}\n? [d]\n: {e: &f g}\n'': h\n", "a")
    assert [problem.code for problem in found.problems] == [
        "repeated-key",
        "yaml-reference",
        "key-not-text",
        "yaml-reference",
        "key-not-text",
    ]
    assert found.top is not None
    assert isinstance(found.top.value, dict)
    assert {key: node.value for key, node in found.top.value.items()} == {"a": "1"}


@pytest.mark.slow
@pytest.mark.parametrize("brackets", ["a: [{}]\n", "a:\n  - {}\n"])
def test_a_file_holds_so_many_values_and_no_more(brackets: str) -> None:
    # The mapping, its key and the list are three.
    join = ", " if "[" in brackets else "\n  - "
    fits, too_many = (brackets.format(join.join(["x"] * (MOST_VALUES - 3 + more))) for more in (0, 1))
    assert read_nodes(fits, "a").problems == []
    [problem] = read_nodes(too_many, "a").problems
    assert problem.code == "too-many-values"
    assert problem.where == Span("a", *where_last(too_many, "x"))


def where_last(text: str, word: str) -> tuple[int, int, int]:
    at = text.rindex(word)
    column = at - text.rfind("\n", 0, at)
    return text.count("\n", 0, at) + 1, column, column + len(word)


@pytest.mark.slow
def test_values_are_counted_whatever_they_are_and_however_they_are_nested() -> None:
    # Each item is a list, a mapping, a key and a value.
    items = (MOST_VALUES - 3) // 4
    fits = "a: [" + ", ".join(["[{b: c}]"] * items) + "]\n"
    assert read_nodes(fits, "a").problems == []
    assert [problem.code for problem in read_nodes(f"{fits}d: e\n", "a").problems] == ["too-many-values"]


def test_so_many_levels_and_no_more() -> None:
    fits = "a: " + "[" * (DEEPEST - 1) + "]" * (DEEPEST - 1) + "\n"
    assert read_nodes(fits, "a").problems == []
    assert [problem.code for problem in read_nodes(fits.replace("[]", "[[]]"), "a").problems] == ["too-deep"]
