"""As much of JSON Schema, draft 2020-12, as the schemas of the files use; an unknown word in a schema is an error."""

import re
from typing import Any

_SILENT = {"$schema", "title", "description", "examples", "format"}
_TYPES: dict[str, type | tuple[type, ...]] = {
    "string": str,
    "number": (int, float),
    "integer": int,
    "object": dict,
    "array": list,
    "null": type(None),
}


def faults(value: Any, schema: dict[str, Any]) -> list[str]:
    """Return what a schema does not take of a value; nothing where it takes it."""
    found: list[str] = []
    for word, said in schema.items():
        if word not in _SILENT:
            found += _CHECKS[word](value, said, schema)
    return found


def _is_one(value: Any, kinds: str | list[str]) -> bool:
    return any(
        isinstance(value, _TYPES[kind]) and not (isinstance(value, bool) and kind != "boolean")
        for kind in ([kinds] if isinstance(kinds, str) else kinds)
    )


def _properties(value: Any, said: dict[str, Any], _schema: dict[str, Any]) -> list[str]:
    if not isinstance(value, dict):
        return []
    return [fault for key, inner in said.items() if key in value for fault in faults(value[key], inner)]


def _others(value: Any, said: Any, schema: dict[str, Any]) -> list[str]:
    others = set(value) - set(schema.get("properties", ())) if isinstance(value, dict) else set()
    if said is False:
        return [f"{key} is not known" for key in others]
    return [fault for key in others for fault in faults(value[key], said)]


def _any_of(value: Any, said: list[dict[str, Any]], _schema: dict[str, Any]) -> list[str]:
    tried = [faults(value, inner) for inner in said]
    return [] if [] in tried else [fault for one in tried for fault in one]


def _each(value: Any, said: dict[str, Any], kind: type) -> list[str]:
    return [fault for item in value for fault in faults(item, said)] if isinstance(value, kind) else []


def _when(kind: type | tuple[type, ...], holds: Any) -> Any:
    def check(value: Any, said: Any, _schema: dict[str, Any]) -> list[str]:
        return [f"{value!r} against {said!r}"] if isinstance(value, kind) and not holds(value, said) else []

    return check


_CHECKS: dict[str, Any] = {
    "type": lambda value, said, _: [] if _is_one(value, said) else [f"{value!r} is no {said}"],
    "enum": lambda value, said, _: [] if value in said else [f"{value!r} is none of {said}"],
    "anyOf": _any_of,
    "properties": _properties,
    "additionalProperties": _others,
    "propertyNames": lambda value, said, _: _each(value, said, dict),
    "required": _when(dict, lambda value, said: set(said) <= set(value)),
    "items": lambda value, said, _: _each(value, said, list),
    "minItems": _when(list, lambda value, said: len(value) >= said),
    "maxItems": _when(list, lambda value, said: len(value) <= said),
    "minProperties": _when(dict, lambda value, said: len(value) >= said),
    "maxProperties": _when(dict, lambda value, said: len(value) <= said),
    "minLength": _when(str, lambda value, said: len(value) >= said),
    "pattern": _when(str, lambda value, said: re.search(said, value)),
    "minimum": _when((int, float), lambda value, said: value >= said),
    "maximum": _when((int, float), lambda value, said: value <= said),
}  # fmt: skip
