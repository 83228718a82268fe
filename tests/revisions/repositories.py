"""Small repositories for tests: a house written, changed and committed, a step at a time."""

import os
import subprocess
from dataclasses import dataclass
from pathlib import Path

from menugen.comparing import Change, Comparison, by_subject, compare, houses_to_compare
from menugen.publishing import no_progress
from tests.houses import texts


def git(folder: Path, *arguments: str, day: str = "2026-11-01", written: str = "") -> str:
    """Run git at a day, which is when commits are made; `written` is when by their author, if not then."""
    who = ["-c", "user.name=Bar", "-c", "user.email=bar@example.org", "-c", "commit.gpgsign=false"]
    made, wrote = (one if "T" in one else f"{one}T12:00:00+0000" for one in (day, written or day))
    done = subprocess.run(
        ["git", *who, *arguments],
        cwd=folder,
        check=True,
        capture_output=True,
        text=True,
        env={
            **os.environ,
            "GIT_AUTHOR_DATE": wrote,
            "GIT_COMMITTER_DATE": made,
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
        found = houses_to_compare(self.house, old, new, progress=no_progress)
        return compare(found.old, found.new, found.notes)


def books(folder: Path, files: dict[str, str] | None = None, inside: str = "") -> Books:
    """Return a house in a new repository, committed once."""
    made = Books(folder / inside if inside else folder)
    for name, text in (files or texts()).items():
        made.write(name, text)
    git(folder, "init", "-q", "-b", "main", ".")
    made.commit("As we began")
    return made


def only_drink(comparison: Comparison) -> tuple[list[Change], list[Change]]:
    """Return what is declared differently of the one drink that changed, and everything else that changed of it."""
    (changes,) = comparison.drinks.values()
    told = [one for one in changes if one.kind not in ("bottle", "file")]
    return [one for one in told if one.kind == "allergen"], [one for one in told if one.kind != "allergen"]


_FIGURES = ("strength", "volume", "units", "sugar", "acid", "cost", "fit", "menu's word", "lowest price")


def told(comparison: Comparison) -> list[str]:
    """Return everything a comparison tells, a line each; figures by name and cause, since physics has its own tests."""
    lines = [f"new {one.subject.name}" for one in comparison.of("drink", "added")]
    lines += [f"unseen {one.subject.id}" for one in comparison.of("drink", "unknown")]
    lines += [f"gone {one.subject.old_name}" for one in comparison.of("drink", "gone")]
    levels = {"": "not", "distilled from": "distilled", "may contain": "may", "contains": "contains"}
    bottles: dict[str, int] = {}
    lines += [
        f"not on cards {one.subject.id} @{one.where[0]}" for one in comparison.of("drink", "not on cards")
    ]
    for drink, changes in comparison.drinks.items():
        lines += [f"renamed {drink.old_id} {drink.id}" for one in changes if one.kind == "file"]
        for one in changes:
            if one.kind == "allergen":
                lines.append(_line(one, f"{one.fact} {levels[one.before]} -> {levels[one.after]}"))
        for one in changes:
            if one.kind == "bottle":
                bottle = f"bottle {one.fact}: {one.before} -> {one.after}"
                bottles[bottle] = bottles.get(bottle, 0) + 1
            elif one.kind in ("listing", "unread"):
                lines.append(_line(one, f"{one.kind} {one.word}"))
            elif one.kind not in ("allergen", "file", "not on cards"):
                values = "" if one.called in _FIGURES else f" {one.before} -> {one.after}"
                lines.append(_line(one, f"{one.called}{values}"))
    lines += [f"{bottle} ({count})" for bottle, count in sorted(bottles.items())]
    for subject, changes in by_subject(comparison.of("stock", "says")).items():
        what = "; ".join(one.after for one in changes)
        lines.append(f"stock {subject.name}: {what} ({len(changes[0].where + changes[0].would)})")
    lines += [f"stock {one.before} = {one.after}" for one in comparison.of("stock", "name")]
    lines += [f"stock + {one.subject.name}" for one in comparison.of("stock", "added")]
    lines += [f"stock - {one.subject.old_name}" for one in comparison.of("stock", "gone")]
    lines += [f"house {one.after}" for one in comparison.of("house", "says")]
    lines += [f"event + {one.subject.name}" for one in comparison.of("event", "added")]
    lines += [f"event - {one.subject.old_name}" for one in comparison.of("event", "gone")]
    lines += [f"{one.subject.id}: {one.after}" for one in comparison.of("event", "says")]
    lines += [
        f"{one.subject.id}: shared {one.before} -> {one.after}" for one in comparison.of("event", "kitchen")
    ]
    return lines + [f"note {note}" for note in comparison.notes]


def _line(one: Change, what: str) -> str:
    with_swap = f" [{one.swap}]" if one.swap else ""
    what += " (on no menu)" if one.unlisted else ""
    what += f" in {','.join(one.languages)}" if one.languages else ""
    at = f" @{','.join(one.where)}" if one.where else ""
    why = f" <{'; '.join(cause.text for cause in one.causes)}" if one.causes else ""
    return f"{one.subject.id}{with_swap}: {what}{at}{why}"


def figures(slug: str, cause: str, *facts: str) -> list[str]:
    """Return what is told of figures of a drink that one cause moved."""
    return [f"{slug}: {fact} <{cause}" for fact in facts]
