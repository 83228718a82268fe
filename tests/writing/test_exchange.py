"""All events take their places, or none does: whatever refuses, and wherever a run is killed."""

import errno
import shutil
import sys
from collections.abc import Callable
from contextlib import ExitStack
from pathlib import Path
from unittest import mock

import pytest

from menugen.disk import EXCHANGE, event_folder, system
from menugen.writing import exchange
from menugen.writing.faults import CannotWrite, NotOurs
from menugen.writing.output_folder import OutputFolder, output_folder
from tests.fuzz.trouble import (
    KILLED,
    Dead,
    Disk,
    at,
    by_two_names,
    dead,
    done_and_refused,
    folder_in_memory,
    in_a_process_of_its_own,
    killed,
    refused,
    since,
    whole,
    without_waiting,
)

PAGE = '<!doctype html>\n<html lang="en"><head><title>x</title></head><body><p id="a">{}</p></body></html>\n'
EVENTS = ("ball", "first", "supper")
"""The middle one has never been published."""

needs_linux = pytest.mark.skipif(sys.platform != "linux", reason="kills a process that was forked")


def write(output: OutputFolder, word: str, slugs: tuple[str, ...] = EVENTS) -> None:
    for slug in slugs:
        new = output.begin(slug)
        new.text("site/index.html", (PAGE.format(f"{slug} {word}"),))
        new.data("site/menu.json", word.encode())
        assert new.faults() == ()


def put(target: Path, word: str, slugs: tuple[str, ...] = EVENTS, remove: tuple[str, ...] = ()) -> None:
    with output_folder(target, wait_seconds=0) as output:
        write(output, word, slugs)
        output.finish(remove)


@pytest.fixture
def states(tmp_path):
    """What an output folder holds before, and after a publish that also removes an event that is gone."""
    before, after = tmp_path / "before", tmp_path / "after"
    for target in (before, after):
        put(target, "old", ("ball", "supper", "gone"))
    put(after, "new", remove=("gone",))
    return whole(before), whole(after)


def new_output(tmp_path: Path, name: str = "out") -> Path:
    target = tmp_path / name
    shutil.copytree(tmp_path / "before", target)
    return target


def run_with(disk: Disk, work: Callable[[], object]) -> str | None:
    """Return why a publish refused, or None."""
    with disk.between():
        try:
            work()
        except CannotWrite as caught:
            return caught.message
    return None


def kill(target: Path, step: int, work: Callable[[Path], object]) -> bool:
    """Return whether something was stopped at a step, or came to its end before."""
    with Disk(target, since(step), dead).between():
        try:
            work(target)
        except Dead:
            return True
    return False


def truly_kill(target: Path, step: int) -> bool:
    """Return whether a publish was killed at a step, or came to its end before."""

    def run() -> int:
        with Disk(target, at(step), killed).between():
            publish_new(target)
        return 0

    ended = in_a_process_of_its_own(run)
    assert ended in (0, KILLED)
    return ended == KILLED


def mend(target: Path) -> None:
    with output_folder(target, wait_seconds=0):
        pass


def publish_new(target: Path) -> None:
    put(target, "new", remove=("gone",))


@pytest.fixture
def tmp_path(tmp_path):
    with folder_in_memory(tmp_path) as folder:
        yield folder


@pytest.fixture(autouse=True)
def no_waiting():
    with without_waiting():
        yield


@pytest.fixture(params=["one step", "two names"])
def swap(request):
    with ExitStack() as held:
        if request.param == "two names":
            by_two_names(held)
        yield request.param


def of_one_event(state: dict[str, bytes], slug: str) -> dict[str, bytes]:
    return {path: content for path, content in state.items() if path.partition("/")[0] == slug}


@pytest.mark.slow
def test_a_run_killed_at_any_step_is_put_back_or_was_done(tmp_path, states, swap):
    before, after = states
    seen = []
    for step in range(1, 200):
        target = new_output(tmp_path, f"out{step}")
        if not kill(target, step, publish_new):
            break
        found = whole(target)
        for slug in (*EVENTS, "gone"):
            state = of_one_event(found, slug)
            assert state in (of_one_event(before, slug), of_one_event(after, slug)) or (
                swap == "two names" and not state and any(target.glob(f".{slug}.*/.menugen"))
            ), (step, slug)
        mend(target)
        found = whole(target)
        assert found in (before, after), step
        seen.append("new" if found == after else "old")
        publish_new(target)
        assert whole(target) == after
    else:
        pytest.fail("the publish never came to its end")
    assert step > 40
    # Once it counts as published it stays so.
    assert seen == sorted(seen, reverse=True)
    assert set(seen) == {"old", "new"}


