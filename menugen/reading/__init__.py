"""Files to records: every problem at once, each with its place and what to write instead.

Comes in: a house's files, on disk or at a revision. Goes out: a HouseReading; JSON Schemas of the files.
Knows nothing of: what a drink works out to, whether a name in a spec is in stock, what a region asks for.
"""

from menugen.reading.files import BrokenLink, DiskFiles, HouseFiles, NotOnThisMachine
from menugen.reading.house import HouseReading, outside_folders, read_house, what_is_read
from menugen.reading.keys import json_schemas
from menugen.reading.places import Sources

__all__ = [
    "BrokenLink",
    "DiskFiles",
    "HouseFiles",
    "HouseReading",
    "NotOnThisMachine",
    "Sources",
    "json_schemas",
    "outside_folders",
    "read_house",
    "what_is_read",
]
