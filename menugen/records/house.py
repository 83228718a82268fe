"""The operator's house: settings, specs, stock and events together."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from menugen.problems import Place
from menugen.records.event import Event
from menugen.records.spec import Spec
from menugen.records.stock import StockLine
from menugen.records.translation import HouseWords


@dataclass(frozen=True, slots=True, kw_only=True)
class HouseGlass:
    """A glass of the house's own.

    Attributes:
        name: What specs call it.
        brim_ml: What it holds filled to the brim.
        wash_line_ml: What it holds at the wash line; None means the reference share for its kind, or 90 %.
        profile_mm: (height, inner radius) pairs from the bottom of the bowl to the rim; empty if not measured.
    """

    name: str
    brim_ml: float
    wash_line_ml: float | None = None
    profile_mm: tuple[tuple[float, float], ...] = ()
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class House:
    """Everything in the operator's folder, as written.

    Attributes:
        name: As guests read it.
        region: ISO 3166 code events inherit; empty if none.
        currency: ISO 4217; empty means the event's region decides.
        languages: BCP 47; may be empty.
        ounce: Which ounce specs mean: "trade" 30 ml, "us" or "imperial" fluid ounce. None: the region decides.
        theme: The look events inherit; empty means the default.
        contact: How guests can reach the bar; empty if none.
        cube_g: What a cube of its ice weighs; None: the reference size.
        large_cube_g: What one of its large cubes weighs; None: the reference size.
        spec_folders, stock_folders, event_folders: Where its files are, relative to it.
        rules: House rules shown to guests, a sentence each.
        tax_registered: Whether the bar is registered for the tax on what it sells; None where it does not say.
        prices_include_tax: Whether the prices of its menus are with that tax; None where it does not say.
        glasses: The house's own glasses, by name.
        translations: By BCP 47.
        specs: By slug.
        stock: By name.
        events: By slug, in order of date.
    """

    name: str
    region: str = ""
    currency: str = ""
    languages: tuple[str, ...] = ()
    ounce: Literal["trade", "us", "imperial"] | None = None
    theme: str = ""
    contact: str = ""
    cube_g: float | None = None
    large_cube_g: float | None = None
    spec_folders: tuple[str, ...] = ("specs",)
    stock_folders: tuple[str, ...] = ("stock",)
    event_folders: tuple[str, ...] = ("events",)
    rules: tuple[str, ...] = ()
    tax_registered: bool | None = None
    prices_include_tax: bool | None = None
    glasses: Mapping[str, HouseGlass] = field(default_factory=dict)
    translations: Mapping[str, HouseWords] = field(default_factory=dict)
    specs: Mapping[str, Spec] = field(default_factory=dict)
    stock: Mapping[str, StockLine] = field(default_factory=dict)
    events: Mapping[str, Event] = field(default_factory=dict)
    place: Place