@needs_linux
def test_a_process_that_is_killed_leaves_no_less(tmp_path, states):
    """As above, of a few steps: at the first write, the record, the exchange, the clearing away."""
    before, after = states
    for step in (9, 34, 41, 46, 52):
        target = new_output(tmp_path, f"out{step}")
        assert truly_kill(target, step)
        mend(target)
        assert whole(target) in (before, after)


@pytest.mark.slow
def test_a_run_that_is_killed_while_it_puts_back_what_a_killed_one_left(tmp_path, states, swap):
    before, after = states
    for first in (39, 42, 45):
        for second in range(1, 60):
            target = new_output(tmp_path, f"out{first}-{second}")
            assert kill(target, first, publish_new)
            again = kill(target, second, mend)
            mend(target)
            assert whole(target) in (before, after), (first, second)
            if not again:
                break


@pytest.mark.slow
@pytest.mark.parametrize(
    "trouble",
    [refused(errno.ENOSPC), refused(errno.EXDEV), done_and_refused(errno.ESTALE)],
    ids=["ENOSPC", "EXDEV", "done and refused"],
)
def test_a_disk_that_refuses_any_step_leaves_all_as_it_was(tmp_path, states, swap, trouble):
    before, after = states
    refusals = 0
    for step in range(1, 200):
        target = new_output(tmp_path, f"out{step}")
        disk = Disk(target, at(step), trouble)
        fault = run_with(disk, lambda target=target: publish_new(target))
        if fault is not None:
            refusals += 1
            assert "cannot be written: " in fault
            assert "could not be put back" not in fault
            # Before anything is mended: each event is as it was, whatever lies beside it.
            assert {path: it for path, it in whole(target).items() if path[0] != "."} == before
        mend(target)
        assert whole(target) == (after if fault is None else before), (step, fault)
        if len(disk.calls) < step:
            break
    else:
        pytest.fail("the publish never came to its end")
    # What was done and only said to have failed is noticed, every time.
    assert (refusals == 0) == (trouble.__qualname__.startswith("done_and"))


@pytest.mark.slow
def test_a_disk_that_is_gone_from_one_step_on_is_mended_once_it_is_back(tmp_path, states, swap):
    before, after = states
    told = set()
    for step in range(1, 200):
        target = new_output(tmp_path, f"out{step}")
        disk = Disk(target, since(step), refused(errno.ESTALE))
        fault = run_with(disk, lambda target=target: publish_new(target))
        told.add("could not be put back" in (fault or ""))
        mend(target)
        assert whole(target) == (after if fault is None else before), (step, fault)
        if len(disk.calls) < step:
            break
    assert told == {True, False}


def test_the_message_says_that_everything_is_as_it_was(tmp_path, states):
    before, _ = states
    target = new_output(tmp_path)
    real = system._exchanged

    def exchanged(one: bytes, other: bytes) -> bool:
        if other.decode().endswith("/supper"):
            raise OSError(errno.EBUSY, "refused")
        return real(one, other)

    with mock.patch.object(system, "_exchanged", exchanged), pytest.raises(CannotWrite) as caught:
        publish_new(target)
    assert caught.value.message == (
        f"{target}/supper cannot be written: another program or a mounted disk has hold of it; "
        "everything published there is as it was"
    )
    assert whole(target) == before


def test_where_it_cannot_be_put_back_the_message_says_what_is_where(tmp_path, states):
    before, _ = states
    target = new_output(tmp_path)
    real = system._exchanged

    def exchanged(one: bytes, other: bytes) -> bool:
        if other.decode().endswith("/supper"):
            locked.append(True)
        if locked:
            raise OSError(errno.EACCES, "refused")
        return real(one, other)

    locked: list[bool] = []
    with mock.patch.object(system, "_exchanged", exchanged), pytest.raises(CannotWrite) as caught:
        publish_new(target)
    [old] = target.glob(".ball.new-*")
    assert caught.value.message == (
        f"{target}/supper cannot be written: permission to write there is missing; "
        f"what had changed could not be put back: {target}/ball is new, and what it replaced is {old} "
        f"(permission to write there is missing), {target}/first is as it was, {target}/supper is as it was, "
        f"{target}/gone is as it was; the next publish there tries again, so leave these folders where they are"
    )
    assert "ball old" in (old / "site/index.html").read_text("utf-8")
    with output_folder(target, wait_seconds=0) as output:
        assert output.put_back == ("ball",)
    assert whole(target) == before


