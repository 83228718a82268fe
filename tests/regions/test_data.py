"""Every fact has a source, every name resolves, and nothing in the data is misspelt."""

from collections.abc import Iterator
from datetime import date
from importlib.resources import files
from typing import get_args

import pytest

from menugen.reference.package_data import package_data
from menugen.regions import (
    caution,
    filled,
    guest_texts,
    known_cautions,
    known_regions,
    load_region,
    source,
    substance,
    substances,
)
from menugen.regions.data_files import load, part_files, place_files
from menugen.regions.notices import NeedsAge, Standing, Topic, Where

ON = date(2026, 12, 12)
HOW = {"read", "reported", "memory"}
ICONS = {
    "milk",
    "egg",
    "fish",
    "crustacean",
    "mollusc",
    "peanut",
    "nuts",
    "soy",
    "cereals",
    "celery",
    "mustard",
    "sesame",
    "sulphites",
    "lupin",
    "coconut",
    "other",
}
PLACES = {
    code: place
    for country in place_files()
    for code, place in load(f"places/{country}.yaml")["places"].items()
}
SOURCES = load("sources.yaml")["sources"]


def words_of_labels() -> Iterator[tuple[str, dict]]:
    yield "substance names", load("substance_names.yaml")["names"]
    for part in ("words", "additives", "asked", "unlisted"):
        yield from ((f"{part} {number}", row) for number, row in enumerate(load("label_words.yaml")[part]))


def facts() -> Iterator[tuple[str, dict]]:
    """Yield every mapping in the data that states a fact, with a name for it."""
    yield from ((f"substance {key}", entry) for key, entry in load("substances.yaml")["substances"].items())
    yield from words_of_labels()
    yield from ((f"caution {entry['id']}", entry) for entry in load("cautions.yaml")["cautions"])
    words = package_data("caution_words")["cautions"]
    yield from ((f"words of {key}", entry) for key, entry in words.items())
    for key, regime in load("regimes.yaml")["regimes"].items():
        yield f"regime {key}", regime
        yield from ((f"regime {key} {entry['id']}", entry) for entry in regime["entries"])
        yield from ((f"regime {key} exempts {one['thing']}", one) for one in regime.get("exemptions", ()))
    for key, group in load("strength_words.yaml")["groups"].items():
        if "otherwise" in group:
            yield f"words {key}", group["otherwise"]
    yield from ((f"parts of {country}", load(f"parts/{country}.yaml")) for country in part_files())
    yield from facts_of_places()


def facts_of_places() -> Iterator[tuple[str, dict]]:
    for code, place in {**PLACES, "everywhere": load("everywhere.yaml")}.items():
        for key in ("age", "drink_unit", "guideline", "pregnancy", "helpline", "prices", "energy"):
            if key in place:
                yield f"{code} {key}", place[key]
        for key in ("strength_words", "minimum_price"):
            yield from ((f"{code} {key}", entry) for entry in place.get(key, ()))
        for notice in place.get("notices", ()):
            # A notice filled from the place's own facts ({guideline}, {helpline}) carries their sources.
            if "source" in notice or "{" not in notice.get("text", ""):
                yield f"{code} notice {notice['id']}", notice


def hows(fact: dict) -> tuple[str, ...]:
    """Return how each part of a fact is known."""
    how = fact["how"]
    return tuple(how.values()) if isinstance(how, dict) else (how,)


FACTS = list(facts())


def test_there_are_facts_to_check():
    assert len(FACTS) > 200


@pytest.mark.slow
@pytest.mark.parametrize("fact", [fact for _, fact in FACTS], ids=[name for name, _ in FACTS])
def test_every_fact_says_where_it_comes_from_and_how_it_was_read(fact):
    assert fact["source"]
    assert set(hows(fact)) <= HOW
    assert set(fact["source"]) <= set(SOURCES)


def test_every_source_is_complete_and_used():
    used = {one for _, fact in FACTS for one in fact["source"]}
    assert set(SOURCES) == used
    for key in SOURCES:
        known = source(key)
        assert known.publisher
        assert known.title
        assert known.year is None or known.year > 1900
        assert known.how in HOW


def test_no_fact_claims_to_be_surer_than_all_of_its_sources():
    order = ["read", "reported", "memory"]
    for name, fact in FACTS:
        surest = min(order.index(SOURCES[one]["how"]) for one in fact["source"])
        assert all(order.index(how) >= surest for how in hows(fact)), name


def test_every_data_file_explains_its_format_at_the_top():
    folder = files("menugen.regions").joinpath("data")
    for name in (
        "substances",
        "substance_names",
        "label_words",
        "regimes",
        "cautions",
        "sources",
        "strength_words",
        "everywhere",
    ):
        assert "\n# Format" in folder.joinpath(f"{name}.yaml").read_text(encoding="utf-8"), name
    for country in place_files():
        text = folder.joinpath("places", f"{country}.yaml").read_text(encoding="utf-8")
        assert "The format is explained in ../everywhere.yaml." in text, country


def test_substances_have_known_icons():
    assert {entry["icon"] for entry in load("substances.yaml")["substances"].values()} <= ICONS


def test_no_word_stands_for_two_substances():
    seen: dict[str, str] = {}
    for key, entry in load("substances.yaml")["substances"].items():
        for word in (key, entry["word"].removesuffix(" (gluten)"), *entry["also"]):
            plain = word.casefold().replace("-", " ")
            assert seen.setdefault(plain, key) == key, word


