"""What was typed after a command, before anything is done with it: each argument must say something."""

import argparse
from collections.abc import Iterable, Iterator

MEANT = {
    "aim": "--aim takes FIGURE=VALUE",
    "at": "--at takes a revision",
    "by": "--by takes the name of a line",
    "event": "--event takes an event's file or name",
    "fail_on": "--fail-on takes what to guard against",
    "folder": "the first argument is the folder to make",
    "house": "--house takes the house's folder",
    "house_or_old": "the first argument is a house, a revision or a day",
    "merged": "--merged takes a branch or a revision",
    "new": "the last argument is a revision or a day",
    "old": "the next argument is a revision or a day",
    "set": "--set takes NAME=MEASURE",
    "spec": "the first argument is a spec's file or name",
    "step": "--step takes a measure",
    "to": "--to takes a folder",
    "was": "--was takes the house's earlier name",
    "was_in": "--was takes the folder the house was in",
    "when": "the first argument is a day, a month or a version",
    "where": "this command takes a folder or a file",
}
"""For each argument that takes words of the user's own, by its name in the parser: what it takes."""

_LONGEST = 4096
"""Characters; few systems take a longer path, and no measure or revision needs them."""

_DEEPEST = 200
"""Folders in one another; Python makes and follows them one within the other, and gives up at some hundreds."""


class WrongUse(Exception):
    """What was typed fits no command; the message says why in plain words."""


def refuse_nothing_said(chosen: argparse.Namespace) -> None:
    """Refuse arguments that say nothing, or nothing that can be meant.

    An unset variable in a script must not pass for the default: `--to "$FOLDER"`.

    Raises:
        WrongUse: One is empty, holds a NUL, or is too long for anything.
    """
    for name, value in vars(chosen).items():
        # Before Python 3.13 argparse drops the value of "--to=--", and leaves a list with nothing in it.
        if value in ("--", ["--"], [[]]) or (value == [] and name != "where"):
            raise WrongUse(f'{MEANT.get(name, f"--{name} takes a value")}, and "--" is none')
    for name, text in _words(chosen):
        if not text.strip():
            raise WrongUse(f'{MEANT[name]}, and "{text}" is empty')
        if "\0" in text:
            raise WrongUse(f"{MEANT[name]}, and nothing has a NUL character in its name")
        if len(text) > _LONGEST:
            raise WrongUse(
                f"{MEANT[name]}, and this is {len(text):,} characters long, beginning {text[:20]!a}"
            )
        if text.count("/") > _DEEPEST:
            raise WrongUse(f"{MEANT[name]}, and this is {text.count('/'):,} folders deep")


def _words(chosen: argparse.Namespace) -> Iterator[tuple[str, str]]:
    for name, value in vars(chosen).items():
        if name in MEANT and value is not None:
            for text in value if isinstance(value, list) else [value]:
                yield name, text


def no_command(typed: str, names: Iterable[str]) -> str:
    """Return what is wrong with a word that is no command, and the command that was probably meant."""
    from difflib import get_close_matches

    near = get_close_matches(typed.lower(), sorted(names), n=1)
    hint = f'did you mean "menugen {near[0]}"?' if near else "menugen --help lists the commands"
    return f'there is no command "{typed}": {hint}'
