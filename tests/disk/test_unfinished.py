"""What a killed run leaves goes; what somebody made, or another run has in hand, stays."""

import os
from pathlib import Path

import pytest

from menugen.disk import (
    START_LOCK,
    clear_unfinished,
    event_folder,
    event_folder_name,
    is_of_start,
    locked,
    start_folder_name,
    unfinished,
)
from menugen.disk.unfinished import unfinished_file

OURS = (".menugen-0123abcd", ".tidy-0123abcd", f".{'0a' * 32}.0123abcd")
THEIRS = (
    *(".menugen", ".menugen-notes", ".menugen-0123abcde", "menugen-0123abcd", ".menugen-0123ABCD"),
    *(".tidy-notebook", ".tidy-0123abcd.md", ".tidy-", f".{'0a' * 31}.0123abcd", "drink.md"),
)


def names(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir()}


def test_what_a_killed_run_left_goes_and_what_is_somebody_s_stays(tmp_path):
    for name in (*OURS, *THEIRS):
        (tmp_path / name).write_bytes(b"x")
    (tmp_path / ".tidy-11111111").mkdir()
    (tmp_path / ".tidy-22222222").symlink_to("drink.md")
    clear_unfinished(tmp_path)
    assert names(tmp_path) == {*THEIRS, ".tidy-11111111", ".tidy-22222222"}
    clear_unfinished(tmp_path / "nowhere")


def test_every_name_that_is_made_is_known_again():
    assert event_folder(event_folder_name("supper", "new")) == ("supper", "new")
    assert event_folder(event_folder_name("a.old-0123abcd", "gone")) == ("a.old-0123abcd", "gone")
    assert is_of_start(start_folder_name())
    for name in (".photos", ".menugen", ".supper.new", "supper.new-0123abcd", ".menugen-0123abcd"):
        assert event_folder(name) is None
        assert not is_of_start(name)


@pytest.mark.parametrize("tidy", [False, True])
def test_what_another_run_has_in_hand_stays(tmp_path, tidy):
    with unfinished_file(tmp_path, tidy=tidy) as (file, path):
        file.write(b"x")
        clear_unfinished(tmp_path)
        assert names(tmp_path) == {path.name}
    assert names(tmp_path) == set()


def test_a_run_that_clears_up_between_making_a_file_and_locking_it_makes_the_writer_begin_again(
    tmp_path, monkeypatch
):
    take, cleared = unfinished.take, []

    def take_late(handle):
        if not cleared:
            cleared.extend(names(tmp_path))
            monkeypatch.setattr(unfinished, "take", take)
            clear_unfinished(tmp_path)
        return take(handle)

    monkeypatch.setattr(unfinished, "take", take_late)
    with unfinished_file(tmp_path) as (file, path):
        file.write(b"x")
        file.flush()
        assert len(cleared) == 1
        assert path.name not in cleared
        assert path.read_bytes() == b"x"


def test_a_house_in_the_making_stays_while_it_is_made_and_goes_after(tmp_path):
    made = tmp_path / start_folder_name()
    (made / "specs").mkdir(parents=True)
    with locked(tmp_path / START_LOCK, wait_seconds=0):
        clear_unfinished(tmp_path)
        assert names(tmp_path) == {made.name, START_LOCK}
    (tmp_path / START_LOCK).touch()
    clear_unfinished(tmp_path)
    assert names(tmp_path) == set()


def test_a_file_that_cannot_be_opened_is_no_open_handle(tmp_path, monkeypatch):
    def fdopen(*_given):
        raise OSError(5, "Input/output error")

    with monkeypatch.context() as patched:
        patched.setattr(os, "fdopen", fdopen)
        with pytest.raises(OSError, match="Input"), unfinished_file(tmp_path):
            pass
    assert names(tmp_path) == set()
