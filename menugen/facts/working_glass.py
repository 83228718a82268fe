"""The working of the level in the glass, and of what ten minutes on ice do."""

import math
from collections.abc import Iterator

from menugen import mixing
from menugen.facts.doubt import Doubt
from menugen.facts.in_glass import LEFT_BEHIND_SOURCE
from menugen.facts.lab_note import Given, Working
from menugen.facts.serve import DrinkFacts
from menugen.mixing import Figure
from menugen.mixing.drink import ICE_IN_A_GLASS_G, MELT_G_PER_MINUTE
from menugen.mixing.ice import PACKED_M3_PER_T, USUAL_FILL, usual_share

MINUTES_ON_ICE = 10.0
"""How long a drink is looked at while it stands on ice: for staff."""

ICE_SOURCE = (
    "FAO Fisheries Technical Papers 331 and 436, stowage rates (from memory); fill by common practice"
)
STANDING_SOURCE = "heat a cold glass takes up in a warm room, worked out from memory; take half to double"


def glass_working(facts: DrinkFacts) -> Iterator[Working]:
    """Yield what comes into the glass and where its surface stands; nothing where the glass is unknown."""
    fit, vessel = facts.serve.fit, facts.vessel
    if fit is None or vessel is None:
        return
    whole = facts.serve.made.volume_ml
    half = fit.left_ml / 2.0
    if fit.left_ml > 0:
        yield Working(
            "What comes into the glass",
            Figure(
                fit.liquid_ml,
                max(0.0, fit.liquid_ml - math.hypot(whole.value - whole.low, half)),
                fit.liquid_ml + math.hypot(whole.high - whole.value, half),
            ),
            "ml",
            0,
            (
                Given(
                    "left in the tin and the strainer", fit.left_ml, "ml", "habit", LEFT_BEHIND_SOURCE, half
                ),
            ),
            (f"{whole.value:.1f} ml - {fit.left_ml:.1f} ml = {fit.liquid_ml:.1f} ml",),
            (
                Doubt("the drink", whole.value - whole.low, whole.high - whole.value, ()),
                Doubt("more or less left behind", half, half, (LEFT_BEHIND_SOURCE,)),
            ),
        )
    ice, steps, sources = facts.spec.ice or "none", [], []
    if fit.ice_ml > 0:
        share = usual_share(ice)
        if ice in PACKED_M3_PER_T:
            steps.append(
                f"{ice} ice fills {share / USUAL_FILL:.2f} of a packed glass; usual fill {USUAL_FILL:g} of that"
            )
        steps.append(
            f"liquid {fit.liquid_ml:.1f} ml / (1 - {share:.3f} ice) = {fit.surface_ml:.1f} ml to the surface"
        )
        sources.append(ICE_SOURCE)
    else:
        steps.append(f"liquid {fit.liquid_ml:.1f} ml to the surface, no ice")
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


def on_ice_working(facts: DrinkFacts) -> Iterator[Working]:
    """Return the strength after a while on ice, for staff; nothing where there is no ice or no alcohol."""
    made, ice = facts.serve.made, facts.spec.ice or "none"
    grams = min(ICE_IN_A_GLASS_G, MELT_G_PER_MINUTE[ice] * MINUTES_ON_ICE)
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
            f"100 x {made.ethanol_ml:.2f} ml / (drink and water mixed anew) = {figure.value:.2f} % vol",
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
    return mixing.after_minutes_on_ice(facts.serve.made, facts.spec.ice or "none", MINUTES_ON_ICE)
