"""Saves are seen whatever becomes of the folders, of the system's watch, and of the pages made last time."""

import errno
import shutil
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from watchdog.observers import Observer

from menugen.preview import watching
from menugen.preview.watching import Watch
from tests.houses import texts


class Seen:
    """A watch over a small house, and how often it called."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.calls = 0
        self.lines: list[str] = []
        self.faults: list[BaseException] = []
        self.watch = Watch(folder, self.renew, self.lines.append)

    def renew(self) -> None:
        self.calls += 1
        if self.faults:
            raise self.faults.pop()

    def after(self, change: object) -> None:
        """Do something, and wait until a call has come of it and no more do."""
        self.still()
        before = self.calls
        change()  # type: ignore[operator]
        for _ in range(400):
            if self.calls > before:
                break
            time.sleep(0.02)
        assert self.calls > before, "it was not seen"
        self.still()

    def still(self) -> None:
        calls = -1
        while calls != self.calls:
            calls = self.calls
            time.sleep(0.2)


@pytest.fixture
def seen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Seen]:
    monkeypatch.setattr(watching, "LOOK_S", 0.1)
    house = tmp_path / "bar"
    lay(house)
    made = Seen(house)
    before = threading.excepthook
    yield made
    made.watch.stop()
    assert not made.watch._thread.is_alive()
    assert threading.excepthook is before


def lay(house: Path) -> None:
    for name, text in texts().items():
        path = house / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")


def touched(path: Path) -> object:
    return lambda: path.write_text(path.read_text("utf-8") + "\n", encoding="utf-8")


@pytest.mark.slow
def test_a_save_is_seen_after_whatever_was_raised_at_the_last(seen):
    seen.watch.start()
    seen.faults = [ValueError("pages"), MemoryError(), OSError("disk")]
    for _ in range(4):
        seen.after(touched(seen.folder / "specs/marsh-sour.md"))
    assert seen.lines == []


def test_a_save_while_pages_are_made_is_known_before_they_are_done(seen, tmp_path):
    known: list[bool] = []
    done = threading.Event()

    def renew() -> None:
        known.append(watch.has_more())
        if len(known) == 1:
            watch.saved()
            known.append(watch.has_more())
        else:
            done.set()

    watch = Watch(tmp_path, renew, seen.lines.append)
    watch.start()
    watch.saved()
    assert done.wait(10)
    watch.stop()
    assert known == [False, True, False]
    assert watch.has_more(), "nobody wants any more"


@pytest.mark.slow
def test_a_house_that_goes_and_comes_back_is_watched_again(seen):
    seen.watch.start()
    away = seen.folder.with_name("away")
    seen.after(lambda: seen.folder.rename(away))
    seen.after(lambda: away.rename(seen.folder))
    seen.after(touched(seen.folder / "specs/marsh-sour.md"))
    seen.after(lambda: shutil.rmtree(seen.folder))
    seen.after(lambda: lay(seen.folder))
    seen.after(touched(seen.folder / "stock/all.yaml"))
    seen.after((seen.folder / "house.yaml").unlink)
    seen.after(lambda: lay(seen.folder))
    assert seen.lines == []


@pytest.mark.slow
def test_a_folder_deleted_and_made_again_is_watched_again(seen):
    seen.watch.start()

    def again() -> None:
        shutil.rmtree(seen.folder / "specs")
        lay(seen.folder)

    # Twice at once, as the second may have the number of the first.
    for change in (again, again, lambda: shutil.rmtree(seen.folder / "specs"), lambda: lay(seen.folder)):
        seen.after(change)
        if (seen.folder / "specs").exists():
            seen.after(touched(seen.folder / "specs/marsh-sour.md"))


@pytest.mark.slow
def test_where_the_system_watches_no_more_saves_are_looked_for(seen, monkeypatch):
    def full(*_: object, **__: object) -> None:
        raise OSError(errno.ENOSPC, "inotify watch limit reached")

    observer = type(Observer())
    monkeypatch.setattr(observer, "schedule", full)
    seen.watch.start()
    (line,) = seen.lines
    assert line == "menugen: this system watches no more folders, so saves are looked for once a second"
    seen.after(touched(seen.folder / "specs/marsh-sour.md"))
    seen.after(lambda: (seen.folder / "specs/new.md").write_text("x", encoding="utf-8"))
    seen.after((seen.folder / "specs/new.md").unlink)
    (seen.folder / "themes/mine").mkdir(parents=True)
    seen.still()
    seen.after(lambda: (seen.folder / "themes/mine/theme.yaml").write_text("x", encoding="utf-8"))
    # A publish that has not ended is none.
    (seen.folder / "out/small-supper").mkdir(parents=True)
    seen.still()
    calls = seen.calls
    (seen.folder / "out/.photos").mkdir()
    (seen.folder / "out/small-supper/page.html").write_text("x", encoding="utf-8")
    seen.still()
    assert seen.lines == [line]
    assert seen.calls - calls <= 1  # the folder's own time


@pytest.mark.slow
def test_where_no_watch_starts_saves_are_looked_for(seen, monkeypatch):
    def refused(_self: object) -> None:
        raise RuntimeError("can't start new thread")

    monkeypatch.setattr(type(Observer()), "start", refused)
    seen.watch.start()
    seen.after(touched(seen.folder / "specs/marsh-sour.md"))
    assert len(seen.lines) == 1


@pytest.mark.slow
def test_a_watch_that_fails_later_is_one_line_and_saves_are_looked_for(seen, capfd):
    seen.watch.start()
    failing = type(Observer())()
    failing.run = lambda: 1 // 0  # type: ignore[method-assign]
    failing.start()
    failing.join()
    assert len(seen.lines) == 1
    seen.watch._observer.unschedule_all()
    seen.after(touched(seen.folder / "specs/marsh-sour.md"))
    assert capfd.readouterr() == ("", "")


@pytest.mark.slow
def test_a_burst_is_one_call_and_one_without_end_is_not_waited_for(seen):
    seen.watch.start()
    calls = seen.calls
    for _ in range(10):
        seen.watch.saved()
        time.sleep(0.01)
    seen.still()
    assert seen.calls == calls + 1
    until = time.monotonic() + watching.LONGEST_S * 2.5
    while time.monotonic() < until:
        seen.watch.saved()
        time.sleep(0.01)
    assert seen.calls > calls + 1