@pytest.mark.parametrize("remove", [(), ("gone",)], ids=["nothing removed", "one removed"])
def test_a_publish_is_done_once_its_record_is_gone_though_the_disk_says_otherwise(tmp_path, states, remove):
    target = new_output(tmp_path)
    real = Path.unlink

    def unlink(path: Path, **named: bool) -> None:
        real(path, **named)
        if path.name == EXCHANGE:
            raise OSError(errno.ESTALE, "the answer was lost")

    with mock.patch.object(Path, "unlink", unlink):
        put(target, "new", remove=remove)
    assert (target / "ball/site/menu.json").read_text("utf-8") == "new"
    assert (target / "gone").exists() is (not remove)


def test_the_message_says_so_of_a_folder_that_was_never_touched(tmp_path, states):
    target = new_output(tmp_path)
    refusal = OSError(errno.EACCES, "refused")
    with (
        mock.patch.object(exchange, "_take", side_effect=refusal),
        mock.patch.object(exchange, "_undo", side_effect=refusal),
        pytest.raises(CannotWrite) as caught,
    ):
        publish_new(target)
    assert f"{target}/supper is as it was (permission to write there is missing)" in caught.value.message


def test_the_message_says_so_of_a_folder_that_was_never_there(tmp_path, states):
    target = new_output(tmp_path)
    shutil.rmtree(target / "supper")
    refusal = OSError(errno.EACCES, "refused")
    with (
        mock.patch.object(exchange, "_take", side_effect=refusal),
        mock.patch.object(exchange, "_undo", side_effect=refusal),
        pytest.raises(CannotWrite) as caught,
    ):
        publish_new(target)
    assert f"{target}/supper is not there, as before" in caught.value.message


def test_between_two_names_the_message_names_the_old_folder_and_not_the_new(tmp_path, states, monkeypatch):
    before, _ = states
    target = new_output(tmp_path)
    real = exchange.move
    locked: list[bool] = []

    def move(source: Path, place: Path) -> None:
        if source.name.startswith(".supper.new-"):
            locked.append(True)
        if locked:
            raise OSError(errno.EACCES, "refused")
        real(source, place)

    with monkeypatch.context() as held:
        held.setattr(system, "_exchanged", lambda *_names: False)
        held.setattr(exchange, "move", move)
        with pytest.raises(CannotWrite) as caught:
            publish_new(target)
    [old] = target.glob(".supper.old-*")
    [_new] = target.glob(".supper.new-*")
    assert f"{target}/supper is missing, and what was there is {old} (" in caught.value.message
    assert "supper old" in (old / "site/index.html").read_text("utf-8")
    mend(target)
    assert whole(target) == before


def test_an_output_of_the_same_again_stays_where_somebody_took_the_new_one_away(tmp_path, states):
    _, after = states
    target = new_output(tmp_path)
    publish_new(target)
    kept = whole(target)
    with (
        mock.patch.object(exchange, "_take", side_effect=Dead),
        mock.patch.object(exchange, "_put_back", return_value={}),
        mock.patch("shutil.rmtree"),
        pytest.raises(Dead),
    ):
        put(target, "new")
    assert (target / EXCHANGE).exists()
    for new in target.glob(".*.new-*"):
        shutil.rmtree(new)
    mend(target)
    assert whole(target) == kept == after


def test_a_run_that_is_stopped_by_hand_puts_all_back(tmp_path, states):
    before, _ = states
    target = new_output(tmp_path)
    real = system._exchanged

    def exchanged(one: bytes, other: bytes) -> bool:
        if other.decode().endswith("/supper"):
            raise KeyboardInterrupt
        return real(one, other)

    with mock.patch.object(system, "_exchanged", exchanged), pytest.raises(KeyboardInterrupt):
        publish_new(target)
    assert whole(target) == before


@pytest.mark.slow
def test_a_publish_of_the_same_again_changes_nothing_and_leaves_nothing(tmp_path, states, swap):
    _, after = states
    target = new_output(tmp_path)
    publish_new(target)
    publish_new(target)
    assert whole(target) == after
    for step in range(1, 200):
        disk = Disk(target, at(step), refused(errno.EIO))
        run_with(disk, lambda: publish_new(target))
        mend(target)
        assert whole(target) == after, step
        if len(disk.calls) < step:
            break


