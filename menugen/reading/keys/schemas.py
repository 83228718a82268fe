"""JSON Schemas of the files, for editors that complete and check YAML as it is typed."""

from menugen.reading.keys.event_keys import EVENT
from menugen.reading.keys.house_keys import HOUSE
from menugen.reading.keys.key import Schema
from menugen.reading.keys.look_keys import LOOK
from menugen.reading.keys.spec_keys import SPEC
from menugen.reading.keys.stock_keys import STOCK

_DIALECT = "https://json-schema.org/draft/2020-12/schema"


def json_schemas() -> dict[str, Schema]:
    """Return the schemas of "house", "spec" (its front matter), "stock", "event" and "theme", draft 2020-12."""
    return {
        "house": {"$schema": _DIALECT, **HOUSE.schema()},
        "spec": {"$schema": _DIALECT, **SPEC.schema()},
        "stock": {
            "$schema": _DIALECT,
            "title": "Stock",
            "description": "What is poured, eaten and put on glasses, by name.",
            "type": "object",
            "minProperties": 1,
            "additionalProperties": STOCK.schema(),
        },
        "event": {"$schema": _DIALECT, **EVENT.schema()},
        "theme": {"$schema": _DIALECT, **LOOK.schema()},
    }
