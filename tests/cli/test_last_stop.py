"""Whatever goes wrong inside, a user reads a sentence."""

import pytest

from menugen import cli
from menugen.cli import arguments, main


def _let_check_be(monkeypatch, run):
    command = arguments._command
    monkeypatch.setattr(
        arguments,
        "_command",
        lambda name: (lambda _args: run) if name == "check" else command(name),
    )


def test_a_fault_of_our_own_is_one_sentence_and_no_traceback(monkeypatch, capsys):
    def burst(_args):
        raise LookupError("the cellar door")

    monkeypatch.delenv("MENUGEN_TRACEBACK", raising=False)
    _let_check_be(monkeypatch, burst)
    assert main(["check", "."]) == 1
    told = capsys.readouterr().err
    assert "a fault of menugen's own" in told
    assert "the cellar door" in told
    assert "Traceback" not in told
    assert len(told.splitlines()) == 2


def test_the_details_are_there_for_whoever_asks(monkeypatch):
    def burst(_args):
        raise LookupError("the cellar door")

    monkeypatch.setenv("MENUGEN_TRACEBACK", "1")
    _let_check_be(monkeypatch, burst)
    with pytest.raises(LookupError):
        cli.main(["check", "."])


def test_an_interrupt_is_no_fault(monkeypatch):
    def stopped(_args):
        raise KeyboardInterrupt

    _let_check_be(monkeypatch, stopped)
    assert main(["check", "."]) == 130


def test_what_the_system_refuses_is_no_fault_of_ours(monkeypatch, capsys):
    def refused(_args):
        raise PermissionError(13, "Permission denied", "bar/house.yaml")

    _let_check_be(monkeypatch, refused)
    assert main(["check", "."]) == 1
    assert capsys.readouterr().err == "menugen: bar/house.yaml: Permission denied\n"
