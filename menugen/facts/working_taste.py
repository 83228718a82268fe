"""The working of units of alcohol, sugar, acid, fat and energy."""

from collections.abc import Iterator
from typing import Literal

from menugen.facts.event import Setting
from menugen.facts.lab_note import Given, Working, lab_note, summed
from menugen.facts.serve import Serve, line_liquid
from menugen.facts.taste import TasteFacts, energy_per_amount, poured_lines, share_in_glass
from menugen.mixing import ETHANOL_G_PER_ML, Figure
from menugen.regions import EnergyFactors


def units_working(serve: Serve, taste: TasteFacts, setting: Setting) -> Working:
    """Return the place's units of alcohol in the drink, from the pours alone."""
    of_all = "" if serve.serves == 1 else " in the whole"
    unit, alcohol = setting.region.drink_unit, taste.units_ml
    scale = unit.ethanol_ml

    def scaled(value: float) -> float:
        return value / scale

    figure = alcohol.figure
    return Working(
        unit.plural[0].upper() + unit.plural[1:] + of_all,
        Figure(scaled(figure.value), scaled(figure.low), scaled(figure.high)),
        "",
        2,
        (
            Given(
                f"alcohol in one {unit.name}",
                unit.ethanol_ml,
                "ml",
                "law",
                f"{setting.region.name}: {unit.body}",
            ),
        ),
        (
            f"{figure.value:.2f} ml of alcohol in the pours / {unit.ethanol_ml:.2f} ml = {scaled(figure.value):.2f}",
            "melting and what the tin keeps do not count: units are those of the pours",
        ),
        tuple(
            doubt._replace(below=scaled(doubt.below), above=scaled(doubt.above)) for doubt in alcohol.doubts
        ),
    )


def taste_working(serve: Serve, taste: TasteFacts) -> Iterator[Working]:
    """Yield sugar, acid, one over the other, and fat."""
    litres = serve.made.drink.volume_ml / 1000.0
    drunk = poured_lines(serve)
    lines = [line_liquid(item) for item in drunk]
    shares = [share_in_glass(serve, item) for item in drunk]
    of_all = "a serve" if serve.serves == 1 else "the whole"
    for name, grams, per_litre, per_line in (
        ("Sugar", taste.sugar_g, taste.sugar_g_per_l, [line.sugar_g for line in lines]),
        ("Acid as citric", taste.acid_g, taste.acid_g_per_l, [line.acid_g for line in lines]),
    ):
        total = grams.figure.value
        yield lab_note(f"{name} in {of_all}", grams, "g", 1, [f"of the pours: {summed(per_line, 'g')}"])
        if total > 0:
            there = sum(amount * share for amount, share in zip(per_line, shares, strict=True))
            kept = f"{there:.2f} g of it come into the glass: " if serve.made.left_ml > 0 else ""
            yield lab_note(
                name,
                per_litre,
                "g/l",
                0 if per_litre.figure.value >= 20 else 1,
                [f"{kept}{there:.2f} g / {litres:.4f} l = {per_litre.figure.value:.1f} g/l"],
            )
    if taste.sweet_to_sour is not None:
        sugar, acid = serve.made.drink.sugar_g, serve.made.drink.acid_g
        step = f"{sugar:.2f} g of sugar / {acid:.2f} g of acid in the glass = {taste.sweet_to_sour.figure.value:.2f}"
        yield lab_note("Sweet to sour", taste.sweet_to_sour, "", 1, [step])
    if taste.fat_g.figure.value > 0:
        step = f"of the pours: {summed([line.fat_g for line in lines], 'g')}"
        yield lab_note(f"Fat in {of_all}", taste.fat_g, "g", 1, [step])


def energy_working(
    serve: Serve, taste: TasteFacts, law: EnergyFactors, unit: Literal["kJ", "kcal"]
) -> Working:
    """Return the energy of the drink, in one unit, by that unit's own factors in the law of the place."""
    worked = taste.energy_kj if unit == "kJ" else taste.energy_kcal
    factors = energy_per_amount(law, "kj" if unit == "kJ" else "kcal")
    drink = serve.made.poured
    terms = (
        ("alcohol", drink.ethanol_g, factors["strength"] / ETHANOL_G_PER_ML),
        ("sugar", drink.sugar_g, factors["sugar"]),
        ("acid", drink.acid_g, factors["acid"]),
        ("fat", drink.fat_g, factors["fat"]),
    )
    steps = [
        f"{name} {mass_g:.2f} g x {factor:g} = {mass_g * factor:.1f} {unit}"
        for name, mass_g, factor in terms
        if mass_g > 0
    ]
    energies = [mass_g * factor for _, mass_g, factor in terms]
    if len(steps) > 1:
        steps.append(summed(energies, unit, 1))
    if law.note:
        steps.append(law.note)
    steps.append("protein and starch are not counted: no bottle states them")
    of_all = "" if serve.serves == 1 else " in the whole"
    return lab_note(f"Energy, {unit}{of_all}", worked, unit, 0, steps, sources=[law.cited])
