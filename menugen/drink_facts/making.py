"""Facts of how a drink is made: what is poured, what melts, how strong it is, how it sits in its glass."""

from collections.abc import Iterator
from typing import Any

from menugen import mixing
from menugen.drink_facts.fact import Compared, Fact, Value, Way
from menugen.drink_facts.shown import figure_data, ranged, rounded, words
from menugen.facts import MINUTES_ON_ICE, BottleLine, InGlass, less_ice_words, strength_on_ice
from menugen.reading import STOCK, stated
from menugen.report import Row

MELT_WORDS = {
    "none": "nothing",
    "house's own measure": "the house's own measure",
    "blended ice": "the ice blended in",
    "melting floor": "what it takes to cool it to 0 °C",
    "shaken equation": "the equation for shaking",
    "stirred equation": "the equation for stirring",
    "energy balance": "the heat it gives to the ice",
}
"""How a sentence names the rule behind the melt; JSON has its id."""


def _lines_data(way: Way) -> dict[str, Any]:
    return {
        "lines": [
            {
                "name": item.line.name,
                "as": item.line.role.value,
                "measure": item.line.measure.text,
                "volume_ml": round(item.volume_ml, 4),
                "mass_g": round(item.mass_g, 4),
                "stock": item.stock.name,
                "said_in_stock": stated(STOCK, item.stock),
                "kept": _kept_data(item),
                "on_top": item.on_top,
                "contents": [
                    {
                        "what": c.what,
                        "amount": c.amount,
                        "basis": c.basis,
                        "source": c.source,
                        "within": round(c.tolerance.amount, 6),
                    }
                    for c in item.contents
                ],
            }
            for item in way.serve.lines
        ]
    }


def _kept_data(item: BottleLine) -> dict[str, Any] | None:
    """Return where a line is kept; None for what is not poured."""
    if item.bottled is None:
        return None
    kept = item.kept
    return {"place": kept.place, "c": kept.celsius, "stated": bool(item.stock.kept), "source": kept.source}


def _strength(way: Way, figure: mixing.Figure) -> str:
    """Return a strength; what rests on a bottle that does not say how strong it is, is not known."""
    if names := way.serve.strengthless:
        return f"strength not known, {' and '.join(names)} states none"
    return ranged(figure, 1, "% vol")


def _poured_rows(way: Way) -> Iterator[Row]:
    made = way.serve.made
    yield Row("Poured", f"{made.poured.volume_ml:.0f} ml, {_strength(way, made.poured_abv_percent)}")


def _poured_data(way: Way) -> dict[str, Any]:
    made = way.serve.made
    return {
        "poured_ml": round(made.poured.volume_ml, 4),
        "poured_abv_percent": figure_data(made.poured_abv_percent),
    }


def _melt_rows(way: Way) -> Iterator[Row]:
    made = way.serve.made
    if made.melt_g.value <= 0:
        return
    on_top = f", and {made.top_melt_g.value:.0f} g on top" if made.top_melt_g.value >= 0.5 else ""
    of_what = "of the mix" if made.is_worked else "of all of it"
    yield Row(
        "Melt",
        f"{made.mix_melt_g.value:.0f} g of water, {ranged(made.melt_ratio, 2, '')} {of_what} "
        f"by {MELT_WORDS[made.melt_basis]}{on_top}",
    )


def _melt_data(way: Way) -> dict[str, Any]:
    made = way.serve.made
    return {
        "mix_ml": round(made.mix.volume_ml, 4),
        "mix_abv_percent": round(made.mix.abv_percent, 4),
        "melt_ratio": figure_data(made.melt_ratio),
        "melt_basis": made.melt_basis,
        "melt_source": made.melt_source,
        "melt_g": figure_data(made.melt_g),
    }


def _served_rows(way: Way) -> Iterator[Row]:
    made = way.serve.made
    kept = f"; {made.left_ml:.0f} ml stay in the tin" if made.left_ml > 0 else ""
    yield Row("Served", f"{made.volume_ml.value:.0f} ml, {_strength(way, made.served_abv_percent)}{kept}")


def _served_data(way: Way) -> dict[str, Any]:
    made = way.serve.made
    return {
        "left_behind_ml": round(made.left_ml, 4),
        "served_ml": figure_data(made.volume_ml),
        "served_abv_percent": figure_data(made.served_abv_percent),
    }


