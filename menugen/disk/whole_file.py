"""Putting one file on the disk: a reader sees the old one or the new one, whole, whatever happens."""

import os
from pathlib import Path

from menugen.disk.lock import is_at
from menugen.disk.system import flush_handle
from menugen.disk.unfinished import clear_unfinished, unfinished_file


class Changed(Exception):
    """A file is no longer what it was when it was read; nothing was written to it."""


def write_whole(
    path: Path,
    content: bytes,
    *,
    mode: int | None = None,
    before: bytes | None = None,
    tidy: bool = False,
    lasting: bool = True,
) -> None:
    """Put a file in its place, and clear away what killed runs left beside it.

    Args:
        path: Its place, in a folder that is there.
        content: All of it.
        mode: Its permissions; None takes what the system gives a new file.
        before: What it holds now, if that is what is to be replaced and nothing else.
        tidy: As in `unfinished_file`.
        lasting: Whether to wait until it is on the disk.

    Raises:
        Changed: It does not hold `before`.
        OSError: The disk refused, and everything is as it was.
    """
    clear_unfinished(path.parent)
    with unfinished_file(path.parent, mode=0o666 if mode is None else 0o600, tidy=tidy) as (file, beside):
        file.write(content)
        file.flush()
        if lasting:
            flush_handle(file.fileno())
        if mode is not None:
            beside.chmod(mode)
        if before is not None and path.read_bytes() != before:
            raise Changed(str(path))
        if os.name == "nt":
            # Windows gives no new name to a file that is open.
            file.close()
            beside.replace(path)
            return
        try:
            beside.replace(path)
        except OSError:
            # A network disk that is asked twice may do it the first time and refuse the second.
            if not is_at(file.fileno(), path):
                raise
