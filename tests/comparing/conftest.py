"""A house in a repository, for what is compared in it."""

from pathlib import Path

import pytest

from tests.revisions.repositories import Books, books


@pytest.fixture
def house(tmp_path: Path) -> Books:
    return books(tmp_path)
