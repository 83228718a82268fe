"""What took long to make and comes out the same again, kept on the disk between two publishes.

Nothing here is needed: a folder that is missing, full, broken or deleted costs time and changes no byte of a site.
"""

import hashlib
import zipfile
import zlib
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path

from menugen.disk import clear_unfinished, write_whole


@dataclass(frozen=True)
class FileCache:
    """Parts of files by a key that stands for all they were made from.

    Attributes:
        folder: Where they are kept, ours alone; it is made when it is first needed. None keeps nothing.
    """

    folder: Path | None

    def get_or_make(self, form: str, made_of: Iterable[bytes], make: Callable[[], bytes]) -> bytes:
        """Return one file as it was kept, or make it and keep it.

        Args:
            form: What it is: letters and digits.
            made_of: All that decides its bytes, and the releases that make them.
            make: Makes it.
        """
        key = form + hashlib.sha256(b"".join(hashlib.sha256(part).digest() for part in made_of)).hexdigest()
        found = self.find(key) or {}
        if form not in found:
            found = {form: make()}
            self.keep(key, found)
        return found[form]

    def find(self, key: str) -> dict[str, bytes] | None:
        """Return what was kept under a key, by name; None where there is nothing, or it is no longer whole.

        Args:
            key: Letters and digits.
        """
        if self.folder is None:
            return None
        try:
            with zipfile.ZipFile(self.folder / f"{key}.zip") as kept:
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
        if self.folder is None:
            return
        packed = BytesIO()
        with zipfile.ZipFile(packed, "w") as kept:
            for name, content in parts.items():
                kept.writestr(zipfile.ZipInfo(name), content)
        with suppress(OSError):
            self.folder.mkdir(parents=True, exist_ok=True)
            write_whole(self.folder / f"{key}.zip", packed.getvalue(), lasting=False)

    def clear_unfinished(self) -> None:
        """Take away what killed runs left half-written."""
        if self.folder is not None:
            clear_unfinished(self.folder)


NO_CACHE = FileCache(None)
