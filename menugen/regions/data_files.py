"""Reads the data files of this package. Every file explains its own format at the top."""

from functools import cache
from pathlib import Path
from typing import Any

from menugen.kept_code import shipped_values

_DATA = Path(__file__).with_name("data")


@cache
def load(name: str) -> dict[str, Any]:
    """Return one data file as plain values; the caller must not change them.

    Args:
        name: Below `data/`, with forward slashes: "places/GB.yaml".

    Raises:
        FileNotFoundError: There is no such file.
    """
    content: dict[str, Any] = shipped_values(_DATA.joinpath(*name.split("/")))
    return content


@cache
def place_files() -> tuple[str, ...]:
    """Return the country codes that have a file of their own, sorted."""
    return _countries("places")


@cache
def part_files() -> tuple[str, ...]:
    """Return the codes of the countries whose parts are known, sorted."""
    return _countries("parts")


def _countries(folder: str) -> tuple[str, ...]:
    names = (entry.name for entry in (_DATA / folder).iterdir())
    return tuple(sorted(name.removesuffix(".yaml") for name in names if name.endswith(".yaml")))
