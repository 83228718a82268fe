"""JSON Schemas of the files, for editors that complete and check YAML as it is typed."""

from typing import Any

from pydantic import BaseModel

from menugen.reading.forms.event_form import EventForm
from menugen.reading.forms.house_form import HouseForm
from menugen.reading.forms.spec_form import SpecForm
from menugen.reading.keys import STOCK

_DIALECT = "https://json-schema.org/draft/2020-12/schema"


def json_schemas() -> dict[str, dict[str, Any]]:
    """Return the schemas of "house", "spec" (its front matter), "stock" and "event", draft 2020-12."""
    return {
        "house": {"$schema": _DIALECT, **_of(HouseForm)},
        "spec": {"$schema": _DIALECT, **_of(SpecForm)},
        "stock": {
            "$schema": _DIALECT,
            "title": "Stock",
            "description": "What is poured, eaten and put on glasses, by name.",
            "type": "object",
            "minProperties": 1,
            "additionalProperties": STOCK.schema(),
        },
        "event": {"$schema": _DIALECT, **_of(EventForm)},
    }


def _of(form: type[BaseModel]) -> dict[str, Any]:
    schema = form.model_json_schema(by_alias=True)
    _tidy(schema)
    return schema


def _tidy(node: Any) -> None:
    """Take out what says nothing to a person at an editor: defaults of ours and titles made from keys."""
    if isinstance(node, list):
        for item in node:
            _tidy(item)
    if isinstance(node, dict):
        for field in (node.get("properties") or {}).values():
            if isinstance(field, dict):
                field.pop("default", None)
                field.pop("title", None)
        for item in node.values():
            _tidy(item)
