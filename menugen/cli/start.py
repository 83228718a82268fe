"""menugen start."""

import argparse
import os
import shlex
from collections.abc import Mapping
from importlib import resources
from pathlib import Path

from menugen.cli.terminal import fail
from menugen.disk import clear_unfinished, is_of_start
from menugen.problems import visible
from menugen.shipped import shipped_folder
from menugen.writing import MARKER, PublishFault
from menugen.writing.new_folder import put_new_folder, take_back_stopped

_FROM_LIBRARY = ("saltmarsh-sour", "quiet-harbour", "negroni")
"""The drinks of the starter library that a house begins with; their stock is in the starting files."""

_CHECKS = ("checks/guard.sh", "checks/pre-commit", "checks/pre-merge-commit")
"""What stands guard over a house in git: on a git host, before each commit, and before a merge."""

_GIT_IGNORE = """\
# What menugen writes; made again by every publish.
out/
# What a run leaves that was stopped half-way; the next one clears it away.
.tidy-*
.menugen-*
"""

_GIT_ATTRIBUTES = """\
# The same bytes on every machine. No "merge=union" here: it would keep both of two changed lines, and not ask.
*.md text eol=lf
*.yaml text eol=lf
*.yml text eol=lf
checks/* text eol=lf
"""

_OWN_IN_GIT = {".gitignore": _GIT_IGNORE, ".gitattributes": _GIT_ATTRIBUTES}
"""What a repository may have already; then it stays as it is."""

_LAST = "house.yaml"
"""Without this one, a folder is no house."""

_EMPTY_ENOUGH = frozenset(
    {
        *_OWN_IN_GIT,
        *(".git", ".hg", ".jj", ".svn", ".gitkeep", ".keep"),
        *(".idea", ".vscode", ".vs", ".zed", ".fleet", ".nova", ".editorconfig"),
        *(".ds_store", ".localized", ".directory", ".fseventsd", ".spotlight-v100", ".trashes"),
        *("thumbs.db", "desktop.ini", "lost+found"),
    }
)
"""What version control, editors and file managers leave in a folder that somebody calls empty; in small letters."""


class _NotThere(Exception):
    """No house can begin in that folder; the message says why."""


def _starting_files() -> dict[str, str]:
    """Return path -> text of a house's first files."""
    house = resources.files("menugen.cli") / "first_house"
    names = (
        *("house.yaml", "stock/behind-the-bar.yaml", "stock/larder.yaml", "events/first-night.yaml"),
        *("checks/README.md", *_CHECKS),
    )
    files = {name: (house / name).read_text("utf-8") for name in names}
    library = shipped_folder("specs")
    files |= {f"specs/{slug}.md": (library / f"{slug}.md").read_text("utf-8") for slug in _FROM_LIBRARY}
    return files | _OWN_IN_GIT


def run(args: argparse.Namespace) -> int:
    """Make a house in a folder that is not there yet, or is empty."""
    try:
        files = {name: text.encode() for name, text in _starting_files().items()}
        folder = _new_place(args.folder, files)
        there = put_new_folder(
            folder,
            files,
            runnable=_CHECKS,
            may_be_there=tuple(_OWN_IN_GIT),
            last=_LAST,
        )
    except (_NotThere, PublishFault) as fault:
        return fail(str(fault))
    except (OSError, RuntimeError) as fault:
        # RuntimeError: links in a circle, before Python 3.13.
        return fail(f"cannot write to {args.folder}: {getattr(fault, 'strerror', None) or fault}")
    if not args.quiet:
        shown = folder.as_posix() if ".." in Path(args.folder).parts else Path(args.folder).as_posix()
        typed = visible(shlex.quote(shown))
        print(
            f"a house with {len(_FROM_LIBRARY)} drinks and one event is in {visible(shown)}\n"
            f"publish it:  menugen publish {typed}\n"
            f"look at it:  menugen preview {typed}"
        )
        for name in there:
            print(f"{name} was there already and is as it was; menugen would add to it:")
            print("".join(f"    {line}\n" for line in _OWN_IN_GIT[name].splitlines()), end="")
    return 0


def _new_place(typed: str, files: Mapping[str, bytes]) -> Path:
    """Return the folder that was typed, without links and "..", and without what a start left that was killed.

    Args:
        typed: As it was typed.
        files: What is to be put there.

    Raises:
        _NotThere: It holds something, or something around it makes it no place for a house.
        PublishFault: Another start is at work there, or the disk refused.
        OSError: It cannot be looked into.
    """
    if Path(typed).is_symlink() and not Path(typed).exists():
        raise _NotThere(f"{typed} is a link that leads to nothing: name another folder")
    folder = Path(typed).resolve()
    around = next((place for place in folder.parents if (place / "house.yaml").exists()), None)
    if around is not None:
        raise _NotThere(f"{typed} would lie inside the house {around}: name a folder outside it")
    published = next((place for place in (folder, *folder.parents) if (place / MARKER).exists()), None)
    if published is not None:
        raise _NotThere(
            f"{published} is what a publish made, and the next one replaces it whole: name a folder outside it"
        )
    if ".git" in folder.parts:
        raise _NotThere(f"{typed} would lie among git's own files: name another folder")
    clear_unfinished(folder.parent)
    if not os.path.lexists(folder):
        return folder
    if not folder.is_dir():
        raise _NotThere(f"{typed} is a file: name another folder")
    take_back_stopped(folder, files, may_be_there=tuple(_OWN_IN_GIT), last=_LAST)
    held = sorted(path.name for path in folder.iterdir() if not _is_nothing(path.name))
    if held:
        more = f" and {len(held) - 3} more" if len(held) > 3 else ""
        raise _NotThere(
            f"{typed} is there already and not empty, it holds {', '.join(held[:3])}{more}: name another folder"
        )
    return folder


def _is_nothing(name: str) -> bool:
    return name.casefold() in _EMPTY_ENOUGH or name.startswith("._") or is_of_start(name)
