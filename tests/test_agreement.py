"""`check` finds what a publish would stop at: the same problems at the same places, and it leaves the disk alone."""

import json
import random
import re
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import replace
from io import StringIO
from pathlib import Path

import pytest
from PIL import Image

from menugen import publishing
from menugen.cli import main
from menugen.house_photos import PhotoChanged
from menugen.menu import WORDS, build, catalogue_languages
from menugen.menu.catalogue import load_catalogue
from menugen.preview.pages import make_pages
from menugen.shipped import shipped_folder
from menugen.writing import site
from menugen.writing.checked_output import CheckedOutput
from tests.cli.test_commands import write_house
from tests.houses import EVENT, SOUR, STOCK, texts
from tests.revisions.repositories import git

SPEC, EVENT_FILE = "specs/marsh-sour.md", "events/small-supper.yaml"
BASE = shipped_folder("themes") / "base"


def ran(command: str, folder: Path, *more: str) -> tuple[int, str]:
    """Return the exit code of a command and all it printed."""
    told = StringIO()
    with redirect_stdout(told), redirect_stderr(told):
        code = main([command, str(folder), *more])
    return code, told.getvalue()


def both(folder: Path, *more: str) -> list[dict]:
    """Return the problems that `check` and `publish` tell, once both are known to tell the same."""
    checked, as_checked = ran("check", folder, "--json", *more)
    published, as_published = ran("publish", folder, "--json", *more)
    problems = json.loads(as_checked)
    stops = any(problem["severity"] == "error" for problem in problems)
    assert (checked, published) == (int(stops), int(stops)), as_published
    if stops:
        assert json.loads(as_published) == problems
    else:
        assert json.loads(as_published)["published"] is True
    assert "menugen's own" not in as_checked + as_published
    return problems


def spots(problems: list[dict], folder: Path) -> list[tuple[str, str, int, int]]:
    return [
        (one["code"], one["file"].removeprefix(f"{folder}/"), one["line"], one["column"]) for one in problems
    ]


def house(folder: Path, **changed: str) -> Path:
    """Write a small house; "specs__marsh_sour" is not needed: SPEC and the rest are given by name."""
    return write_house(folder / "bar", texts(**changed))


