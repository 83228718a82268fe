"""menugen drink --history."""

import argparse
import json
import textwrap
import unicodedata
from pathlib import Path, PurePosixPath
from typing import Any

from menugen.cli.compare_text import WIDTH, drink_json, moved_lines
from menugen.cli.finding import NotFound, find_house
from menugen.cli.terminal import Progress, fail
from menugen.history import AllergenMove, Declared, Life, NoHistory, Version, chart_text, life_of


def run(args: argparse.Namespace) -> int:
    """Print every version of one drink that changed a fact, and how its figures went."""
    progress = Progress(quiet=args.quiet or args.json)
    slug = _stem(args.spec, ".md")
    event = _stem(args.event, ".yaml", ".yml") if args.event else None
    try:
        target = find_house(args.spec, args.house)
        life = life_of(target.folder, slug, event=event, until=args.at, progress=progress)
    except (NotFound, NoHistory) as fault:
        return fail(str(fault))
    finally:
        progress.clear()
    if not life.versions and not life.notes:
        return fail(f'the history knows no spec called "{slug}"')
    print(life_json(life) if args.json else life_text(life))
    return 0


def _stem(typed: str, *endings: str) -> str:
    name = unicodedata.normalize("NFC", PurePosixPath(Path(typed).as_posix()).name)
    for ending in endings:
        name = name.removesuffix(ending)
    return name


def life_text(life: Life) -> str:
    """Return a drink's life as text, 80 columns wide, the oldest version first."""
    out = [life.name]
    for version in life.versions:
        out += ["", _heading(version)]
        if version.moved is None:
            out += _wrapped("first version that is known" if version.figures else "not worked out")
            continue
        out += [line for one in version.moved.allergens for line in _wrapped(_allergen_words(one))]
        for head, under in moved_lines(version.moved):
            out += _wrapped(head)
            out += [line for words in under for line in _wrapped(words, deeper=True)]
        moved = version.moved
        if (moved.slug, moved.name) != (moved.old_slug, moved.old_name):
            names = f"{moved.old_name} ({moved.old_slug}) -> {moved.name} ({moved.slug})"
            out += _wrapped(f"renamed: {names}")
        if not (moved.moves or moved.allergens):
            out += [line for _, was, now in moved.bottles for line in _wrapped(f"bottle {was} -> {now}")]
    if chart := chart_text(life):
        out += ["", chart]
    for note in life.notes:
        out += ["", *_wrapped(f"note: {note}")]
    return "\n".join(out)


def _heading(version: Version) -> str:
    if version.commit is None:
        return "not committed yet"
    return textwrap.shorten(
        f"{version.commit.day}  {version.commit.short}  {version.commit.subject}", WIDTH, placeholder=" ..."
    )


def _wrapped(text: str, *, deeper: bool = False) -> list[str]:
    indent = "    " if deeper else "  "
    return textwrap.wrap(
        text, WIDTH, initial_indent=indent, subsequent_indent=indent + "  ", break_on_hyphens=False
    )


def _allergen_words(one: AllergenMove) -> str:
    mark = "!! ALLERGEN GAINED: " if one.gained else "allergen declared no longer: "
    level = one.after if one.gained else one.before
    kind = "contains" if level is Declared.CONTAINS else "may contain"
    swap = f" with {one.swap}" if one.swap else ""
    return f"{mark}{kind} {one.word}{swap}, because {'; '.join(cause.text for cause in one.causes)}"


def life_json(life: Life) -> str:
    """Return a drink's life as JSON; private, since it holds costs."""
    told = {
        "drink": life.slug,
        "name": life.name,
        "versions": [_version_json(version) for version in life.versions],
        "notes": list(life.notes),
    }
    return json.dumps(told, ensure_ascii=False, indent=2)


def _version_json(version: Version) -> dict[str, Any]:
    figures = version.figures
    return {
        "revision": version.commit.revision if version.commit else None,
        "day": version.commit.day if version.commit else None,
        "subject": version.commit.subject if version.commit else None,
        "moved": drink_json(version.moved) if version.moved else None,
        "strength_percent": round(figures.strength_percent, 4)
        if figures and figures.strength_percent is not None
        else None,
        "sugar_g_per_l": round(figures.sugar_g_per_l, 4) if figures else None,
        "cost": str(figures.cost) if figures and figures.cost is not None else None,
        "currency": figures.currency if figures else None,
        "contains": list(figures.contains) if figures and not figures.unread else None,
        "may_contain": list(figures.may_contain) if figures and not figures.unread else None,
        "unread": list(figures.unread) if figures else None,
    }
