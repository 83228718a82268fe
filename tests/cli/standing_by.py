"""A menugen that stands by with its modules imported, for tests in which git or a shell runs the command many times.

Each call is a process of its own, forked from one that has looked at a started house and done nothing else; it gets
the caller's words, folder, environment and open streams. What it saves is Python's start, the imports and the data
files, which are most of what a command on a small house takes. It needs fork, as the scripts under test need a shell.
"""

import json
import os
import socket
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import NoReturn

REPOSITORY = Path(__file__).resolve().parents[2]

_SHIM = """\
#!{python} -IS
import json, os, socket, sys
with socket.socket(socket.AF_UNIX) as asked:
    asked.connect({address!r})
    socket.send_fds(asked, [b"!"], [0, 1, 2])
    asked.sendall(json.dumps([sys.argv[1:], os.getcwd(), dict(os.environ)]).encode())
    asked.shutdown(socket.SHUT_WR)
    sys.exit(int(asked.recv(4) or b"99"))
"""


@contextmanager
def standing_by(folder: Path) -> Iterator[Path]:
    """Lend a folder that holds a command `menugen`, for as long as it stands by.

    Args:
        folder: A new one, with a short path: sockets have room for about a hundred letters.
    """
    address = folder / "asked"
    command = folder / "menugen"
    command.write_text(_SHIM.format(python=sys.executable, address=str(address)), encoding="utf-8")
    command.chmod(0o755)
    with socket.socket(socket.AF_UNIX) as listening:
        listening.bind(str(address))
        listening.listen()
        process = subprocess.Popen(
            [sys.executable, "-m", "tests.cli.standing_by", str(listening.fileno())],
            cwd=REPOSITORY,
            pass_fds=[listening.fileno()],
        )
        try:
            yield folder
        finally:
            process.terminate()
            process.wait()


def _serve(listening: socket.socket) -> None:
    from menugen.cli import main, run

    with tempfile.TemporaryDirectory() as folder:
        # What is the same for every house, such as the rules of places, is read and made ready once.
        for command in ("start", "check", "tidy"):
            assert main([command, f"{folder}/bar", "--quiet"]) == 0
    while True:
        asked, _ = listening.accept()
        with asked:
            _, streams, _, _ = socket.recv_fds(asked, 1, 3)
            words, folder, environment = json.load(asked.makefile("rb"))
            child = os.fork()
            if child == 0:
                listening.close()
                for number, stream in enumerate(streams):
                    os.dup2(stream, number)
                # What was open here may have been a file, and what is asked for a pipe: Python looks once.
                sys.stdout = open(1, "w", encoding="utf-8", closefd=False)  # noqa: SIM115  # for good
                sys.stderr = open(2, "w", encoding="utf-8", closefd=False)  # noqa: SIM115
                os.chdir(folder)
                os.environ.clear()
                os.environ.update(environment)
                sys.argv[1:] = words
                _leave(run)
            for stream in streams:
                os.close(stream)
            asked.sendall(b"%d" % os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]))


def _leave(run: Callable[[], None]) -> NoReturn:
    """Run a command, which hands on all it printed, and end the process without what its parent would clear up."""
    try:
        run()
    except SystemExit as left:
        os._exit(left.code if isinstance(left.code, int) else 1)
    os._exit(0)


if __name__ == "__main__":
    with socket.socket(fileno=int(sys.argv[1])) as given:
        _serve(given)
