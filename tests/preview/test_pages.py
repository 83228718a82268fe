"""Pages under whatever goes wrong while they are made: the last good ones stay, and it is said what."""

from pathlib import Path

import pytest

from menugen.preview import PreviewServer, pages, server
from menugen.preview.pages import Pages, dressed, make_pages, pages_in_turn
from menugen.reading import BrokenLink
from tests.houses import texts


@pytest.fixture
def house(tmp_path: Path) -> Path:
    house = tmp_path / "bar"
    lay(house)
    return house


def lay(house: Path) -> None:
    for name, text in texts().items():
        path = house / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")


FAULTS = {
    "ours": (ValueError("odd"), "menugen: a fault of menugen's own, not of your files: ValueError: odd"),
    "memory": (MemoryError(), "this machine has too little free memory to make the pages"),
    "the disk": (OSError(5, "Input/output error", "out/x"), "out/x: Input/output error"),
    "a link": (BrokenLink("stock", "this is a link, and it leads to nothing"), "stock: this is a link"),
    "a depth": (RecursionError("too deep"), "RecursionError"),
}


@pytest.mark.slow
def test_a_fault_is_told_over_the_last_good_pages_and_the_next_save_mends_it(house, monkeypatch, capfd):
    good = make_pages(house, None)
    assert good.problems == ""
    last = good
    for step, what in [
        *((step, "ours") for step in ("event_files", "gone_from")),
        *(("check_house", each) for each in FAULTS),
    ]:
        fault, wanted = FAULTS[what]

        def failing(*_: object, fault: Exception = fault, **__: object) -> None:
            raise fault

        with monkeypatch.context() as patch:
            patch.setattr(pages, step, failing)
            last = make_pages(house, None, last)
        assert wanted in last.problems
        assert last.problems.endswith("the pages below are the last good ones\n")
        assert wanted in last.panel("index.html")
        assert last.files == good.files
    mended = make_pages(house, None, last)
    assert mended.problems == ""
    assert mended.files == good.files
    assert capfd.readouterr() == ("", "")


