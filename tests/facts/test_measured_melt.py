"""What the house measured of its own dilution rules over the equations, by volume or by weight."""

import pytest

from menugen.facts.working_melt import melt_steps
from tests.facts.drinks import worked_out

SOUR = "pour: [50 ml gin, 25 ml lemon juice, 15 ml sugar syrup]\nmethod: shake\n"


def test_weights_and_volumes_of_one_measure_are_kept_apart():
    by_volume = worked_out(SOUR + "melt: {before: 90 ml, after: 130 ml}").serve.made
    by_weight = worked_out(SOUR + "melt: {before: 90 g, after: 130 g}").serve.made
    assert by_volume.melt_ratio.value == pytest.approx(40 / 90)
    # Weighed, the water is 40/90 of the mass of the mix, whatever that takes up.
    assert by_weight.mix_melt_g.value == pytest.approx(by_weight.mix.mass_g * 40 / 90)
    assert by_weight.melt_ratio.value == pytest.approx(
        40 / 90 * by_weight.mix.mass_g / by_weight.mix.volume_ml, rel=0.002
    )
    assert {by_volume.melt_basis, by_weight.melt_basis} == {"house's own measure"}


def test_the_working_shows_how_a_weight_becomes_a_volume():
    facts = worked_out(SOUR + "melt: {before: 90 g, after: 130 g}")
    (step,) = melt_steps(facts.spec, facts.serve.made)
    assert step.startswith("the house weighed 0.444 g of water to a gram of mix: x ")
    assert step.endswith(f"= {facts.serve.made.melt_ratio.value:.3f} by volume")
