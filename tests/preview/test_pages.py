"""Pages under whatever goes wrong while they are made: the last good ones stay, and it is said what."""

from pathlib import Path

import pytest

from menugen.preview import PreviewServer, pages
from menugen.preview.pages import Pages, dressed, make_pages
from menugen.reading import LostLink
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
    "a link": (LostLink("stock", "this is a link, and it leads to nothing"), "stock: this is a link"),
    "a depth": (RecursionError("too deep"), "RecursionError"),
}


@pytest.mark.slow
def test_a_fault_is_told_over_the_last_good_pages_and_the_next_save_mends_it(house, monkeypatch, capfd):
    good = make_pages(house, None)
    assert good.problems == ""
    last = good
    for step, what in [
        *((step, "ours") for step in ("event_files", "gone_from")),
        *(("look_at_house", each) for each in FAULTS),
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
    monkeypatch.setattr(pages, "look_at_house", lambda *_, **__: 1 // 0)
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
        patch.setattr(pages, "look_at_house", lambda *_, **__: 1 // 0)
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