def test_the_details_are_shown_where_they_are_asked_for(house, monkeypatch, capfd):
    monkeypatch.setenv("MENUGEN_TRACEBACK", "1")
    monkeypatch.setattr(pages, "check_house", lambda *_, **__: 1 // 0)
    make_pages(house, None)
    assert "ZeroDivisionError" in capfd.readouterr().err


def test_a_house_that_vanishes_is_a_problem_until_it_is_back(house):
    seen: list[str] = []
    preview = PreviewServer(house, None, lambda made: seen.append(made.problems))
    away = house.with_name("away")
    for goes, comes in (
        (lambda: house.rename(away), lambda: away.rename(house)),
        ((house / "house.yaml").unlink, lambda: lay(house)),
        (lambda: (house / "house.yaml").write_text("name: [", encoding="utf-8"), lambda: lay(house)),
    ):
        goes()
        preview.renew()
        assert seen[-1]
        assert "own" not in seen[-1].replace("the pages below", "")
        assert b"Marsh Sour" in preview.pages.files["small-supper/site/index.html"]
        comes()
        preview.renew()
        assert seen[-1] == ""


def test_the_first_pages_may_fail(house, monkeypatch):
    with monkeypatch.context() as patch:
        patch.setattr(pages, "check_house", lambda *_, **__: 1 // 0)
        preview = PreviewServer(house, None, lambda _made: None)
    assert "ZeroDivisionError" in preview.pages.problems
    assert {"index.html", "-/reload.js", "-/preview.css"} == preview.pages.files.keys()
    preview.renew()
    assert preview.pages.problems == ""
    assert "small-supper/site/index.html" in preview.pages.files


def test_nothing_is_said_after_the_end(house):
    seen: list[Pages] = []
    preview = PreviewServer(house, None, seen.append)
    preview.close()
    preview.renew()
    assert len(seen) == 1


@pytest.mark.parametrize(
    "page",
    [
        b"",
        b"plain words",
        b"<p>no head, no body",
        b"<html><head></head><p>no body",
        b"<html><body",
        b"\xff\xfe<body>bytes</body>",
        b'<meta http-equiv="Content-Security-Policy"',
    ],
)
def test_a_look_s_odd_page_is_shown_with_its_problems(page):
    shown = dressed(page, "wrong: </pre><script>x")
    assert b"wrong: &lt;/pre&gt;&lt;script&gt;x" in shown
    assert b"/-/reload.js" in shown


SUPPER = "small-supper/site/"
SPEC = "specs/marsh-sour.md"


def rewritten(house: Path, path: str, old: str, new: str) -> None:
    text = (house / path).read_text("utf-8")
    assert old in text
    (house / path).write_text(text.replace(old, new), encoding="utf-8", newline="\n")


def test_the_pages_somebody_looks_at_are_made_first_and_are_what_they_are_with_all(house):
    last = make_pages(house, None)
    rewritten(house, SPEC, "name: Marsh Sour", "name: Reed Sour")
    looked_at = [
        f"{SUPPER}t/index.html",
        f"{SUPPER}drinks/marsh-sour.html",
        "index.html",
        "gone/site/index.html",
    ]
    first, every = pages_in_turn(house, None, last, looked_at)
    changed = {path for path, content in first.files.items() if content != last.files.get(path)}
    assert changed >= {*looked_at[:2]}
    assert {path for path in changed if path.endswith(".html")} == {*looked_at[:2]}
    assert all(first.files[path] == every.files[path] for path in changed)
    assert b"Reed Sour" in first.files[looked_at[0]]
    assert b"Marsh Sour" in first.files[f"{SUPPER}index.html"]
    assert every.files == make_pages(house, None).files


@pytest.mark.parametrize(
    ("old", "new", "why"),
    [
        ("50 ml gin", "50 ml ginn", "unknown-stock"),
        ("## Bar notes", "[here](#nowhere)\n\n## Bar notes", "dead-link"),
    ],
)
def test_a_page_with_something_wrong_is_not_shown_before_all(house, old, new, why):
    last = make_pages(house, None)
    rewritten(house, SPEC, old, new)
    (only,) = pages_in_turn(house, None, last, [f"{SUPPER}drinks/marsh-sour.html"])
    assert why in only.problems
    assert {**only.files, "index.html": b""} == {**last.files, "index.html": b""}


def test_a_page_that_is_made_first_comes_with_what_it_loads(house):
    last = make_pages(house, None)
    rewritten(house, "stock/all.yaml", "contains: [egg]", "contains: [egg, walnut]")
    first, every = pages_in_turn(house, None, last, [f"{SUPPER}index.html"])
    sheets = {path for path in every.files if path.endswith(".css") and path not in last.files}
    assert sheets
    assert all(first.files[path] == every.files[path] for path in sheets)


def test_pages_nobody_looks_at_are_left_off_for_a_newer_save_but_not_for_ever(house, monkeypatch):
    told: list[Pages] = []
    preview = PreviewServer(house, None, told.append)
    table, drink = f"{SUPPER}t/index.html", f"{SUPPER}drinks/marsh-sour.html"
    preview.come(table)
    for save in range(server._MOST_LEFT_OFF):
        rewritten(house, SPEC, "name: ", f"name: N{save} ")
        preview.renew(lambda: True)
        assert f"N{save} ".encode() in preview.pages.files[table]
        assert b"N0" not in preview.pages.files[drink]
        assert len(told) == 1
    preview.renew(lambda: True)
    assert b"N0" in preview.pages.files[drink]
    assert len(told) == 2
    assert preview.pages.files == make_pages(house, None).files
    rewritten(house, SPEC, "name: ", "name: Late ")
    preview.renew(lambda: True)
    assert b"Late" not in preview.pages.files[drink]
    preview.renew()
    assert b"Late" in preview.pages.files[drink]
    assert len(told) == 3


def test_an_open_page_is_told_once_when_it_has_changed_and_again_if_more_is_to_be_said(house):
    preview = PreviewServer(house, None, lambda _made: None)
    table, drink = f"{SUPPER}t/index.html", f"{SUPPER}drinks/marsh-sour.html"
    lines = {path: preview.come(path) for path in (table, drink)}
    seen = {path: preview.wait_past(line, -1, 0) for path, line in lines.items()}
    rewritten(house, SPEC, "name: Marsh Sour", "name: Reed Sour")
    preview.renew()
    told = {path: preview.wait_past(line, seen[path], 0) for path, line in lines.items()}
    assert all(told[path] > seen[path] for path in lines)
    assert {path: preview.wait_past(line, told[path], 0) for path, line in lines.items()} == told
    preview.renew()
    assert {path: preview.wait_past(line, told[path], 0) for path, line in lines.items()} == told
    rewritten(house, SPEC, "50 ml gin", "50 ml ginn")
    preview.renew()
    assert preview.wait_past(lines[table], told[table], 0) > told[table]


def test_a_page_that_changed_after_it_was_sent_and_before_its_line_was_open_is_told_at_once(house):
    preview = PreviewServer(house, None, lambda _made: None)
    table = f"{SUPPER}t/index.html"
    preview.served(table, preview.pages.shown(table))
    rewritten(house, SPEC, "name: Marsh Sour", "name: Reed Sour")
    preview.renew()
    late = preview.come(table)
    stands = preview.wait_past(late, -1, 0)
    assert preview.wait_past(late, stands, 0) > stands
    for number in range(100):
        preview.served(f"{number}.html", (None, ""))
    assert len(preview._served) == 64
