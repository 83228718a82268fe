"""One small house a code, and what the user is told of it.

Each folder here is named for a code and holds a house that provokes it and expected.txt, the text the user reads.
After a change on purpose, run with UPDATE_EXPECTED=1 and read the difference.
"""

import ast
import os
import re
from pathlib import Path

import pytest

from menugen.problems import draw_text, summary
from menugen.reading import DiskFiles, HouseReading, read_house, read_theme

CASES = Path(__file__).parent
ROOMS = CASES.parent.parent / "menugen"
CODE = re.compile(r"[a-z]+(?:-[a-z0-9]+)+")
NO_CODES = {"utf-8", "utf-16", "utf-8-sig", "saltmarsh-sour", "quiet-harbour"}


def codes_with_a_house() -> list[str]:
    return sorted(folder.name for folder in CASES.iterdir() if (folder / "expected.txt").is_file())


def codes_in_the_source(*rooms: str) -> set[str]:
    """Every text in these rooms' source that is shaped like a code."""
    texts = {
        node.value
        for room in rooms
        for module in (ROOMS / room).rglob("*.py")
        for node in ast.walk(ast.parse(module.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }
    return {text for text in texts if CODE.fullmatch(text)} - NO_CODES


def told(reading: HouseReading, folder: Path) -> str:
    """Return what the user reads of a house and of its own looks."""
    looks = sorted(folder.glob("themes/*/theme.yaml"))
    files = (file.relative_to(folder).as_posix() for file in looks)
    wrong = [
        problem for file in files for problem in read_theme(reading.sources.content(file), file).problems
    ]
    problems = (*reading.problems, *wrong)
    return draw_text(problems, reading.sources, prefix="", colour=False) + summary(problems) + "\n"


@pytest.mark.parametrize(
    "code", sorted(folder.name for folder in CASES.iterdir() if CODE.fullmatch(folder.name))
)
def test_each_code_is_told_as_stored(code: str) -> None:
    reading = read_house(DiskFiles(CASES / code))
    expected = CASES / code / "expected.txt"
    text = told(reading, CASES / code)
    if os.environ.get("UPDATE_EXPECTED"):
        expected.write_text(text, encoding="utf-8", newline="\n")
    assert f"[{code}]" in text
    assert text == expected.read_text(encoding="utf-8")


def test_a_file_larger_than_any_of_ours_is_refused(tmp_path: Path) -> None:
    (tmp_path / "house.yaml").write_text(
        "name: The Lantern Cart\n# " + "x" * 1_100_000 + "\n", encoding="utf-8"
    )
    assert told(read_house(DiskFiles(tmp_path)), tmp_path) == (
        "house.yaml:1:1: error[file-too-large]: this file is larger than 1 MiB\n"
        "  hint: only text written by hand belongs here; split it, or keep it elsewhere\n"
        "1 problem in 1 file\n"
    )


@pytest.mark.slow
def test_a_file_of_very_many_values_is_refused(tmp_path: Path) -> None:
    (tmp_path / "house.yaml").write_text("rules: [" + "a," * 100_100 + "]\n", encoding="utf-8")
    text = told(read_house(DiskFiles(tmp_path)), tmp_path)
    assert "error[too-many-values]: this file holds more than 100000 values" in text


def test_every_code_of_reading_has_a_house_here() -> None:
    made_in_tests_above = {"file-too-large", "too-many-values"}
    assert codes_in_the_source("reading", "measures") == set(codes_with_a_house()) | made_in_tests_above
