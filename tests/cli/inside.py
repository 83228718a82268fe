"""Commands as they are typed, run inside this process: the same answers in a twentieth of the time.

What is about the process itself (its streams, signals, clock and language) is run as one; see test_streams.py.
"""

import io
import os
import subprocess
from contextlib import chdir, redirect_stderr, redirect_stdout
from pathlib import Path
from unittest.mock import patch

from menugen.cli import main


def menugen(*arguments: str, cwd: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    """Run a command in a folder, and return its exit code and what it printed."""
    out, err = io.StringIO(), io.StringIO()
    with chdir(cwd), patch.dict(os.environ, environment), redirect_stdout(out), redirect_stderr(err):
        try:
            code = main(list(arguments))
        except SystemExit as left:  # argparse, after help or wrong use
            code = int(left.code or 0)
    return subprocess.CompletedProcess(arguments, code, out.getvalue(), err.getvalue())
