"""Parts of countries: those with rules of their own, those without, and codes that there are not."""

from datetime import date

import pytest

from menugen.regions import UnknownRegion, load_region
from menugen.regions.data_files import load, part_files, place_files
from menugen.regions.parts import part_name, part_of, parts_of

ON = date(2026, 12, 12)


def test_a_part_without_rules_of_its_own_says_whose_it_has():
    oregon = load_region("US-OR", ON)
    assert (oregon.code, oregon.rules_of, oregon.part_name, oregon.called) == (
        "US-OR",
        "US",
        "Oregon",
        "the United States",
    )
    york = load_region("US-NY", ON)
    assert (york.rules_of, york.part_name) == ("US-NY", "")


def test_a_council_has_the_rules_of_its_nation():
    edinburgh = load_region("GB-EDH", ON)
    assert (edinburgh.rules_of, edinburgh.name) == ("GB-SCT", "Scotland")
    assert edinburgh.minimum_prices == load_region("GB-SCT", ON).minimum_prices != ()
    assert load_region("IT-MI", ON).rules_of == "IT"


@pytest.mark.parametrize("code", ["US-ZZ", "AU-XX", "GB-", "EU-AT", "US-or-x", "LT-ZZZ"])
def test_a_part_that_there_is_not_is_told_from_one_without_rules(code):
    with pytest.raises(UnknownRegion) as caught:
        load_region(code, ON)
    assert caught.value.country


def test_a_country_without_rules_is_told_from_both():
    with pytest.raises(UnknownRegion) as caught:
        load_region("JP-13", ON)
    assert caught.value.country == ""


@pytest.mark.parametrize(("code", "meant"), [("UK", "GB"), ("USA", "US"), ("EL", "GR"), ("XX", "")])
def test_codes_that_people_write_for_another(code, meant):
    with pytest.raises(UnknownRegion) as caught:
        load_region(code, ON)
    assert caught.value.meant == meant


def test_the_union_is_a_name_for_its_states():
    assert load_region("EU", ON).states
    assert not load_region("AT", ON).states
    assert "EU" not in dict(parts_and_places())


def parts_and_places():
    from menugen.regions import known_regions

    return known_regions()


def test_every_country_with_rules_has_its_parts_and_every_place_is_one_of_them():
    assert set(part_files()) == set(place_files()) - {"EU"}
    for code, _ in parts_and_places():
        assert "-" not in code or part_name(code), code


def test_every_part_belongs_to_a_part_or_to_its_country():
    for country in part_files():
        for code in parts_of(country):
            larger = part_of(code)
            assert larger == country or part_name(larger), code
            assert larger != code


def test_parts_are_texts_whatever_yaml_makes_of_them():
    for country in part_files():
        for key, part in load(f"parts/{country}.yaml")["parts"].items():
            assert isinstance(key, str)
            assert isinstance(part["name"] if isinstance(part, dict) else part, str), (country, key)
    assert part_name("CA-ON") == "Ontario"
    assert part_name("NO-03") == "Oslo"
