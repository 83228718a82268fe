"""What each kind of file may hold: one table of keys a kind, and all that follows from a table.

Comes in: plain data of one document (keys, lists, text). Goes out: checked values, or every problem at once; what an
editor, a reader of the help, a tidier and a comparison need to know of the keys.
Knows nothing of: lines and columns, other documents.
"""

from menugen.reading.keys.event_keys import EVENT
from menugen.reading.keys.house_keys import HOUSE
from menugen.reading.keys.key import (
    Key,
    KeyDifference,
    Problems,
    Reading,
    Table,
    Units,
    Value,
    differences,
    fields_of,
    flow,
    read_keys,
    stated,
)
from menugen.reading.keys.look_keys import LOOK, STANDS_IN, quoted
from menugen.reading.keys.schemas import json_schemas
from menugen.reading.keys.spec_keys import SPEC
from menugen.reading.keys.stock_keys import STOCK
from menugen.reading.keys.values import as_list

__all__ = [
    "EVENT",
    "HOUSE",
    "LOOK",
    "SPEC",
    "STANDS_IN",
    "STOCK",
    "Key",
    "KeyDifference",
    "Problems",
    "Reading",
    "Table",
    "Units",
    "Value",
    "as_list",
    "differences",
    "fields_of",
    "flow",
    "json_schemas",
    "quoted",
    "read_keys",
    "stated",
]
