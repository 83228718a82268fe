"""Whatever goes wrong in a command that nobody has put into words before: one sentence, and an exit code."""

import os
import sys

from menugen.cli.libraries import library_fault
from menugen.cli.streams import OutputLost
from menugen.cli.terminal import fail
from menugen.cli.typed import WrongUse


def explain(fault: Exception, *, loaded: bool, code: int = 1) -> int:
    """Say what a fault is, and return the exit code.

    Args:
        fault: What ended a command.
        loaded: Whether the command's modules had all been imported.
        code: How a command ends that could not do its work; with 2 it always ends that was used wrongly.
    """
    if isinstance(fault, OutputLost):
        raise fault
    if isinstance(fault, WrongUse):
        return fail(str(fault))
    if not_here := _not_here(fault):
        return fail(not_here)
    if os.environ.get("MENUGEN_TRACEBACK"):
        raise fault
    if said := library_fault(fault, loading=not loaded):
        fail(said)
        return code
    if isinstance(fault, OSError) and fault.filename and fault.strerror:
        fail(f"{fault.filename}: {fault.strerror}")
        return code
    if isinstance(fault, RuntimeError) and str(fault).startswith(
        "Symlink loop"
    ):  # an OSError from Python 3.13 on
        fail(f"links lead in a circle: {fault}")
        return code
    return _own_fault(fault, code)


def _not_here(fault: Exception) -> str:
    """Return what is not to be had, of a house or of git, in the same words whichever command asked."""
    try:
        from menugen.reading import BrokenLink, NotOnThisMachine
    except Exception:  # noqa: BLE001  # what reading is built on is broken; then the fault is of that
        return ""
    if isinstance(fault, NotOnThisMachine):
        return str(fault)
    return f"{fault.filename}: {fault.why}" if isinstance(fault, BrokenLink) else ""


def _own_fault(fault: Exception, code: int) -> int:
    """Say that menugen itself has failed, and where, in one sentence."""
    from menugen.problems import own_fault

    print(own_fault(fault), file=sys.stderr)
    return code
