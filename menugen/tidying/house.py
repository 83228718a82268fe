"""A house's files, looked at one by one and written again where they are not tidy."""

import os
import stat
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from menugen.reading import DiskFiles
from menugen.reading.files import joined
from menugen.reading.house_file import HOUSE_FILE, read_settings
from menugen.reading.text import decode
from menugen.tidying.order import Kind
from menugen.tidying.tidy import tidy

_ENDINGS: dict[Kind, tuple[str, ...]] = {
    "spec": (".md",),
    "stock": (".yaml", ".yml"),
    "event": (".yaml", ".yml"),
}


class Looked(NamedTuple):
    """One file that was looked at.

    Attributes:
        file: Relative to the house, with forward slashes.
        tidied: Its content as it should be; None where it is so already.
        before: Its content as it is.
        left_alone: Why it cannot be tidied; empty where it can.
    """

    file: str
    tidied: bytes | None
    before: bytes
    left_alone: str


class Changed(Exception):
    """A file was changed by somebody else while it was being tidied; nothing was written to it."""


def look_through(house: Path) -> Iterator[Looked]:
    """Yield every file of a house: its settings, specs, stock and events.

    A library outside the house, "../specs", belongs to others and is passed over.

    Raises:
        OSError: A file cannot be read.
    """
    for file, kind in _files(house):
        before = (house / file).read_bytes()
        tidied, left_alone = tidy(before, file, kind)
        yield Looked(file, None if tidied == before else tidied, before, left_alone)


def _files(house: Path) -> Iterator[tuple[str, Kind]]:
    files = DiskFiles(house)
    yield HOUSE_FILE, "house"
    form = read_settings(decode(files.read(HOUSE_FILE), HOUSE_FILE).text).form
    folders: tuple[tuple[Kind, tuple[str, ...]], ...] = (
        ("spec", tuple(form.specs)),
        ("stock", tuple(form.stock)),
        ("event", tuple(form.events)),
    )
    for kind, named in folders:
        for folder in named:
            if joined(folder, "").startswith(".."):
                continue
            for name in files.names(folder):
                hidden = name.startswith(".") or name.casefold() == "readme.md"
                if name.casefold().endswith(_ENDINGS[kind]) and not hidden:
                    yield joined(folder, name), kind


def write(house: Path, looked: Looked) -> None:
    """Put a tidied file in the place of the one that is there, all at once: a reader sees the one or the other.

    Raises:
        Changed: It is not the file that was looked at any more.
        OSError: It cannot be written; the file is as it was.
    """
    if looked.tidied is None:
        return
    path = (house / looked.file).resolve()
    handle, name = tempfile.mkstemp(prefix=".tidy-", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(looked.tidied)
            file.flush()
            os.fsync(file.fileno())
        Path(name).chmod(stat.S_IMODE(path.stat().st_mode))
        if path.read_bytes() != looked.before:
            raise Changed(looked.file)
        Path(name).replace(path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