def tree(folder: Path) -> dict[str, bytes]:
    return {str(path): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


def looked(folder: Path, files: dict[str, str], theme: str = "title: Mine\nextends: slate\n") -> Path:
    """Write a small house in a look of its own."""
    look = {f"themes/mine/{name}": text for name, text in files.items()}
    return write_house(
        folder / "bar",
        {**texts(), EVENT_FILE: texts()[EVENT_FILE] + "theme: mine\n", "themes/mine/theme.yaml": theme}
        | look,
    )


def own_words_of_pages() -> list[str]:
    """Return what a page says by itself, in every language, as a bar note could say it."""
    catalogues = (load_catalogue(language) for language in catalogue_languages())
    translated = (
        text for found in catalogues if found for forms in found.forms.values() for text in forms if text
    )
    return [
        " ".join(part.split())
        for text in (*WORDS.values(), *translated)
        for part in re.split(r"\{\w*\}", text)
        if part.strip()
    ]


@pytest.mark.slow
def test_a_bar_note_may_say_what_a_page_says_by_itself(tmp_path):
    notes = [
        "### Allergens",
        "Tell the bar",
        "9.50",
        "£9.50",
        "Small Supper",
        "Marsh Sour",
        "gin",
        "All",
        "marsh-sour",
    ]
    notes += [
        "Contains egg",
        "lupin",
        "12 December 2026",
        "menu.json",
        "return",
        "const",
        "stylesheet",
        "viewport",
    ]
    notes += own_words_of_pages()
    stock = STOCK.replace("Hidden Wharf Ltd", "Drinks")
    folder = house(
        tmp_path,
        **{
            SPEC: SOUR.replace("glass: sour", "glass: sour\ncautions: none")
            + "\n"
            + "\n\n".join(notes)
            + "\n",
            EVENT_FILE: EVENT + "languages: [en, ar]\n",
            "stock/all.yaml": stock,
        },
    )
    assert not [one for one in both(folder) if one["severity"] == "error"]


def leaking(monkeypatch, told) -> None:
    """Let the menu hold a private text, as a fault of ours would: `told` gives it from a drink's facts."""
    made = build._guest_drink

    def with_leak(facts, entry, setting):
        drink = made(facts, entry, setting)
        return replace(drink, story=f"{drink.story}\n\n{told(facts)}")

    monkeypatch.setattr(build, "_guest_drink", with_leak)


def line_of(notes: str, number: int) -> str:
    return dict(enumerate(notes.split("\n"))).get(number, "")


LEAKS = {
    "a bar note": (lambda facts: facts.spec.bar_notes, SPEC, 19, 1),
    "the price, which the page has as well": (lambda facts: line_of(facts.spec.bar_notes, 2), SPEC, 21, 1),
    "a word the page has as well": (lambda facts: line_of(facts.spec.bar_notes, 4), SPEC, 23, 1),
    "a comment": (lambda facts: line_of("\n".join(facts.spec.comments), 0), SPEC, 16, 13),
    "a line's note": (lambda facts: facts.spec.lines[0].note, SPEC, 4, 29),
    "a supplier": (lambda facts: facts.serve.lines[0].stock.supplier, "stock/all.yaml", 6, 13),
    "a note of stock": (lambda facts: facts.serve.lines[0].stock.note, "stock/all.yaml", 7, 9),
}
LEAKY = {
    SPEC: SOUR.replace("- 50 ml gin", "- {pour: 50 ml gin, note: cold and slow}")
    .replace("Bright and short.", "Bright and short.\n\nWaves. <!-- ask Anna first -->")
    .replace("The secret is a cold tin.", "The secret is a cold tin.\n\n9.50\n\n### Allergens"),
    "stock/all.yaml": STOCK.replace(
        "  supplier: Hidden Wharf Ltd\n", "  supplier: Hidden Wharf Ltd\n  note: behind the door\n"
    ),
}


@pytest.mark.slow
@pytest.mark.parametrize("what", LEAKS)
def test_a_private_text_on_a_page_stops_both_at_the_place_it_was_written(tmp_path, monkeypatch, what):
    told, file, line, column = LEAKS[what]
    folder = house(tmp_path, **LEAKY)
    assert both(folder) == []
    published = tree(folder / "out")
    leaking(monkeypatch, told)
    problems = both(folder)
    told_of = spots(problems, folder)
    assert ("private-text-shown", file, line, column) in told_of
    if "page has" not in what:
        # Of what a page says anyway nobody can tell which it was; of all else just this is told.
        assert len(told_of) == 1
        assert "small-supper/site/drinks/marsh-sour.html would show guests" in problems[0]["message"]
    assert tree(folder / "out") == published


@pytest.mark.slow
def test_a_leak_is_found_where_the_words_belong_to_a_caution_too(tmp_path, monkeypatch):
    spec = SOUR.replace("The secret is a cold tin.", "A plume of dry ice behind the old door.\n\ndry ice")
    folder = house(tmp_path, **{SPEC: spec})
    assert {one["code"] for one in both(folder)} <= {"caution-not-said"}
    leaking(monkeypatch, lambda facts: line_of(facts.spec.bar_notes, 0))
    assert "private-text-shown" in {one["code"] for one in both(folder)}


@pytest.mark.slow
@pytest.mark.parametrize("name", ["menu.json", "index.html", "worker.js", "_headers.txt", "t/index.html"])
def test_every_file_of_a_site_is_searched(tmp_path, monkeypatch, name):
    folder = house(tmp_path)
    laid = site._Site._text

    def with_leak(self, path, pieces):
        more = ("\nThe secret is a cold tin.\n",) if path == name else ()
        laid(self, path, (*pieces, *more))

    monkeypatch.setattr(site._Site, "_text", with_leak)
    monkeypatch.setattr(publishing, "without_private_texts", lambda facts: None)
    (problem,) = (one for one in both(folder) if one["code"] == "private-text-shown")
    assert f"small-supper/site/{name} " in problem["message"]


def test_where_the_house_lies_is_private_and_its_name_no_word(tmp_path, monkeypatch):
    folder = write_house(tmp_path / "Drinks")
    monkeypatch.setattr(publishing, "private_path", lambda _folder: "/Drinks")
    assert both(folder) == []
    leaking(monkeypatch, lambda facts: "from /Drinks/specs")
    monkeypatch.setattr(publishing, "without_private_texts", lambda facts: None)
    assert [one["code"] for one in both(folder)] == ["private-text-shown"]


@pytest.mark.slow
def test_what_a_template_spoils_is_told_once_at_the_template(tmp_path):
    frame = (BASE / "frame.html.jinja").read_text("utf-8")
    for code, spoilt, said in (
        ("theme-fault", frame.replace("</main>", "", 1), '"<main>" is never closed'),
        ("theme-fault", frame.replace("<main", '<main style="color:red"', 1), "a style attribute"),
        ("theme-fault", frame.replace('<meta charset="utf-8">', ""), "a page begins with"),
        (
            "page-broken",
            frame.replace("</main>", '<p id="the_page"></p></main>'),
            'uses the id "the_page" twice',
        ),
        (
            "page-broken",
            frame.replace("</main>", '<a href="gone.html">x</a></main>'),
            'links to "gone.html", which is not there',
        ),
    ):
        assert spoilt != frame
        folder = looked(tmp_path, {"frame.html.jinja": spoilt})
        (problem,) = both(folder)
        assert (problem["code"], problem["file"]) == (code, f"{folder}/themes/mine/frame.html.jinja")
        assert said in problem["message"]
        assert (problem["line"] > 1) is (code == "theme-fault")
        assert ("more" in problem["message"]) is (code == "page-broken")
        assert not (folder / "out" / "small-supper").exists()


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("style.css", "body { background: url(x.png) }"),
        ("style.css", "a { content: '<' }"),
        ("theme.yaml", "title: Mine\nextends: nothing\n"),
    ],
)
def test_a_look_that_cannot_be_used_stops_both(tmp_path, name, content):
    folder = looked(tmp_path, {name: content})
    assert {one["code"] for one in both(folder)} == {"theme-fault"}


