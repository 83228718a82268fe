"""Reference ice, and that the physics counts the same ice."""

import pytest

from menugen.mixing import CUBE_MM, ICE_KINDS, LARGE_CUBE_MM, least_share, usual_share
from menugen.mixing.ice import PACKED_M3_PER_T, packed_share
from menugen.reference import ice
from menugen.reference.package_data import package_data


def test_the_kinds_are_those_the_physics_knows():
    assert tuple(entry["name"] for entry in package_data("ice")["ice"]) == ICE_KINDS


@pytest.mark.parametrize("name", sorted(PACKED_M3_PER_T))
def test_both_rooms_count_the_same_room(name):
    known = ice(name)
    assert known.liquid_share == pytest.approx(1 - packed_share(name), abs=0.0006)
    assert (1 - known.liquid_share) * known.usual_fill == pytest.approx(usual_share(name), abs=0.0006)
    assert (1 - known.liquid_share) * known.least_fill == pytest.approx(least_share(name), abs=0.0006)
    assert 0 < known.least_fill < known.usual_fill < 1
    assert known.source
    assert known.status in ("computed", "from memory")


def test_both_rooms_know_the_same_cubes():
    assert ice("cubed").piece_mm == CUBE_MM
    assert ice("large cube").piece_mm == LARGE_CUBE_MM
    assert ice("crushed").piece_mm is None


@pytest.mark.parametrize(
    ("typed", "name"), [("", "none"), ("ice", "cubed"), ("Crushed Ice", "crushed"), ("block", "large cube")]
)
def test_ice_goes_by_many_names(typed, name):
    assert ice(typed).name == name


def test_unknown_ice_is_none():
    assert ice("hail") is None
