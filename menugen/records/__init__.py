"""What the user wrote, as frozen typed records: specs, stock, events, the house.

Comes in: checked values from reading/. Goes out: the same, named and typed, each with its place in the files.
Knows nothing of: YAML, files, what anything works out to.
"""

from menugen.records.event import Event, Hours, MenuEntry, MenuSection
from menugen.records.house import House, HouseGlass
from menugen.records.look import Look, LookFont
from menugen.records.spec import Line, Measure, MethodStep, Role, Spec, Swap
from menugen.records.stock import Concentration, StockLine
from menugen.records.translation import EventWords, HouseWords, SectionWords, SpecWords

__all__ = [
    "Concentration",
    "Event",
    "EventWords",
    "Hours",
    "House",
    "HouseGlass",
    "HouseWords",
    "Line",
    "Look",
    "LookFont",
    "Measure",
    "MenuEntry",
    "MenuSection",
    "MethodStep",
    "Role",
    "SectionWords",
    "Spec",
    "SpecWords",
    "StockLine",
    "Swap",
]
