"""menugen start."""

import argparse
from importlib import resources
from pathlib import Path

from menugen.cli.terminal import fail
from menugen.shipped import shipped_folder

_FROM_LIBRARY = ("saltmarsh-sour", "quiet-harbour", "negroni")
"""The drinks of the starter library that a house begins with; their stock is in the starting files."""

_CHECKS = ("checks/guard.sh", "checks/pre-commit", "checks/pre-merge-commit")
"""What stands guard over a house in git: on a git host, before each commit, and before a merge."""

_GIT_IGNORE = """\
# What menugen writes; made again by every publish.
out/
# What a "menugen tidy" leaves that was stopped half-way.
.tidy-*
"""

_GIT_ATTRIBUTES = """\
# The same bytes on every machine. No "merge=union" here: it would keep both of two changed lines, and not ask.
*.md text eol=lf
*.yaml text eol=lf
*.yml text eol=lf
checks/* text eol=lf
"""


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
    return files | {".gitignore": _GIT_IGNORE, ".gitattributes": _GIT_ATTRIBUTES}


def run(args: argparse.Namespace) -> int:
    """Make a house in a folder that is not there yet, or is empty."""
    folder = Path(args.folder)
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        return fail(f"{args.folder} is there already and not empty: name another folder")
    try:
        for name, text in _starting_files().items():
            path = folder / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8", newline="\n")
            if name in _CHECKS:
                path.chmod(0o755)
    except OSError as fault:
        return fail(f"cannot write to {args.folder}: {fault.strerror}")
    if not args.quiet:
        print(
            f"a house with {len(_FROM_LIBRARY)} drinks and one event is in {folder.as_posix()}\n"
            f"publish it:  menugen publish {folder.as_posix()}\n"
            f"look at it:  menugen preview {folder.as_posix()}"
        )
    return 0
