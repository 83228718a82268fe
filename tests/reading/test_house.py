from datetime import date
from pathlib import Path

import pytest

from menugen.problems import Place
from menugen.reading import DiskFiles, outside_folders, read_house
from menugen.records import HouseGlass
from tests.reading.held import codes, reading_of, told

SPEC = "---\nname: A\npour: 2 oz gin\nglass: coupe\n---\n"
STOCK = "gin:\n  contains: none\n"


def event(day: str) -> str:
    return f"event: A\ndate: {day}\nmenu: [{{section: All, drinks: [a]}}]\n"


def test_a_house_becomes_a_record() -> None:
    house = reading_of(
        {
            "house.yaml": (
                "name: The Lantern Cart\nregion: gb-eng\ncurrency: gbp\nlanguages: [en, FR]\nounce: us\ntheme: slate\n"
                "contact: hello@lantern.example\nrules: [Ask for water., Mind the step.]\n"
                "glasses:\n  coupe: 180 ml\n"
                "  tulip: {brim: 20 cl, wash line: 180 ml, profile: [[0, 5], [60.5, 40]]}\n"
            ),
            "specs/a.md": SPEC,
            "stock/a.yaml": STOCK,
            "events/b.yaml": event("2026-01-02"),
            "events/a.yaml": event("2026-03-01"),
        }
    ).house
    assert house is not None
    assert (house.name, house.region, house.currency, house.languages) == (
        "The Lantern Cart",
        "GB-ENG",
        "GBP",
        ("en", "fr"),
    )
    assert (house.ounce, house.theme, house.contact) == ("us", "slate", "hello@lantern.example")
    assert house.rules == ("Ask for water.", "Mind the step.")
    assert house.glasses["coupe"] == HouseGlass(
        name="coupe", brim_ml=180.0, place=Place("house.yaml", ("glasses", "coupe"), "key")
    )
    assert (house.glasses["tulip"].brim_ml, house.glasses["tulip"].wash_line_ml) == (200.0, 180.0)
    assert house.glasses["tulip"].profile_mm == ((0.0, 5.0), (60.5, 40.0))
    assert [item.date for item in house.events.values()] == [date(2026, 1, 2), date(2026, 3, 1)]


@pytest.mark.parametrize(
    ("settings", "volume_ml"),
    [
        ("", 60.0),
        ("region: GB-ENG\n", 60.0),
        ("region: US-OR\n", 59.147059125),
        ("region: US\nounce: trade\n", 60.0),
        ("ounce: imperial\n", 56.826125),
        ("region: ZZ\n", 60.0),
    ],
)
def test_the_ounce_is_the_houses_word_or_its_regions(settings: str, volume_ml: float) -> None:
    house = reading_of({"house.yaml": f"name: A\n{settings}", "specs/a.md": SPEC}).house
    assert house is not None
    assert house.specs["a"].lines[0].measure.volume_ml == pytest.approx(volume_ml)


def test_what_has_a_fault_is_left_out_and_named() -> None:
    reading = reading_of(
        {
            "specs/a.md": SPEC,
            "specs/b.md": SPEC.replace("2 oz", "2 ozs"),
            "stock/a.yaml": STOCK + "rum:\n  abv: 40\n",
            "events/a.yaml": event("2026-02-30"),
            "events/b.yaml": event("2026-02-28"),
        }
    )
    assert reading.house is not None
    assert (set(reading.house.specs), set(reading.house.stock), set(reading.house.events)) == (
        {"a"},
        {"gin"},
        {"b"},
    )
    assert (reading.broken_specs, reading.broken_stock, reading.broken_events) == ({"b"}, {"rum"}, {"a"})
    assert sorted(problem.code for problem in reading.problems) == [
        "date-form",
        "strength-form",
        "unknown-unit",
    ]


def test_a_fault_in_the_settings_keeps_the_rest_of_them() -> None:
    reading = reading_of(
        {"house.yaml": "region: England\ncurrency: GBP\nspecs: drinks\n", "drinks/a.md": SPEC}
    )
    assert reading.house is not None
    assert (reading.house.currency, reading.house.region) == ("GBP", "")
    assert set(reading.house.specs) == {"a"}


def test_without_settings_there_is_no_house_and_the_rest_is_still_told() -> None:
    reading = reading_of({"house.yaml": "name: [\n", "specs/a.md": "no front matter"})
    assert reading.house is None
    assert sorted(problem.code for problem in reading.problems) == ["front-matter-missing", "yaml-syntax"]


