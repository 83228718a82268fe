from datetime import date

import pytest

from menugen.regions import UnknownRegion, filled, known_regions, load_region

ON = date(2026, 12, 12)


def texts(code: str, on: date = ON) -> dict[str, str]:
    return {notice.id: notice.text for notice in load_region(code, on).notices if notice.text}


def test_a_state_without_rules_of_its_own_has_its_countrys():
    oregon, america = load_region("US-OR", ON), load_region("US", ON)
    assert (oregon.code, oregon.country, oregon.ounce) == ("US-OR", "US", "us")
    assert oregon.notices == america.notices
    assert oregon.ages.served == 21


def test_codes_are_read_in_any_capitals():
    assert load_region(" gb-eng ", ON).code == "GB-ENG"


@pytest.mark.parametrize("code", ["XX", "", "JP", "England", "../GB", "GB/ENG"])
def test_an_unknown_country_says_which_there_are(code):
    with pytest.raises(UnknownRegion) as caught:
        load_region(code, ON)
    assert caught.value.codes == tuple(sorted(one for one, _ in known_regions()))
    assert "GB-ENG" in caught.value.codes


@pytest.mark.parametrize(
    ("code", "age"), [("CA-QC", 18), ("CA-ON", 19), ("CA-AB", 18), ("CA", 19), ("GB", 18), ("US-CA", 21)]
)
def test_ages(code, age):
    assert load_region(code, ON).ages.served == age
    assert f"{age}" in texts(code)["age"]


def test_a_country_of_two_ages_says_both():
    assert load_region("DE", ON).ages.served == 18
    assert "from the age of 16" in texts("DE")["age-by-kind"]
    assert "from 18" in texts("DE")["age-by-kind"]
    assert "aged 16 or over" in texts("DE")["age-lower"]
    assert "age" not in texts("DE")


def test_ounces_are_american_in_america_and_the_trades_elsewhere():
    ounces = {code: load_region(code, ON).ounce for code, _ in known_regions()}
    assert {code for code, ounce in ounces.items() if ounce == "us"} == {"US", "US-CA", "US-NY", "US-TX"}
    assert set(ounces.values()) == {"us", "trade"}


def test_england_and_wales_say_that_small_measures_and_water_are_to_be_had():
    for code in ("GB-ENG", "GB-WLS"):
        assert "125 ml" in texts(code)["small-measures"]
        assert "free" in texts(code)["water"]
    assert "small-measures" not in texts("GB-SCT")
    assert "free" not in texts("GB-NIR")["water"]


def test_scotland_asks_those_who_look_under_25():
    assert "under 25" in texts("GB-SCT")["age"]


def test_the_raw_egg_reminder_hangs_on_the_caution():
    (reminder,) = [notice for notice in load_region("US", ON).notices if notice.id == "raw-egg-advisory"]
    assert reminder.needs_caution == "raw egg"
    assert reminder.text == reminder.wording


def test_california_prints_its_warning_word_for_word():
    assert texts("US-CA")["prop65-alcohol"].startswith(
        "WARNING: Drinking distilled spirits, beer, coolers, wine"
    )
    assert "prop65-alcohol" not in texts("US")


def test_a_notice_comes_and_goes_on_its_day():
    assert "alcohol-health-notice" not in texts("IE", date(2028, 8, 31))
    assert "alcohol-health-notice" in texts("IE", date(2028, 9, 1))


@pytest.mark.parametrize("code", ["ES", "NL", "CA", "EU"])
def test_no_number_is_guessed_where_none_was_found(code):
    assert load_region(code, ON).helpline is None
    assert "help" not in texts(code)


@pytest.mark.parametrize(
    ("code", "number"),
    [("GB-ENG", "0300 123 1110"), ("GB-SCT", "0800 7314 314"), ("GB-WLS", "0808 808 2234"), ("GB-NIR", None)],
)
def test_each_part_of_the_united_kingdom_has_its_own_number_or_none(code, number):
    line = load_region(code, ON).helpline
    assert (line.number if line else None) == number


def test_a_table_meal_is_no_exception_for_unlimited_alcohol():
    [duty] = [
        one.duty for one in load_region("GB-ENG", ON).notices if one.id == "no-irresponsible-promotions"
    ]
    assert "save with a table meal" not in duty
    assert "no exception since 1 October 2014" in duty


@pytest.mark.parametrize("code", ["FR", "IE"])
def test_a_number_known_only_from_memory_is_not_printed(code):
    assert load_region(code, ON).helpline is None
    assert "help" not in texts(code)


