"""The lower bounds of pyproject.toml: each library has one, and what an old version did to a house does not happen."""

import runpy
from pathlib import Path

import pytest

from tests.cli.inside import menugen
from tests.cli.test_commands import write_house

LOWEST = Path(__file__).resolve().parents[1] / ".ci/lowest.py"


@pytest.fixture(scope="module")
def lowest():
    return runpy.run_path(str(LOWEST))["lowest"]


def test_every_library_and_every_extra_has_a_bound_to_try(lowest):
    pinned = lowest()
    names = [line.partition("==")[0] for line in pinned]
    assert {"pydantic", "pint", "jinja2", "pytest", "playwright", "mypy"} <= set(names)
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


def test_a_link_in_the_place_of_a_lock_empties_nothing(tmp_path):
    bar = write_house(tmp_path / "bar")
    mine = tmp_path / "mine"
    mine.write_text("keep", "utf-8")
    (bar / "out").mkdir()
    (bar / "out/.small-supper.lock").symlink_to(mine)
    done = menugen("publish", "bar", cwd=tmp_path)
    assert "fault of menugen's own" not in done.stderr
    assert mine.read_text("utf-8") == "keep"