@pytest.mark.parametrize(
    ("settings", "code"),
    [
        ("ounce: british", "unknown-choice"),
        ("tax registered: perhaps", "unknown-choice"),
        ("prices include tax: most", "unknown-choice"),
        ("tax registred: yes", "unknown-key"),
        ("tax registered: yes", "tax-half-said"),
        ("prices include tax: yes", "tax-half-said"),
        ("prices include tax: no", "tax-half-said"),
        ("tax registered: no\nprices include tax: yes", "tax-contradicts-itself"),
        ("specs: /srv/specs", "path-not-relative"),
        ("specs: C:\\specs", "path-not-relative"),
        ("specs: [nowhere]", "folder-empty"),
        ("rules: {a: b}", "wrong-shape"),
        ("glasses: coupe", "wrong-shape"),
        ("glasses: {coupe: [180 ml]}", "wrong-shape"),
        ("glasses: {coupe: 180}", "size-form"),
        ("glasses: {coupe: 25 l}", "figure-out-of-range"),
        ("glasses: {coupe: {wash line: 90 ml}}", "missing-key"),
        ("glasses: {coupe: {brim: 90 ml, wash line: 91 ml}}", "figure-out-of-range"),
        ("glasses: {coupe: {brim: 90 ml, profile: [[0, 5]]}}", "glass-profile"),
        ("glasses: {coupe: {brim: 90 ml, profile: [[0, 5], [0, 9]]}}", "glass-profile"),
        ("glasses: {coupe: {brim: 90 ml, profile: [[0, 0], [9, 0]]}}", "glass-profile"),
        ("glasses: {coupe: {brim: 90 ml, profile: [[0, 5], [9, wide]]}}", "glass-profile"),
        ("glasses: {coupe: {brim: 90 ml, profile: [[0, 5], [9, 5, 1]]}}", "glass-profile"),
    ],
)
def test_faults_of_the_settings_are_told_each_by_its_code(settings: str, code: str) -> None:
    assert codes({"house.yaml": f"name: A\n{settings}\n"}) == [code]


@pytest.mark.parametrize(
    ("settings", "says"),
    [
        ("", (None, None)),
        ("tax registered: no\n", (False, None)),
        ("tax registered: no\nprices include tax: no\n", (False, False)),
        ("tax registered: yes\nprices include tax: no\n", (True, False)),
        ("tax registered: yes\nprices include tax: yes\n", (True, True)),
    ],
)
def test_what_a_house_says_of_tax(settings: str, says: tuple[bool | None, bool | None]) -> None:
    reading = reading_of(
        {
            "house.yaml": f"name: A\n{settings}",
            "specs/a.md": SPEC,
            "stock/a.yaml": STOCK,
            "events/a.yaml": event("2026-01-02"),
        }
    )
    assert reading.house is not None
    assert (reading.house.tax_registered, reading.house.prices_include_tax) == says
    assert not [problem for problem in reading.problems if problem.code.startswith("tax")]


def test_folders_are_read_one_after_the_other_and_may_lie_outside(tmp_path: Path) -> None:
    house = tmp_path / "house"
    for file, text in {
        house / "house.yaml": "name: A\nspecs: [drinks, ../library]\n",
        house / "drinks" / "a.md": SPEC,
        house / "drinks" / "README.md": "Not a drink.",
        house / "drinks" / ".hidden.md": "Not a drink.",
        house / "drinks" / "notes.txt": "Not a drink.",
        tmp_path / "library" / "b.md": SPEC,
    }.items():
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
    reading = read_house(DiskFiles(house))
    assert reading.problems == ()
    assert reading.house is not None
    assert [spec.place.file for spec in reading.house.specs.values()] == ["drinks/a.md", "../library/b.md"]
    assert set(outside_folders(house)) == {"drinks", "../library", "stock", "events"}
    assert outside_folders(tmp_path / "nowhere") == ("specs", "stock", "events")


def test_slugs_that_differ_in_case_or_in_how_accents_are_written_are_one() -> None:
    for one, other in (("gin", "Gin"), ("caf\u00e9", "cafe\u0301"), ("straße", "STRASSE")):
        reading = reading_of({f"specs/{one}.md": SPEC, f"specs/{other}.md": SPEC})
        assert [problem.code for problem in reading.problems] == ["two-specs-one-slug"]
    reading = reading_of({"specs/cafe\u0301.md": SPEC})
    assert reading.house is not None
    assert set(reading.house.specs) == {"caf\u00e9"}


@pytest.mark.parametrize(
    ("name", "proposal"),
    [
        ("Saltmarsh Sour", "saltmarsh-sour"),
        ("a&b", "a-b"),
        ("nul", "drink-nul"),
        ("COM1", "drink-com1"),
        ("-", "drink"),
        ("a.", "a"),
        ("a\u202eb", "a-b"),
        ("x" * 81, "x" * 80),
    ],
)
def test_file_names_that_are_not_safe_everywhere_are_refused(name: str, proposal: str) -> None:
    text = told({f"specs/{name}.md": SPEC})
    assert "error[unsafe-file-name]" in text
    assert f'"{proposal}.md"' in text


@pytest.mark.parametrize("name", ["quiet-harbour", "café", "漢字", "नमक", "no_7", "x" * 80])
def test_file_names_of_any_script_are_taken(name: str) -> None:
    assert codes({f"specs/{name}.md": SPEC}) == []


def test_the_order_of_files_changes_nothing() -> None:
    files = {"specs/a.md": SPEC, "specs/b.md": "x", "stock/a.yaml": STOCK, "stock/b.yaml": "rum: 1\n"}
    assert told(files) == told(dict(reversed(files.items())))


def test_a_file_that_may_not_be_read_is_told_of() -> None:
    class Locked(DiskFiles):
        def names(self, folder: str) -> tuple[str, ...]:
            if folder == "stock":
                raise PermissionError(folder)
            return ("a.md",) if folder == "specs" else ()

        def read(self, path: str) -> bytes:
            if path == "house.yaml":
                return b"name: A\n"
            raise PermissionError(path)

    reading = read_house(Locked(Path()))
    assert [(problem.where.file, problem.message) for problem in reading.problems] == [
        ("stock", "you may not read this"),
        ("specs/a.md", "you may not read this"),
    ]
    assert reading.broken_specs == {"a"}
