"""The working of the water from ice: which rule decided, with its numbers."""

from collections.abc import Iterator
from dataclasses import replace

from menugen.facts.lab_note import Given, Working
from menugen.facts.serve import BottleLine, DrinkFacts, Serve, line_liquid
from menugen.facts.taste import poured_lines
from menugen.facts.uncertainty import Doubt
from menugen.mixing import (
    EQUATIONS_FROM,
    EQUATIONS_TO,
    FLOOR_SOURCE,
    ICE_MELTING_J_PER_G,
    SHAKEN,
    STANDARD,
    STIRRED,
    WATER_G_PER_ML,
    Made,
    Step,
    ceiling_ratio,
    floor_ratio,
    heat_capacity_j_per_k,
    is_worked_on_ice,
    melt_of,
    mix,
)
from menugen.records import Spec

_EQUATIONS = {"shake": SHAKEN, "reverse dry shake": SHAKEN, "stir": STIRRED}


def melt_steps(spec: Spec, made: Made) -> tuple[str, ...]:
    """Return how a drink's melt ratio was found, in words with numbers.

    Args:
        spec: Whose method and ice decide.
        made: The drink they made.
    """
    mixed, ratio = made.mix, made.melt_ratio.value
    if made.melt_basis == "house's own measure":
        if spec.melt_by_weight and spec.melt_ratio is not None:
            density = mixed.mass_g / mixed.volume_ml
            return (
                (
                    f"the house weighed {spec.melt_ratio:.3f} g of water to a gram of mix: x {density:.5f} g/ml / "
                    f"{WATER_G_PER_ML:.5f} g/ml = {ratio:.3f} by volume"
                ),
            )
        return (f"the spec states the ratio the house measured: {ratio:.3f}",)
    conditions = replace(STANDARD, ingredient_c=made.ingredient_c)
    floor, ceiling = floor_ratio(mixed, conditions), ceiling_ratio(mixed, conditions)
    if made.melt_basis == "blended ice":
        return (f"all the ice that is blended in is drunk: {ratio:.2f} of the mix",)
    bounds = [
        (
            f"least, down to 0 C: {heat_capacity_j_per_k(mixed):.0f} J/K x {made.ingredient_c:.1f} K"
            f" / {ICE_MELTING_J_PER_G:.0f} J/g over {mixed.volume_ml:.1f} ml: {floor:.3f}"
        ),
        f"most, down to the freezing line with the tin: {ceiling:.3f}",
    ]
    step = _deciding(spec, made)
    seconds = f" for {step.seconds:g} s" if step.seconds is not None else ""
    strength = mixed.abv_percent / 100.0
    equation = _EQUATIONS.get(step.verb)
    if made.melt_basis == "melting floor":
        why = "no more than the least is taken" if ratio > floor - 1e-9 else "there is no more ice than that"
        return (*bounds[:1], f"{step.verb}{seconds}: {why} = {ratio:.3f}")
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
    if conditions == STANDARD and EQUATIONS_FROM <= strength <= EQUATIONS_TO:
        full = equation.ratio(strength)
        told.append(
            f"{step.verb}, a = {strength:.4f} the strength of the mix: "
            f"{equation.square:g} a^2 + {equation.linear:g} a + {equation.constant:g} = {full:.3f}"
        )
    else:
        full = melt_of(mixed, (Step(step.verb),), ice=spec.ice or "none", conditions=conditions).ratio.value
        told.append(
            f"{step.verb}, a mix of {100 * strength:.1f} % vol at {made.ingredient_c:.0f} C: the equation holds from "
            f"{100 * EQUATIONS_FROM:.0f} to {100 * EQUATIONS_TO:.0f} % vol, of bottles kept as usual; carried on as "
            f"far from least to most: {full:.3f}"
        )
    if step.seconds is not None and full > floor:
        share = (ratio - floor) / (full - floor)
        told.append(
            f"{step.seconds:g} s goes {share:.2f} of the way from least to that: "
            f"{floor:.3f} + {share:.2f} x ({full:.3f} - {floor:.3f}) = {ratio:.3f}"
        )
    return tuple(told)


