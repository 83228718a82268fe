"""The working of the pours, of what they make together, and of its strength."""

from collections.abc import Iterator

from menugen.facts.in_glass import LEFT_BEHIND_SOURCE
from menugen.facts.lab_note import (
    OIML,
    SPEC,
    SUGAR_ROOM,
    Given,
    Working,
    jigger_doubt,
    lab_note,
    summed,
)
from menugen.facts.liquids import grams_per_litre
from menugen.facts.serve import BottleLine, Serve, line_liquid
from menugen.facts.taste import TasteFacts, poured_lines, share_in_glass
from menugen.facts.tolerances import JIGGER_SOURCE, JIGGER_TOLERANCE
from menugen.facts.uncertainty import Doubt
from menugen.mixing import (
    ETHANOL_G_PER_ML,
    FAT_ML_PER_G,
    SOLIDS_ML_PER_G,
    SUGAR_ML_PER_G,
    WATER_G_PER_ML,
    Figure,
    Liquid,
    density_at_20_c_g_per_ml,
)
from menugen.records import Concentration, StockLine


def _label(stock: StockLine) -> str:
    return (
        f"label, read {stock.checked.isoformat()}"
        if stock.checked
        else "label; the day of reading is not said"
    )


_UNITS = {"strength": "% vol", "sugar": "g/l", "acid": "g/l", "fat": "g/l"}


def _given_of(item: BottleLine) -> Iterator[Given]:
    measure = item.line.measure
    if item.mass_g > 0:
        yield Given("measure", item.mass_g, "g", "spec", SPEC, JIGGER_TOLERANCE * item.mass_g)
        return
    if measure.unit == "top":
        yield Given(
            "measure", item.volume_ml, "ml", "worked out", "what is missing to the wash line of the glass"
        )
    elif measure.count is not None:
        yield Given("pieces", measure.count, "", "spec", SPEC)
        yield Given("one of them", item.stock.each_ml or 0.0, "ml", "measured", "the house's stock")
    else:
        yield Given("measure", item.volume_ml, "ml", "spec", SPEC, JIGGER_TOLERANCE * item.volume_ml)
    for content in item.contents:
        if content.basis == "none" or (content.basis == "reference" and content.amount == 0):
            continue
        source = content.source
        if not source:
            source = _label(item.stock) if content.basis == "label" else "measured, as stock says"
        yield Given(
            content.what,
            content.amount,
            _UNITS[content.what],
            content.basis,
            source,
            content.tolerance.amount,
        )
    if item.stock.density_g_per_ml is not None:
        yield Given("density", item.stock.density_g_per_ml, "g/ml", "measured", "as stock says")


def pour_working(item: BottleLine) -> Working:
    """Return what one line brings, in masses."""
    liquid, given = line_liquid(item), tuple(_given_of(item))
    if item.mass_g > 0:
        what = "sugar" if liquid.sugar_g > 0 else "other solids"
        steps = [f"{item.mass_g:g} g dissolve as {what}"]
    else:
        steps = list(_written_otherwise(item.stock))
        steps += [
            _bottle_sum(item, content.what, content.amount) for content in item.contents if content.amount > 0
        ]
        steps.append(
            f"the rest is water, by the alcohol tables: {liquid.water_g:.2f} g"
            if liquid.ethanol_g > 0
            else f"the rest is water: {liquid.water_g:.2f} g"
        )
        if liquid.solids_g > 0:
            steps.append(f"other solids, from the density: {liquid.solids_g:.2f} g")
    measured = item.mass_g > 0 or item.line.measure.unit != "top"
    off_by = JIGGER_TOLERANCE * liquid.volume_ml if measured else 0.0
    return Working(
        item.line.name if item.stock.name == item.line.name else f"{item.line.name} ({item.stock.name})",
        Figure(liquid.volume_ml, liquid.volume_ml - off_by, liquid.volume_ml + off_by),
        "ml",
        1,
        given,
        tuple(steps),
        (Doubt(f"the measure within {JIGGER_TOLERANCE * 100:.0f} %", off_by, off_by, (JIGGER_SOURCE,)),)
        if off_by
        else (),
        (OIML,) if liquid.ethanol_g > 0 else (),
    )


