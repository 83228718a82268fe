"""What took long to make and comes out the same again, kept on the disk between two publishes.

Nothing here is needed: a folder that is missing, full, broken or deleted costs time and changes no byte of a site.
"""

import zipfile
import zlib
from collections.abc import Mapping
from contextlib import suppress
from io import BytesIO
from pathlib import Path

from menugen.disk.unfinished import clear_unfinished
from menugen.disk.whole_file import write_whole


class MadeBefore:
    """Parts of files by a key that stands for all they were made from."""

    def __init__(self, folder: Path | None) -> None:
        """Remember where things are kept; the folder is made when it is first needed.

        Args:
            folder: Ours alone. None keeps nothing.
        """
        self._folder = folder

    def find(self, key: str) -> dict[str, bytes] | None:
        """Return what was kept under a key, by name; None where there is nothing, or it is no longer whole.

        Args:
            key: Letters and digits.
        """
        if self._folder is None:
            return None
        try:
            with zipfile.ZipFile(self._folder / f"{key}.zip") as kept:
                # Reading checks each part against its sum: a power cut may have left a file of the right size.
                return {name: kept.read(name) for name in kept.namelist()}
        except (
            OSError,
            zipfile.BadZipFile,
            zlib.error,
            EOFError,
            NotImplementedError,
            ValueError,
            RuntimeError,
        ):
            return None

    def keep(self, key: str, parts: Mapping[str, bytes]) -> None:
        """Keep parts under a key; where the disk refuses, they are made again next time."""
        if self._folder is None:
            return
        packed = BytesIO()
        with zipfile.ZipFile(packed, "w") as kept:
            for name, content in parts.items():
                kept.writestr(zipfile.ZipInfo(name), content)
        with suppress(OSError):
            self._folder.mkdir(parents=True, exist_ok=True)
            write_whole(self._folder / f"{key}.zip", packed.getvalue(), lasting=False)

    def clear_unfinished(self) -> None:
        """Take away what killed runs left half-written."""
        if self._folder is not None:
            clear_unfinished(self._folder)
