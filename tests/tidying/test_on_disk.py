"""A file that is tidied is the old one or the new one, with every comment, whatever stops the run."""

import errno
import os
import stat
from pathlib import Path

import pytest

from menugen.cli import main
from tests.fuzz.trouble import (
    Dead,
    Disk,
    at,
    dead,
    done_and_refused,
    folder_in_memory,
    refused,
    since,
    whole,
    without_waiting,
)

UNTIDY = "---\nglass: coupe   # a cold one\nname: X\n# the strong part\npour:\n - 50 ml gin\n---\nNotes.\n"
STOCK = "rum: {abv: 40 %}\n"


@pytest.fixture
def bar(tmp_path, monkeypatch):
    with folder_in_memory(tmp_path) as folder:
        monkeypatch.chdir(folder)
        yield prepared(folder / "bar")
        monkeypatch.undo()


def prepared(bar: Path) -> Path:
    for name, text in {
        "house.yaml": "name: A\nregion: GB-ENG\n",
        "specs/x.md": UNTIDY,
        "specs/y.md": UNTIDY.replace("\n", "\r\n"),
        "stock/all.yaml": STOCK,
        "elsewhere/z.md": UNTIDY,
    }.items():
        (bar / name).parent.mkdir(parents=True, exist_ok=True)
        (bar / name).write_text(text, encoding="utf-8", newline="")
    (bar / "specs/z.md").unlink(missing_ok=True)
    (bar / "specs/z.md").symlink_to("../elsewhere/z.md")
    (bar / "specs/x.md").chmod(0o600)
    return bar


def test_links_permissions_and_line_endings_stay(bar):
    assert main(["tidy", "bar", "--quiet"]) == 0
    assert (bar / "specs/z.md").is_symlink()
    assert (bar / "elsewhere/z.md").read_bytes() == (bar / "specs/x.md").read_bytes() != UNTIDY.encode()
    crlf = (bar / "specs/y.md").read_bytes()
    assert crlf.count(b"\r\n") == crlf.count(b"\n") > 5
    assert b"# the strong part" in crlf
    assert b"# a cold one" in crlf
    if os.name != "nt":
        assert stat.S_IMODE((bar / "specs/x.md").stat().st_mode) == 0o600
        assert stat.S_IMODE((bar / "specs/y.md").stat().st_mode) != 0o600


@pytest.mark.slow
@pytest.mark.parametrize("way", ["killed", "refused", "done and refused", "gone"])
def test_whatever_stops_it_each_file_is_old_or_new_and_the_next_run_leaves_nothing(bar, capsys, way):
    for name in ("specs/y.md", "stock/all.yaml"):
        (bar / name).unlink()
    old = whole(bar)
    with without_waiting():
        assert main(["tidy", "bar", "--quiet"]) == 0
    new = whole(bar)
    trouble, wanted = {
        "killed": (dead, since),
        "refused": (refused(errno.EIO), at),
        "done and refused": (done_and_refused(errno.ESTALE), at),
        "gone": (refused(errno.ETIMEDOUT), since),
    }[way]
    for step in range(1, 200, 1 if way in ("killed", "refused") else 3):
        for path in ("specs/x.md", "elsewhere/z.md"):
            (bar / path).write_bytes(old[path])
        (bar / "specs/z.md").unlink()
        (bar / "specs/z.md").symlink_to("../elsewhere/z.md")
        disk = Disk(Path("bar"), wanted(step), trouble)
        code = None
        capsys.readouterr()
        try:
            with disk.between():
                code = main(["tidy", "bar", "--quiet"])
        except Dead:
            pass
        told = capsys.readouterr().err
        assert "own" not in told
        assert code is None or code in (0, 1, 2)
        assert code == 0 or way == "killed" or told.startswith(("menugen: ", "bar/"))
        found = whole(bar)
        for path, content in old.items():
            assert found[path] in (content, new[path]), (step, path)
        with without_waiting():
            assert main(["tidy", "bar", "--quiet"]) == 0
        assert whole(bar) == new, step
        if len(disk.calls) < step:
            break
    assert 200 > step > 25
