"""menugen drink --history."""

import argparse
import json
import textwrap
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from menugen.alarms import alarm_words
from menugen.cli.compare_json import drink_json
from menugen.cli.compare_text import facts_of, moved_lines, renamed_words
from menugen.cli.drink import which_there_are
from menugen.cli.finding import NotFound, Target, files_of, find_house
from menugen.cli.terminal import Progress, fail
from menugen.comparing import Change, DrinkFigures, told_otherwise
from menugen.names import typed_slug
from menugen.past.chart import NARROW, WIDE, chart_svg
from menugen.past.drink_history import DrinkHistory, DrinkVersion, NoSuchDrink, VersionKind, history_of
from menugen.problems import visible
from menugen.reading import read_house
from menugen.report import Item, Items, Note, Plot, Report, Section, as_html, as_text, listed
from menugen.revisions import Commit, NoHistory
from menugen.writing import PublishFault
from menugen.writing.one_file import put_file
from menugen.writing.policy import seal

_MOST_MERGED = 6
"""Commits of a merged branch that are named before the rest is counted."""

_HEADING = 200
"""Letters of a heading: a subject may be as long as a book."""

_HOW_TO_READ = (
    "Each scale is fitted to its values and does not begin at zero. A figure holds until the next version; where it is "
    "not known, or the drink was gone, there is no line. Cost is without tax; an open ring, and a +, is a cost without "
    "bottles that have no price or size."
)

_OF_ONE_DRINK = ("set", "aim", "by", "step", "working")
"""Options that are about the drink as it is, and mean nothing of its past."""


def run(args: argparse.Namespace) -> int:
    """Print every version of one drink that changed a fact, and how its figures went; or write a page of it."""
    if refused := _misuse(args):
        return fail(refused)
    progress = Progress(quiet=args.quiet or args.json)
    slug = typed_slug(args.spec, ".md")
    event = typed_slug(args.event, ".yaml", ".yml") if args.event else None
    try:
        target = find_house(args.spec, args.house)
    except NotFound as fault:
        return fail(str(fault))
    try:
        life = history_of(target.folder, slug, event=event, until=args.at, progress=progress)
    except NoSuchDrink as fault:
        return fail(f"{fault}{_meant(target, slug, args.at)}")
    except NoHistory as fault:
        return fail(str(fault))
    finally:
        progress.clear()
    if args.to:
        return _write(life, Path(args.to), quiet=args.quiet)
    print(life_json(life) if args.json else life_text(life))
    return 0


def _misuse(args: argparse.Namespace) -> str:
    """Return what does not go together in what was typed; empty where all does."""
    if not args.history:
        return "--to says where the page of a drink's history goes: give --history as well"
    for name in _OF_ONE_DRINK:
        if getattr(args, name):
            return f"--{name} works on the drink as it is, not on its history: leave one of the two out"
    if args.to and args.json:
        return "--to writes a page and --json prints: leave one of the two out"
    return ""


def _meant(target: Target, slug: str, revision: str | None) -> str:
    house = read_house(files_of(target, revision)).house
    return which_there_are(slug, house.specs) if house else ""


def _write(life: DrinkHistory, folder: Path, *, quiet: bool) -> int:
    try:
        if _real_name(folder) == "site":
            return fail(
                f"{folder} has the name of what goes on the web, and this page is private: name another folder"
            )
        path = put_file(folder / "bar", f"{life.slug}.html", life_html(life).encode())
    except PublishFault as fault:
        return fail(fault.message)
    if not quiet:
        print(f"{visible(str(path))} (private: for the bar, not for the website)")
    return 0


def _real_name(folder: Path) -> str:
    """Return the name a folder has where links lead; as typed where they lead nowhere: writing there says why."""
    try:
        return folder.resolve().name
    except (OSError, RuntimeError):
        return folder.name


def life_text(life: DrinkHistory) -> str:
    """Return a drink's life as text, 80 columns wide, the oldest version first."""
    last = life.versions[-1:]
    sections = [
        Section(_heading(version), _said(version, figures=not version.changes or version in last))
        for version in life.versions
    ]
    notes = tuple(Note(f"note: {note}", indent=2, hang=2) for note in life.notes)
    if notes:
        sections.append(Section(blocks=notes))
    return as_text(Report(life.name, sections=tuple(sections)))


def _heading(version: DrinkVersion) -> str:
    commit = version.commit
    if commit is None:
        return "not committed yet"
    return textwrap.shorten(f"{commit.day} {commit.short} {commit.subject}", _HEADING, placeholder=" ...")


