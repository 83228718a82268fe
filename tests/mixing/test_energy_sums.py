"""Energy sums that no table holds: each part counts once, and water counts nothing."""

import pytest
from hypothesis import given

from menugen.mixing import Energy, Liquid, energy, mix, water
from tests.mixing.pours import labelled


def test_every_part_by_its_own_factor():
    found = energy(Liquid(ethanol_g=1, water_g=50, sugar_g=1, acid_g=1, fat_g=1, solids_g=7), protein_g=1)
    assert found == (29 + 17 + 13 + 37 + 17, 7 + 4 + 3 + 9 + 4)


@given(labelled(), labelled())
def test_energy_adds_and_water_adds_none(one, other):
    together = energy(mix([one, other, water(80)]))
    assert together.kj == pytest.approx(energy(one).kj + energy(other).kj)
    assert together.kcal == pytest.approx(energy(one).kcal + energy(other).kcal)


def test_protein_below_nothing_is_refused():
    with pytest.raises(ValueError, match="protein"):
        energy(Liquid(), protein_g=-1)


def test_another_places_factors_take_the_place_of_these():
    per_g = {name: Energy(1.0, 2.0) for name in ("alcohol", "carbohydrate", "organic acid", "fat", "protein")}
    assert energy(Liquid(ethanol_g=1, sugar_g=2, acid_g=3, fat_g=4), 5, per_g=per_g) == (15.0, 30.0)
