"""What is said of a fault of menugen's own: one sentence, wherever it is noticed."""

DETAILS = "MENUGEN_TRACEBACK"
"""The environment variable that shows the details."""


def own_fault(fault: BaseException) -> str:
    """Say that menugen itself has failed, and where, in one sentence and what follows from it; two lines."""
    trace = fault.__traceback__
    while trace is not None and trace.tb_next is not None:
        trace = trace.tb_next
    where = f" ({trace.tb_frame.f_globals.get('__name__')}, line {trace.tb_lineno})" if trace else ""
    return (
        f"menugen: a fault of menugen's own, not of your files: {type(fault).__name__}: {fault}{where}\n"
        f"         what was published before is as it was; {DETAILS}=1 shows the details for a report"
    )