@pytest.mark.parametrize(
    ("link", "where"),
    [("[x](#nowhere)", SPEC), ("[x](allergens.html#nowhere)", SPEC), ("[x](gone.html)", EVENT_FILE)],
)
def test_a_link_in_a_note_that_leads_nowhere_is_told_where_it_was_written(tmp_path, link, where):
    changed = {
        SPEC: SOUR.replace("Bright and short.", f"Bright and short. {link}"),
        EVENT_FILE: EVENT.replace("  - section: All\n", f'  - section: All\n    note: "Short {link}"\n'),
    }
    folder = house(tmp_path, **{where: changed[where]})
    (problem,) = both(folder)
    assert (problem["code"], problem["file"]) == ("dead-link", f"{folder}/{where}")
    line = (folder / where).read_text("utf-8").split("\n")[problem["line"] - 1]
    assert line[problem["column"] - 1 : problem["end_column"] - 1] == link[4:-1]


def test_every_event_is_tried_and_one_that_is_stopped_already_keeps_none_from_being(tmp_path):
    frame = (BASE / "frame.html.jinja").read_text("utf-8").replace("</main>", "", 1)
    folder = looked(tmp_path, {"frame.html.jinja": frame})
    second = (
        texts()[EVENT_FILE].replace("Small Supper", "Second Supper").replace("marsh-sour: 9.50", "gone: 9.50")
    )
    (folder / "events/second.yaml").write_text(second, encoding="utf-8")
    assert {one["code"] for one in both(folder)} == {"theme-fault", "unknown-drink"}
    assert {one["code"] for one in both(folder / EVENT_FILE)} == {"theme-fault"}
    assert {one["code"] for one in both(folder / "events/second.yaml")} == {"unknown-drink"}


def test_a_photo_that_is_changed_meanwhile_is_a_problem_of_the_photo(tmp_path, monkeypatch):
    folder = house(tmp_path)
    (folder / "photos").mkdir()
    Image.new("RGB", (900, 700), "#8a4b2a").save(folder / "photos/marsh-sour.jpg")

    def changed(*_):
        raise PhotoChanged("photos/marsh-sour.jpg")

    monkeypatch.setattr(publishing, "make_photos", changed)
    assert ran("check", folder) == (0, "")
    code, told = ran("publish", folder)
    assert code == 1
    assert "photos/marsh-sour.jpg:1:1: error[photo-changed]: this photo was changed" in told
    assert told.rstrip().endswith("; nothing was published")


def test_check_leaves_nothing_on_the_disk(tmp_path):
    folder = house(tmp_path)
    (folder / EVENT_FILE).write_text(texts()[EVENT_FILE] + "theme: bunting\n", encoding="utf-8")
    (folder / "photos").mkdir()
    Image.new("RGB", (900, 700), "#8a4b2a").save(folder / "photos/marsh-sour.jpg")
    before = tree(tmp_path)
    assert ran("check", folder) == (0, "")
    assert tree(tmp_path) == before
    assert not (folder / "out").exists()


