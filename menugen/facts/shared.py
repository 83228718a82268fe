"""One serve of a drink that guests share: an even part of what was made."""

from collections.abc import Iterator
from dataclasses import dataclass

from menugen.facts.event import Setting
from menugen.facts.lab_note import SPEC, Given, Working
from menugen.facts.serve import Serve
from menugen.facts.taste import TasteFacts
from menugen.facts.uncertainty import Worked
from menugen.mixing import Figure


@dataclass(frozen=True, slots=True)
class OneServe:
    """What one guest gets of a drink, if it is ladled out evenly; of a drink for one guest, all of it.

    Attributes:
        ml: What comes into the glass, ice left out.
        ethanol_ml: Pure alcohol.
        ethanol_g: The same in grams.
        units_ml: Pure alcohol with its doubts.
        sugar_g: Counted as sucrose.
        acid_g: Counted as citric.
        fat_g: Grams.
        energy_kj: By the place's labelling factors.
        energy_kcal: The same, from its own factors.
    """

    ml: float
    ethanol_ml: float
    ethanol_g: float
    units_ml: Worked
    sugar_g: Worked
    acid_g: Worked
    fat_g: Worked
    energy_kj: Worked
    energy_kcal: Worked


def one_serve(serve: Serve, taste: TasteFacts) -> OneServe:
    """Return an even part of a drink and of its figures."""
    parts = serve.serves
    return OneServe(
        ml=serve.served_ml / parts,
        ethanol_ml=serve.made.ethanol_ml / parts,
        ethanol_g=serve.made.ethanol_g / parts,
        units_ml=_part(taste.units_ml, parts),
        sugar_g=_part(taste.sugar_g, parts),
        acid_g=_part(taste.acid_g, parts),
        fat_g=_part(taste.fat_g, parts),
        energy_kj=_part(taste.energy_kj, parts),
        energy_kcal=_part(taste.energy_kcal, parts),
    )


def _part(whole: Worked, parts: int) -> Worked:
    figure = whole.figure
    return Worked(
        Figure(figure.value / parts, figure.low / parts, figure.high / parts),
        tuple(doubt._replace(below=doubt.below / parts, above=doubt.above / parts) for doubt in whole.doubts),
    )


def serve_working(serve: Serve, taste: TasteFacts, setting: Setting) -> Iterator[Working]:
    """Yield the working of every figure of one serve; nothing for a drink of one guest."""
    parts = serve.serves
    if parts == 1:
        return
    one, unit = one_serve(serve, taste), setting.region.drink_unit
    given = (Given("serves", float(parts), "", "spec", SPEC),)
    yield Working(
        "One serve",
        Figure(one.ml, one.ml, one.ml),
        "ml",
        0,
        given,
        (
            f"{serve.served_ml:.0f} ml / {parts} = {one.ml:.0f} ml, ladled out evenly; what a guest takes may differ",
        ),
    )
    scale = 1.0 / unit.ethanol_ml
    for name, worked, whole, symbol, decimals, per in (
        (f"{unit.plural[0].upper()}{unit.plural[1:]}", one.units_ml, taste.units_ml, "", 2, scale),
        ("Sugar", one.sugar_g, taste.sugar_g, "g", 1, 1.0),
        ("Acid as citric", one.acid_g, taste.acid_g, "g", 1, 1.0),
        ("Fat", one.fat_g, taste.fat_g, "g", 1, 1.0),
        ("Energy, kJ", one.energy_kj, taste.energy_kj, "kJ", 0, 1.0),
        ("Energy, kcal", one.energy_kcal, taste.energy_kcal, "kcal", 0, 1.0),
    ):
        if whole.figure.value <= 0.0:
            continue
        figure = worked.figure
        total, value = whole.figure.value * per, figure.value * per
        told = f"{total:.{decimals}f} {symbol or unit.plural}"
        yield Working(
            f"{name} in one serve",
            Figure(value, figure.low * per, figure.high * per),
            symbol,
            decimals,
            given,
            (f"{told} in the whole / {parts} = {value:.{decimals + 1}f} {symbol or unit.plural}",),
            tuple(
                doubt._replace(below=doubt.below * per, above=doubt.above * per) for doubt in worked.doubts
            ),
        )
