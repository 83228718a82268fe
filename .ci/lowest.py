"""Prints constraints for pip that hold every library at the lowest version that pyproject.toml allows.

    python .ci/lowest.py > lowest.txt
    pip install --only-binary :all: -c lowest.txt -e ".[test]"

What the libraries are built on themselves has no bounds of ours; pip takes the newest that they allow.
"""

import re
import sys
import tomllib
from itertools import chain
from pathlib import Path

PROJECT = Path(__file__).resolve().parents[1] / "pyproject.toml"

REQUIREMENT = re.compile(r"(?P<name>[A-Za-z0-9._-]+)(?:\[[^]]*\])?\s*>=\s*(?P<lowest>[0-9][0-9a-z.]*)")


def lowest(project: Path = PROJECT) -> list[str]:
    """Return "name==version" of every library and of every extra.

    Raises:
        ValueError: One has no lower bound, or more than that.
    """
    about = tomllib.loads(project.read_text("utf-8"))["project"]
    pinned = []
    for requirement in chain(about["dependencies"], *about["optional-dependencies"].values()):
        words, _, _ = requirement.partition(";")
        bound = REQUIREMENT.fullmatch(words.strip())
        if bound is None:
            raise ValueError(f'{project.name}: "{requirement}" is no lower bound, as "name>=1.2" is')
        pinned.append(f"{bound['name']}=={bound['lowest']}")
    return pinned


if __name__ == "__main__":
    sys.stdout.write("".join(f"{line}\n" for line in lowest()))