def _served_strength(way: Way) -> Value:
    if names := way.serve.strengthless:
        return Value("not known", lambda: f"not known (no strength stated: {', '.join(names)})")
    return rounded(way.serve.made.served_abv_percent.value, 1, "% vol")


def _serves_rows(way: Way) -> Iterator[Row]:
    serve = way.serve
    if serve.serves > 1 and not serve.strengthless:
        yield Row("Serves", f"{serve.serves}, about {serve.served_ml / serve.serves:.0f} ml each")


def _says_rows(way: Way) -> Iterator[Row]:
    if not way.serve.strengthless:
        says_strength = way.at is None or way.at.event.pours_alcohol
        nothing = 'nothing of strength: the event is "alcohol: none"'
        yield Row("Menu says", way.says.strength if says_strength else nothing)


def _menu_word(way: Way) -> Value:
    descriptor = way.serve.descriptor
    return words(descriptor.term if descriptor and not way.serve.strengthless else "")


def _on_ice_rows(way: Way) -> Iterator[Row]:
    if way.serve.strengthless or way.serve.made.ethanol_ml <= 0 or not way.facts.spec.ice:
        return
    if (on_ice := strength_on_ice(way.facts)) is not None:
        later = ranged(on_ice, 1, "% vol")
        yield Row("On ice", f"{later} after {MINUTES_ON_ICE:.0f} minutes, for staff")


def _alcohol_rows(way: Way) -> Iterator[Row]:
    if not way.serve.strengthless:
        yield Row("Alcohol", _alcohol(way))


def _alcohol(way: Way) -> str:
    """Return how much alcohol is in a drink; of one that guests share, in one serve and in the whole."""
    serve, made, region = way.serve, way.serve.made, way.region
    if made.ethanol_ml <= 0:
        return "none"
    of_what = " of all that is poured" if made.left_ml > 0 else ""
    if serve.serves == 1:
        units = f"{region.drink_unit.shown(made.ethanol_ml)} in {region.name}"
        return f"{made.ethanol_ml:.1f} ml, {made.ethanol_g:.1f} g{of_what}; {units}"
    said = (
        f"{made.ethanol_ml / parts:.1f} ml, {made.ethanol_g / parts:.1f} g, "
        f"{region.drink_unit.shown(made.ethanol_ml / parts)} {where}"
        for parts, where in ((serve.serves, "in a serve"), (1, "in all"))
    )
    return f"{'; '.join(said)}{of_what}; as counted in {region.name}"


def _alcohol_of(way: Way, ethanol_ml: float, ethanol_g: float) -> dict[str, Any]:
    unit = way.region.drink_unit
    return {
        "ethanol_ml": round(ethanol_ml, 4),
        "ethanol_g": round(ethanol_g, 4),
        "units": round(unit.count(ethanol_ml), 4),
        "units_shown": unit.shown(ethanol_ml),
    }


def _units(way: Way, ethanol_ml: float, where: str) -> Value:
    """Return units of alcohol as they are compared; `where` follows the number."""
    unit = way.region.drink_unit
    if way.serve.strengthless:
        return Value("not known", lambda: f"{unit.plural}{where} not known")
    return Value(unit.count(ethanol_ml), lambda: f"{unit.shown(ethanol_ml) or f'no {unit.plural}'}{where}")


def _glass_rows(way: Way) -> Iterator[Row]:
    vessel, fit = way.facts.vessel, way.serve.fit
    if vessel is None or fit is None:
        yield Row("Glass", way.facts.spec.glass)
        return
    level_ml = fit.surface_ml + fit.foam_ml
    of_it = [
        f"{ml:.0f} ml of it {what}"
        for what, ml in ((f"ice{_pieces(fit)}", fit.ice_ml), ("foam", fit.foam_ml))
        if ml > 0
    ]
    where = f"{vessel.brim_ml - level_ml:.0f} ml under the brim"
    if fit.over_brim_ml >= 0.5:
        less_ice = less_ice_words(way.facts.spec.ice, fit)
        where = (
            f"{fit.over_brim_ml:.0f} ml over the brim: smaller by {max(1, round(fit.smaller_by_ml))} ml, "
            + (f"{less_ice}, " if less_ice else "")
            + f"or a {fit.glass_that_fits_ml} ml glass"
        )
    filled = f"{vessel.name}, {vessel.brim_ml:.0f} ml: filled to {level_ml:.0f} ml"
    yield Row("Glass", ", ".join((filled, *of_it, where)))