def _written_otherwise(stock: StockLine) -> Iterator[str]:
    """Yield how a figure that is not in grams to a litre becomes one."""
    stated: tuple[tuple[str, Concentration | None], ...] = (
        ("sugar", stock.sugar),
        ("acid", stock.acid),
        ("fat", stock.fat),
    )
    for what, written in stated:
        if written is None or written.unit == "g/l":
            continue
        g_per_l = grams_per_litre(written, stock.density_g_per_ml)
        if written.unit == "g/100 ml":
            yield f"{what}: {written.value:g} g in 100 ml x 10 = {g_per_l:g} g/l"
        else:
            unit = "Brix" if written.unit == "brix" else "g in 100 g"
            density = g_per_l / written.value / 10.0 if written.value else 0.0
            of = "as measured" if stock.density_g_per_ml is not None else "of sugar and water so strong"
            yield f"{what}: {written.value:g} {unit} x {density:.4f} g/ml, {of}, x 10 = {g_per_l:.1f} g/l"


def _bottle_sum(item: BottleLine, what: str, amount: float) -> str:
    if what == "strength":
        ethanol_ml = item.volume_ml * amount / 100.0
        return (
            f"alcohol: {item.volume_ml:.2f} ml x {amount:g} % = {ethanol_ml:.2f} ml, "
            f"x {ETHANOL_G_PER_ML:.5f} g/ml = {ethanol_ml * ETHANOL_G_PER_ML:.2f} g"
        )
    return f"{what}: {item.volume_ml:.2f} ml x {amount:.5g} g/l = {item.volume_ml * amount / 1000.0:.2f} g"


def volume_steps(liquid: Liquid) -> list[str]:
    """Return how a liquid's volume follows from its masses."""
    steps = []
    spirit_g = liquid.ethanol_g + liquid.water_g
    rooms = []
    if spirit_g > 0:
        share = liquid.ethanol_mass_fraction
        density = density_at_20_c_g_per_ml(share)
        rooms.append(spirit_g / density)
        steps.append(
            f"alcohol {liquid.ethanol_g:.2f} g + water {liquid.water_g:.2f} g, {share:.4f} of it alcohol: "
            f"{density:.5f} g/ml, so {rooms[-1]:.2f} ml"
            if liquid.ethanol_g > 0
            else f"water {liquid.water_g:.2f} g / {density:.5f} g/ml = {rooms[-1]:.2f} ml"
        )
    for name, grams, ml_per_g in (
        ("sugar and acid", liquid.sugar_g + liquid.acid_g, SUGAR_ML_PER_G),
        ("fat", liquid.fat_g, FAT_ML_PER_G),
        ("other solids", liquid.solids_g, SOLIDS_ML_PER_G),
    ):
        if grams > 0:
            rooms.append(grams * ml_per_g)
            steps.append(f"{name} {grams:.2f} g x {ml_per_g:g} ml/g = {rooms[-1]:.2f} ml")
    if len(rooms) > 1:
        steps.append(" + ".join(f"{room:.2f}" for room in rooms) + f" = {sum(rooms):.2f} ml")
    return steps


