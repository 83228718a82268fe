"""Where an output folder may not lie, and where it had better not."""

from collections.abc import Iterable
from pathlib import Path

from menugen.disk import is_same, is_within
from menugen.writing import MARKER


def misplaced(to: Path, house: Path, sources: Iterable[Path]) -> str:
    """Return why nothing may be published into a folder; empty where it may.

    Args:
        to: The output folder, which may be missing.
        house: The house's folder.
        sources: Folders that the house is read from, or that people write in.
    """
    try:
        return _misplaced(to, to.resolve(), house, sources)
    except OSError as fault:
        return f"{str(to)[:80]} cannot be looked into: {(fault.strerror or str(fault)).lower()}; name another with --to"
    except RuntimeError:  # before Python 3.13
        return f"{to} is a link that leads in a circle: name another with --to"


def _misplaced(to: Path, place: Path, house: Path, sources: Iterable[Path]) -> str:
    if (place / "house.yaml").exists():
        return f"{to} is a house's own folder: name another with --to, such as {(to / 'out').as_posix()}"
    read = _within_or_beside(house, sources)
    within = next((at for at in read if is_within(place, at)), None)
    if within is not None:
        return f"{to} lies in {within}, which the house is read from: name another folder with --to"
    published = next((at for at in (place, *place.parents) if (at / MARKER).exists()), None)
    if published is not None:
        return (
            f"{published} is what a publish made, and the next one replaces it whole: name another with --to"
        )
    return ""


def swallowed(to: Path, house: Path, sources: Iterable[Path], events: Iterable[str]) -> str:
    """Return why an event may not be published: its folder would take the place of one the house is read from.

    Args:
        to: The output folder.
        house: The house's folder.
        sources: As in `misplaced`.
        events: Slugs: a folder of each name is replaced whole.
    """
    read = (house.resolve(), *_within_or_beside(house, sources))
    for slug in events:
        place = _real(to / slug)
        if any(is_within(at, place) for at in read):
            return f"{to / slug} holds what the house is read from, and would be replaced: name another with --to"
    return ""


def unwise(to: Path, house: Path) -> str:
    """Return what to look out for with an output folder that holds the house; empty where it does not."""
    if is_same(to.resolve(), house.resolve()) or not is_within(house.resolve(), to.resolve()):
        return ""
    return f"{to} holds the house too, with what it costs: upload each event's site, never all of {to}"


def _within_or_beside(house: Path, sources: Iterable[Path]) -> tuple[Path, ...]:
    """Return what a house is read from, links followed; a folder that holds the house itself is none to keep out of."""
    home = house.resolve()
    return tuple(at for source in sources if not is_within(home, at := _real(source)))


def _real(folder: Path) -> Path:
    """Return where a folder lies, links followed; of one whose links lead nowhere, where it was looked for."""
    try:
        return folder.resolve()
    except (OSError, RuntimeError):  # RuntimeError: a circle, before Python 3.13
        return folder.absolute()
