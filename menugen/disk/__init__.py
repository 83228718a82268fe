"""Bytes on a disk: whole or not at all, by one run at a time, and with nothing left over.

Comes in: contents and where they go. Goes out: the same on the disk, or an OSError with everything as it was.
Knows nothing of: houses, events, pages, or any other room.
"""
