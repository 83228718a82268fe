"""What tests of the commands share."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.cli.standing_by import standing_by


@pytest.fixture(scope="module")
def ready(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A folder with a command `menugen` that starts at once."""
    with standing_by(tmp_path_factory.mktemp("ready")) as folder:
        yield folder
