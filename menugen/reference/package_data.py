"""The data files beside this code, read once."""

from functools import cache
from importlib import resources
from typing import Any

import yaml


@cache
def package_data(name: str) -> Any:
    """Return the content of a data file, "glasses" for data/glasses.yaml; the callers give it its type."""
    text = resources.files("menugen.reference").joinpath(f"data/{name}.yaml").read_text(encoding="utf-8")
    # The C loader is ten times as fast; PyYAML lacks it only where it was built without.
    loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    return yaml.load(text, loader)  # noqa: S506  # both are safe loaders
