"""Commands that write, each with what it starts from, and what has to hold whatever stops it.

The same command again, on a disk without trouble, must always end where it would have ended at once: the same bytes,
and nothing left over. Before that, whatever a person reads there is the old or the new, whole.
"""

import contextlib
import io
import os
import shutil
import sys
from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import dataclass, field
from pathlib import Path

from menugen.cli import main
from tests.fuzz.trouble import KILLED, Disk, by_two_names, in_a_process_of_its_own, whole, without_waiting
from tests.houses import texts
from tests.revisions.repositories import Books, git


@dataclass(frozen=True)
class Command:
    """A command and what it starts from.

    Attributes:
        name: For messages.
        typed: What is typed, in the folder.
        prepare: Makes the folder as it is before.
        units: Paths that change as a whole; of all others each file does.
        alone: Whether the disk exchanges no folders.
    """

    name: str
    typed: tuple[str, ...]
    prepare: Callable[[Path], object]
    units: tuple[str, ...] = ()
    alone: bool = False


@dataclass
class Case:
    """A command with its states.

    Attributes:
        command: The command.
        folder: Where cases are tried.
        before: What is there before it.
        after: What is there after it.
        prepared: The same as before, as files.
    """

    command: Command
    folder: Path
    before: dict[str, bytes] = field(default_factory=dict)
    after: dict[str, bytes] = field(default_factory=dict)
    prepared: Path = Path()

    def begin(self) -> None:
        """Make both states."""
        self.prepared = self.folder / "prepared"
        self.prepared.mkdir(parents=True)
        with without_waiting():
            self.command.prepare(self.prepared)
        self.before = whole(self.prepared)
        self.fresh()
        assert self.run() == (0, "", 0), self.command.name
        self.after = whole(self.place)
        assert self.before != self.after

    @property
    def place(self) -> Path:
        """Where the command runs."""
        return self.folder / "tried"

    def fresh(self) -> None:
        """Put everything back to before."""
        shutil.rmtree(self.place, ignore_errors=True)
        shutil.copytree(self.prepared, self.place, symlinks=True)

    def run(self, disk: Disk | None = None) -> tuple[int, str, int]:
        """Return how the command ends, what it says is wrong, and how many calls it made."""
        told, counted = self.folder / "told", self.folder / "counted"

        def work() -> int:
            os.chdir(self.place)
            err = io.StringIO()
            with ExitStack() as held:
                held.enter_context(contextlib.redirect_stdout(io.StringIO()))
                held.enter_context(contextlib.redirect_stderr(err))
                held.enter_context(without_waiting())
                if self.command.alone:
                    by_two_names(held)
                if disk is not None:
                    held.enter_context(disk.between())
                code = main(self.command.typed)
            told.write_text(err.getvalue(), encoding="utf-8")
            counted.write_text(str(len(disk.calls) if disk else 0), encoding="utf-8")
            sys.stdout.flush()
            return code

        for path in (told, counted):
            path.unlink(missing_ok=True)
        code = in_a_process_of_its_own(work)
        if code == KILLED:
            return code, "", 0
        if not told.exists():
            return code, "a traceback, above", 0
        return code, told.read_text("utf-8"), int(counted.read_text("utf-8"))

    def faults(self) -> list[str]:
        """Return what is neither old nor new, now that something has stopped the command."""
        found = whole(self.place)
        wrong = []
        for unit in self.command.units:
            states = [_below(state, unit) for state in (self.before, self.after)]
            here = _below(found, unit)
            if here not in states and not (self.command.alone and not here):
                wrong.append(f"{unit} is neither the old nor the new")
        for path, content in found.items():
            if _is_hidden(path) or any(path.startswith(f"{unit}/") for unit in self.command.units):
                continue
            if content not in (self.before.get(path), self.after.get(path)):
                wrong.append(f"{path} is neither the old nor the new")
        wrong += [f"{path} is lost" for path in self.before if path in self.after and path not in found
                  and not any(f"{path}/".startswith(f"{unit}/") for unit in self.command.units)]  # fmt: skip
        return wrong

    def faults_after_the_next(self) -> list[str]:
        """Return what is wrong once the same command has run again."""
        code, told, _ = self.run()
        noise = "an earlier publish was stopped half-way; put back"
        if code == 2 and "is there already and not empty" in told:
            # The house was whole when the run was killed, and no second one begins there.
            with without_waiting():
                _quietly("tidy", str(self.place / "new"))
        elif code or (told and not told.startswith(noise)):
            return [f"the next run ends with {code}: {told}"]
        found = whole(self.place)
        if found == self.after:
            return []
        return [
            f"after the next run, {path} is {'there' if path in found else 'missing' if path in self.after else '?'}"
            for path in sorted(found.keys() | self.after.keys())
            if found.get(path) != self.after.get(path)
        ]


