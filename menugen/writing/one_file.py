"""Putting one file that is not for guests on the disk, all at once, where no website can take it along."""

from pathlib import Path

from menugen.disk import write_whole
from menugen.writing.output import MARKER
from menugen.writing.output_folder import CannotWrite, NotOurs, disk_faults


def put_file(folder: Path, name: str, content: bytes) -> Path:
    """Put a file in a folder, which is made if it is missing; a reader sees the old file or the new one.

    Args:
        folder: Where it goes.
        name: A plain name.
        content: All of it.

    Returns:
        Where it lies.

    Raises:
        NotOurs: The folder is a published one, or lies in one: it could be uploaded, and the next publish would take
            the file away.
        CannotWrite: The disk or the system refused.
    """
    path = folder / name
    with disk_faults(path):
        _refuse_published(folder)
        folder.mkdir(parents=True, exist_ok=True)
        write_whole(path, content, mode=0o644)
    return path


def _refuse_published(folder: Path) -> None:
    try:
        whole = folder.resolve()
    except RuntimeError as fault:  # links in a circle, before Python 3.13
        raise CannotWrite(f"{folder} cannot be written: it is a link that leads in a circle") from fault
    for place in (whole, *whole.parents):
        if (place / MARKER).is_file():
            raise NotOurs(
                f"{place} is what a publish made, for guests to see and for the next publish to replace: "
                "name another folder"
            )