def _pieces(fit: InGlass) -> str:
    """Return how many cubes the ice in a glass is, and whether it is less than usual; nothing where it is no cubes."""
    side = f"{mixing.cube_mm(fit.piece_g):.0f}\N{NO-BREAK SPACE}mm" if fit.piece_g > 0 else ""
    cubes = f" ({fit.pieces} {'cube' if fit.pieces == 1 else 'cubes'} of {side})" if side else ""
    return cubes + (" and less than usual" if fit.less_ice else "")


def _glass_data(way: Way) -> dict[str, Any]:
    fit = way.serve.fit
    if fit is None:
        return {"glass": None}
    return {
        "glass": {
            "liquid_ml": round(fit.liquid_ml, 4),
            "ice_ml": round(fit.ice_ml, 4),
            "foam_ml": round(fit.foam_ml, 4),
            "surface_ml": round(fit.surface_ml, 4),
            "over_brim_ml": round(fit.over_brim_ml, 4),
            "under_wash_line_ml": round(fit.under_wash_line_ml, 4),
            "ice_g": round(fit.ice_g, 4),
            "cubes": fit.pieces,
            "cube_mm": round(mixing.cube_mm(fit.piece_g), 2) if fit.piece_g > 0 else None,
            "less_ice_than_usual": fit.less_ice,
        }
    }


def _fit(way: Way) -> Value:
    """Return whether a drink fits its glass; how far it runs over is shown only where that began or ended."""
    vessel, fit = way.facts.vessel, way.serve.fit
    if vessel is None or fit is None:
        return Value("not known", lambda: f"no {way.facts.spec.glass} known")
    over_ml = round(fit.over_brim_ml)
    if over_ml > 0:
        return Value("over", lambda: f"{over_ml} ml over the brim of the {vessel.name}")
    return Value("fits", lambda: f"fits the {vessel.name}")


LINES = Fact(name="lines", data=_lines_data)
POURED = Fact(name="poured", rows=_poured_rows, data=_poured_data)
MELT = Fact(name="melt", rows=_melt_rows, data=_melt_data)
SERVED = Fact(
    name="served",
    rows=_served_rows,
    data=_served_data,
    one_serve=lambda way: {"served_ml": round(way.one.ml, 4)},
    compared=(
        Compared("strength", _served_strength, ("amount", "strength")),
        Compared("volume", lambda way: rounded(way.serve.made.volume_ml.value, 0, "ml"), ("amount",)),
    ),
)
SERVES = Fact(name="serves", rows=_serves_rows, data=lambda way: {"serves": way.serve.serves})
MENU_SAYS = Fact(
    name="menu says",
    rows=_says_rows,
    data=lambda way: {"strength_not_stated": list(way.serve.strengthless)},
    phrase=lambda way: way.says.strength,
    compared=(Compared("menu's word", _menu_word, ("amount", "strength"), rules="descriptors"),),
)
ON_ICE = Fact(name="on ice", rows=_on_ice_rows)
ALCOHOL = Fact(
    name="alcohol",
    rows=_alcohol_rows,
    data=lambda way: _alcohol_of(way, way.serve.made.ethanol_ml, way.serve.made.ethanol_g),
    one_serve=lambda way: _alcohol_of(way, way.one.ethanol_ml, way.one.ethanol_g),
    phrase=lambda way: way.says.units,
    compared=(
        Compared(
            "units",
            lambda way: _units(way, way.serve.made.ethanol_ml, ""),
            ("alcohol",),
            rules="drink_unit",
            says_itself=True,
        ),
        Compared(
            "units a serve",
            lambda way: _units(way, way.serve.made.ethanol_ml / way.serve.serves, " in one serve"),
            ("alcohol",),
            rules="drink_unit",
            says_itself=True,
            of_shared=True,
        ),
    ),
)
GLASS = Fact(
    name="glass",
    rows=_glass_rows,
    data=_glass_data,
    compared=(Compared("fit", _fit, ("amount",), says_itself=True),),
)

FACTS = (LINES, POURED, MELT, SERVED, SERVES, MENU_SAYS, ON_ICE, ALCOHOL, GLASS)
