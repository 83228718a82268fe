"""Two runs keep apart, and the lock file is gone once nobody holds it."""

import errno
import os
import threading

import pytest

from menugen.disk import Busy, NoLocks, lock, locked

posix = pytest.mark.skipif(os.name == "nt", reason="Windows locks otherwise")


def test_one_run_holds_it_and_nothing_is_left(tmp_path):
    path = tmp_path / "lock"
    with locked(path, wait_seconds=0):
        assert path.exists()
        with pytest.raises(Busy), locked(path, wait_seconds=0.01):
            pass
        assert path.exists()
    assert not list(tmp_path.iterdir())


def test_what_a_killed_run_left_is_nobody_s(tmp_path):
    path = tmp_path / "lock"
    path.write_bytes(b"")
    with locked(path, wait_seconds=0):
        pass
    assert not path.exists()


@posix
def test_a_lock_on_a_file_that_its_holder_takes_away_keeps_nobody_out(tmp_path, monkeypatch):
    """Another run lets go between our opening of the file and our lock: what we then hold has no name any more."""
    path = tmp_path / "lock"
    take, first = lock.take, [True]

    def take_late(handle):
        if first.pop() if first else False:
            path.unlink()
        return take(handle)

    monkeypatch.setattr(lock, "take", take_late)
    with locked(path, wait_seconds=5):
        monkeypatch.setattr(lock, "take", take)
        assert path.exists()
        with pytest.raises(Busy), locked(path, wait_seconds=0):
            pass


def test_many_at_once_are_never_two_inside(tmp_path):
    inside, most, done = [0], [0], []

    def work():
        for _ in range(20):
            with locked(tmp_path / "lock", wait_seconds=60):
                inside[0] += 1
                most[0] = max(most[0], inside[0])
                inside[0] -= 1
        done.append(True)

    runs = [threading.Thread(target=work) for _ in range(4)]
    for run in runs:
        run.start()
    for run in runs:
        run.join()
    assert (len(done), most[0]) == (4, 1)
    assert not list(tmp_path.iterdir())


@posix
@pytest.mark.parametrize(
    ("number", "expected"),
    [(errno.ENOLCK, NoLocks), (errno.ENOTSUP, NoLocks), (errno.EAGAIN, Busy), (errno.EIO, OSError)],
)
def test_a_disk_without_locks_is_not_a_disk_that_is_busy(tmp_path, monkeypatch, number, expected):
    import fcntl

    def flock(*_given):
        raise OSError(number, "refused")

    monkeypatch.setattr(fcntl, "flock", flock)
    with pytest.raises(expected), locked(tmp_path / "lock", wait_seconds=0):
        pass


def test_a_link_is_not_followed(tmp_path):
    (tmp_path / "mine").write_bytes(b"x")
    (tmp_path / "lock").symlink_to("mine")
    with pytest.raises(OSError, match=r"\w"), locked(tmp_path / "lock", wait_seconds=0):
        pass
    assert (tmp_path / "mine").read_bytes() == b"x"
