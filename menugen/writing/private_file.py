"""Putting one private file on the disk, all at once, where no website can take it along."""

from pathlib import Path

from menugen.disk.whole_file import write_whole
from menugen.writing.faults import NotOurs, disk_faults
from menugen.writing.output import MARKER


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
    for place in (folder.resolve(), *folder.resolve().parents):
        if (place / MARKER).is_file():
            raise NotOurs(
                f"{place} is what a publish made, for guests to see and for the next publish to replace: "
                f"name another folder for private papers"
            )
    with disk_faults(path):
        folder.mkdir(parents=True, exist_ok=True)
        write_whole(path, content, mode=0o644)
    return path
