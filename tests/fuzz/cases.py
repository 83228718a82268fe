"""One case: a house spoilt step by step, commands run on it inside this process, and what must hold always."""

import contextlib
import io
import json
import os
import re
import signal
import stat
import time
import traceback
import unicodedata
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass
from pathlib import Path
from random import Random
from typing import Any

from menugen.cli import main
from menugen.house_photos import KEPT
from menugen.problems import Place, Span
from menugen.reading import DiskFiles, read_house
from tests.fuzz import past, spoiling
from tests.fuzz.agreeing import TOGETHER, Disagreement
from tests.fuzz.asking import Asking
from tests.fuzz.bases import bases
from tests.fuzz.past import World, git_takes, write_past

MOST_S = 30
"""On a machine that has other work, too; of what runs several commands, three times as long."""
MOST_GROWN_KB = 200_000
_LITTER = re.compile(r"(^|/)(\.tidy-|\.start|\.photos/\.|\.[\w.-]+\.(new|old|half)|[^/]*-[0-9a-f]{8}\.tmp)")


class Hang(BaseException):
    """A command has taken longer than anybody waits."""


@dataclass(frozen=True)
class Finding:
    """Something that must not be.

    Attributes:
        what: The kind of fault, the same for the same cause: "KeyError in menugen.facts.serve:120".
        command: What was typed.
        details: All there is to see.
    """

    what: str
    command: tuple[str, ...]
    details: str


@dataclass(frozen=True)
class Plan:
    """What is done in one case: all of it follows from the seed.

    Attributes:
        seed: Of everything.
        base: The sound house it begins with.
        steps: What is done to it, by name; each takes its chances from the seed and its own number.
        commands: How many are run.
    """

    seed: int
    base: str
    steps: tuple[str, ...]
    commands: int


_KINDS: Mapping[str, tuple[Callable[..., None], ...]] = {
    "text": spoiling.TEXT,
    "past": past.PAST,
    "disk": spoiling.ON_DISK,
    "git": past.REPOSITORY,
}
_STEPS = {f"{kind}.{step.__name__}": step for kind, steps in _KINDS.items() for step in steps}


def plan_of(seed: int) -> Plan:
    """Return the case of a seed: every other house is spoilt so gently that most of it can still be worked out."""
    chance = Random(seed)
    text, past_, disk, git = (_named(kind) for kind in ("text", "past", "disk", "git"))
    if gentle := chance.random() < 0.5:
        text = [f"text.{step.__name__}" for step in spoiling.GENTLE]
    steps = [chance.choice(text) for _ in range(chance.choice((0, 1, 1, 1, 2, 2, 3, 5)))]
    if chance.random() < 0.5:
        steps.insert(0, "past.commit") if chance.random() < 0.7 else None
        for _ in range(chance.choice((1, 2, 3, 5, 9))):
            steps += [chance.choice(text)] * (chance.random() < 0.6) + [chance.choice(past_)]
        steps += [chance.choice(text)] * (chance.random() < 0.4)
        steps += [chance.choice(git)] * (chance.random() < 0.25)
    steps += [chance.choice(disk) for _ in range(0 if gentle else chance.choice((0, 0, 0, 1, 2)))]
    base = chance.choice(("first", "small", "every key", "every key"))
    return Plan(seed, base, tuple(steps), chance.choice((3, 5, 8)))


def _named(kind: str) -> list[str]:
    """Return the steps of a kind; what stands there more than once is more likely."""
    return [f"{kind}.{step.__name__}" for step in _KINDS[kind]]


def _chance(plan: Plan, part: object) -> Random:
    return Random(f"{plan.seed}:{part}")


def _write(folder: Path, files: Mapping[str, bytes]) -> None:
    for name, content in files.items():
        if not git_takes(name) or "\0" in name:
            continue
        path = folder / name
        with contextlib.suppress(OSError, ValueError):
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content)


