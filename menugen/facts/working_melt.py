"""The working of the water from ice: which rule decided, with its numbers."""

from collections.abc import Iterator

from menugen.facts.doubt import Doubt
from menugen.facts.lab_note import Given, Working
from menugen.facts.serve import DrinkFacts, Serve
from menugen.mixing import Made, Step
from menugen.mixing.balance import ICE_MELTING_J_PER_G, STANDARD, heat_capacity_j_per_k
from menugen.mixing.dilution import (
    EQUATIONS_FROM,
    EQUATIONS_TO,
    SHAKEN,
    STIRRED,
    ceiling_ratio,
    floor_ratio,
    melt_of,
)
from menugen.mixing.oiml import WATER_G_PER_ML
from menugen.records import Spec

_EQUATIONS = {"shake": SHAKEN, "reverse dry shake": SHAKEN, "stir": STIRRED}


def melt_steps(spec: Spec, made: Made) -> tuple[str, ...]:
    """Return how a drink's melt ratio was found, in words with numbers.

    Args:
        spec: Whose method and ice decide.
        made: The drink they made.
    """
    mix, ratio = made.mix, made.melt_ratio.value
    if made.melt_basis == "house's own measure":
        if spec.melt_by_weight and spec.melt_ratio is not None:
            density = mix.mass_g / mix.volume_ml
            return (
                (
                    f"the house weighed {spec.melt_ratio:.3f} g of water to a gram of mix: x {density:.5f} g/ml / "
                    f"{WATER_G_PER_ML:.5f} g/ml = {ratio:.3f} by volume"
                ),
            )
        return (f"the spec states the ratio the house measured: {ratio:.3f}",)
    floor, ceiling = floor_ratio(mix), ceiling_ratio(mix)
    if made.melt_basis == "blended ice":
        return (f"all the ice that is blended in is drunk: {ratio:.2f} of the mix",)
    bounds = [
        (
            f"least, down to 0 C: {heat_capacity_j_per_k(mix):.0f} J/K x {STANDARD.ingredient_c:.0f} K"
            f" / {ICE_MELTING_J_PER_G:.0f} J/g over {mix.volume_ml:.1f} ml: {floor:.3f}"
        ),
        f"most, down to the freezing line with the tin: {ceiling:.3f}",
    ]
    step = _deciding(spec, made)
    seconds = f" for {step.seconds:g} s" if step.seconds is not None else ""
    strength = mix.abv_percent / 100.0
    equation = _EQUATIONS.get(step.verb)
    if made.melt_basis == "melting floor":
        return (*bounds[:1], f"{step.verb}{seconds}: no more than the least is taken = {ratio:.3f}")
    if equation is None:
        share = (ratio - floor) / (ceiling - floor)
        return (
            *bounds,
            (
                f"{step.verb}: {share:.2f} of the way from least to most: "
                f"{floor:.3f} + {share:.2f} x ({ceiling:.3f} - {floor:.3f}) = {ratio:.3f}"
            ),
        )
    told = [*bounds]
    if EQUATIONS_FROM <= strength <= EQUATIONS_TO:
        full = equation.ratio(strength)
        told.append(
            f"{step.verb}, a = {strength:.4f} the strength of the mix: "
            f"{equation.square:g} a^2 + {equation.linear:g} a + {equation.constant:g} = {full:.3f}"
        )
    else:
        full = melt_of(mix, (Step(step.verb),), ice=spec.ice or "none").ratio.value
        told.append(
            f"{step.verb}, a mix of {100 * strength:.1f} % vol: the equation holds from {100 * EQUATIONS_FROM:.0f} to"
            f" {100 * EQUATIONS_TO:.0f} % vol; carried on as far from least to most: {full:.3f}"
        )
    if step.seconds is not None and full > floor:
        share = (ratio - floor) / (full - floor)
        told.append(
            f"{step.seconds:g} s goes {share:.2f} of the way from least to that: "
            f"{floor:.3f} + {share:.2f} x ({full:.3f} - {floor:.3f}) = {ratio:.3f}"
        )
    return tuple(told)


def _conditions(basis: str) -> tuple[Given, ...]:
    """Return the temperatures and masses the balance of heat is taken at; none where it has no say."""
    if basis not in ("shaken equation", "stirred equation", "melting floor", "energy balance"):
        return ()
    habit = "common practice, no published source"
    return (
        Given("ingredients", STANDARD.ingredient_c, "C", "habit", habit),
        Given("ice, wet", STANDARD.ice_c, "C", "habit", habit),
        Given("ice to a ml of mix", STANDARD.ice_g_per_mix_ml, "g", "habit", habit),
        Given("tin", STANDARD.vessel_c, "C", "habit", habit),
        Given("steel to a ml of mix", STANDARD.vessel_g_per_mix_ml, "g", "habit", habit),
    )


def _deciding(spec: Spec, made: Made) -> Step:
    """Return the step that melts most: it decides."""
    steps = [Step(step.verb, step.seconds) for step in spec.method] or [Step("build")]
    ice = spec.ice or "none"
    return max(steps, key=lambda step: melt_of(made.mix, (step,), ice=ice).ratio.value)


def melt_working(facts: DrinkFacts) -> Iterator[Working]:
    """Yield the ratio of melt water and what it comes to; nothing where nothing melts."""
    made = facts.serve.made
    if made.melt_basis == "none":
        return
    ratio = made.melt_ratio
    yield Working(
        "Melt water over mix",
        ratio,
        "",
        3,
        _conditions(made.melt_basis),
        melt_steps(facts.spec, made),
        (
            Doubt(
                "spread of the sources",
                ratio.value - ratio.low,
                ratio.high - ratio.value,
                (made.melt_source,),
            ),
        ),
        (made.melt_source,),
    )
    grams = made.melt_g
    yield Working(
        "Melt water",
        grams,
        "g",
        1,
        (),
        (
            f"{made.mix.volume_ml:.2f} ml x {ratio.value:.4f} x {WATER_G_PER_ML:.5f} g/ml = {grams.value:.2f} g",
            f"its share of the finished drink: {100 * _share(facts.serve):.0f} %",
        ),
        (Doubt("the ratio", grams.value - grams.low, grams.high - grams.value, ()),),
    )


def _share(serve: Serve) -> float:
    made = serve.made
    return made.melt_g.value / WATER_G_PER_ML / made.drink.volume_ml