def _conditions(facts: DrinkFacts) -> tuple[Given, ...]:
    """Return the temperatures and masses the balance of heat is taken at; none where it has no say."""
    made, fit = facts.serve.made, facts.serve.fit
    if made.melt_basis not in ("shaken equation", "stirred equation", "melting floor", "energy balance"):
        return ()
    habit = "common practice, no published source"
    ice = Given("ice to a ml of mix", STANDARD.ice_g_per_mix_ml, "g", "habit", habit)
    if not made.is_worked and facts.spec.ice == "large cube" and fit is not None:
        ice = Given(
            "the large cube", fit.ice_g, "g", "reference", "its size, as the house or the reference says"
        )
    given = (
        Given("the mix", round(made.ingredient_c, 2), "C", *_warmth(made)),
        Given("ice, wet", STANDARD.ice_c, "C", "habit", habit),
        ice,
    )
    if not made.is_worked and made.melt_basis == "melting floor":
        return given  # no tin has a part in it
    return (
        *given,
        Given("tin", STANDARD.vessel_c, "C", "habit", habit),
        Given("steel to a ml of mix", STANDARD.vessel_g_per_mix_ml, "g", "habit", habit),
    )


def _warmth(made: Made) -> tuple[str, str]:
    """Return on what the temperature of the mix rests: (basis, source)."""
    if not made.is_worked:
        return "worked out", "where each line is kept, weighed by the heat it holds"
    if made.ingredient_c == STANDARD.ingredient_c:
        return (
            "habit",
            "what the equations are for: bottles kept as usual; common practice, no published source",
        )
    return (
        "worked out",
        "what the equations are for, and how much colder or warmer than usual stock keeps a bottle",
    )


def _kept(items: list[BottleLine]) -> Iterator[Given]:
    """Yield where lines are kept, and how cold that is."""
    for item in items:
        if item.volume_ml > 0:
            kept, basis = item.kept, "label" if item.stock.kept else "habit"
            yield Given(f"{item.line.name}, {_WHERE[kept.place]}", kept.celsius, "C", basis, kept.source)


_WHERE = {"fridge": "from the fridge", "room": "from the shelf", "freezer": "from the freezer"}


def _deciding(spec: Spec, made: Made) -> Step:
    """Return the step that melts most: it decides."""
    steps = [Step(step.verb, step.seconds) for step in spec.method] or [Step("build")]
    if not made.is_worked:
        return next((step for step in steps if step.verb == "build"), steps[-1])
    ice = spec.ice or "none"
    conditions = replace(STANDARD, ingredient_c=made.ingredient_c)
    return max(
        (step for step in steps if is_worked_on_ice((step,))),
        key=lambda step: melt_of(made.mix, (step,), ice=ice, conditions=conditions).ratio.value,
    )


def melt_working(facts: DrinkFacts) -> Iterator[Working]:
    """Yield the ratio of melt water and what it comes to; nothing where nothing melts."""
    made = facts.serve.made
    if made.melt_basis == "none":
        return
    ratio = made.melt_ratio
    given = _conditions(facts)
    if given and not made.is_worked:
        given = (*_kept(list(poured_lines(facts.serve))), *given)
    yield Working(
        "Melt water over mix",
        ratio,
        "",
        3,
        given,
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
    grams, on_top = made.mix_melt_g, made.top_melt_g.value > 0
    yield Working(
        "Melt water in the mix" if on_top else "Melt water",
        grams,
        "g",
        1,
        (),
        (
            f"{made.mix.volume_ml:.2f} ml x {ratio.value:.4f} x {WATER_G_PER_ML:.5f} g/ml = {grams.value:.2f} g",
            *(() if on_top else (_share_step(facts.serve),)),
        ),
        (Doubt("the ratio", grams.value - grams.low, grams.high - grams.value, ()),),
    )
    if on_top:
        yield _top_working(facts)


def _top_working(facts: DrinkFacts) -> Working:
    """Return what the ice in the glass gives to what is poured on top of a drink that has met its ice."""
    made = facts.serve.made
    grams = made.top_melt_g
    tops = [item for item in poured_lines(facts.serve) if item.on_top]
    top = mix(line_liquid(item) for item in tops)
    return Working(
        "Melt water on top",
        grams,
        "g",
        1,
        tuple(_kept(tops)),
        (
            "the mix has met its ice; what is poured on top meets that in the glass, and is cooled to 0 C",
            (
                f"{heat_capacity_j_per_k(top):.0f} J/K x {made.top_c:.1f} K / {ICE_MELTING_J_PER_G:.0f} J/g"
                f" = {grams.value:.2f} g"
            ),
            _share_step(facts.serve),
        ),
        (Doubt("spread of the sources", grams.value - grams.low, grams.high - grams.value, (FLOOR_SOURCE,)),),
        (FLOOR_SOURCE,),
    )


def _share_step(serve: Serve) -> str:
    made = serve.made
    share = made.melt_g.value / WATER_G_PER_ML / made.drink.volume_ml
    return f"melt water is {100 * share:.0f} % of what is in the glass"