def run_case(plan: Plan, room: Path, only: frozenset[int] | None = None) -> tuple[list[Finding], int]:
    """Return what must not be of one case, and how many commands were run.

    Args:
        plan: The case.
        room: An empty folder to run it in.
        only: Which steps are done, by number; None does all.
    """
    world = World(dict(bases()[plan.base]))
    steps = [(number, name) for number, name in enumerate(plan.steps) if only is None or number in only]
    for number, name in steps:
        if name.startswith("text."):
            _STEPS[name](world.files, _chance(plan, number))
        elif name.startswith("past."):
            _STEPS[name](world, _chance(plan, number))
    top = room / "house"
    house = top / world.inside if world.inside else top
    house.mkdir(parents=True)
    (room / "beside").mkdir()
    (room / "beside" / "kept.txt").write_text("not menugen's")
    _write(house, world.files)
    if world.commits:
        write_past(world, top)
    for number, name in steps:
        with contextlib.suppress(OSError):
            if name.startswith("disk."):
                _STEPS[name](house, _chance(plan, number))
            elif name.startswith("git.") and (top / ".git").is_dir():
                _STEPS[name](top, _chance(plan, number))
    found: list[Finding] = []
    for number in range(plan.commands):
        command = Asking(world, _chance(plan, f"command {number}")).one()
        if _stays(command, room):
            found += run_command(command, room, house)
    return found, plan.commands


def _stays(command: list[str], room: Path) -> bool:
    """Return whether a system can give such words, and all that is named lies around the room: a case writes there."""
    try:
        if any(b"\0" in os.fsencode(word) for word in command):
            return False
    except UnicodeEncodeError:
        return False
    words = [word.partition("=")[2] if word.startswith("--") else word for word in command]
    with contextlib.suppress(OSError, ValueError, RuntimeError):
        return all((room / word).resolve().is_relative_to(room.parent) for word in words)
    return True


def run_command(command: list[str], room: Path, house: Path) -> list[Finding]:
    """Return what must not be of one command, run in a folder that holds the house."""
    before, said = _lying(room), _said(house) if command[0] == "tidy" else None
    here = Path.cwd()
    os.chdir(room)
    try:
        ran = _Ran(command, house)
    finally:
        os.chdir(here)
    wrong = list(ran.wrong())
    if not wrong:
        wrong += _what_was_written(command, before, _lying(room), ran.code)
    if command[0] == "tidy" and not wrong and not ran.out.startswith("usage:"):
        wrong += _tidied(command, room, house, said, ran)
    details = f"exit {ran.code}\n--- out\n{ran.out[-3000:]}\n--- err\n{ran.err[-3000:]}\n{ran.trace}"
    return [Finding(what, tuple(command), details) for what in wrong]


class _Ran:
    """One command that was run."""

    def __init__(self, command: list[str], house: Path) -> None:
        self.command, self.trace, self.what = command, "", ""
        out, err = _stream(), _stream()
        grown_kb = _peak_kb(reset=True)
        allowed_s = MOST_S * 3 if command[0] in TOGETHER else MOST_S
        begun = time.monotonic()
        self.code = -1
        try:
            with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err), _no_longer_than(allowed_s):
                self.code = (
                    TOGETHER[command[0]](house, *command[1:]) if command[0] in TOGETHER else main(command)
                )
        except SystemExit as left:
            self.code = left.code if isinstance(left.code, int) else 1
        except BaseException as fault:  # whatever it is, it is what is looked for
            if isinstance(fault, KeyboardInterrupt):
                raise
            self.trace = "".join(traceback.format_exception(fault)[-12:])
            self.what = (
                str(fault)
                if isinstance(fault, Disagreement)
                else f"{type(fault).__name__} in {_innermost(fault)}"
            )
        self.took_s, self.grown_kb = time.monotonic() - begun, _peak_kb() - grown_kb
        self.out, self.err = _told(out), _told(err)

    def wrong(self) -> Iterator[str]:
        """Yield what must not be, whatever the command."""
        if self.what:
            yield self.what
            return
        name = self.command[0]
        if self.code not in (0, 1, 2):
            yield f"{name}: exit code {self.code}"
        if "Traceback (most" in self.err or "menugen's own" in self.err:
            yield f"{name}: a fault of menugen's own"
        if self.code and not (self.out.strip() or self.err.strip()) and "--quiet" not in self.command:
            yield f"{name}: exit {self.code} without a word"
        # compare ends with 2, too, where it could not look, and says so where it would say what changed.
        could_not_look = name == "compare" and "nothing could be compared" in self.out
        if self.code == 2 and self.out.strip() and not could_not_look:
            yield f"{name}: wrong use, and something on standard output"
        if self.grown_kb > MOST_GROWN_KB:
            yield f"{name}: {self.grown_kb // 1024} MB more memory"
        # What argparse says of wrong words quotes them as they were typed.
        if name != "completion" and not self.err.startswith("usage:"):
            yield from self._wrongly_said(name)

    def _wrongly_said(self, name: str) -> Iterator[str]:
        as_json = "--json" in self.command[: _end(self.command)]
        raw = {letter for letter in self.err if _obeyed(letter)}
        raw |= {letter for letter in self.out if (_never_in_json if as_json else _obeyed)(letter)}
        if raw:
            yield f"{name}: raw {', '.join(sorted(f'U+{ord(letter):04X}' for letter in raw))}"
        if as_json and self.out.strip() and not self.out.startswith(("usage:", "menugen ")):
            try:
                json.loads(self.out)
            except ValueError as fault:
                yield f"{name}: its JSON is none: {fault}"


