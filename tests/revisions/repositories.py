"""Small repositories for tests: a house written, changed and committed, a step at a time."""

import os
import subprocess
from dataclasses import dataclass
from pathlib import Path

from menugen.comparing.changes import Cause, Comparison, Declared
from menugen.comparing.comparison import compare
from menugen.comparing.editions import editions
from menugen.publishing import no_progress
from tests.houses import texts


def git(folder: Path, *arguments: str, day: str = "2026-11-01") -> str:
    who = ["-c", "user.name=Bar", "-c", "user.email=bar@example.org", "-c", "commit.gpgsign=false"]
    when = day if "T" in day else f"{day}T12:00:00+0000"
    done = subprocess.run(
        ["git", *who, *arguments],
        cwd=folder,
        check=True,
        capture_output=True,
        text=True,
        env={
            **os.environ,
            "GIT_AUTHOR_DATE": when,
            "GIT_COMMITTER_DATE": when,
            "GIT_CONFIG_GLOBAL": os.devnull,
        },
    )
    return done.stdout.strip()


@dataclass
class Books:
    """A house in a repository."""

    house: Path

    def write(self, path: str, text: str) -> None:
        (self.house / path).parent.mkdir(parents=True, exist_ok=True)
        (self.house / path).write_text(text, encoding="utf-8", newline="\n")

    def edit(self, path: str, before: str, after: str) -> None:
        """Change one text in a file; it must be there, or the test tests nothing."""
        text = (self.house / path).read_text("utf-8")
        assert before in text, f"{before!r} is not in {path}"
        self.write(path, text.replace(before, after))

    def edit_stock(self, name: str, before: str, after: str) -> None:
        """Change one text in one stock line."""
        text = (self.house / "stock/all.yaml").read_text("utf-8")
        start = text.index(f"{name}:\n")
        assert before in text[start:], f"{before!r} is not said of {name}"
        self.write("stock/all.yaml", text[:start] + text[start:].replace(before, after, 1))

    def commit(self, subject: str, day: str = "2026-11-01") -> str:
        git(self.house, "add", "-A", ".")
        git(self.house, "commit", "-q", "--allow-empty", "-m", subject, day=day)
        return git(self.house, "rev-parse", "HEAD")

    def compared(self, old: str = "HEAD", new: str | None = None) -> Comparison:
        before, after, _, notes = editions(self.house, old, new, no_progress)
        return compare(before, after, notes)


def books(folder: Path, files: dict[str, str] | None = None, inside: str = "") -> Books:
    """Return a house in a new repository, committed once."""
    made = Books(folder / inside if inside else folder)
    for name, text in (files or texts()).items():
        made.write(name, text)
    git(folder, "init", "-q", "-b", "main", ".")
    made.commit("As we began")
    return made


_FIGURES = ("strength", "volume", "units", "sugar", "acid", "cost", "fit", "menu's word", "lowest price")


def told(comparison: Comparison) -> list[str]:
    """Return everything a comparison tells, a line each; figures by name and cause, since physics has its own tests."""
    lines = [f"new {one.name}" for one in comparison.added]
    lines += [f"unseen {one.now.slug}" for one in comparison.unseen]
    lines += [f"gone {name}" for _, name in comparison.gone]
    levels = {
        Declared.NOT: "not",
        Declared.DISTILLED_FROM: "distilled",
        Declared.MAY_CONTAIN: "may",
        Declared.CONTAINS: "contains",
    }
    for drink in comparison.drinks:
        if drink.slug != drink.old_slug:
            lines.append(f"renamed {drink.old_slug} {drink.slug}")
        for one in drink.allergens:
            move = f"{one.substance} {levels[one.before]} -> {levels[one.after]}"
            lines.append(_line(drink.slug, move, one.swap, one.where, one.causes))
        for one in drink.moves:
            move = one.fact if one.fact in _FIGURES else f"{one.fact} {one.before} -> {one.after}"
            lines.append(_line(drink.slug, move, one.swap, one.where, one.causes))
    for one in comparison.bottles:
        lines.append(f"bottle {one.name}: {one.before} -> {one.after} ({len(one.reaches)})")
    lines += [f"stock {one.name}: {'; '.join(one.what)} ({len(one.reaches)})" for one in comparison.stock]
    lines += [f"stock {before} = {after}" for before, after in comparison.stock_renamed]
    lines += [f"stock + {name}" for name in comparison.stock_added]
    lines += [f"stock - {name}" for name in comparison.stock_gone]
    lines += [f"house {what}" for what in comparison.house]
    lines += [f"event + {name}" for name in comparison.events_added]
    lines += [f"event - {name}" for name in comparison.events_gone]
    lines += [f"{event.slug}: {what}" for event in comparison.events for what in event.what]
    return lines + [f"note {note}" for note in comparison.notes]


def _line(slug: str, move: str, swap: str, where: tuple[str, ...], causes: tuple[Cause, ...]) -> str:
    with_swap = f" [{swap}]" if swap else ""
    at = f" @{','.join(where)}" if where else ""
    why = f" <{'; '.join(cause.text for cause in causes)}" if causes else ""
    return f"{slug}{with_swap}: {move}{at}{why}"
