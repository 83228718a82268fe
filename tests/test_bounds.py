"""The lower bounds of pyproject.toml: each library has one that can be tried."""

import runpy
from pathlib import Path

import pytest

LOWEST = Path(__file__).resolve().parents[1] / ".ci/lowest.py"


@pytest.fixture(scope="module")
def lowest():
    return runpy.run_path(str(LOWEST))["lowest"]


def test_every_library_and_every_extra_has_a_bound_to_try(lowest):
    pinned = lowest()
    names = [line.partition("==")[0] for line in pinned]
    assert {"pint", "pyyaml", "jinja2", "pytest", "playwright", "mypy"} <= set(names)
    assert all(line.partition("==")[2][0].isdigit() for line in pinned)
    assert len(names) == len({name.casefold() for name in names})


@pytest.mark.parametrize("words", ["pint", "pint==0.24", "pint>=0.24,<1", "pint~=0.24", "pint>=", "pint<1"])
def test_a_library_without_a_plain_bound_is_refused(lowest, tmp_path, words):
    project = tmp_path / "pyproject.toml"
    project.write_text(
        f'[project]\ndependencies = ["babel>=2.14"]\n[project.optional-dependencies]\ntest = ["{words}"]\n',
        "utf-8",
    )
    with pytest.raises(ValueError, match="no lower bound"):
        lowest(project)


def test_markers_and_extras_of_a_library_do_not_hide_its_bound(lowest, tmp_path):
    project = tmp_path / "pyproject.toml"
    project.write_text(
        "[project]\ndependencies = [\"watchdog[tools] >= 4.0 ; os_name == 'nt'\"]\n"
        "[project.optional-dependencies]\n",
        "utf-8",
    )
    assert lowest(project) == ["watchdog==4.0"]
