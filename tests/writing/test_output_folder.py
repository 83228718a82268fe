"""All or nothing: whatever stops a publish, the last output stays whole."""

import errno
import multiprocessing
import os
import subprocess
import sys
import time
import traceback
from pathlib import Path

import pytest

from menugen.disk import OUTPUT_LOCK, exchange, flush_to_disk, locked
from menugen.writing.output_folder import MARKER, WAIT_SECONDS, CannotWrite, NotOurs, output_folder

PAGE = b'<!doctype html>\n<html lang="en"><head><title>x</title></head><body><p id="a">%s</p></body></html>\n'
ROOT = Path(__file__).parents[2]
OLD = {"site/index.html": PAGE % b"old", "site/menu.json": b"{}", "print/qr.svg": b"<svg/>"}
NEW = {"site/index.html": PAGE % b"new", "site/t/index.html": PAGE % b"new", "site/menu.json": b"[]"}


def publish(target: Path, slug: str, files: dict[str, bytes], wait_seconds: float = WAIT_SECONDS) -> None:
    with output_folder(target, wait_seconds=wait_seconds) as output:
        new = output.begin(slug)
        for path, content in files.items():
            if path.endswith(".html"):
                new.text(path, (content.decode(),))
            else:
                new.data(path, content)
        assert new.faults() == ()
        output.finish()


needs_linux = pytest.mark.skipif(
    sys.platform != "linux", reason="an audit of system calls, as Linux names them"
)


def held(folder: Path) -> dict[str, bytes]:
    return {
        str(file.relative_to(folder).as_posix()): file.read_bytes()
        for file in folder.rglob("*")
        if file.is_file() and file.name != MARKER
    }


def beside(target: Path) -> set[str]:
    return {entry.name for entry in target.iterdir()}


def test_the_folder_holds_exactly_the_files(tmp_path):
    target = tmp_path / "not" / "yet"
    publish(target, "supper", OLD)
    assert held(target / "supper") == OLD
    publish(target, "supper", NEW)
    assert held(target / "supper") == NEW
    assert beside(target) == {"supper"}


def test_pages_can_be_read_by_everyone_the_umask_lets(tmp_path):
    publish(tmp_path, "supper", OLD)
    plain = tmp_path / "plain"
    plain.mkdir()
    assert (tmp_path / "supper").stat().st_mode == plain.stat().st_mode


@pytest.mark.parametrize("stranger", ["a folder", "a file", "a link"])
def test_what_menugen_did_not_make_is_left_alone(tmp_path, stranger):
    place = tmp_path / "supper"
    mine = tmp_path / "mine"
    mine.mkdir()
    (mine / "photo.jpg").write_bytes(b"x")
    if stranger == "a folder":
        mine.rename(place)
    elif stranger == "a file":
        place.write_bytes(b"x")
    else:
        place.symlink_to(mine)
    with pytest.raises(NotOurs, match="left alone"):
        publish(tmp_path, "supper", NEW)
    if stranger == "a file":
        assert place.read_bytes() == b"x"
    else:
        assert held(place) == {"photo.jpg": b"x"}


def test_an_empty_folder_may_be_filled(tmp_path):
    (tmp_path / "supper").mkdir()
    publish(tmp_path, "supper", NEW)
    assert held(tmp_path / "supper") == NEW


@pytest.mark.parametrize("path", ["../x", "/x", "a/../../x", "", "a\\b", "c:x", "a\0b", MARKER])
def test_a_path_that_leads_outside_is_our_own_fault(tmp_path, path):
    with pytest.raises(ValueError, match=r"not a path|own mark"):
        publish(tmp_path, "supper", {path: b"x"})
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("slug", ["", ".", "..", "a/b", ".hidden", "/a"])
def test_a_slug_is_one_plain_name(tmp_path, slug):
    with pytest.raises(ValueError, match="not a"):
        publish(tmp_path, slug, NEW)


def test_pages_are_looked_at_as_they_are_written_and_what_is_not_finished_changes_nothing(tmp_path):
    publish(tmp_path, "supper", OLD)
    broken = (PAGE % b"new").replace(b"<p ", b'<a href="gone.html">x</a><p ').decode()
    with output_folder(tmp_path) as output:
        new = output.begin("supper")
        new.text("site/index.html", (broken,))
        assert tuple(map(str, new.faults())) == ('site/index.html links to "gone.html", which is not there',)
    assert held(tmp_path / "supper") == OLD
    assert beside(tmp_path) == {"supper"}


