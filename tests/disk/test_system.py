"""What is written is on the disk once `flush_to_disk` returns: by one call for the whole disk, or file by file."""

import os
import sys

import pytest

from menugen.disk import flush_to_disk, system


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux is asked to store a whole disk")
@pytest.mark.parametrize("whole_disk", [True, False])
def test_a_system_that_cannot_store_a_whole_disk_stores_each_file_and_folder(
    tmp_path, monkeypatch, whole_disk
):
    page = tmp_path / "page.html"
    page.touch()
    called, stored = [], []

    def answer(name: str, handle: int) -> bool:
        called.append((name, os.fstat(handle).st_ino))
        return whole_disk

    monkeypatch.setattr(system, "_called", answer)
    monkeypatch.setattr(os, "fsync", lambda handle: stored.append(os.fstat(handle).st_ino))
    flush_to_disk(tmp_path, [page])
    assert called == [("syncfs", tmp_path.stat().st_ino)]
    assert stored == ([] if whole_disk else [page.stat().st_ino, tmp_path.stat().st_ino])
