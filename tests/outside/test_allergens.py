"""What must be declared, against the texts of the laws.

Sources: Regulation (EU) No 1169/2011, Annex II (kept in UK law for Great Britain; applies directly in
Northern Ireland); US Food Allergen Labeling and Consumer Protection Act of 2004, FASTER Act of 2021, and the
FDA's guidance of 6 January 2025; Health Canada's list of priority allergens and gluten sources; Food Standards
Australia New Zealand, Standard 1.2.3, Schedule 9 and its page of exemptions. How each was read is in
menugen/regions/data/sources.yaml.
"""

from datetime import date

import pytest

from menugen.regions import Carried, Made, declare, load_region

ON = date(2026, 12, 12)


def bases(code, *lines):
    """Return what the menu says spirits were distilled from, and nothing else of it."""
    declaration = declare(load_region(code, ON).regime, lines, 100.0)
    assert declaration.contains == ()
    return [word for group in declaration.distilled_from for word in group.words]


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
    assert bases(code, carried(distilled=["celery"])) == ["celery"]
    assert bases(code, carried(distilled=["sesame"])) == ["sesame seeds"]


@pytest.mark.parametrize("code", ["EU", "GB-ENG", "US", "CA", "AU"])
def test_a_nut_steeped_is_declared_everywhere(code):
    assert contained(code, carried("almond")) == {"almond": True}


def test_the_us_statute_writes_no_exemption_for_distillates_so_the_menu_says_all_they_were_made_of():
    """27 CFR 5.32a speaks of protein, and TTB Ruling 2020-2 of gluten: neither settles it for the nine allergens."""
    assert bases("US", carried(distilled=["wheat"])) == ["wheat"]
    assert bases("US", carried(distilled=["almond"])) == ["almonds"]
    assert bases("US", carried(distilled=["wheat", "rye", "barley"])) == ["wheat", "rye", "barley"]


def test_what_is_in_a_beer_is_contained_and_what_a_spirit_was_made_from_is_not():
    beer, gin = carried("barley", kind="beer"), carried(distilled=["wheat"], kind="spirit")
    for code in ("US", "AU", "NZ"):
        assert set(contained(code, beer, gin)) == {"barley"}, code


def test_canada_counts_no_distillate():
    assert contained("CA", carried(distilled=["wheat", "barley", "almond"])) == {}


@pytest.mark.parametrize("code", ["AU", "NZ"])
def test_the_anz_code_exempts_spirit_from_wheat_and_whey_and_no_other(code):
    assert bases(code, carried(distilled=["wheat", "milk"])) == []
    assert bases(code, carried(distilled=["almond"])) == ["almond"]


@pytest.mark.parametrize("code", ["AU", "NZ"])
def test_barley_spirit_in_anz_is_said_apart_as_the_text_that_exempts_it_was_not_read(code):
    assert bases(code, carried(distilled=["barley"], kind="spirit")) == ["barley"]
    assert bases(code, carried(distilled=["barley", "wheat"], kind="spirit")) == ["wheat", "barley"]


def made(thing, use, *substances, kind=""):
    return Carried(kind_id=kind, made=(Made(thing, use, frozenset(substances), thing),))


@pytest.mark.parametrize(
    ("code", "kind", "declared"),
    [
        ("EU", "ale", False),
        ("GB-ENG", "wine", False),
        ("GB-ENG", "champagne_brut", False),
        ("AU", "beer_lager", False),
        ("EU", "cider", True),
        ("EU", "mead", True),
        ("EU", "sake", True),
        ("EU", "", True),
        ("EU", "tawny_port", True),
        ("US", "ale", True),
        ("CA", "wine", True),
    ],
)
def test_isinglass_is_exempt_as_a_fining_of_beer_and_wine_in_europe_and_anz_alone(code, kind, declared):
    assert bool(contained(code, made("isinglass", "fining", "fish", kind=kind))) is declared


@pytest.mark.parametrize("code", ["EU", "GB-ENG", "US", "CA", "AU"])
def test_isinglass_that_is_an_ingredient_is_fish_everywhere(code):
    assert set(contained(code, made("isinglass", "ingredient", "fish", kind="ale"))) == {"fish"}


def test_fish_gelatine_as_a_fining_is_exempt_in_europe_and_not_in_anz_which_names_isinglass():
    assert contained("EU", made("fish-gelatine", "fining", "fish", kind="wine")) == {}
    assert set(contained("AU", made("fish-gelatine", "fining", "fish", kind="wine"))) == {"fish"}


@pytest.mark.parametrize(
    ("thing", "substance", "exempt_in", "not_in"),
    [
        ("wheat-glucose", "wheat", ["EU", "GB-ENG"], ["US", "CA", "AU", "NZ"]),
        ("barley-glucose", "barley", ["EU", "GB-ENG"], ["US", "CA", "AU"]),
        ("refined-soya-oil", "soy", ["EU", "GB-ENG", "US", "CA", "AU", "NZ"], []),
        ("refined-peanut-oil", "peanut", ["US", "CA"], ["EU", "GB-ENG", "AU"]),
        ("soya-tocopherols", "soy", ["EU", "GB-NIR", "AU"], ["US", "CA"]),
        ("soya-phytosterols", "soy", ["EU", "GB-ENG", "NZ"], ["US", "CA"]),
        ("lactitol", "milk", ["EU", "GB-WLS"], ["US", "CA", "AU"]),
    ],
)
def test_what_each_law_lifts_of_things_made_from_what_it_lists(thing, substance, exempt_in, not_in):
    for code in exempt_in:
        declaration = declare(load_region(code, ON).regime, [made(thing, "ingredient", substance)], 100.0)
        assert declaration.contains == (), code
        assert declaration.said == (thing,), f"{code}: exempt is not silent"
    for code in not_in:
        assert set(contained(code, made(thing, "ingredient", substance))) == {substance}, code


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
