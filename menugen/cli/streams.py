"""Standard output and error as a command writes to them: in UTF-8, and never lost without a word."""

import errno
import io
import os
import sys
from collections.abc import Callable

TYPE_CHECKING = False  # typing itself would take a tenth of the start
if TYPE_CHECKING:
    from typing import BinaryIO


class OutputLost(Exception):
    """What a command prints is not taken: the disk is full, the reader has gone. It stops the command.

    No OSError, which a command might take for a fault of the house's files.
    """

    def __init__(self, why: OSError) -> None:
        super().__init__(why.strerror or str(why))
        self.reader_gone = isinstance(why, BrokenPipeError)


class _Stream(io.TextIOWrapper):
    """A standard stream that remembers whether anything was lost; what is written after that goes nowhere."""

    def __init__(
        self, buffer: "BinaryIO", *, by_line: bool, at_once: bool, closed: bool, stops: bool
    ) -> None:
        """Write to a buffer.

        Args:
            buffer: What takes the bytes.
            by_line: Whether each line is handed on when it ends.
            at_once: Whether everything is.
            closed: Whether the stream was closed before we began, so that all that is written is lost.
            stops: Whether a loss stops the command. Without its result a command is of no use; what goes to
                standard error comes beside that.
        """
        # Names of drinks are not ASCII; a Windows console or LANG=C must not turn them into a traceback.
        super().__init__(
            buffer, encoding="utf-8", errors="replace", line_buffering=by_line, write_through=at_once
        )
        self.lost = False
        self._closed_before = closed
        self._stops = stops

    def write(self, text: str, /) -> int:
        if not text:  # which a full disk refuses, too
            return 0
        try:
            if self._closed_before:
                raise OSError(errno.EBADF, "it is closed")
            return super().write(text)
        except OSError as fault:
            self._lose(fault)
        return len(text)

    def flush(self) -> None:
        try:
            super().flush()
        except OSError as fault:
            self._lose(fault)

    def _lose(self, fault: OSError) -> None:
        first, self.lost, self._closed_before = not self.lost, True, False
        # What is still waiting would fail again when the interpreter ends, and be reported there as a traceback.
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, self.fileno())
        os.close(nowhere)
        if first and self._stops:
            raise OutputLost(fault) from fault


def make_streams() -> None:
    """Put streams that notice a loss in the place of standard output and error, closed ones too."""
    _fill_closed()
    for name, number in (("stdout", 1), ("stderr", 2)):
        stream, stops = getattr(sys, name), name == "stdout"
        if stream is None:
            nowhere = open(number, "wb", closefd=False)  # noqa: SIM115  # open as long as the process is
            made = _Stream(nowhere, by_line=True, at_once=False, closed=True, stops=stops)
        elif isinstance(stream, io.TextIOWrapper):
            by_line, at_once = stream.line_buffering, stream.write_through
            made = _Stream(stream.detach(), by_line=by_line, at_once=at_once, closed=False, stops=stops)
        else:
            continue
        setattr(sys, name, made)


def _fill_closed() -> None:
    """Lead standard streams that are closed nowhere: else the next file that is opened takes their number."""
    while (number := os.open(os.devnull, os.O_RDWR)) <= 2:
        os.set_inheritable(number, True)
    os.close(number)


def end_streams(command: Callable[[], int]) -> int:
    """Run a command, see to it that what it printed has arrived, and return its exit code, or 1 where it has not."""
    try:
        try:
            code = command()
        except SystemExit as left:  # argparse, after help or wrong use
            code = left.code if isinstance(left.code, int) else int(left.code is not None)
        sys.stdout.flush()
    except OutputLost as fault:
        code = 1
        if not fault.reader_gone:  # "menugen check | head": nobody is left to be told
            print(f"menugen: not everything could be printed: standard output: {fault}", file=sys.stderr)
    sys.stderr.flush()
    return code or int(getattr(sys.stderr, "lost", False))