def test_a_revision_is_checked_in_the_look_it_had(tmp_path):
    frame = (BASE / "frame.html.jinja").read_text("utf-8")
    folder = looked(tmp_path, {"frame.html.jinja": frame})
    git(folder, "init", "-q")
    git(folder, "add", "-A")
    git(folder, "commit", "-q", "-m", "first")
    (folder / "themes/mine/frame.html.jinja").write_text(frame.replace("</main>", ""), encoding="utf-8")
    assert [one["code"] for one in both(folder)] == ["theme-fault"]
    assert both(folder, "--at", "HEAD") == []


def test_the_preview_tells_the_same_and_keeps_the_last_good_pages(tmp_path):
    frame = (BASE / "frame.html.jinja").read_text("utf-8")
    folder = looked(tmp_path, {"frame.html.jinja": frame})
    good = make_pages(folder, None)
    assert good.problems == ""
    (folder / "themes/mine/frame.html.jinja").write_text(frame.replace("</main>", ""), encoding="utf-8")
    spoilt = make_pages(folder, None, good)
    assert "themes/mine/frame.html.jinja:60:1: error[theme-fault]" in spoilt.problems
    assert "the pages below are the last good ones" in spoilt.problems
    assert spoilt.files == good.files
    second = texts()[EVENT_FILE].replace("marsh-sour: 9.50", "gone: 9.50")
    (folder / "events/second.yaml").write_text(second, encoding="utf-8")
    stopped = make_pages(folder, None, good).problems
    assert "error[unknown-drink]" in stopped
    assert "error[theme-fault]" in stopped
    (folder / EVENT_FILE).write_text("event: x\n", encoding="utf-8")
    assert "error[missing-key]" in make_pages(folder, None, good).problems


def test_a_comment_is_in_no_file_of_a_site_and_on_no_card(tmp_path):
    spec = SOUR.replace(
        "Bright and short.", "Bright <!-- ask Anna -->and short.\n\n<!--\nthe old\n\nbottle\n-->\n\nWaves."
    )
    spec = spec.replace("glass: sour", 'glass: sour\ntranslations:\n  fr: {notes: "Vif. <!-- à Zoé -->"}')
    event = EVENT.replace("  - section: All", '  - section: All\n    note: "Cold. <!-- until ten -->"')
    folder = house(tmp_path, **{SPEC: spec, EVENT_FILE: event + "languages: [en, fr]\n"})
    assert not [one for one in both(folder) if one["severity"] == "error"]
    files = tree(folder / "out" / "small-supper")
    page = next(content for path, content in files.items() if path.endswith("site/index.html")).decode()
    assert "Bright and short." in page
    assert "Cold." in page
    for path, content in files.items():
        assert not re.search("Anna|the old|Zoé|until ten|&lt;!--", content.decode("utf-8", "replace")), path


def test_what_stands_on_a_card_is_searched_too(tmp_path, monkeypatch):
    from menugen.writing import cards

    folder = house(tmp_path)
    made = cards._typed
    monkeypatch.setattr(cards, "_typed", lambda address: f"{made(address)} the secret is a cold tin")
    monkeypatch.setattr(publishing, "private_texts", lambda facts: frozenset({"secret is a cold tin"}))
    monkeypatch.setattr(publishing, "without_private_texts", lambda facts: None)
    (problem,) = both(folder)
    assert "small-supper/print/cards-a4.html would show guests" in problem["message"]


def test_pages_are_tried_with_their_photos_and_none_is_made_ready(tmp_path, monkeypatch):
    folder = house(tmp_path)
    (folder / "photos").mkdir()
    Image.new("RGB", (900, 700), "#8a4b2a").save(folder / "photos/marsh-sour.jpg")
    seen: list[str] = []
    laid = CheckedOutput.text

    def watched(self, path, pieces):
        seen.append("".join(pieces))
        laid(self, path, (seen[-1],))

    monkeypatch.setattr(CheckedOutput, "text", watched)
    monkeypatch.setattr(publishing, "make_photos", lambda *_: pytest.fail("a photo was made ready"))
    assert ran("check", folder) == (0, "")
    assert any("<picture" in page for page in seen)


@pytest.mark.parametrize(("letters", "codes"), [(60, []), (61, ["unsafe-file-name"])])
def test_a_name_that_a_disk_does_not_take_under_its_other_names_is_told(tmp_path, letters, codes):
    folder = house(tmp_path)
    (folder / EVENT_FILE).rename(folder / "events" / f"{'𐌰' * letters}.yaml")
    assert [one["code"] for one in both(folder)] == codes


def _in_text(path: str, old: str, *new: str):
    return [(path, old, one) for one in new]


