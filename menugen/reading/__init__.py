"""Files to records: every problem at once, each with its place and what to write instead.

Comes in: a house's files, on disk or at a revision. Goes out: a HouseReading; JSON Schemas of the files.
Knows nothing of: what a drink works out to, whether a name in a spec is in stock, what a region asks for.
"""

from menugen.reading.event_file import Inherited, read_event
from menugen.reading.files import (
    LARGEST_BYTES,
    THEMES_FOLDER,
    BrokenLink,
    DiskFiles,
    HouseFiles,
    HouseFolders,
    NotOnThisMachine,
    joined,
    look_files,
)
from menugen.reading.front_matter import divide
from menugen.reading.house import HouseReading, is_wanted, outside_folders, read_house, what_is_read
from menugen.reading.house_file import HOUSE_FILE, read_settings
from menugen.reading.keys import (
    EVENT,
    HOUSE,
    LOOK,
    SPEC,
    STOCK,
    KeyDifference,
    Table,
    differences,
    flow,
    json_schemas,
    stated,
)
from menugen.reading.places import Sources
from menugen.reading.spec_file import read_spec
from menugen.reading.text import decode
from menugen.reading.theme_file import read_theme
from menugen.reading.yaml_nodes import Node, YamlReading, read_nodes
from menugen.reading.yaml_text import Data, plain, read_mapping

__all__ = [
    "EVENT",
    "HOUSE",
    "HOUSE_FILE",
    "LARGEST_BYTES",
    "LOOK",
    "SPEC",
    "STOCK",
    "THEMES_FOLDER",
    "BrokenLink",
    "Data",
    "DiskFiles",
    "HouseFiles",
    "HouseFolders",
    "HouseReading",
    "Inherited",
    "KeyDifference",
    "Node",
    "NotOnThisMachine",
    "Sources",
    "Table",
    "YamlReading",
    "decode",
    "differences",
    "divide",
    "flow",
    "is_wanted",
    "joined",
    "json_schemas",
    "look_files",
    "outside_folders",
    "plain",
    "read_event",
    "read_house",
    "read_mapping",
    "read_nodes",
    "read_settings",
    "read_spec",
    "read_theme",
    "stated",
    "what_is_read",
]
