"""A drink beside its family: house stock where it resolves, usual values where not, and a count that owns up."""

from dataclasses import replace

import pytest

from menugen.facts import FamilyPlane, family_plane, work_out
from menugen.library import library_specs
from menugen.records import Spec
from tests.facts.drinks import house_with, setting_of

SOUR = "pour: [50 ml gin, 25 ml lemon juice, {syrup} ml sugar syrup]\nmethod: shake\nfamily: {family}"


def spec(slug: str, front: str) -> Spec:
    house = house_with(front)
    return replace(house.specs["tried"], slug=slug, name=slug.title())


def plane(front: str, *library: Spec) -> FamilyPlane | None:
    house = house_with(front)
    setting = setting_of(house)
    facts, _ = work_out(house.specs["tried"], setting)
    assert facts is not None
    return family_plane(facts, setting, library)


def sour(slug: str, syrup: int, family: str = "sour") -> Spec:
    return spec(slug, SOUR.format(syrup=syrup, family=family))


def test_a_drink_stands_between_drier_and_sweeter_ones_of_its_family_alone():
    found = plane(
        SOUR.format(syrup=20, family="Sour"), sour("dry", 10), sour("sweet", 30), sour("other", 5, "flip")
    )
    assert found is not None
    assert [other.slug for other in found.others] == ["dry", "sweet"]
    # The same lemon in a smaller drink is more of it: the drier one is the sharper one.
    assert (found.sweeter_than, found.sharper_than) == (1, 1)
    assert found.left_out == ()
    assert all(other.stand_ins == () for other in found.others)


def test_a_drink_without_a_family_is_compared_with_nothing():
    assert plane("pour: 50 ml gin\nmethod: stir", sour("dry", 10)) is None


def test_usual_values_stand_in_and_are_named_and_what_nothing_is_known_of_is_left_out():
    rum = spec(
        "rummy", "pour: [50 ml white rum, 25 ml lime juice, 15 ml sugar syrup]\nmethod: shake\nfamily: sour"
    )
    odd = spec("odd", "pour: [50 ml gin, 25 ml moondust]\nmethod: shake\nfamily: sour")
    wedge = spec("wedge", "pour: [50 ml gin, 4 lime wedges]\nmethod: [muddle, build]\nfamily: sour")
    leafy = spec("leafy", "pour: [50 ml gin, 6 mint leaves]\nmethod: shake\nfamily: sour")
    found = plane(SOUR.format(syrup=20, family="sour"), rum, odd, wedge, leafy)
    assert found is not None
    stood_in = {other.slug: other.stand_ins for other in found.others}
    assert stood_in == {"leafy": (), "rummy": ("white rum", "lime juice")}
    assert found.left_out == ("Odd", "Wedge")
    rummy = next(other for other in found.others if other.slug == "rummy")
    # 20 ml of alcohol in 90 ml is 22.2 % vol, shaken: -1.567 a^2 + 1.742 a + 0.203 is 0.51 of melt water.
    assert rummy.strength_percent == pytest.approx(14.7, abs=0.1)


def test_a_bottle_of_the_house_always_wins_over_the_usual_value():
    house = house_with(
        SOUR.format(syrup=20, family="sour"),
        stock="white rum:\n  abv: 57 %\n  contains: none\n  checked: 2026-11-01\n  bottle: 1 l\n",
    )
    setting = setting_of(house)
    facts, _ = work_out(house.specs["tried"], setting)
    assert facts is not None
    strong = spec("strong", "pour: [50 ml white rum]\nmethod: build\nfamily: sour")
    found = family_plane(facts, setting, [strong])
    assert found is not None
    (other,) = found.others
    assert other.stand_ins == ()
    assert other.strength_percent == pytest.approx(57.0)


def test_the_shipped_sours_can_be_compared_from_a_small_house():
    found = plane(SOUR.format(syrup=20, family="sour"), *library_specs().values())
    assert found is not None
    sours = [spec for spec in library_specs().values() if spec.family == "sour"]
    assert len(found.others) + len(found.left_out) == len(sours)
    assert len(found.others) >= len(sours) - 2
