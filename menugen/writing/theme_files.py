"""The files of a look, as a stranger's: ordinary files inside its own folder, and none too large.

A look is passed from hand to hand, so a name in it may be a link to somewhere else, a pipe that never ends or a device.
"""

import os
import stat
from functools import cache
from pathlib import Path, PurePosixPath

from menugen.shipped import shipped_folder
from menugen.writing.theme_fault import ThemeFault

LARGEST_TEXT = 1024 * 1024
"""Bytes of theme.yaml and of a licence: what every other file written by hand may have."""

LARGEST_TEMPLATE = 64 * 1024
"""Bytes; the largest that comes with menugen has a seventh of it."""

LARGEST_TEMPLATES = 256 * 1024
"""Bytes of all templates of one look."""

LARGEST_STYLE = 256 * 1024
"""Bytes; the largest that comes with menugen has a thirtieth of it."""

LARGEST_FONT = 8 * 1024 * 1024
"""Bytes; fonts of one script have some hundred thousand."""

MOST_TEMPLATES = 40

TEMPLATES = ".jinja"
"""How the names of templates end."""


def is_shipped(path: Path) -> bool:
    """Whether a file or folder came with menugen, and is held to its rules by tests."""
    return path.resolve().is_relative_to(_shipped_looks())


@cache
def _shipped_looks() -> Path:
    return shipped_folder("themes").resolve()


def is_there(file: Path) -> bool:
    """Whether something has this name, be it a file or not."""
    return os.path.lexists(file)


def size_of(file: Path) -> int:
    """Return how many bytes a file has; 0 of what cannot be asked."""
    try:
        return file.stat().st_size
    except OSError:
        return 0


def own_file(home: Path, name: str, largest: int) -> Path:
    """Return where a file of a look lies, once it is known to be one that may be read.

    Args:
        home: The look's folder.
        name: Of the file, from there, with forward slashes.
        largest: Bytes it may have.

    Raises:
        ThemeFault: It is missing, lies elsewhere, is no ordinary file, or is too large.
    """
    file = home / name
    path = PurePosixPath(name)
    if path.is_absolute() or ".." in path.parts or "\\" in name or ":" in name or "\0" in name:
        raise ThemeFault(file, "this file lies outside the look's folder", hint="keep a look's files in it")
    try:
        if not file.resolve(strict=True).is_relative_to(home.resolve()):
            raise ThemeFault(
                file, "this is a link out of the look's folder", hint="put the file itself in its place"
            )
        found = file.stat()
    except FileNotFoundError as fault:
        what = "this is a link that leads to nothing" if is_there(file) else _unread(fault)
        raise ThemeFault(file, what) from None
    except (OSError, RuntimeError) as fault:
        raise ThemeFault(file, _unread(fault)) from None
    if not stat.S_ISREG(found.st_mode):
        what = "a folder" if stat.S_ISDIR(found.st_mode) else "no ordinary file"
        raise ThemeFault(file, f"this is {what}", hint="put a file of this name in its place")
    if found.st_size > largest:
        raise _too_large(file, largest)
    return file


def read_own(home: Path, name: str, largest: int) -> bytes:
    """Return the content of a file of a look.

    Args:
        home: As for `own_file`.
        name: As for `own_file`.
        largest: As for `own_file`.

    Raises:
        ThemeFault: As `own_file`, or it cannot be read.
    """
    file = own_file(home, name, largest)
    try:
        # Whatever has taken the file's place since it was looked at is not waited for.
        handle = os.open(file, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
        with os.fdopen(handle, "rb") as opened:
            content = opened.read(largest + 1)
    except OSError as fault:
        raise ThemeFault(file, _unread(fault)) from None
    if content is None or len(content) > largest:
        raise _too_large(file, largest)
    return content


def read_own_text(home: Path, name: str, largest: int) -> str:
    """Return the text of a file of a look, its lines divided by line feeds.

    Raises:
        ThemeFault: As `read_own`, or it is no UTF-8.
    """
    content = read_own(home, name, largest)
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise ThemeFault(home / name, "this file is not UTF-8 text", hint="save it again as UTF-8") from None
    return text.replace("\r\n", "\n").replace("\r", "\n")


def template_names(home: Path) -> tuple[str, ...]:
    """Return the names of a look's own templates, sorted."""
    try:
        with os.scandir(home) as entries:
            names = (entry.name for entry in entries if entry.name.endswith(TEMPLATES))
            return tuple(sorted(names))
    except OSError:
        return ()


def _unread(fault: BaseException) -> str:
    return f"this file cannot be read: {getattr(fault, 'strerror', None) or fault}"


def _too_large(file: Path, largest: int) -> ThemeFault:
    size = f"{largest // 1024**2} MiB" if largest >= 1024**2 else f"{largest // 1024} KiB"
    return ThemeFault(
        file, f"this file is larger than {size}", hint="make it smaller; a guest's phone loads it"
    )