def _end(command: list[str]) -> int:
    return command.index("--") if "--" in command else len(command)


def _obeyed(letter: str) -> bool:
    """Return whether a terminal may obey a character, or show it as another."""
    return letter not in "\n\t" and (
        unicodedata.category(letter) in ("Cc", "Cs", "Zl", "Zp")
        or letter in "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
    )


def _never_in_json(letter: str) -> bool:
    """Return whether a character must not stand in JSON as it is: what shows a text otherwise is data there."""
    return letter != "\n" and unicodedata.category(letter) in ("Cc", "Cs")


def _stream() -> io.TextIOWrapper:
    return io.TextIOWrapper(io.BytesIO(), encoding="utf-8", errors="replace", newline="\n")


def _told(stream: io.TextIOWrapper) -> str:
    stream.flush()
    buffer = stream.buffer
    assert isinstance(buffer, io.BytesIO)
    return buffer.getvalue().decode("utf-8")


def _innermost(fault: BaseException) -> str:
    frames = traceback.extract_tb(fault.__traceback__)
    ours = [frame for frame in frames if "/menugen/" in frame.filename] or list(frames)
    return f"{ours[-1].filename.rpartition('/menugen/')[2]}:{ours[-1].lineno}" if ours else "nowhere"


@contextlib.contextmanager
def _no_longer_than(seconds: float) -> Iterator[None]:
    def late(_signal: int, _frame: object) -> None:
        raise Hang

    if not hasattr(signal, "setitimer"):
        yield
        return
    was = signal.signal(signal.SIGALRM, late)
    # Somebody else may be waiting too: a test's own limit.
    left_s, _ = signal.setitimer(signal.ITIMER_REAL, seconds)
    try:
        yield
    finally:
        signal.signal(signal.SIGALRM, was)
        signal.setitimer(signal.ITIMER_REAL, left_s)


def _peak_kb(*, reset: bool = False) -> int:
    """Return the most memory this process has had since the last reset, where the system counts that; else 0."""
    with contextlib.suppress(OSError, ValueError):
        if reset:
            Path("/proc/self/clear_refs").write_text("5")
        text = Path("/proc/self/status").read_text()
        return int(text.partition("VmHWM:")[2].split()[0])
    return 0


def _lying(room: Path) -> dict[str, tuple[Any, ...]]:
    """Return what lies in a folder: path -> what it is, how large, and when it was written."""
    lying: dict[str, tuple[Any, ...]] = {}
    for folder, folders, names in os.walk(room):
        for name in (*folders, *names):
            path = os.path.join(folder, name)  # noqa: PTH118  # a thousand times faster in a thousand cases
            found = os.lstat(path)
            kind = stat.S_IFMT(found.st_mode)
            lying[os.path.relpath(path, room)] = (
                (kind,)
                if stat.S_ISDIR(found.st_mode)
                else (kind, found.st_size, found.st_mtime_ns, found.st_ino)
            )
    return lying


