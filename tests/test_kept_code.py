"""What data files say is the same whether it is read from YAML or from code that was kept of it."""

import sys
from pathlib import Path

import pytest
import yaml

import menugen
from menugen import kept_code

FILES = sorted(Path(menugen.__file__).parent.glob("re*/data/**/*.yaml"))


@pytest.fixture(autouse=True)
def kept_in(tmp_path, monkeypatch) -> Path:
    """Where code is kept here."""
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    monkeypatch.setattr(sys, "pycache_prefix", str(tmp_path / "kept"))
    return tmp_path / "kept"


def test_every_data_file_says_the_same_from_kept_code(monkeypatch):
    first = [kept_code.shipped_values(file) for file in FILES]
    monkeypatch.setattr(kept_code, "_as_code", None)  # would fail if it were called
    again = [kept_code.shipped_values(file) for file in FILES]
    # By their text as well: 1, 1.0 and True are equal, and so are two orders of a table.
    for file, *read in zip(FILES, first, again, strict=True):
        (said,) = {repr(one) for one in read}
        assert said == repr(yaml.safe_load(file.read_text("utf-8"))), file
    assert len(FILES) > 50


def test_a_data_file_that_has_changed_is_read_again(tmp_path):
    file = tmp_path / "one.yaml"
    for text in ("strength: 40", "strength: 38", "since: 2026-12-01", "strength: 40"):
        file.write_text(text, "utf-8")
        assert kept_code.shipped_values(file) == yaml.safe_load(text)


def test_nothing_is_kept_where_python_keeps_nothing(monkeypatch, kept_in):
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    assert kept_code.shipped_values(FILES[0]) == yaml.safe_load(FILES[0].read_text("utf-8"))
    assert not kept_in.exists()


def test_a_file_that_is_not_there_is_said_to_be(tmp_path):
    with pytest.raises(FileNotFoundError):
        kept_code.shipped_values(tmp_path / "none.yaml")
