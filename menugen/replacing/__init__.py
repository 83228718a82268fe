"""What a publish takes the place of: what guests were shown before, and the folders of events that are gone.

Comes in: `menu.json` of the output that is there, and of the one that is to take its place; an output folder. Goes out:
each allergen and caution that guests are shown otherwise, under the name they know the drink by, and its text and JSON.
Knows nothing of: why it changed. The files, a bottle, a place, a day and a newer menugen are all alike here.
"""

from menugen.replacing.gone import GoneFolder, KnownEvent, gone_folders, gone_json, gone_text, is_same_house
from menugen.replacing.places import misplaced, swallowed, unwise
from menugen.replacing.replacement import MENU, Replacement, hold_against, menus_among, menus_elsewhere
from menugen.replacing.report import replacement_json, report_text

__all__ = [
    "MENU",
    "GoneFolder",
    "KnownEvent",
    "Replacement",
    "gone_folders",
    "gone_json",
    "gone_text",
    "hold_against",
    "is_same_house",
    "menus_among",
    "menus_elsewhere",
    "misplaced",
    "replacement_json",
    "report_text",
    "swallowed",
    "unwise",
]
