"""One YAML document as plain data: mappings, lists, and every value as the text that was typed."""

from typing import TypeAlias

from menugen.problems import Problem
from menugen.reading.yaml_nodes import Node, read_nodes

Data: TypeAlias = dict[str, "Data"] | list["Data"] | str
"""A document. An empty value, "~" and "null" are the empty text."""


def read_mapping(
    text: str, file: str, *, base: int = 0, end: int | None = None
) -> tuple[dict[str, Data] | None, list[Problem]]:
    """Return the mapping a YAML text holds as plain data, and everything that is wrong with it as YAML.

    Keys written twice are told and the first is kept, so that the rest can still be checked; after any other
    fault there is no telling what was meant, and the mapping is None.

    Args:
        text: The whole file, lines divided by line feeds.
        file: Its name, for the problems.
        base: Where in the text the YAML begins: after the first "---" line of a spec.
        end: Where it ends; None is the end of the text.
    """
    found = read_nodes(text, file, base=base, end=end)
    return None if found.entries is None else plain(found.entries), found.problems


def plain(entries: dict[str, Node]) -> dict[str, Data]:
    """Return the values of a mapping without their places."""
    return {key: node.value if isinstance(node.value, str) else _plain(node) for key, node in entries.items()}


def _plain(node: Node) -> Data:
    value = node.value
    if isinstance(value, dict):
        return plain(value)
    if isinstance(value, list):
        return [inner.value if isinstance(inner.value, str) else _plain(inner) for inner in value]
    return value
