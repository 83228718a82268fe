"""The command: which ports it takes, and how it ends."""

import errno
import shlex
import signal
import socket
from pathlib import Path

import pytest

from menugen.cli import main
from menugen.preview import server
from tests.houses import texts


@pytest.fixture
def house(tmp_path: Path) -> Path:
    for name, text in texts().items():
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
    return tmp_path


@pytest.mark.parametrize(
    "port", ["70000", "-1", "65536", "1e3", "", "٨٠", "8" * 5000, "0x50", "8173.0", "http"]
)
def test_a_port_out_of_range_is_one_sentence(house, capsys, port):
    with pytest.raises(SystemExit) as ended:
        main(["preview", str(house), f"--port={port}"])
    assert ended.value.code == 2
    said = capsys.readouterr().err.splitlines()[-1]
    assert (
        said
        == f'menugen preview: error: argument --port: a port is a number from 0 to 65535, and this is "{port}"'
    )


def test_a_port_with_a_dash_as_it_is_typed(house):
    with pytest.raises(SystemExit) as ended:
        main(["preview", str(house), "--port", "-1"])
    assert ended.value.code == 2


def test_a_port_in_use_says_what_to_type_before_any_page_is_made(house, capsys, monkeypatch):
    monkeypatch.setattr(server, "make_pages", lambda *_: pytest.fail("pages were made"))
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        assert main(["preview", str(house), "--port", str(port)]) == 2
    what_to_type = f"menugen preview {shlex.quote(str(house))} --port 0 picks a free one"
    assert capsys.readouterr().err == (
        f"menugen: port {port} is in use, perhaps by another preview: {what_to_type}\n"
    )


@pytest.mark.parametrize(
    ("number", "why"),
    [
        (errno.EACCES, "is the system's own, as those below 1024 are"),
        (errno.EADDRNOTAVAIL, "cannot be had: "),
    ],
)
def test_a_port_that_is_not_to_be_had_says_why(house, capsys, monkeypatch, number, why):
    def refused(_self: object, _address: object) -> None:
        raise OSError(number, "so it is")

    monkeypatch.setattr(socket.socket, "bind", refused)
    assert main(["preview", str(house), "--port", "80"]) == 2
    said = capsys.readouterr().err
    assert said.startswith(f"menugen: port 80 {why}")
    assert said.endswith("--port 0 picks a free one\n")
    assert said.count("\n") == 1


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
@pytest.mark.parametrize("step", ["make_pages", "Watch.start", "Server.serve_forever"])
def test_it_ends_quietly_whatever_it_was_doing(house, capfd, monkeypatch, number, step):
    before = signal.getsignal(signal.SIGTERM)
    where, _, name = step.rpartition(".")
    monkeypatch.setattr(
        getattr(server, where) if where else server, name, lambda *_: signal.raise_signal(number)
    )
    assert main(["preview", str(house), "--port", "0", "--quiet"]) == 0
    assert capfd.readouterr().err == ""
    assert signal.getsignal(signal.SIGTERM) is before


def test_a_terminal_that_was_closed_is_no_fault(house, monkeypatch):
    class Closed:
        def write(self, _text: str) -> int:
            raise BrokenPipeError

        def flush(self) -> None:
            raise BrokenPipeError

        def isatty(self) -> bool:
            return False

    (house / "specs/marsh-sour.md").write_text("no spec", encoding="utf-8")
    monkeypatch.setattr("sys.stderr", Closed())
    monkeypatch.setattr(server.Server, "serve_forever", lambda _self: None)
    assert main(["preview", str(house), "--port", "0"]) == 0