def test_a_help_line_shows_its_number():
    assert "0300 123 1110" in texts("GB-ENG")["help"]
    assert "when last checked" in texts("GB-ENG")["help"]


def test_units_and_guideline_stand_together():
    told = texts("GB-ENG")["strength"]
    assert told.startswith("One unit is 10 ml of pure alcohol.")
    assert "14 units" in told
    assert load_region("DE", ON).guideline is None


def test_no_notice_says_who_may_drive_or_how_much_is_safe_to():
    for code, _ in known_regions():
        for notice in load_region(code, ON).notices:
            if notice.topic == "driving":
                assert not any(character.isdigit() for character in notice.text), code
                assert "safe" not in notice.text


def test_tax_stands_apart_only_in_north_america():
    apart = {code for code, _ in known_regions() if not load_region(code, ON).tax_included}
    assert {code.split("-")[0] for code in apart} == {"US", "CA"}
    for code, _ in known_regions():
        says_not = "do not include" in load_region(code, ON).price_note
        assert says_not is not load_region(code, ON).tax_included


def test_looking_up_a_region_reads_only_its_own_files():
    from menugen.regions import data_files

    data_files.load.cache_clear()
    load_region.cache_clear()
    load_region("US-CA", ON)
    read_so_far = data_files.load.cache_info().currsize
    load_region("US-NY", ON)
    assert data_files.load.cache_info().currsize == read_so_far
    load_region("IE", ON)
    assert data_files.load.cache_info().currsize == read_so_far + 2  # Ireland's and what the Union shares


def test_a_notice_is_no_surer_than_the_facts_it_is_filled_with():
    def how(code: str) -> str:
        return next(notice.how for notice in load_region(code, ON).notices if notice.id == "strength")

    assert how("AU") == "read"
    assert how("GB") == "reported"  # the unit was read, the guideline reported
    assert how("NL") == "memory"


def test_a_childs_notice_takes_the_place_of_its_parents():
    for code, _ in known_regions():
        ids = [notice.id for notice in load_region(code, ON).notices]
        assert len(set(ids)) == len(ids), code
    wanted = {notice.id: notice for notice in load_region("US-NY", ON).notices}
    assert wanted["pregnancy-sign"].standing == "required"
    assert {notice.id: notice for notice in load_region("US", ON).notices}[
        "pregnancy-sign"
    ].standing != "required"


def test_notices_stand_together_by_topic():
    for code, _ in known_regions():
        topics = [notice.topic for notice in load_region(code, ON).notices]
        assert topics == sorted(topics, key=topics.index)


def test_filling_a_notice_closes_the_gap_of_an_empty_name_and_keeps_spaces_that_hold_a_line():
    assert filled("{unit} {guideline}", {"unit": "One.", "guideline": ""}) == "One."
    assert filled("Call {helpline}\u00a0!", {"helpline": "0300\u00a0123"}) == "Call 0300\u00a0123\u00a0!"
    assert filled("{unit} {guideline}", {"unit": "", "guideline": ""}) == ""


@pytest.mark.parametrize("code", [code for code, _ in known_regions()])
def test_every_place_says_what_a_gram_brings_in_energy_and_by_which_law(code):
    region = load_region(code, ON)
    factors = region.energy_factors
    assert factors.law
    assert set(factors.source) <= set(region.sources)
    for one in (factors.alcohol, factors.carbohydrate, factors.organic_acid, factors.fat, factors.protein):
        # Rounded figures of one energy: their quotient lies near 4.184.
        assert 4.0 <= one.kj / one.kcal <= 4.5
    assert factors.fat > factors.alcohol > factors.carbohydrate >= factors.organic_acid


@pytest.mark.parametrize(
    ("code", "law", "acid_kcal", "alcohol_kj"),
    [
        ("GB-SCT", "Regulation (EU) No 1169/2011, Annex XIV", 3, 29),
        ("FR", "Regulation (EU) No 1169/2011, Annex XIV", 3, 29),
        ("US-NY", "21 CFR 101.9(c)(1)(i)", 4, 7 * 4.184),
        ("CA-QC", "Food and Drug Regulations", 4, 7 * 4.184),
        ("NZ", "Food Standards Code, Schedule 11", 13 / 4.18, 29),
    ],
)
def test_energy_by_the_law_of_the_place(code, law, acid_kcal, alcohol_kj):
    factors = load_region(code, ON).energy_factors
    assert (factors.law, factors.organic_acid.kcal, factors.alcohol.kj) == (law, acid_kcal, alcohol_kj)
    assert factors.cited.startswith(law)
    assert ("from memory" in factors.cited) == (factors.how == "memory")
