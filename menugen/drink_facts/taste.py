"""Facts of how a drink tastes and what it feeds: sugar, acid, one against the other, energy, fat."""

from collections.abc import Iterator
from typing import Any

from menugen import mixing
from menugen.drink_facts.fact import Compared, Fact, Way
from menugen.drink_facts.shown import figure_data, ranged, rounded
from menugen.facts import FamilyPlane, Worked
from menugen.report import Row


def _taste(**figures: Worked | None) -> dict[str, Any]:
    return {"taste": _figures(**figures)}


def _figures(**figures: Worked | None) -> dict[str, Any]:
    return {name: None if worked is None else figure_data(worked.figure) for name, worked in figures.items()}


def _grams(way: Way, of_one: Worked, of_all: Worked) -> str:
    whole = f", {of_all.figure.value:.1f} g in all" if way.serve.serves > 1 else ""
    return f"{of_one.figure.value:.1f} g in a serve{whole}"


def _sugar_rows(way: Way) -> Iterator[Row]:
    grams = _grams(way, way.one.sugar_g, way.taste.sugar_g)
    yield Row("Sugar", f"{ranged(way.taste.sugar_g_per_l.figure, 0, 'g/l')}; {grams}")


def _acid_rows(way: Way) -> Iterator[Row]:
    grams = _grams(way, way.one.acid_g, way.taste.acid_g)
    yield Row("Acid", f"{ranged(way.taste.acid_g_per_l.figure, 1, 'g/l')}; {grams}, as citric")


def _sour_rows(way: Way) -> Iterator[Row]:
    if way.taste.sweet_to_sour is not None:
        yield Row("Sweet to sour", f"{ranged(way.taste.sweet_to_sour.figure, 1, '')} to 1")
    if way.family is not None and way.family.others:
        yield Row("Beside others", beside_others(way.family))


def beside_others(plane: FamilyPlane) -> str:
    """Return where a drink stands in its family, in a sentence."""
    of = len(plane.others)
    left = f"; {len(plane.left_out)} more could not be worked out" if plane.left_out else ""
    return (
        f'sweeter than {plane.sweeter_than} of {of} in the family "{plane.family}", '
        f"sharper than {plane.sharper_than} of {of}{left}"
    )


def _energy_rows(way: Way) -> Iterator[Row]:
    energy = f"{way.one.energy_kj.figure.value:.0f} kJ, {ranged(way.one.energy_kcal.figure, 0, 'kcal')}"
    if way.serve.serves > 1:
        kj, kcal = way.taste.energy_kj.figure.value, way.taste.energy_kcal.figure.value
        energy += f" in a serve; {kj:.0f} kJ, {kcal:.0f} kcal in all"
    yield Row("Energy", energy)


def _fat_rows(way: Way) -> Iterator[Row]:
    fat = way.taste.fat_g.figure.value
    if fat >= 0.05:
        whole = f", {fat:.1f} g in all" if way.serve.serves > 1 else ""
        yield Row("Fat", f"{ranged(way.one.fat_g.figure, 1, 'g')} in a serve{whole}")


SUGAR = Fact(
    name="sugar",
    rows=_sugar_rows,
    data=lambda way: _taste(sugar_g=way.taste.sugar_g, sugar_g_per_l=way.taste.sugar_g_per_l),
    one_serve=lambda way: _figures(sugar_g=way.one.sugar_g),
    compared=(
        Compared(
            "sugar",
            lambda way: rounded(mixing.sugar_g_per_l(way.serve.made.drink), 0, "g/l"),
            ("amount", "kind", "sugar"),
        ),
    ),
)
ACID = Fact(
    name="acid",
    rows=_acid_rows,
    data=lambda way: _taste(acid_g=way.taste.acid_g, acid_g_per_l=way.taste.acid_g_per_l),
    one_serve=lambda way: _figures(acid_g=way.one.acid_g),
    compared=(
        Compared(
            "acid",
            lambda way: rounded(mixing.titratable_acid_g_per_l(way.serve.made.drink), 1, "g/l"),
            ("amount", "kind", "acid"),
        ),
    ),
)
SWEET_TO_SOUR = Fact(
    name="sweet to sour",
    rows=_sour_rows,
    data=lambda way: _taste(sweet_to_sour=way.taste.sweet_to_sour),
)
ENERGY = Fact(
    name="energy",
    rows=_energy_rows,
    data=lambda way: _taste(energy_kj=way.taste.energy_kj, energy_kcal=way.taste.energy_kcal),
    one_serve=lambda way: _figures(energy_kj=way.one.energy_kj, energy_kcal=way.one.energy_kcal),
)
FAT = Fact(
    name="fat",
    rows=_fat_rows,
    data=lambda way: _taste(fat_g=way.taste.fat_g),
    one_serve=lambda way: _figures(fat_g=way.one.fat_g),
)

FACTS = (SUGAR, ACID, SWEET_TO_SOUR, ENERGY, FAT)
