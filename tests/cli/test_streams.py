"""Where what a command prints is not taken, it says so, and nobody reads a traceback."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.test_commands import REPOSITORY, write_house

ENVIRONMENT = {name: value for name, value in os.environ.items() if name != "PYTHONUNBUFFERED"}
"""Where it is set, nothing waits to be written until the end."""

LOST = "menugen: not everything could be printed: standard output: "
FULL = LOST + "No space left on device\n"
CLOSED = LOST + "it is closed\n"


@pytest.fixture(scope="module")
def bar(tmp_path_factory):
    return write_house(tmp_path_factory.mktemp("streams") / "bar")


def shell(words: str, bar) -> tuple[int, str, str]:
    """Run a command in a shell, and return its exit code and what arrived."""
    done = subprocess.run(
        ["sh", "-c", words.replace("menugen", f'"{sys.executable}" -m menugen', 1)],
        cwd=bar,
        env={**ENVIRONMENT, "PYTHONPATH": str(REPOSITORY)},
        capture_output=True,
        text=True,
        check=False,
    )
    return done.returncode, done.stdout, done.stderr


@pytest.mark.slow
@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no /dev/full here")
@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        ("menugen --help >/dev/full", 1, FULL),
        ("menugen completion bash >/dev/full", 1, FULL),  # more than a buffer holds, so in the middle
        ("menugen check --json >/dev/full", 1, FULL),
        ("menugen drink marsh-sour >/dev/full", 1, FULL),
        ("menugen nothing >/dev/full", 2, None),
        ("menugen --version >&-", 1, CLOSED),
        ("menugen --version 2>/dev/full", 0, ""),
        ("menugen --version 2>&-", 0, ""),
        ("menugen nothing 2>/dev/full", 2, ""),
        ("menugen nothing 2>&-", 2, ""),
        ("menugen --version >&- 2>&-", 1, ""),
        ("menugen --version >/dev/full 2>&1", 1, ""),
        ("menugen --version <&-", 0, ""),
    ],
)
def test_a_loss_is_said_and_is_a_failure(words, code, said, bar):
    left, out, err = shell(words, bar)
    assert left == code
    assert said is None or err == said
    assert "Traceback" not in err
    assert "ignored" not in err
    if code:
        assert out == ""


@pytest.mark.parametrize(("words", "code"), [("a warning", 1), ("", 0)])
def test_what_was_to_be_said_beside_the_result_counts_too(words, code, bar):
    told = (
        "import sys\n"
        "from menugen.cli.streams import end_streams, make_streams\n"
        "make_streams()\n"
        f"code = end_streams(lambda: print({words!r}, end='', file=sys.stderr) or print('done') or 0)\n"
        "sys.exit(code)\n"
    )
    done = subprocess.run(
        ["sh", "-c", 'exec "$0" -u -c "$1" 2>/dev/full', sys.executable, told],
        env={**ENVIRONMENT, "PYTHONPATH": str(REPOSITORY)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, done.stdout) == (code, "done\n")


def test_a_reader_that_has_gone_is_told_nothing(bar):
    code, _, err = shell("{ menugen completion bash; echo $? >&2; } | true", bar)
    assert (code, err) == (0, "1\n")


def test_a_file_that_is_opened_never_takes_the_place_of_a_closed_stream(bar):
    words = (
        "import sys, os\n"
        "from menugen.cli.streams import make_streams\n"
        "make_streams()\n"
        "handle = os.open('taken', os.O_CREAT | os.O_WRONLY)\n"
        "print(handle > 2, file=open('said', 'w'))\n"
    )
    subprocess.run(
        ["sh", "-c", 'exec "$0" -c "$1" <&- >&- 2>&-', sys.executable, words],
        cwd=bar,
        env={**os.environ, "PYTHONPATH": str(REPOSITORY)},
        check=True,
    )
    assert (bar / "said").read_text() == "True\n"
