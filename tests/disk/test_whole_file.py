"""A reader sees the old file or the new one, whatever the disk does and wherever a run is killed."""

import errno
import os
import stat

import pytest

from menugen.disk import Changed, write_whole
from tests.fuzz.trouble import Dead, Disk, at, dead, done_and_refused, refused, since, whole

OLD, NEW = b"old", b"new\n" * 5000


@pytest.mark.parametrize("there", [True, False])
def test_a_run_killed_at_any_step_leaves_the_old_or_the_new_and_the_next_clears_up(tmp_path, there):
    seen = set()
    for step in range(1, 40):
        folder = tmp_path / str(step)
        folder.mkdir()
        if there:
            (folder / "a").write_bytes(OLD)
        done = False
        try:
            with Disk(folder, since(step), dead).between():
                write_whole(folder / "a", NEW, mode=0o640)
                done = True
        except Dead:
            found = (folder / "a").read_bytes() if (folder / "a").exists() else None
            assert found in ((OLD if there else None), NEW)
            seen.add(found)
        write_whole(folder / "b", b"x")
        write_whole(folder / "a", NEW)
        assert whole(folder) == {"a": NEW, "b": b"x"}
        if done:
            break
    assert seen == {OLD if there else None, NEW}


@pytest.mark.parametrize(
    ("trouble", "refuses"),
    [(refused(errno.ENOSPC), True), (refused(errno.EIO), True), (done_and_refused(errno.ESTALE), None)],
)
def test_a_disk_that_refuses_leaves_the_old_one_and_nothing_beside_it(tmp_path, trouble, refuses):
    (tmp_path / "a").write_bytes(OLD)
    faults = 0
    for step in range(1, 40):
        disk = Disk(tmp_path, at(step), trouble)
        with disk.between():
            try:
                write_whole(tmp_path / "a", NEW, before=OLD)
                done = True
            except OSError:
                done = False
        faults += not done
        write_whole(tmp_path / "b", b"")
        assert whole(tmp_path) == {"a": NEW if done else OLD, "b": b""}
        (tmp_path / "a").write_bytes(OLD)
        if len(disk.calls) < step:
            break
    assert (faults > 2) if refuses else faults == 0


@pytest.mark.parametrize("lasting", [True, False])
def test_all_of_it_is_on_the_disk_before_it_takes_its_place_where_it_is_to_last(
    tmp_path, monkeypatch, lasting
):
    stored = []

    def fsync(handle: int) -> None:
        stored.append((os.fstat(handle).st_size, (tmp_path / "a").exists()))

    monkeypatch.setattr(os, "fsync", fsync)
    write_whole(tmp_path / "a", b"new", lasting=lasting)
    assert stored == ([(3, False)] if lasting else [])


def test_what_is_no_longer_as_it_was_read_is_not_written(tmp_path):
    (tmp_path / "a").write_bytes(b"mine")
    with pytest.raises(Changed):
        write_whole(tmp_path / "a", NEW, before=OLD)
    assert whole(tmp_path) == {"a": b"mine"}


@pytest.mark.skipif(os.name == "nt", reason="permissions, as POSIX has them")
def test_permissions_are_what_was_asked_for(tmp_path):
    write_whole(tmp_path / "a", NEW, mode=0o640)
    write_whole(tmp_path / "b", NEW)
    (tmp_path / "plain").touch()
    assert stat.S_IMODE((tmp_path / "a").stat().st_mode) == 0o640
    assert (tmp_path / "b").stat().st_mode == (tmp_path / "plain").stat().st_mode


def test_a_name_that_is_a_folder_is_refused(tmp_path):
    (tmp_path / "a").mkdir()
    with pytest.raises(OSError, match=r"\w"):
        write_whole(tmp_path / "a", NEW)
    assert whole(tmp_path) == {"a": b""}