def _said(version: DrinkVersion, *, figures: bool = True) -> tuple[Items | Note, ...]:
    """Return what is said of one version, and what it comes to: the same words in the terminal and on the page."""
    said = Items(tuple(_lines(version)))
    if version.figures is None or not figures:
        return (said,)
    return said, Note(", ".join(_figure_words(version.figures)), 2, 2)


def _lines(version: DrinkVersion) -> Iterator[Item]:
    if version.merged:
        yield Item("merged here", tuple(_merged(version.merged)))
    match version.kind:
        case VersionKind.FIRST:
            yield Item("first version that is known")
        case VersionKind.CUT:
            yield Item("the oldest version that was read")
        case VersionKind.GONE:
            on = version.becomes
            goes_on = f"; it goes on as {on.name} ({on.slug})" if on else ""
            yield Item(f"gone from the house{goes_on}")
        case VersionKind.BACK:
            yield Item("there again" + ("" if version.changes else ", as it was"))
        case VersionKind.CHANGED if not version.changes and version.figures is not None:
            yield Item("can be worked out again, and is as it was")
    if version.changes:
        yield from _changes(version.changes)
    if version.fault:
        yield Item(f"cannot be worked out: {version.fault}")


def _merged(commits: tuple[Commit, ...]) -> Iterator[str]:
    for commit in commits[:_MOST_MERGED]:
        yield f"{commit.day} {commit.short} {commit.subject}"
    if len(commits) > _MOST_MERGED:
        yield f"and {len(commits) - _MOST_MERGED} more"


def _changes(changes: Sequence[Change]) -> Iterator[Item]:
    alarming = told_otherwise(changes)
    yield from (Item(alarm_words(one), loud=True) for one in alarming)
    yield from (Item(*line) for line in moved_lines(one for one in changes if one not in alarming))
    drink = changes[0].subject
    if (drink.id, drink.name) != (drink.old_id, drink.old_name):
        yield Item(renamed_words(drink))
    if not (alarming or facts_of(changes)):
        yield from (Item(f"bottle {one.before} -> {one.after}") for one in changes if one.kind == "bottle")


def life_html(life: DrinkHistory) -> str:
    """Return a drink's life as one HTML page for the bar, the newest version first; private, since it holds costs."""
    chart = Plot("", chart_svg(life, WIDE), chart_svg(life, NARROW), _HOW_TO_READ)
    sections = [
        Section("Strength, sugar and cost", (chart,)),
        Section("Versions that changed a fact, the newest first"),
    ]
    sections += (Section(_heading(version), _said(version)) for version in reversed(life.versions))
    sections += listed("Of this page", map(Item, life.notes))
    report = Report(life.name, (Note(life.slug),), tuple(sections))
    return seal(as_html(report, title=f"{life.name}: its history", why="It shows what drinks cost."))


def _figure_words(figures: DrinkFigures) -> Iterator[str]:
    strength = figures.strength_percent
    yield "strength not known" if strength is None else f"{strength:.1f} % vol"
    yield f"{figures.sugar_g_per_l:.0f} g/l sugar"
    if figures.cost is None:
        yield "cost not known"
        return
    without = (
        f", without {', '.join(figures.unpriced)}, of no known price or size" if figures.unpriced else ""
    )
    yield f"cost {figures.cost:.2f} {figures.currency}".rstrip() + without


def life_json(life: DrinkHistory) -> str:
    """Return a drink's life as JSON; private, since it holds costs."""
    told = {
        "drink": life.slug,
        "name": life.name,
        "versions": [_version_json(version) for version in life.versions],
        "notes": list(life.notes),
    }
    return json.dumps(told, ensure_ascii=False, indent=2)


def _commit_json(commit: Commit | None) -> dict[str, str | None]:
    return {key: getattr(commit, key, None) for key in ("revision", "day", "subject")}


def _version_json(version: DrinkVersion) -> dict[str, Any]:
    figures = version.figures
    strength = figures.strength_percent if figures else None
    return {
        "turn": version.kind.value,
        **_commit_json(version.commit),
        "merged": [_commit_json(commit) for commit in version.merged],
        "goes_on_as": version.becomes.slug if version.becomes else None,
        "fault": version.fault or None,
        "moved": drink_json(version.changes) if version.changes else None,
        "strength_percent": None if strength is None else round(strength, 4),
        "sugar_g_per_l": round(figures.sugar_g_per_l, 4) if figures else None,
        "cost": str(figures.cost) if figures and figures.cost is not None else None,
        "cost_without": list(figures.unpriced) if figures else None,
        "currency": figures.currency if figures else None,
        "contains": list(figures.contains) if figures and not figures.unread else None,
        "may_contain": list(figures.may_contain) if figures and not figures.unread else None,
        "distilled_from": list(figures.distilled_from) if figures and not figures.unread else None,
        "unread": list(figures.unread) if figures else None,
    }
