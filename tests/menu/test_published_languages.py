"""An event in several languages, as its files: one site, a folder a language, one list of headers, one code."""

import re
from dataclasses import replace
from pathlib import Path
from posixpath import dirname, join, normpath

import pytest

from menugen.publishing import CheckedHouse, check_house, event_files, event_menus
from menugen.reading import DiskFiles
from menugen.regions import load_region
from menugen.writing.policy import SealedPages

DEMO = Path(__file__).parent.parent.parent / "demo_data"
LINK = re.compile(r'(?:href|src)="([^"#:]*)(?:#[^"]*)?"')


@pytest.fixture(scope="module")
def look() -> CheckedHouse:
    return check_house(DEMO, DiskFiles(DEMO), "lantern-supper")


@pytest.fixture(scope="module")
def files(look: CheckedHouse) -> dict[str, bytes]:
    [facts] = look.events
    return event_files(look, replace(facts, event=replace(facts.event, languages=("en", "fr", "ar"))))


def page(files: dict[str, bytes], path: str) -> str:
    return files[f"site/{path}"].decode()


@pytest.mark.slow
def test_every_page_of_the_first_language_has_its_like_in_the_others(files: dict[str, bytes]) -> None:
    pages = {
        path.removeprefix("site/") for path in files if path.endswith(".html") and path.startswith("site/")
    }
    first = {path for path in pages if not path.startswith(("fr/", "ar/"))}
    assert {"index.html", "t/index.html", "allergens.html", "notices.html", "drinks/two-tides.html"} <= first
    assert pages == first | {f"fr/{path}" for path in first} | {f"ar/{path}" for path in first}


def test_a_page_says_its_language_and_which_way_it_runs(files: dict[str, bytes]) -> None:
    assert '<html lang="en-GB" dir="ltr">' in page(files, "index.html")
    assert '<html lang="fr" dir="ltr">' in page(files, "fr/t/index.html")
    assert '<html lang="ar" dir="rtl">' in page(files, "ar/drinks/two-tides.html")


@pytest.mark.slow
def test_every_link_of_every_page_leads_to_a_file(files: dict[str, bytes]) -> None:
    for path, content in files.items():
        if not path.endswith(".html") or not path.startswith("site/") or path.endswith("404.html"):
            continue
        for target in LINK.findall(content.decode()):
            if not target:
                continue
            found = normpath(join(dirname(path), target))
            assert found in files or f"{found}/index.html" in files, (path, target)


def test_the_switch_is_a_plain_link_in_its_own_language_to_the_same_page(files: dict[str, bytes]) -> None:
    for path in ("index.html", "t/index.html", "drinks/two-tides.html", "allergens.html", "notices.html"):
        up = "../" * path.count("/")
        english, french = page(files, path), page(files, f"fr/{path}")
        assert f'<a href="{up}fr/{path}" lang="fr" hreflang="fr">Français</a>' in english
        assert f'<a href="{up}ar/{path}" lang="ar" hreflang="ar">العربية</a>' in english
        assert f'<a href="{up}../{path}" lang="en" hreflang="en">English</a>' in french
        assert 'hreflang="fr"' not in french
    assert "hreflang" not in page(files, "404.html")


def test_words_that_are_not_translated_are_marked_and_others_are_not(files: dict[str, bytes]) -> None:
    own = ' lang="en" dir="auto"'
    for path in ("index.html", "drinks/two-tides.html", "allergens.html", "notices.html"):
        assert own not in page(files, path)
        assert own not in page(files, f"fr/{path}")
        assert own in page(files, f"ar/{path}")
    arabic = page(files, "ar/drinks/two-tides.html")
    for start in ("<h1", '<p class="lead"', "<dd"):
        assert f"{start}{own}>" in arabic
    assert f'<a href="drinks/two-tides.html"{own}>Two Tides</a>' in page(files, "ar/index.html")
    assert f"<li><span{own}>Water stands on the bar" in page(files, "ar/notices.html")


def test_the_laws_words_are_marked_with_the_laws_language(look: CheckedHouse) -> None:
    [facts] = look.events
    rules = load_region("FR", facts.event.date)
    there = replace(facts, setting=replace(facts.setting, region=rules))
    notices = event_files(look, there)["site/notices.html"].decode()
    assert (
        '<li><span lang="fr" dir="auto">L&#39;abus d&#39;alcool est dangereux pour la santé</span> '
        "Alcohol abuse is dangerous to your health.</li>"
    ) in notices


def test_one_list_of_headers_holds_for_the_pages_of_all_languages(
    look: CheckedHouse, files: dict[str, bytes]
) -> None:
    lists = [path for path in files if path.endswith("_headers.txt")]
    assert lists == ["site/_headers.txt"]
    pages = [
        content.decode()
        for path, content in files.items()
        if path.startswith("site/") and path.endswith(".html")
    ]
    sealed = SealedPages()
    for one in pages:
        list(sealed.page((one,)))
    assert page(files, "_headers.txt") == sealed.headers(listed=look.events[0].event.listed)


def test_the_code_opens_the_first_language(look: CheckedHouse, files: dict[str, bytes]) -> None:
    [facts] = look.events
    alone = event_files(look, replace(facts, event=replace(facts.event, languages=("en",))))
    assert files["print/qr.svg"] == alone["print/qr.svg"]
    assert b"/lantern/fr/" not in files["print/cards-a4.html"]


def test_the_demo_is_whole_in_french_and_its_fair_in_irish() -> None:
    look = check_house(DEMO, DiskFiles(DEMO))
    assert [problem.message for problem in look.problems if problem.code == "translation-missing"] == []
    menus = {facts.event.slug: tuple(event_menus(look, facts)) for facts in look.events}
    assert [menu.event for menu in menus["lantern-supper"]] == ["Lantern Supper", "Souper aux lanternes"]
    assert [menu.language for menu in menus["ballyfinch-spring-fair"]] == ["en-IE", "ga-IE"]
    for menu in (menus["lantern-supper"][1], menus["ballyfinch-spring-fair"][1]):
        for section in menu.sections:
            for drink in section.drinks:
                assert drink.made_with_language == drink.notes_language == "", drink.id
                assert {run.language for swap in drink.swaps for run in swap.runs} <= {""}
