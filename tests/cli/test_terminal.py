"""How wide a report is printed."""

import io
import os

import pytest

from menugen.cli import terminal
from menugen.report import Note, Report


class Tty(io.StringIO):
    def isatty(self) -> bool:
        return True

    def fileno(self) -> int:
        return 1


@pytest.mark.parametrize(("columns", "width"), [(200, 80), (80, 80), (60, 60), (3, 40), (0, 80)])
def test_a_report_is_as_wide_as_a_narrow_terminal_and_no_wider_than_80(columns, width, monkeypatch):
    monkeypatch.setattr(os, "get_terminal_size", lambda _: os.terminal_size((columns, 24)))
    monkeypatch.setattr("sys.stdout", stream := Tty())
    terminal.print_report(Report(lead=(Note("word " * 100),)))
    longest = max(map(len, stream.getvalue().splitlines()))
    assert width - 5 < longest <= width


def test_in_a_file_or_a_pipe_it_is_80_wide_whatever_the_terminal(monkeypatch, capsys):
    monkeypatch.setattr(os, "get_terminal_size", lambda _: os.terminal_size((50, 24)))
    terminal.print_report(Report(lead=(Note("word " * 100),)))
    assert max(map(len, capsys.readouterr().out.splitlines())) == 79


def test_a_terminal_that_does_not_say_its_width_is_80_wide(monkeypatch):
    def refuses(_: int) -> os.terminal_size:
        raise OSError

    monkeypatch.setattr(os, "get_terminal_size", refuses)
    monkeypatch.setattr("sys.stdout", stream := Tty())
    terminal.print_report(Report(lead=(Note("word " * 100),)))
    assert max(map(len, stream.getvalue().splitlines())) == 79
