"""Ctrl+C at any time: no traceback, and what a command has begun it puts in order."""

import os
import signal
import subprocess
import sys

import pytest

from tests.cli.test_commands import REPOSITORY

PRESS_AT = """\
import os, runpy, signal, sys

class Press:
    def find_spec(self, name, path=None, target=None):
        if name == {module!r}:
            os.kill(os.getpid(), signal.SIGINT)

sys.meta_path.insert(0, Press())
sys.argv = ["menugen", "check", "nowhere"]
runpy.run_module("menugen", run_name="__main__")
"""


def process(words: str, *, ignored: bool = False) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", words],
        env={**os.environ, "PYTHONPATH": str(REPOSITORY)},
        capture_output=True,
        text=True,
        check=False,
        preexec_fn=(lambda: signal.signal(signal.SIGINT, signal.SIG_IGN)) if ignored else None,
    )


@pytest.mark.skipif(os.name == "nt", reason="a process is interrupted otherwise there")
@pytest.mark.parametrize("module", ["menugen.cli", "menugen.cli.arguments", "menugen.cli.check", "yaml"])
def test_while_its_modules_are_imported_a_command_ends_at_once(module):
    done = process(PRESS_AT.format(module=module))
    assert (done.returncode, done.stdout, done.stderr) == (-signal.SIGINT, "", "")


@pytest.mark.slow
def test_whoever_has_it_ignored_is_not_interrupted():
    done = process(PRESS_AT.format(module="menugen.cli.check"), ignored=True)
    assert done.returncode == 2
    assert "nowhere" in done.stderr


@pytest.mark.slow
def test_a_command_that_has_begun_puts_things_in_order():
    done = process(
        "import os, signal, sys\n"
        "from menugen.cli import arguments\n"
        "def begun(args):\n"
        "    try:\n"
        "        os.kill(os.getpid(), signal.SIGINT)\n"
        "        signal.pause()\n"
        "    finally:\n"
        "        print('in order')\n"
        "arguments._command = lambda name: lambda args: begun\n"
        "sys.argv = ['menugen', 'check']\n"
        "import menugen.__main__\n"
        "menugen.__main__.run()\n"
    )
    assert (done.returncode, done.stdout, done.stderr) == (130, "in order\n", "")


@pytest.mark.slow
def test_after_a_command_it_ends_at_once_again():
    done = process(
        "import atexit, os, signal, sys\n"
        "atexit.register(lambda: os.kill(os.getpid(), signal.SIGINT))\n"
        "sys.argv = ['menugen', 'check', 'nowhere']\n"
        "import menugen.__main__\n"
        "menugen.__main__.run()\n"
    )
    assert done.returncode == -signal.SIGINT
    assert "Traceback" not in done.stderr
