"""One drink worked out, as JSON for a program."""

from typing import Any

from menugen import mixing
from menugen.bar import Cost
from menugen.cli.drink_text import AtEvent
from menugen.cli.label_text import label_data
from menugen.cli.working_text import figure_json, plane_json, working_json
from menugen.facts import BottleLine, DrinkFacts, Serve, Setting
from menugen.facts.family import FamilyPlane
from menugen.facts.sale_rules import least_price, serving_age
from menugen.facts.shared import one_serve
from menugen.facts.taste import TasteFacts, taste_of
from menugen.facts.working import working_of
from menugen.facts.working_glass import strength_on_ice
from menugen.regions import Region


def serve_data(serve: Serve, region: Region) -> dict[str, Any]:
    """Return one way of making a drink as plain data."""
    made, taste = serve.made, taste_of(serve, region.energy_factors)
    least = least_price(serve, region)
    return {
        "serves": serve.serves,
        "lines": [
            {
                "name": item.line.name,
                "as": item.line.role.value,
                "measure": item.line.measure.text,
                "volume_ml": round(item.volume_ml, 4),
                "mass_g": round(item.mass_g, 4),
                "stock": item.stock.name,
                "kept": _kept_json(item),
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
            for item in serve.lines
        ],
        "poured_ml": round(made.poured.volume_ml, 4),
        "poured_abv_percent": figure_json(made.poured_abv_percent),
        "mix_ml": round(made.mix.volume_ml, 4),
        "mix_abv_percent": round(made.mix.abv_percent, 4),
        "melt_ratio": figure_json(made.melt_ratio),
        "melt_basis": made.melt_basis,
        "melt_source": made.melt_source,
        "melt_g": figure_json(made.melt_g),
        "left_behind_ml": round(made.left_ml, 4),
        "served_ml": figure_json(made.volume_ml),
        "served_abv_percent": figure_json(made.served_abv_percent),
        "ethanol_ml": round(made.ethanol_ml, 4),
        "ethanol_g": round(made.ethanol_g, 4),
        "units": round(region.drink_unit.count(made.ethanol_ml), 4),
        "units_shown": region.drink_unit.shown(made.ethanol_ml),
        "strength_not_stated": list(serve.strengthless),
        "served_from_age": serving_age(serve, region),
        "lowest_price": None if least is None else {"currency": region.currency, "price": str(least)},
        **label_data(serve),
        "cautions": list(serve.cautions),
        "taste": _taste_json(taste),
        "glass": _glass_json(serve),
        "one_serve": _one_serve_json(serve, taste, region) if serve.serves > 1 else None,
    }


def _one_serve_json(serve: Serve, taste: TasteFacts, region: Region) -> dict[str, Any]:
    """Return what one guest gets of a drink that guests share; all else is said of the whole."""
    one = one_serve(serve, taste)
    figures = {
        "sugar_g": one.sugar_g,
        "acid_g": one.acid_g,
        "fat_g": one.fat_g,
        "energy_kj": one.energy_kj,
        "energy_kcal": one.energy_kcal,
    }
    return {
        "served_ml": round(one.ml, 4),
        "ethanol_ml": round(one.ethanol_ml, 4),
        "ethanol_g": round(one.ethanol_g, 4),
        "units": round(region.drink_unit.count(one.ethanol_ml), 4),
        "units_shown": region.drink_unit.shown(one.ethanol_ml),
        **{name: figure_json(worked.figure) for name, worked in figures.items()},
    }


def _kept_json(item: BottleLine) -> dict[str, Any] | None:
    """Return where a line is kept; None for what is not poured."""
    if item.bottled is None:
        return None
    kept = item.kept
    return {"place": kept.place, "c": kept.celsius, "stated": bool(item.stock.kept), "source": kept.source}


def _taste_json(taste: TasteFacts) -> dict[str, Any]:
    figures = {
        "sugar_g": taste.sugar_g,
        "sugar_g_per_l": taste.sugar_g_per_l,
        "acid_g": taste.acid_g,
        "acid_g_per_l": taste.acid_g_per_l,
        "sweet_to_sour": taste.sweet_to_sour,
        "fat_g": taste.fat_g,
        "energy_kj": taste.energy_kj,
        "energy_kcal": taste.energy_kcal,
    }
    return {name: None if worked is None else figure_json(worked.figure) for name, worked in figures.items()}


def _glass_json(serve: Serve) -> dict[str, float | None] | None:
    fit = serve.fit
    if fit is None:
        return None
    return {
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


def cost_data(cost: Cost, currency: str) -> dict[str, Any]:
    """Return a cost as plain data; "known" is of one making, and so of the whole bowl or jug."""
    shared = {"a_serve": str(cost.a_serve)} if cost.serves > 1 else {}
    return {"currency": currency, "known": str(cost.known), **shared, "without": list(cost.unknown)}


def drink_data(
    facts: DrinkFacts,
    setting: Setting,
    cost: Cost,
    currency: str,
    plane: FamilyPlane | None,
    at: AtEvent | None = None,
) -> dict[str, Any]:
    """Return the drink's figures as plain data; private, since it holds the cost."""
    region, on_ice = setting.region, strength_on_ice(facts)
    return {
        "drink": facts.spec.slug,
        "name": facts.spec.name,
        "region": region.code,
        "rules_of": region.rules_of,
        "age_note": region.ages.note,
        **serve_data(facts.serve, region),
        "on_ice_10_minutes_abv_percent": figure_json(on_ice) if on_ice is not None else None,
        "price": None if at is None else at.json(),
        "cost": cost_data(cost, currency),
        "family": None if plane is None else plane_json(plane),
        "swaps": [
            {
                "instead_of": swap.swap.replaces,
                "use": swap.swap.line.name,
                **serve_data(swap.serve, region),
            }
            for swap in facts.swaps
        ],
        "working": working_json(working_of(facts, setting)),
    }