def test_regimes_name_known_substances_once():
    for key, regime in load("regimes.yaml")["regimes"].items():
        named = [one for entry in regime["entries"] for one in entry["substances"]]
        former = [one["substance"] for entry in regime["entries"] for one in entry.get("former", ())]
        assert len(set(named + former)) == len(named + former), key
        assert set(named + former) <= set(substances()), key
        for entry in regime["entries"]:
            assert set(entry.get("words", {})) <= set(entry["substances"]), entry["id"]
        ids = [entry["id"] for entry in regime["entries"]]
        assert len(set(ids)) == len(ids), key


def test_a_listed_entry_never_shares_its_id_with_a_substance_it_does_not_list():
    # Otherwise a substance shown beside the list could be hidden or counted as the listed one.
    for key, regime in load("regimes.yaml")["regimes"].items():
        for entry in regime["entries"]:
            if entry["id"] in substances():
                assert entry["id"] in entry["substances"], f"{key} {entry['id']}"


def test_notices_use_the_closed_sets():
    for code, place in {**PLACES, "everywhere": load("everywhere.yaml")}.items():
        notices = place.get("notices", ())
        ids = [notice["id"] for notice in notices]
        assert len(set(ids)) == len(ids), code
        for notice in notices:
            assert notice["topic"] in get_args(Topic), notice["id"]
            assert notice["where"] in get_args(Where), notice["id"]
            assert notice["standing"] in get_args(Standing), notice["id"]
            assert notice.get("needs_age", "") in get_args(NeedsAge), notice["id"]
            assert notice.get("text") or notice.get("duty"), notice["id"]
            assert notice.get("needs_caution", "raw egg") in known_cautions(), notice["id"]


def test_keys_are_those_the_format_names():
    place_keys = {
        "parent",
        "name",
        "currency",
        "languages",
        "regime",
        "ounce",
        "called",
        "also",
        "no_place",
        "parts_differ",
        "age",
        "drink_unit",
        "guideline",
        "pregnancy",
        "helpline",
        "prices",
        "strength_words",
        "minimum_price",
        "notices",
        "topics",
        "topics_of_alcohol",
        "energy",
    }
    notice_keys = {
        "id",
        "topic",
        "where",
        "standing",
        "text",
        "duty",
        "prominent",
        "wording",
        "needs_caution",
        "needs_age",
        "of_alcohol",
        "from",
        "until",
        "source",
        "how",
    }
    for code, place in {**PLACES, "everywhere": load("everywhere.yaml")}.items():
        assert set(place) <= place_keys, code
        for notice in place.get("notices", ()):
            assert set(notice) <= notice_keys, (code, notice["id"])


@pytest.mark.parametrize("code", [code for code, _ in known_regions()])
def test_every_region_loads_and_is_complete_enough_to_be_honest(code):
    region = load_region(code, ON)
    assert region.name
    assert region.currency.isalpha()
    assert len(region.currency) == 3
    assert region.languages
    assert 16 <= region.ages.served <= 21
    assert region.ages.lower is None or 16 <= region.ages.lower.age < region.ages.served
    assert region.regime.entries
    assert region.price_note.endswith(".")
    assert region.price_note_otherwise.endswith(".")
    assert region.price_note_otherwise != region.price_note
    assert {"allergens", "age", "strength", "pregnancy", "driving", "water", "health"} <= {
        notice.topic for notice in region.notices if notice.text
    }
    for notice in region.notices:
        assert notice.source, notice.id
        assert "{" not in notice.text + notice.duty
        assert "menugen" not in notice.text + notice.duty
        assert not notice.text or notice.text[-1] in ".?!"
    assert set(region.sources) <= set(SOURCES)


def test_fixed_wording_names_its_language_and_the_text_says_what_it_means():
    fixed = [
        notice
        for code, _ in known_regions()
        for notice in load_region(code, ON).notices
        if notice.wording and notice.text
    ]
    assert {notice.id for notice in fixed} == {
        "raw-egg-advisory",
        "prop65-alcohol",
        "service-included",
        "alcohol-abuse-message",
    }
    for notice in fixed:
        assert notice.wording_language in {"en", "fr"}
        # The text is for a page in another language; where the law speaks English they are one and the same.
        assert (notice.text == notice.wording) == (notice.wording_language == "en")


def test_a_notice_is_its_pattern_filled_in():
    for code, _ in known_regions():
        for notice in load_region(code, ON).notices:
            assert filled(notice.pattern, dict(notice.filling)) == notice.text


def test_every_text_a_guest_can_be_shown_is_among_the_guest_texts():
    known = {text.text for text in guest_texts()}
    assert len(known) == len(guest_texts())
    for code, place in PLACES.items():
        region = load_region(code, ON)
        unit = region.drink_unit
        assert {unit.name, unit.sentence, region.pregnancy, region.price_note} <= known
        assert region.guideline is None or region.guideline in known
        assert {entry.label for entry in region.regime.entries} <= known
        assert {word for entry in region.regime.entries for word in entry.words.values()} <= known
        assert {word.term for word in region.descriptors if word.offered and not word.only_for} <= known
        for notice in region.notices:
            spoken = notice.pattern and not set(notice.pattern.replace(" ", "").split("}")) <= {
                "",
                *(f"{{{name}" for name, _ in notice.filling),
            }
            assert not spoken or notice.pattern in known
        assert "-" not in code or place["name"] in known
    assert {substance(one).word for one in substances()} <= known
    assert {substance(one).base for one in substances()} <= known
    assert {caution(one).guest for one in known_cautions()} - {None} <= known