def mix_working(serve: Serve) -> Working:
    """Return the mix before any ice, and how strong it is."""
    made = serve.made
    mix = made.mix
    measured = [item for item in poured_lines(serve) if not (made.is_worked and item.on_top)]
    volumes = [line_liquid(item).volume_ml * _mixed_share(serve, item) for item in measured]
    steps = ["masses add up; the volume is worked out anew", *volume_steps(mix)]
    steps.append(f"the measures alone add up to {sum(volumes):.2f} ml")
    if mix.ethanol_g > 0:
        steps.append(
            f"strength: 100 x {mix.ethanol_ml:.2f} ml / {mix.volume_ml:.2f} ml = {mix.abv_percent:.2f} % vol"
        )
    off_by = JIGGER_TOLERANCE * sum(volume**2 for volume in volumes) ** 0.5
    return Working(
        "Mix before ice" if made.melt_g.value > 0 else "Mix",
        Figure(mix.volume_ml, mix.volume_ml - off_by, mix.volume_ml + off_by),
        "ml",
        1,
        (),
        tuple(steps),
        (jigger_doubt(off_by),),
        (OIML, SUGAR_ROOM),
    )


def _mixed_share(serve: Serve, item: BottleLine) -> float:
    """Return how much of a line is in the mix before ice: a tin without ice has kept its share by then."""
    return 1.0 if serve.made.is_worked else share_in_glass(serve, item)


def volume_working(serve: Serve) -> Working:
    """Return what the mix, the melt water and what is poured on top come to in the glass."""
    made = serve.made
    drunk = poured_lines(serve)
    after = [item for item in drunk if made.is_worked and item.on_top]
    added = [f"{item.line.name} {line_liquid(item).volume_ml:.1f} ml" for item in after]
    kept = "less what stays behind" if made.is_worked and made.left_ml > 0 else ""
    with_what = ["mix", *(["melt water"] if made.melt_g.value > 0 else []), *added]
    volumes = [line_liquid(item).volume_ml * share_in_glass(serve, item) for item in drunk]
    off_by = JIGGER_TOLERANCE * sum(volume**2 for volume in volumes) ** 0.5
    melt, half = made.melt_g, made.left_ml / 2.0
    given, steps = [], [", ".join(filter(None, (" + ".join(with_what), kept)))]
    if made.left_ml > 0:
        given.append(
            Given("left in the tin and the strainer", made.left_ml, "ml", "habit", LEFT_BEHIND_SOURCE, half)
        )
        mixed_ml = made.left_ml / (1.0 - made.kept_share)
        steps.append(
            f"{mixed_ml:.2f} ml mixed - {made.left_ml:.2f} ml = {mixed_ml - made.left_ml:.2f} ml: "
            f"{made.kept_share:.4f} of what is mixed comes into the glass"
        )
    return Working(
        "Drink in the glass, ice left out",
        made.volume_ml,
        "ml",
        1,
        tuple(given),
        (*steps, *volume_steps(made.drink)),
        (
            jigger_doubt(off_by),
            Doubt(
                "more or less melting",
                (melt.value - melt.low) / WATER_G_PER_ML,
                (melt.high - melt.value) / WATER_G_PER_ML,
                (),
            ),
            Doubt("more or less left behind", half, half, (LEFT_BEHIND_SOURCE,) if half else ()),
        ),
        (OIML, SUGAR_ROOM),
    )


def strength_working(serve: Serve, taste: TasteFacts) -> Working:
    """Return the strength as handed over."""
    made = serve.made
    drunk = poured_lines(serve)
    alcohol = summed([line_liquid(item).ethanol_ml for item in drunk], "ml")
    kept = ""
    if made.left_ml > 0:
        shares = [line_liquid(item).ethanol_ml * share_in_glass(serve, item) for item in drunk]
        kept = f"without what stays behind: {summed(shares, 'ml')}"
    steps = (
        (
            f"alcohol of the pours: {alcohol}",
            *((kept,) if kept else ()),
            (
                f"100 x {made.drink.ethanol_ml:.2f} ml / {made.drink.volume_ml:.2f} ml = "
                f"{taste.strength.figure.value:.2f} % vol"
            ),
        )
        if made.ethanol_ml > 0
        else ("no pour holds alcohol",)
    )
    return lab_note("Strength as served", taste.strength, "% vol", 1, steps)