FRAME = (BASE / "frame.html.jinja").read_text("utf-8")
SPOILT = (
    _in_text(SPEC, "Marsh Sour", "<b>9.50</b>", "Marsh {{ 7 * 7 }}", "\u202bم الهور\u202c", "</main>", "a" * 118)
    + _in_text(SPEC, "Marsh Sour", "'\"&amp;")
    + _in_text(SPEC, "Bright and short.", "", "<!-- hidden -->", "<!-- hidden", "Bright --> short", "<div id=the_page>")
    + _in_text(SPEC, "Bright and short.", "[x](#in_all)", "[x](t/)", "[x](gone.html)", "![x](y.png)")
    + _in_text(SPEC, "Bright and short.", "# Allergens\n\n- 1")
    + _in_text(SPEC, "Bright and short.", "x " * 4000, "Bright.\n\n```\n<p>\n```", "[x](javascript:1)")
    + _in_text(SPEC, "Bright and short.", "a\\\n<!--b-->\nc")
    + _in_text(SPEC, "The secret is a cold tin.", "9.50", "### Allergens", "Tell the bar", "<!-- -->", "egg")
    + _in_text(SPEC, "50 ml gin", "{pour: 50 ml gin, note: Contains}", "5000 ml gin", "50 ml gyn", "0 ml gin")
    + _in_text(SPEC, "glass: sour", "glass: bucket", "glass: coupe", "glass: sour\ncautions: [dry ice]")
    + _in_text("stock/all.yaml", "Hidden Wharf Ltd", "Drinks", "Marsh Sour", "menu", "https://menu.example/s/")
    + _in_text("stock/all.yaml", "contains: [egg]", "contains: none", "contains: [egg, unobtainium]", "note: Egg")
    + _in_text(EVENT_FILE, "Small Supper", "Allergens", "<script>", "x" * 120, "قائمة", "{% raw %}")
    + _in_text(EVENT_FILE, "https://menu.example/s/", "menu.example", "https://menu.example/" + "x" * 300, "http://a.b/")
    + _in_text(EVENT_FILE, "  - section: All", "  - section: T", "  - section: ' '")
    + _in_text(EVENT_FILE, "  - section: All", "  - section: All\n    note: <!-- x --> y")
    + _in_text(EVENT_FILE, "date: 2026-12-12", "date: 2026-12-12\nlanguages: [ar, de]", "date: 2026-12-12\ntables: 40")
    + _in_text(EVENT_FILE, "date: 2026-12-12", "date: 2026-12-12\ntheme: mine", "date: 2026-12-12\ntheme: bunting")
    + _in_text(EVENT_FILE, "date: 2026-12-12", "date: 2026-12-12\nlisted: no", "date: 2026-12-12\noff: [marsh-sour]")
    + _in_text(EVENT_FILE, "marsh-sour: 9.50", "marsh-sour: 9.505", "marsh-sour", "gone: 1", "marsh-sour: free")
    + _in_text("house.yaml", "The Test Bar", "Drinks", "<b>", "The Test Bar\ntheme: mine")
    + _in_text("house.yaml", "The Test Bar", "The Test Bar\nrules: [9.50]")
    + _in_text("themes/mine/theme.yaml", "slate", "lawn", "mine", "gone", "slate\ncolours: {light: {ground: red}}")
    + _in_text("themes/mine/style.css", "p{}", "p{background:url(x.png)}", "p{", "<p>", ":root{--ground:#000}")
    + _in_text("themes/mine/frame.html.jinja", "</main>", "", "</main><p id='x'>", "</p></main>")
    + _in_text("themes/mine/frame.html.jinja", "</main>", '<i style="top:0"></i></main>')
    + _in_text("themes/mine/frame.html.jinja", "</main>", '<a href="x.html">x</a></main>', "<!-- x --></main>")
)  # fmt: skip
"""What a small house is spoilt with, or made odd: a file, words in it, and what stands there instead."""


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(5))
def test_a_house_spoilt_anyhow_is_told_alike_by_both(tmp_path, seed):
    chance = random.Random(seed)  # noqa: S311  (the same houses each time)
    look = {"theme.yaml": "title: Mine\nextends: slate\n", "style.css": "p{}\n", "frame.html.jinja": FRAME}
    sound = {**texts(), **{f"themes/mine/{name}": text for name, text in look.items()}}
    every = chance.sample(SPOILT, len(SPOILT))
    for number in range(6):
        files = dict(sound)
        for path, old, new in every[number * 3 : number * 3 + chance.choice((1, 2, 3))]:
            files[path] = files[path].replace(old, new, 1)
        folder = write_house(tmp_path / str(number) / "bar", files)
        both(folder)
