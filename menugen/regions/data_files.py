"""Reads the data files of this package. Every file explains its own format at the top."""

from functools import cache
from importlib.resources import files
from typing import Any


@cache
def load(name: str) -> dict[str, Any]:
    """Return one data file as plain values; the caller must not change them.

    Args:
        name: Below `data/`, with forward slashes: "places/GB.yaml".

    Raises:
        FileNotFoundError: There is no such file.
    """
    import yaml

    loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    text = files(__package__).joinpath("data", *name.split("/")).read_text(encoding="utf-8")
    # A safe loader in C; bandit cannot see that through getattr.
    content: dict[str, Any] = yaml.load(text, Loader=loader)  # noqa: S506
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
    names = (entry.name for entry in files(__package__).joinpath("data", folder).iterdir())
    return tuple(sorted(name.removesuffix(".yaml") for name in names if name.endswith(".yaml")))
