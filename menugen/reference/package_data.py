"""The data files beside this code, read once."""

from functools import cache
from pathlib import Path
from typing import Any

from menugen.kept_code import shipped_values

_DATA = Path(__file__).with_name("data")


@cache
def package_data(name: str) -> Any:
    """Return the content of a data file, "glasses" for data/glasses.yaml; the callers give it its type."""
    return shipped_values(_DATA / f"{name}.yaml")
