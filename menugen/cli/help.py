"""menugen help: every key of a kind of file, from the same schema that an editor checks the files by."""

import argparse
import json
from collections.abc import Iterator, Mapping
from textwrap import wrap
from typing import Any

from menugen.reading import flow, json_schemas

_FILES = {
    "house": "house.yaml",
    "spec": 'specs/*.md, between its two lines "---"',
    "stock": "stock/*.yaml, below the name of each thing",
    "event": "events/*.yaml",
    "theme": "themes/*/theme.yaml",
}
_WIDTH = 80
_INDENT = 22
_MOST_CHOICES = 12

_Schema = Mapping[str, Any]


def run(args: argparse.Namespace) -> int:
    """Print the keys of one kind of file, or the kinds."""
    if not args.kind:
        print("\n".join(_two_columns(kind, [f"Keys of {file}."], 0) for kind, file in _FILES.items()))
        print("\nmenugen help KIND lists the keys of one of them, each with an example.")
        return 0
    print(f"Keys of {_FILES[args.kind]}\n")
    print("\n".join(help_lines(_schema(args.kind))))
    return 0


def _schema(kind: str) -> _Schema:
    schema = json_schemas()[kind]
    named: _Schema = schema["additionalProperties"]
    return named if kind == "stock" else schema


def help_lines(schema: _Schema) -> Iterator[str]:
    """Yield the lines on a mapping, 80 columns wide: its keys, then those of each mapping inside it, once."""
    sections: dict[str, tuple[list[str], _Schema]] = {}
    _collect(schema, "", sections)
    for paths, inner in sections.values():
        about = inner.get("description", "")
        if paths != [""]:
            yield ""
            yield from wrap(f"In {', '.join(paths)}: {about}".rstrip(": "), _WIDTH)
            yield ""
        elif about:
            yield from (about, "")
        for name, value in inner["properties"].items():
            yield _two_columns(name, list(_said(value, is_needed=name in inner.get("required", ()))), 2)


def _said(schema: _Schema, *, is_needed: bool) -> Iterator[str]:
    said = schema.get("description", "")
    sentences = [f"{said[:1].upper()}{said[1:]}".rstrip(".")] if said else []
    if is_needed:
        sentences.append("It must be there")
    if words := _choices(schema):
        sentences.append(f"One of: {', '.join(words)}")
    yield "".join(f"{sentence}. " for sentence in sentences).rstrip()
    for example in schema.get("examples", ()):
        yield f"Example: {flow(example)}"


def _choices(schema: _Schema) -> tuple[str, ...]:
    """Return the words of a closed set; not "yes" and "no", nor a set that is too long to read."""
    words = tuple(
        word
        for inner in (schema, *schema.get("anyOf", ()))
        for word in inner.get("enum", ())
        if isinstance(word, str)
    )
    return words if 2 < len(words) <= _MOST_CHOICES else ()


def _two_columns(name: str, said: list[str], margin: int) -> str:
    lines = [line for one in said for line in wrap(one, _WIDTH - _INDENT, break_long_words=False)] or [""]
    head = f"{' ' * margin}{name}"
    first = (
        f"{head:<{_INDENT}}{lines[0]}".rstrip()
        if len(head) < _INDENT
        else f"{head}\n{' ' * _INDENT}{lines[0]}"
    )
    return "\n".join([first, *(f"{' ' * _INDENT}{line}" for line in lines[1:])])


def _collect(schema: _Schema, path: str, found: dict[str, tuple[list[str], _Schema]]) -> None:
    """Gather the mappings inside a schema, each with the keys it stands behind; those that are alike are one."""
    if "properties" in schema:
        alike = json.dumps(schema["properties"])
        paths, _ = found.setdefault(alike, ([], schema))
        if path not in paths:
            paths.append(path)
        for name, value in schema["properties"].items():
            _collect(value, f"{path}: {name}" if path else name, found)
    for inner in (*schema.get("anyOf", ()), schema.get("items"), schema.get("additionalProperties")):
        if isinstance(inner, dict):
            _collect(inner, path, found)
