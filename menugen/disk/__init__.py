"""Bytes on a disk: whole or not at all, by one run at a time, and with nothing left over.

Comes in: contents and where they go. Goes out: the same on the disk, or an OSError with everything as it was.
Knows nothing of: houses, events, pages, or any other room.

A temporary file is locked while it is written, so that clearing up removes only what nobody is writing: whoever gets
the lock knows that the writer is gone. What is locked has to be compared with its name once more (`is_at`), as the last
holder removes the file. Names of what is made for a while are all in `unfinished.py`. Windows' ways (no rename of what
is open, no lock on what is deleted) are written for and not tried.
"""

from menugen.disk.lock import Busy, NoLocks, locked
from menugen.disk.names import is_same, is_within
from menugen.disk.system import exchange, flush_file, flush_to_disk, move, move_new
from menugen.disk.unfinished import (
    EXCHANGE,
    OUTPUT_LOCK,
    START_LOCK,
    clear_earlier_locks,
    clear_start_folders,
    clear_unfinished,
    event_folder,
    event_folder_name,
    is_of_start,
    start_folder_name,
)
from menugen.disk.whole_file import Changed, write_whole

__all__ = [
    "EXCHANGE",
    "OUTPUT_LOCK",
    "START_LOCK",
    "Busy",
    "Changed",
    "NoLocks",
    "clear_earlier_locks",
    "clear_start_folders",
    "clear_unfinished",
    "event_folder",
    "event_folder_name",
    "exchange",
    "flush_file",
    "flush_to_disk",
    "is_of_start",
    "is_same",
    "is_within",
    "locked",
    "move",
    "move_new",
    "start_folder_name",
    "write_whole",
]