def _below(state: dict[str, bytes], unit: str) -> dict[str, bytes]:
    return {path: content for path, content in state.items() if f"{path}/".startswith(f"{unit}/")}


def _is_hidden(path: str) -> bool:
    """Return whether a path is of what is not finished, and so of nobody's concern."""
    return any(part.startswith((".menugen-", ".tidy-")) or ".new-" in part or ".old-" in part or ".gone-" in part
               for part in path.split("/"))  # fmt: skip


def _house(folder: Path, **changed: str) -> Path:
    for name, text in texts(**changed).items():
        path = folder / "bar" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
    return folder / "bar"


def _quietly(*typed: str) -> None:
    with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
        assert main(typed) == 0, typed


def _three_events(folder: Path) -> Path:
    bar = _house(folder)
    event = (bar / "events/small-supper.yaml").read_text("utf-8")
    for slug, day in (("ball", "2026-12-20"), ("old-party", "2026-12-28")):
        text = (
            event.replace("Small Supper", slug.title()).replace("2026-12-12", day).replace("/s/", f"/{slug}/")
        )
        (bar / f"events/{slug}.yaml").write_text(text, encoding="utf-8")
    _quietly("publish", str(bar), "--quiet")
    (bar / "events/old-party.yaml").rename(bar / "events/z-party.yaml")
    text = (bar / "events/z-party.yaml").read_text("utf-8")
    (bar / "events/z-party.yaml").write_text(
        text.replace("Old-Party", "New Party").replace("28", "30"), encoding="utf-8"
    )
    spec = bar / "specs/marsh-sour.md"
    spec.write_text(spec.read_text("utf-8").replace("Bright", "Brighter"), encoding="utf-8")
    return bar


def _untidy(folder: Path) -> None:
    bar = _house(folder)
    _quietly("tidy", str(bar))
    for name in ("x", "y"):
        text = f"---\nglass: coupe\nname: {name}\n# strong\npour: 50 ml gin\n---\n"
        (bar / f"specs/{name}.md").write_text(text, encoding="utf-8")
    (bar / "stock/more.yaml").write_text("rum: {abv: 40 %}\n", encoding="utf-8")


def _in_git(folder: Path) -> None:
    bar = _house(folder)
    git(bar, "init", "-q", ".")
    Books(bar).commit("As we began")


COMMANDS = (
    Command("publish for the first time", ("publish", "bar", "--quiet"), _house, ("bar/out/small-supper",)),
    *(
        Command(
            f"publish of three events{how}",
            ("publish", "bar", "--remove-gone", "--quiet"),
            _three_events,
            tuple(f"bar/out/{slug}" for slug in ("ball", "old-party", "small-supper", "z-party")),
            alone=bool(how),
        )
        for how in ("", ", by two names")
    ),
    Command("tidy", ("tidy", "bar", "--quiet"), _untidy),
    Command("start", ("start", "new", "--quiet"), lambda folder: (folder / "x").touch(), ("new",)),
    Command("start in a folder", ("start", "new", "--quiet"), lambda folder: (folder / "new/.git").mkdir(parents=True)),
    Command("schema", ("schema", "--to", "schemas", "--quiet"), lambda folder: (folder / "schemas").mkdir()),
    Command(
        "drink --history --to",
        ("drink", "marsh-sour", "--house", "bar", "--history", "--to", "papers", "--quiet"),
        _in_git,
    ),
)  # fmt: skip