def test_half_of_an_old_output_is_never_put_in_place(tmp_path):
    """A run was killed while it took an old folder away, and somebody removed the new one by hand."""
    put(tmp_path / "before", "old")
    target = new_output(tmp_path)
    removing = []

    def rmtree(folder, **_named):
        removing.append(event_folder(Path(folder).name))
        (Path(folder) / "site/index.html").unlink(missing_ok=True)

    with (
        mock.patch.object(system, "_exchanged", return_value=False),
        mock.patch("shutil.rmtree", rmtree),
    ):
        put(target, "new")
    assert {one.what for one in removing if one} == {"gone", "new"}
    for path in (target / "ball").rglob("*"):
        if path.is_file():
            path.unlink()
    (target / "ball/site").rmdir()
    (target / "ball").rmdir()
    with output_folder(target, wait_seconds=0):
        pass
    assert not (target / "ball").exists()


def test_a_record_that_menugen_did_not_write_stops_the_publish(tmp_path):
    put(tmp_path / "before", "old")
    target = new_output(tmp_path)
    for text in (
        "{",
        "[]",
        '{"steps": [["../x", ".a.new-0123abcd", ".a.old-0123abcd", "", true]]}',
        '{"steps": [["ball", "supper", ".a.old-0123abcd", "", true]]}',
        '{"steps": [["ball", ".a.new-0123abcd", "../.a.old-0123abcd", "", true]]}',
        '{"steps": [[1, 2, 3, 4, 5]]}',
        '{"steps": [["", ".a.new-0123abcd", ".a.old-0123abcd", "", true]]}',
    ):
        (target / EXCHANGE).write_text(text, encoding="utf-8")
        before = whole(target)
        with pytest.raises(CannotWrite, match="is not as menugen writes it"):
            publish_new(target)
        assert whole(target) == before


def test_what_is_not_ours_is_removed_with_nothing(tmp_path, states):
    before, _ = states
    target = new_output(tmp_path)
    (target / "mine").mkdir()
    with pytest.raises(NotOurs):
        put(target, "new", remove=("gone", "mine"))
    (target / "mine").rmdir()
    assert whole(target) == before


def test_the_lock_files_of_earlier_versions_go(tmp_path):
    put(tmp_path / "before", "old")
    target = new_output(tmp_path)
    for name in (".ball.lock", ".nobody.lock"):
        (target / name).touch()
    (target / ".supper.lock").write_bytes(b"mine")
    put(target, "new")
    assert {path.name for path in target.glob(".*.lock")} == {".nobody.lock", ".supper.lock"}


def told_in_order(target: Path, monkeypatch: pytest.MonkeyPatch, fails: str = "") -> list[str]:
    """Return what a publish does from now on, in order: what it brings to the disk, and what it changes there."""
    done: list[str] = []

    def names(_folder: Path) -> None:
        done.append("names, recorded" if (target / EXCHANGE).exists() else "names")

    def files(_folder: Path, written: list[Path]) -> None:
        new = [folder for folder in target.iterdir() if ".new-" in folder.name]
        assert {*written} == {target, *new, *(path for folder in new for path in folder.rglob("*"))}
        done.append("files")

    def noted(word: str, how: Callable[..., object]) -> Callable[..., object]:
        def noting(*arguments: Path, **options: bool) -> object:
            done.append(word)
            if fails and arguments[1] == target / fails:
                raise OSError(errno.EIO, "no")
            return how(*arguments, **options)

        return noting

    monkeypatch.setattr("menugen.writing.output_folder.flush_to_disk", files)
    monkeypatch.setattr(exchange, "flush_file", names)
    for word, name in (("record", "write_whole"), ("take", "exchange"), ("take", "move")):
        monkeypatch.setattr(exchange, name, noted(word, getattr(exchange, name)))
    return done


def test_each_thing_is_on_the_disk_before_what_counts_on_it(tmp_path, states, monkeypatch):
    """No machine here loses its power; so it is the order that is held: files, record, names, folders, names, word."""
    target = new_output(tmp_path)
    done = told_in_order(target, monkeypatch)
    publish_new(target)
    assert done[:3] == ["files", "record", "names, recorded"]
    assert done[3:7] == ["take"] * 4, "three events, and one that is gone"
    # The record goes only when the new names are on the disk, and what was replaced only when the record's going is.
    assert done[7:9] == ["names, recorded", "names"]
    assert set(done[9:]) <= {"take"}
    assert whole(target) == states[1]


def test_what_is_put_back_is_on_the_disk_before_the_record_goes(tmp_path, states, monkeypatch):
    target = new_output(tmp_path)
    done = told_in_order(target, monkeypatch, fails="supper")
    with pytest.raises(CannotWrite, match="as it was"):
        publish_new(target)
    assert done[:3] == ["files", "record", "names, recorded"]
    assert done[-2:] == ["names, recorded", "names"]
    assert whole(target) == states[0]
