"""The working of the level in the glass, and of what ten minutes on ice do."""

from collections.abc import Iterator

from menugen import mixing
from menugen.facts.in_glass import InGlass
from menugen.facts.lab_note import Given, Working
from menugen.facts.serve import DrinkFacts
from menugen.facts.uncertainty import Doubt
from menugen.mixing import (
    ICE_IN_A_GLASS_G,
    LEAST_FILL,
    MELT_G_PER_MINUTE,
    USUAL_FILL,
    Figure,
    cube_mm,
    least_share,
    usual_share,
)

MINUTES_ON_ICE = 10.0
"""How long a drink is looked at while it stands on ice: for staff."""

ICE_SOURCE = (
    "FAO Fisheries Technical Papers 331 and 436, stowage rates (from memory); fill by common practice"
)
CUBE_SOURCE = "solid ice of 917 kg/m3; it stands on the bottom until the drink lifts it (computed)"
STANDING_SOURCE = "heat a cold glass takes up in a warm room, worked out from memory; take half to double"


def glass_working(facts: DrinkFacts) -> Iterator[Working]:
    """Yield where the surface of the drink stands; nothing where the glass is unknown."""
    fit, vessel = facts.serve.fit, facts.vessel
    if fit is None or vessel is None:
        return
    ice, sources = facts.spec.ice or "none", []
    steps = list(_ice_steps(ice, fit))
    if fit.ice_ml > 0:
        sources.append(CUBE_SOURCE if ice == "large cube" else ICE_SOURCE)
    if fit.foam_ml > 0:
        steps.append(f"foam holds {fit.foam_ml:.0f} ml of air above it")
        sources.append("foam: common practice, no published source")
    top_ml = fit.surface_ml + fit.foam_ml
    steps.append(
        f"{vessel.brim_ml:.0f} ml to the brim - {top_ml:.0f} ml = {vessel.brim_ml - top_ml:.0f} ml"
        + (" over the brim" if fit.over_brim_ml > 0 else " free")
        + f"; wash line at {vessel.wash_line_ml:.0f} ml"
    )
    yield Working(
        "Level in the glass", Figure(top_ml, top_ml, top_ml), "ml", 0, (), tuple(steps), (), tuple(sources)
    )


def _ice_steps(ice: str, fit: InGlass) -> Iterator[str]:
    """Yield how much room the ice takes, and where the surface stands beside it."""
    if fit.ice_ml <= 0:
        yield f"liquid {fit.liquid_ml:.1f} ml to the surface, no ice"
        return
    if ice == "large cube":
        yield (
            f"a cube of {cube_mm(fit.piece_g):.0f} mm weighs {fit.piece_g:.1f} g, whatever the drink; "
            f"{fit.ice_ml:.1f} ml of it are under the surface"
        )
    else:
        share = usual_share(ice)
        yield (
            f"{ice} ice fills {share / USUAL_FILL:.2f} of a packed glass; usual fill {USUAL_FILL:g} of that: "
            f"{fit.liquid_ml:.1f} ml / (1 - {share:.3f}) = {fit.liquid_ml / (1.0 - share):.1f} ml"
        )
        if fit.less_ice:
            least = least_share(ice)
            yield (
                f"less ice, so that it stands no higher than the wash line; the least is {LEAST_FILL[ice]:g} of a "
                f"packed glass: {fit.liquid_ml:.1f} ml / (1 - {least:.3f}) = {fit.liquid_ml / (1.0 - least):.1f} ml"
            )
    yield f"liquid {fit.liquid_ml:.1f} ml + ice {fit.ice_ml:.1f} ml = {fit.surface_ml:.1f} ml to the surface"


def ice_in_glass_g(facts: DrinkFacts) -> float:
    """Return the ice there is to melt into a drink that stands."""
    fit = facts.serve.fit
    return ICE_IN_A_GLASS_G if fit is None or fit.ice_g == 0.0 else min(ICE_IN_A_GLASS_G, fit.ice_g)


def on_ice_working(facts: DrinkFacts) -> Iterator[Working]:
    """Return the strength after a while on ice, for staff; nothing where there is no ice or no alcohol."""
    made, ice = facts.serve.made, facts.spec.ice or "none"
    grams = min(ice_in_glass_g(facts), MELT_G_PER_MINUTE[ice] * MINUTES_ON_ICE)
    figure = strength_on_ice(facts)
    if grams == 0.0 or made.ethanol_ml == 0.0 or figure is None:
        return
    yield Working(
        f"Strength after {MINUTES_ON_ICE:.0f} minutes on ice",
        figure,
        "% vol",
        1,
        (Given(f"{ice} ice melts", MELT_G_PER_MINUTE[ice], "g a minute", "habit", STANDING_SOURCE),),
        (
            f"{MINUTES_ON_ICE:.0f} x {MELT_G_PER_MINUTE[ice]:g} g = {grams:.0f} g of water more",
            f"100 x {made.drink.ethanol_ml:.2f} ml / (drink and water mixed anew) = {figure.value:.2f} % vol",
        ),
        (
            Doubt(
                "the strength as served, and melting from half to double",
                figure.value - figure.low,
                figure.high - figure.value,
                (STANDING_SOURCE,),
            ),
        ),
    )


def strength_on_ice(facts: DrinkFacts) -> Figure | None:
    """Return how strong the drink is after ten minutes on its ice, nobody having drunk of it.

    None for a bowl or a jug: how fast its ice melts is not known, and what is known of a glass says far too little.
    """
    if facts.serve.serves > 1:
        return None
    return mixing.after_minutes_on_ice(
        facts.serve.made, facts.spec.ice or "none", MINUTES_ON_ICE, ice_in_glass_g(facts)
    )
