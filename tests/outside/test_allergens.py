"""What must be declared, against the texts of the laws.

Sources: Regulation (EU) No 1169/2011, Annex II (kept in UK law for Great Britain; applies directly in
Northern Ireland); US Food Allergen Labeling and Consumer Protection Act of 2004, FASTER Act of 2021, and the
FDA's guidance of 6 January 2025; Health Canada's list of priority allergens and gluten sources; Food Standards
Australia New Zealand, Standard 1.2.3, Schedule 9 and its page of exemptions. How each was read is in
menugen/regions/data/sources.yaml.
"""

from datetime import date

import pytest

from menugen.regions import Carried, declare, load_region

ON = date(2026, 12, 12)


def carried(*contains, distilled=(), may=(), ml=50.0, mg_per_l=None, kind=""):
    return Carried(frozenset(contains), frozenset(may), frozenset(distilled), mg_per_l, ml, kind)


def contained(code, *lines, served_ml=100.0, on=ON):
    """Return {substance: whether the law asks for it}."""
    declaration = declare(load_region(code, on).regime, lines, served_ml)
    return {one: group.duty for group in declaration.contains for one in group.substances}


@pytest.mark.parametrize("code", ["EU", "IE", "DE", "GB-ENG", "GB-NIR"])
def test_annex_ii_exempts_cereals_nuts_and_whey_that_were_distilled(code):
    for one in ("barley", "wheat", "rye", "almond", "hazelnut", "milk"):
        assert contained(code, carried(distilled=[one], kind="spirit")) == {}


@pytest.mark.parametrize("code", ["EU", "GB-ENG"])
def test_annex_ii_exempts_no_other_distillate(code):
    assert contained(code, carried(distilled=["celery"])) == {"celery": True}
    assert contained(code, carried(distilled=["sesame"])) == {"sesame": True}


@pytest.mark.parametrize("code", ["EU", "GB-ENG", "US", "CA", "AU"])
def test_a_nut_steeped_is_declared_everywhere(code):
    assert contained(code, carried("almond")) == {"almond": True}


def test_the_us_statute_writes_no_exemption_for_distillates():
    assert contained("US", carried(distilled=["wheat"])) == {"wheat": True}
    assert contained("US", carried(distilled=["almond"])) == {"almond": True}


def test_barley_is_no_major_allergen_in_the_us_so_its_distillate_is_not_either():
    assert contained("US", carried(distilled=["barley"])) == {}


def test_canada_counts_no_distillate():
    assert contained("CA", carried(distilled=["wheat", "barley", "almond"])) == {}


@pytest.mark.parametrize("code", ["AU", "NZ"])
def test_the_anz_code_exempts_spirit_from_wheat_and_whey_and_no_other(code):
    assert contained(code, carried(distilled=["wheat", "milk"])) == {}
    assert contained(code, carried(distilled=["almond"])) == {"almond": True}


@pytest.mark.parametrize("code", ["AU", "NZ"])
def test_gluten_cereals_in_beer_are_shown_in_anz_though_the_law_asks_for_nothing(code):
    assert contained(code, carried("barley", kind="beer")) == {"barley": False}
    assert contained(code, carried("barley")) == {"barley": True}


@pytest.mark.parametrize(
    ("substance", "listed_in", "not_in"),
    [
        ("celery", ["EU", "GB-ENG", "GB-NIR"], ["US", "CA", "AU", "NZ"]),
        ("mollusc", ["EU", "GB-ENG", "CA", "AU", "NZ"], ["US"]),
        ("lupin", ["EU", "GB-SCT", "AU", "NZ"], ["US", "CA"]),
        ("mustard", ["EU", "GB-WLS", "CA"], ["US", "AU", "NZ"]),
        ("barley", ["EU", "GB-ENG", "CA", "AU"], ["US"]),
        ("pine-nut", ["US", "CA", "AU"], ["EU", "GB-ENG"]),
        ("sesame", ["EU", "GB-ENG", "US", "CA", "AU"], []),
        ("coconut", [], ["EU", "GB-ENG", "US", "CA", "AU", "NZ"]),
    ],
)
def test_what_is_listed_where(substance, listed_in, not_in):
    for code in listed_in:
        assert contained(code, carried(substance)) == {substance: True}, code
    for code in not_in:
        assert contained(code, carried(substance)) == {substance: False}, f"{code}: shown, and no duty"


def test_coconut_left_the_us_tree_nuts_on_6_january_2025():
    assert contained("US", carried("coconut"), on=date(2025, 1, 5)) == {"coconut": True}
    assert contained("US", carried("coconut"), on=date(2025, 1, 6)) == {"coconut": False}


def test_sesame_joined_the_us_list_on_1_january_2023():
    assert contained("US", carried("sesame"), on=date(2022, 12, 31)) == {"sesame": False}
    assert contained("US", carried("sesame"), on=date(2023, 1, 1)) == {"sesame": True}


def test_northern_ireland_uses_the_european_list_and_great_britain_its_own_copy_of_it():
    ni, gb = (load_region(code, ON).regime for code in ("GB-NIR", "GB-ENG"))
    assert (ni.id, gb.id) == ("eu", "gb")
    assert ni.entries == gb.entries
    assert len(ni.entries) == 14


def test_the_us_lists_nine_major_allergens():
    assert sum(entry.duty for entry in load_region("US", ON).regime.entries) == 9


class TestSulphites:
    """Annex II, 12: more than 10 mg/kg or mg/litre as total SO2 in the product as ready for consumption."""

    @pytest.mark.parametrize(
        ("mg_per_l", "europe", "elsewhere"), [(19.99, False, False), (20.0, False, True), (20.01, True, True)]
    )
    def test_threshold_is_on_the_drink_as_served(self, mg_per_l, europe, elsewhere):
        line = carried("sulphites", ml=50, mg_per_l=mg_per_l)  # in 100 ml: half of it, about 10 mg/l
        assert ("sulphites" in contained("EU", line)) is europe
        assert ("sulphites" in contained("GB-ENG", line)) is europe
        for code in ("US", "CA", "AU"):
            assert ("sulphites" in contained(code, line)) is elsewhere, code

    def test_lines_add_up(self):
        weak = carried("sulphites", ml=25, mg_per_l=30)
        assert contained("EU", weak, served_ml=100) == {}
        assert contained("EU", weak, weak, served_ml=100) == {"sulphites": True}

    def test_one_line_without_a_figure_declares(self):
        measured = carried("sulphites", ml=5, mg_per_l=11)
        assert contained("EU", measured, served_ml=300) == {}
        assert contained("EU", measured, carried("sulphites", ml=5), served_ml=300) == {"sulphites": True}

    def test_a_garnish_has_no_volume_to_count_by_and_declares(self):
        assert contained("EU", carried("sulphites", ml=0, mg_per_l=500)) == {"sulphites": True}

    def test_the_us_names_them_without_counting_them_among_the_nine(self):
        assert contained("US", carried("sulphites")) == {"sulphites": False}
