"""What the looks of a house's own say differently, a sentence each: of how pages look, and never an alarm."""

from collections.abc import Iterator, Mapping
from contextlib import suppress
from itertools import islice

from menugen.reading import LOOK, THEMES_FOLDER, HouseFolders, NotOnThisMachine, differences, read_theme

_TOKENS = "theme.yaml"
_MOST = 8
"""Differences of one look that are said; of more, how many there are."""

Looks = Mapping[str, Mapping[str, bytes]]
"""The files of each look by its name: its tokens, its style sheet, its templates; not its fonts."""


def looks_of(files: HouseFolders) -> Looks:
    """Return the looks of a house's own; one that is not on this machine, or cannot be read, is left out."""
    found: dict[str, dict[str, bytes]] = {}
    with suppress(OSError, NotOnThisMachine):
        for name in files.folders(THEMES_FOLDER):
            home = f"{THEMES_FOLDER}/{name}"
            links = files.links(home)
            with suppress(OSError, NotOnThisMachine):
                found[name] = {
                    file: files.read(f"{home}/{file}") for file in files.names(home) if file not in links
                }
    return found


def look_changes(old: Looks, new: Looks) -> Iterator[str]:
    """Yield what changed of each look that both houses have, by name, and which are new or gone."""
    for name in sorted({*old, *new}):
        if name not in old or name not in new:
            yield f"the look {name}: {'new' if name in new else 'gone'}"
        elif found := list(_changes(name, old[name], new[name])):
            more = f"; {len(found) - _MOST} more" if len(found) > _MOST else ""
            yield f"the look {name}: {'; '.join(islice(found, _MOST))}{more}"


def _changes(name: str, old: Mapping[str, bytes], new: Mapping[str, bytes]) -> Iterator[str]:
    for file in sorted({*old, *new}, key=lambda file: (file != _TOKENS, file)):
        was, now = old.get(file), new.get(file)
        if was == now:
            continue
        if was is None or now is None:
            yield f"{file} {'new' if was is None else 'gone'}"
        elif file == _TOKENS:
            yield from _tokens(name, was, now)
        else:
            yield f"{file} changed"


def _tokens(name: str, was: bytes, now: bytes) -> Iterator[str]:
    file = f"{THEMES_FOLDER}/{name}/{_TOKENS}"
    (before, old_faults), (after, faults) = read_theme(was, file), read_theme(now, file)
    if before is None or after is None or old_faults or faults:
        yield f"{_TOKENS} changed; a fault in it keeps it from being compared"
        return
    for key, earlier, later in differences(LOOK, before.look, after.look):
        if earlier != later:
            yield f"{key} {earlier or 'not said'} -> {later or 'not said'}"
