"""What is needed to draw a drink in its glass: the same sum that decides whether it fits."""

from typing import Literal

from menugen import mixing, reference
from menugen.facts import BottleLine, DrinkFacts, InGlass
from menugen.menu.guest import GlassPicture
from menugen.records import Role

_PALE = "#e8e2d4"
_ICE: dict[str, Literal["none", "cubed", "large cube", "crushed"]] = {
    "": "none",
    "none": "none",
    "cubed": "cubed",
    "cracked": "crushed",
    "crushed": "crushed",
    "large cube": "large cube",
}


def _colour(item: BottleLine) -> str:
    if item.stock.colour:
        return item.stock.colour
    known = reference.ingredient(item.stock.kind or item.stock.name)
    return known.colour if known is not None and known.colour else _PALE


def _mixed_colour(items: list[BottleLine]) -> str:
    """Return the average of the colours poured, by volume."""
    total = sum(item.volume_ml for item in items)
    if total <= 0:
        return _PALE
    channels = [0.0, 0.0, 0.0]
    for item in items:
        colour = _colour(item).lstrip("#")
        for position in range(3):
            channels[position] += int(colour[2 * position : 2 * position + 2], 16) * item.volume_ml / total
    return "#" + "".join(f"{round(channel):02x}" for channel in channels)


def _foot_mm(fit: InGlass, level_mm: float, cube_mm: float) -> float:
    """Return how high a large cube stands: so deep under the surface as the room it takes there says."""
    return max(0.0, level_mm - 1000.0 * fit.ice_ml / cube_mm**2)


def glass_picture(facts: DrinkFacts) -> GlassPicture | None:
    """Return the drawing's measures, or None where the glass has no measured profile."""
    vessel, fit = facts.vessel, facts.serve.fit
    if vessel is None or fit is None or not vessel.profile_mm:
        return None
    profile = vessel.profile_mm
    surface_ml = min(fit.surface_ml, vessel.brim_ml)
    level_mm = min(mixing.height_of_ml(profile, surface_ml), profile[-1][0])
    foam_top_mm = mixing.height_of_ml(profile, surface_ml + fit.foam_ml)
    liquids = [item for item in facts.serve.lines if item.volume_ml > 0]
    sauces = [item for item in facts.serve.lines if item.line.role is Role.INSIDE]
    floats = [item for item in liquids if item.line.role is Role.FLOAT]
    mixed = [item for item in liquids if item.line.role not in (Role.FLOAT, Role.INSIDE, Role.RINSE)]
    cube_mm = mixing.cube_mm(fit.piece_g) if fit.piece_g > 0 else 0.0
    float_ml = sum(item.volume_ml for item in floats)
    below_float_mm = mixing.height_of_ml(profile, max(surface_ml - float_ml, 0.0))
    return GlassPicture(
        glass=vessel.name,
        profile_mm=profile,
        stem_mm=vessel.stem_mm,
        foot_mm=vessel.foot_mm,
        level_mm=level_mm,
        foam_mm=foam_top_mm - level_mm if fit.foam_ml > 0 else 0.0,
        liquid=_mixed_colour(mixed or liquids),
        float_colour=_mixed_colour(floats) if floats else "",
        float_mm=level_mm - below_float_mm if floats else 0.0,
        ice=_ICE.get(facts.spec.ice, "cubed"),
        cubes=fit.pieces,
        cube_mm=cube_mm,
        cube_foot_mm=_foot_mm(fit, level_mm, cube_mm) if facts.spec.ice == "large cube" else 0.0,
        less_ice=fit.less_ice,
        rim=any(item.line.role is Role.RIM for item in facts.serve.lines),
        inside=bool(sauces),
        inside_colour=_mixed_colour(sauces) if sauces else "",
        garnish=tuple(item.line.name for item in facts.serve.lines if item.line.role is Role.GARNISH),
    )
