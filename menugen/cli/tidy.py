"""menugen tidy."""

import argparse
import os
import sys
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from menugen.cli.finding import NotFound, Target, files_of, find_target
from menugen.cli.terminal import fail
from menugen.disk import is_within
from menugen.problems import visible
from menugen.tidying import (
    Changed,
    Protected,
    TidyResult,
    clear_beside,
    files_of_house,
    files_of_library,
    tidy_result,
    tidy_stray_result,
    write,
)


@dataclass(frozen=True, slots=True)
class _Found:
    """A file that was asked for: the folder it is looked for in, itself, and its name for the user."""

    folder: Path
    looked: TidyResult
    shown: str


def run(args: argparse.Namespace) -> int:
    """Write every untidy file again, or only list them; say nothing where all is tidy."""
    if args.at and not args.check:
        return fail("--at goes with --check: what git has is looked at and never written")
    try:
        found = list(_found(args.where or ["."], args.at))
        if not args.check:
            for one in {(one.folder, Path(one.looked.file).parent): one for one in found}.values():
                clear_beside(one.folder, one.looked.file)
        untidy, faulty = _tidy(found, args)
    except NotFound as fault:
        return fail(str(fault))
    except OSError as fault:
        print(
            visible(f"menugen: {fault.filename or fault}: {fault.strerror or 'there is no such file'}"),
            file=sys.stderr,
        )
        return 1
    return 1 if faulty or (args.check and untidy) else 0


def _found(typed: list[str], revision: str | None) -> Iterator[_Found]:
    """Yield the files at each path that was typed, each file once."""
    seen: set[Path] = set()
    for path in typed:
        for found in _found_at(path, revision):
            place = _place(found.folder / found.looked.file)
            if place not in seen:
                seen.add(place)
                yield found


def _found_at(typed: str, revision: str | None) -> Iterator[_Found]:
    """Yield the house's files at a path: itself, or those below it; without a house, the specs there.

    Raises:
        NotFound: There are none.
    """
    path = Path(typed)
    if not path.exists():
        raise NotFound(f"there is no folder or file called {typed}")
    house = _house_of(path)
    if house is None:
        yield from _found_in_library(path, typed, revision)
        return
    files = files_of(Target(house, "", None), revision)
    at = path.resolve() if path.is_dir() else _place(path)
    none = True
    for file, kind in files_of_house(files):
        place = _place(house / file)
        if is_within(place, at):
            none = False
            yield _Found(house, tidy_result(files, file, kind), _shown(house / file, path))
    if none:
        raise NotFound(
            f"{typed} is none of the house's files: house.yaml, specs, stock, events and looks are"
        )


def _found_in_library(path: Path, typed: str, revision: str | None) -> Iterator[_Found]:
    folder = path if path.is_dir() else path.parent
    files = files_of(Target(folder, "", None), revision)
    specs = [file for file in files_of_library(files) if path.is_dir() or file == path.name]
    if not specs:
        if path.is_dir():
            find_target(typed)  # says that there is no house, and how to make one
        raise NotFound(f"there is no house.yaml above {typed}: without a house, only specs are tidied")
    for file in specs:
        yield _Found(folder, tidy_stray_result(files, file), _shown(folder / file, path))


def _place(path: Path) -> Path:
    """Return where a file lies, whatever leads there; a file that is a link lies where the link is."""
    return path.parent.resolve() / path.name


def _house_of(path: Path) -> Path | None:
    """Return the house a path lies in: the nearest as typed, so that it may lead through a link, else as it lies."""
    as_typed = () if ".." in path.parts else (path, *path.parents)
    for folder in (*as_typed, path.resolve(), *path.resolve().parents):
        if (folder / "house.yaml").is_file():
            return folder
    return None


def _shown(path: Path, typed: Path) -> str:
    """Return a file as it is named to the user: as typed, or from this folder where the house was found above it."""
    return Path(path if typed.is_absolute() == path.is_absolute() else os.path.relpath(path)).as_posix()


def _tidy(found: Iterable[_Found], args: argparse.Namespace) -> tuple[int, int]:
    """Return how many files were not tidy, and how many had to be left as they are."""
    untidy = faulty = 0
    for one in found:
        reason = one.looked.left_alone
        if not reason and one.looked.tidied is not None and not args.check:
            reason = _written(one)
        if reason:
            faulty += 1
            print(visible(f"{one.shown}: left as it is: {reason}"), file=sys.stderr)
        elif one.looked.tidied is not None:
            untidy += 1
            if not args.quiet:
                print(visible(f"{one.shown}: {'not tidy' if args.check else 'tidied'}"))
    return untidy, faulty


def _written(one: _Found) -> str:
    """Write a file and return nothing, or why it could not be."""
    try:
        write(one.folder, one.looked)
    except Changed:
        return "it was changed meanwhile"
    except Protected:
        return "it is write-protected"
    except OSError as fault:
        return f"it cannot be written: {fault.strerror}"
    return ""
