"""File names that become addresses and folder names, and so must be safe on every machine."""

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import replace

from menugen.names import folded, slug_of
from menugen.problems import Problem, Span, error

LONGEST = 80
LONGEST_BYTES = 240
"""Of a name, so that a disk takes what is written under it: 255, less what is put around it while it is written."""

_DEVICES = frozenset(
    {"con", "prn", "aux", "nul", "conin$", "conout$"}
    | {f"{device}{number}" for device in ("com", "lpt") for number in "0123456789¹²³"}
)
"""Names Windows keeps for devices (Microsoft, "Naming Files, Paths, and Namespaces"; from memory)."""


def slug_problem(file: str) -> Problem | None:
    """Return what is wrong with a file's name as a slug, with a proposal, or None."""
    slug = slug_of(file)
    if slug.casefold() in _DEVICES:
        fault = f'"{slug}" is a name that Windows keeps for itself'
    elif not slug or len(slug) > LONGEST:
        fault = f"the file's name is longer than {LONGEST} characters" if slug else "the file has no name"
    elif len(slug.encode("utf-8", "surrogatepass")) > LONGEST_BYTES:
        fault = f"the letters of the file's name take over {LONGEST_BYTES} bytes, and many disks take no longer one"
    elif not all(_is_safe(letter) for letter in slug):
        odd = next(letter for letter in slug if not _is_safe(letter))
        what = "a space" if odd == " " else f'"{odd}"'
        fault = f"the file's name holds {what}, and it becomes part of an address"
    elif slug.startswith("-"):
        fault = 'the file\'s name begins with "-"'
    else:
        return None
    ending = file.rpartition(".")[2]
    return error(
        "unsafe-file-name",
        fault,
        Span(file, 1, 1, 1),
        f'rename it, for instance to "{_proposal(slug)}.{ending}"',
    )


def twice(files: Iterable[str], code: str, what: str) -> dict[str, Problem]:
    """Return a problem for each file whose slug another file before it has too, letter case passed over.

    Args:
        files: Of one kind, in the order they are read.
        code: The problem's code.
        what: What both would be: "spec".
    """
    first: dict[str, str] = {}
    problems: dict[str, Problem] = {}
    for file in files:
        key = folded(slug_of(file))
        earlier = first.setdefault(key, file)
        if earlier != file:
            told = error(
                code,
                f'another {what} is called "{slug_of(file)}" too',
                Span(file, 1, 1, 1),
                "rename one of the two files; small and capital letters count as the same",
            )
            problems[file] = replace(told, also=((Span(earlier, 1, 1, 1), "the other one"),))
    return problems


def _is_safe(letter: str) -> bool:
    return letter in "-_" or letter.isalnum() or unicodedata.category(letter) in {"Mn", "Mc"}


def _proposal(slug: str) -> str:
    letters = "".join(letter if _is_safe(letter) else "-" for letter in slug.casefold())
    proposal = re.sub("-{2,}", "-", letters).strip("-")[:LONGEST]
    proposal = proposal.encode("utf-8", "ignore")[:LONGEST_BYTES].decode("utf-8", "ignore").rstrip("-")
    if not proposal or proposal in _DEVICES:
        return f"drink-{proposal}".rstrip("-")
    return proposal