WATCHED = {"open", "os.rename", "os.mkdir", "os.remove", "os.rmdir", "os.scandir", "os.listdir"}
KILLED, PUBLISHED, REFUSED, NOT_REACHED = 9, 0, 3, 7


def run_until(stop: int, how: str, swap: str, target: Path) -> int:
    """Publish NEW in a process that is killed, or finds the disk full, at its step number `stop`."""
    child = os.fork()
    if child == 0:
        try:
            os._exit(_publish_watched(stop, how, swap, target))
        except BaseException:  # noqa: BLE001  (the child must never come back into the test run)
            traceback.print_exc()
            os._exit(1)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def _publish_watched(stop: int, how: str, swap: str, target: Path) -> int:
    steps = 0

    def watch(event: str, arguments: tuple[object, ...]) -> None:
        nonlocal steps
        if event == "ctypes.dlsym" and swap == "two names":
            raise AttributeError("a C library that does not know the call")
        # What is removed is named from within its folder, so its path does not tell.
        if event in WATCHED and (
            str(arguments[0]).startswith(str(target)) or event in ("os.remove", "os.rmdir")
        ):
            steps += 1
            if steps == stop and how == "killed":
                os._exit(KILLED)
            if steps == stop and how == "full":
                raise OSError(errno.ENOSPC, "No space left on device")

    sys.addaudithook(watch)
    try:
        publish(target, "supper", NEW)
    except CannotWrite as fault:
        (target / "said").write_text(fault.message)
        return REFUSED
    return PUBLISHED if steps >= stop else NOT_REACHED


@pytest.mark.slow
@needs_linux
@pytest.mark.parametrize("swap", ["one step", "two names"])
def test_a_run_killed_at_any_step_leaves_the_old_or_the_new_whole(tmp_path, swap):
    seen = set()
    for stop in range(1, 80):
        target = tmp_path / str(stop)
        publish(target, "supper", OLD)
        ended = run_until(stop, "killed", swap, target)
        assert ended in (KILLED, NOT_REACHED)
        if ended == NOT_REACHED:
            break
        if (target / "supper").exists():
            state = held(target / "supper")
        else:
            # Only without a single step, and only between the two names: the old one lies beside its place.
            assert swap == "two names"
            (aside,) = target.glob(".supper.old-*")
            state = held(aside)
        assert state in (OLD, NEW)
        seen.add("new" if state == NEW else "old")
        publish(target, "supper", NEW)
        assert held(target / "supper") == NEW
        assert beside(target) == {"supper"}
    else:
        pytest.fail("the publish never came to its end")
    assert stop > 10
    assert seen == {"old", "new"}


@pytest.mark.slow
@needs_linux
@pytest.mark.parametrize("swap", ["one step", "two names"])
def test_a_disk_full_at_any_step_leaves_a_whole_output_and_nothing_beside(tmp_path, swap):
    refused = 0
    for stop in range(1, 80):
        target = tmp_path / str(stop)
        publish(target, "supper", OLD)
        ended = run_until(stop, "full", swap, target)
        if ended == NOT_REACHED:
            break
        assert ended in (PUBLISHED, REFUSED)
        assert held(target / "supper") == (OLD if ended == REFUSED else NEW)
        if ended == REFUSED:
            refused += 1
            assert "the disk is full" in (target / "said").read_text()
            assert beside(target) == {"supper", "said"}
    else:
        pytest.fail("the publish never came to its end")
    assert refused > 5


@needs_linux
def test_a_file_the_system_will_not_take_is_refused_in_plain_words(tmp_path):
    publish(tmp_path, "supper", OLD)
    code = (
        "import resource, signal, sys\nfrom pathlib import Path\n"
        "from menugen.writing.output_folder import output_folder, CannotWrite\n"
        "signal.signal(signal.SIGXFSZ, signal.SIG_IGN)\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096))\n"
        "try:\n with output_folder(Path(sys.argv[1])) as out: out.begin('supper').data('big.bin', b'x' * 9000)\n"
        "except CannotWrite as fault: print(fault.message)\n"
    )
    command = [sys.executable, "-c", code, str(tmp_path)]
    ended = subprocess.run(command, capture_output=True, text=True, check=False, cwd=ROOT)
    assert "cannot be written: a file would be larger than the system allows" in ended.stdout
    assert held(tmp_path / "supper") == OLD
    assert beside(tmp_path) == {"supper"}