_WRITES = {
    "(preview)": ("*" + KEPT,),
    "(publish twice)": ("twice", "*" + KEPT),
    "tidy": ("*",),
    "start": ("*",),
}
"""Where a command that names no folder may write: below the room, or with a star anywhere so called."""


def _allowed(command: list[str]) -> tuple[str, ...]:
    """Return where a command may write, below the room."""
    options = command[: _end(command)]
    to = next((word.partition("=")[2] for word in options if word.startswith("--to")), None)
    match command[0]:
        case "publish":
            return (os.path.normpath(to),) if to is not None else ("*out",)
        case "schema":
            return (os.path.normpath(to or ".schemas"),)
        case "drink":
            return (os.path.normpath(os.path.join(to, "bar")),) if to else ()  # noqa: PTH118
    return _WRITES.get(command[0], ())


def _what_was_written(
    command: list[str], before: Mapping[str, Any], after: Mapping[str, Any], code: int
) -> Iterator[str]:
    changed = {path for path in before.keys() | after.keys() if before.get(path) != after.get(path)}
    if any(path.startswith("beside/") for path in changed):
        yield f"{command[0]}: wrote to what is not the house's"
    if any(".git/" in f"{path}/" for path in changed if command[0] != "start"):
        named = next((word for word in command if word.startswith("--to=")), "")
        if ".git" not in named:
            yield f"{command[0]}: wrote to the repository"
    new = {path for path in after if path not in before}
    if left := sorted(path for path in new if _LITTER.search(path)):
        yield f"{command[0]}: left {left[0]}"
    for path in sorted(changed):
        if not any(_within(path, where) for where in _allowed(command)):
            yield f"{command[0]}: wrote {re.sub('[0-9a-f]{6,}', '...', path)[:80]}"
            break
    if code == 2 and changed - {path for path in changed if KEPT in path or path.endswith("out")}:
        yield f"{command[0]}: wrong use, and something was written"


def _within(path: str, where: str) -> bool:
    if where.startswith("*"):
        steps = path.split("/")
        return where == "*" or where[1:] in steps or path.endswith("/out")
    return path == where or path.startswith(f"{where}/") or where.startswith(f"{path}/") or where == "."


def _said(house: Path) -> object:
    """Return everything a house says, without where it says so, and what is wrong with it."""
    with contextlib.suppress(OSError, Hang), _no_longer_than(MOST_S):
        reading = read_house(DiskFiles(house))
        wrong = sorted((problem.code, problem.where.file, problem.message) for problem in reading.problems)
        return _plain(reading.house), wrong
    return None


def _plain(value: object) -> object:
    if isinstance(value, (Place, Span)):
        return None
    if is_dataclass(value) and not isinstance(value, type):
        said = {field.name: _plain(getattr(value, field.name)) for field in fields(value)}
        if isinstance(off := said.get("off"), list):
            # Those that are off have no order of their own.
            said["off"] = sorted(off, key=str)
        return said
    if isinstance(value, Mapping):
        return {key: _plain(one) for key, one in value.items()}
    if isinstance(value, (list, tuple)):
        return [_plain(one) for one in value]
    return value


def _tidied(command: list[str], room: Path, house: Path, said: object, ran: _Ran) -> Iterator[str]:
    if _said(house) != said:
        yield "tidy: the house says something else"
    before = _lying(room)
    here = Path.cwd()
    os.chdir(room)
    try:
        again = _Ran(command, house)
    finally:
        os.chdir(here)
    yield from again.wrong()
    if before != _lying(room) or (again.out and "--check" not in command):
        yield "tidy: something is left to do the second time"
    if "cannot be tidied without changing" in ran.err:
        yield "tidy: did not trust itself"
