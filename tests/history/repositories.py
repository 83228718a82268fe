"""Small repositories for tests: a house written, changed and committed, a step at a time."""

import os
import subprocess
from dataclasses import dataclass
from pathlib import Path

from menugen.history import Comparison, Declared, compare, editions
from menugen.publishing import no_progress
from tests.houses import texts


def git(folder: Path, *arguments: str, day: str = "2026-11-01") -> str:
    who = ["-c", "user.name=Bar", "-c", "user.email=bar@example.org", "-c", "commit.gpgsign=false"]
    when = f"{day}T12:00:00+0000"
    done = subprocess.run(
        ["git", *who, *arguments],
        cwd=folder,
        check=True,
        capture_output=True,
        text=True,
        env={**os.environ, "GIT_AUTHOR_DATE": when, "GIT_COMMITTER_DATE": when, "GIT_CONFIG_GLOBAL": os.devnull},
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


def told(comparison: Comparison) -> list[str]:
    """Return everything a comparison tells, a line each, to be compared with what a person would tell."""
    lines = [f"new {name}" for _, name in comparison.added]
    lines += [f"gone {name}" for _, name in comparison.gone]
    levels = {Declared.NOT: "not", Declared.MAY_CONTAIN: "may", Declared.CONTAINS: "contains"}
    for drink in comparison.drinks:
        if drink.slug != drink.old_slug:
            lines.append(f"renamed {drink.old_slug} {drink.slug}")
        for one in drink.allergens:
            swap = f" [{one.swap}]" if one.swap else ""
            where = f" @{','.join(one.where)}" if one.where else ""
            lines.append(
                f"{drink.slug}{swap}: {one.substance} {levels[one.before]} -> {levels[one.after]}{where} <"
                + "; ".join(one.causes)
            )
        for move in drink.moves:
            swap = f" [{move.swap}]" if move.swap else ""
            where = f" @{','.join(move.where)}" if move.where else ""
            why = " <" + "; ".join(move.causes) if move.causes else ""
            lines.append(f"{drink.slug}{swap}: {move.fact} {move.before} -> {move.after}{where}{why}")
    lines += [
        f"bottle {one.name}: {one.before} -> {one.after} ({len(one.reaches)})" for one in comparison.bottles
    ]
    lines += [f"stock {one.name}: {'; '.join(one.what)} ({len(one.reaches)})" for one in comparison.stock]
    lines += [f"stock + {name}" for name in comparison.stock_added]
    lines += [f"stock - {name}" for name in comparison.stock_gone]
    lines += [f"house {what}" for what in comparison.house]
    lines += [f"event + {name}" for name in comparison.events_added]
    lines += [f"event - {name}" for name in comparison.events_gone]
    lines += [f"{event.slug}: {what}" for event in comparison.events for what in event.what]
    lines += [f"note {note}" for note in comparison.notes]
    return lines