def test_a_target_that_is_a_file_is_said_plainly(tmp_path):
    (tmp_path / "out").write_bytes(b"x")
    with pytest.raises(CannotWrite, match="a part of that path is a file"):
        publish(tmp_path / "out", "supper", NEW)
    with pytest.raises(CannotWrite, match="a part of that path is a file"):
        publish(tmp_path / "out" / "deeper", "supper", NEW)


@pytest.mark.skipif(not Path("/proc/self").exists(), reason="needs a file system that takes no files")
def test_a_file_system_that_takes_no_files_is_said_plainly():
    with pytest.raises(CannotWrite, match="cannot be written: "):
        publish(Path("/proc/menu"), "supper", NEW)


def test_another_run_at_work_is_waited_for_and_then_named(tmp_path):
    lock = tmp_path / OUTPUT_LOCK
    with locked(lock, wait_seconds=0), pytest.raises(CannotWrite, match="by another run"):
        publish(tmp_path, "supper", NEW, wait_seconds=0.1)
    assert beside(tmp_path) == set()


def _publish_often(target: str, letter: str) -> None:
    page = PAGE % letter.encode()
    files = {f"{number}.html": page for number in range(20)}
    for _ in range(8):
        publish(Path(target), "supper", files)


@pytest.mark.slow
def test_two_at_once_do_not_mix_and_a_reader_never_finds_nothing(tmp_path):
    publish(tmp_path, "supper", {f"{number}.html": PAGE % b"a" for number in range(20)})
    context = multiprocessing.get_context("spawn")
    runs = [context.Process(target=_publish_often, args=(str(tmp_path), letter)) for letter in "ab"]
    for run in runs:
        run.start()
    looked = 0
    while any(run.is_alive() for run in runs):
        assert (tmp_path / "supper").is_dir()
        looked += 1
        time.sleep(0.001)
    for run in runs:
        run.join()
        assert run.exitcode == 0
    assert looked > 10
    assert len(set(held(tmp_path / "supper").values())) == 1
    assert beside(tmp_path) == {"supper"}


@needs_linux
def test_two_folders_change_places_in_one_step(tmp_path):
    for name in "ab":
        (tmp_path / name).mkdir()
        (tmp_path / name / name).touch()
    assert exchange(tmp_path / "a", tmp_path / "b") in (True, False)
    with pytest.raises(OSError, match="No such file") as caught:
        exchange(tmp_path / "a", tmp_path / "nowhere")
    assert caught.value.errno == errno.ENOENT


def test_waiting_for_the_disk_names_what_is_not_there(tmp_path):
    (tmp_path / "a").touch()
    flush_to_disk(tmp_path, [tmp_path / "a"])
    with pytest.raises(OSError, match="No such file"):
        flush_to_disk(tmp_path / "nowhere", [])


def test_what_killed_runs_left_of_any_event_goes_and_what_is_somebody_s_stays(tmp_path):
    ours = (".late.new-0123abcd", ".supper.new-0123abcd", ".supper.gone-0123abcd", ".a.b.old-0123abcd")
    theirs = (".late.new", ".late.new-0123abc", ".late.newer-0123abcd", "late.new-0123abcd", ".photos")
    for name in (*ours, *theirs):
        (tmp_path / name).mkdir()
        (tmp_path / name / "x").touch()
    (tmp_path / ".link.new-0123abcd").symlink_to(".photos")
    (tmp_path / ".file.new-0123abcd").touch()
    publish(tmp_path, "supper", NEW)
    # What is called old and has nothing in its place is the only good output of its event.
    assert beside(tmp_path) == {"supper", "a.b", *theirs, ".link.new-0123abcd", ".file.new-0123abcd"}
    assert all((tmp_path / name / "x").exists() for name in ("a.b", *theirs))
