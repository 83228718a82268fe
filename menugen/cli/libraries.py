"""Which of the libraries that menugen is built on is missing, too old or broken, and what to type then."""

import re
import shlex
import sys
from importlib import metadata
from types import TracebackType

_OURS = __name__.partition(".")[0]

_ALL_AGAIN = ["--upgrade", "--upgrade-strategy=eager", "--force-reinstall", "menugen"]

_LOWEST = re.compile(r"([A-Za-z0-9._-]+)\s*>=\s*([0-9.]+)$")


def library_fault(fault: Exception, *, loading: bool) -> str | None:
    """Return a sentence on the library that a fault comes from, and what to type; None where it is none of theirs.

    Args:
        fault: What was raised.
        loading: Whether it was while the modules of a command were imported, before anything was done.
    """
    if wanting := _wanting():
        needed = "; ".join(f"{name} {lowest} or newer is needed, {found}" for name, lowest, found in wanting)
        return f"{needed}{_what_to_type([f'{name}>={lowest}' for name, lowest, _ in wanting])}"
    if isinstance(fault, ImportError) and fault.name:
        module = fault.name.partition(".")[0]
    elif loading:
        module = _called_by_menugen(fault.__traceback__)
    else:
        return None
    if module in sys.stdlib_module_names:
        return f"this Python lacks something that menugen needs: {_words(fault)}; install another Python"
    if module == _OURS:
        return f"menugen is not installed whole: {_words(fault)}{_what_to_type(_ALL_AGAIN)}"
    if not module:
        return f"menugen cannot start with the libraries that are installed: {_words(fault)}{_what_to_type(_ALL_AGAIN)}"
    library = _library(module)
    again = ["--upgrade", "--force-reinstall", library] if library else _ALL_AGAIN
    return f"the library {library or module}{_version(library)} cannot be loaded: {_words(fault)}{_what_to_type(again)}"


def _words(fault: Exception) -> str:
    # Some libraries add pages of advice.
    return f"{type(fault).__name__}: {str(fault).strip().partition(chr(10))[0]}"


def _what_to_type(arguments: list[str]) -> str:
    return f"; type: {shlex.join([sys.executable, '-m', 'pip', 'install', *arguments])}"


def _wanting() -> list[tuple[str, str, str]]:
    """Return name, lowest version and what was found of each library that is missing or older than menugen needs."""
    try:
        needed = metadata.requires("menugen") or []
    except metadata.PackageNotFoundError:  # the source alone, put on Python's path
        return []
    wanting = []
    for requirement in needed:
        words, _, condition = requirement.partition(";")
        lowest = _LOWEST.match(words.strip())
        if lowest is None or "extra" in condition:
            continue
        found = _version(lowest[1]).strip()
        if not found or _numbers(found) < _numbers(lowest[2]):
            wanting.append(
                (lowest[1], lowest[2], f"and {found} is installed" if found else "and is not installed")
            )
    return wanting


def _numbers(version: str) -> tuple[int, ...]:
    """Return a version for comparing: "2.10.0rc1" as 2, 10; a candidate counts as what it is a candidate for."""
    numbers = [int(part) for part in re.match(r"\d+(?:\.\d+)*|", version)[0].split(".") if part]  # type: ignore[index]
    while numbers and not numbers[-1]:
        numbers.pop()
    return tuple(numbers)


def _version(library: str) -> str:
    """Return the version of a library that is installed, after a space; empty where none is."""
    try:
        return f" {metadata.version(library)}" if library else ""
    except metadata.PackageNotFoundError:
        return ""


def _called_by_menugen(trace: TracebackType | None) -> str:
    """Return the package that menugen was importing when that broke; empty where it broke in menugen's own code."""
    called = ""
    while trace is not None:
        package = str(trace.tb_frame.f_globals.get("__name__", "")).partition(".")[0]
        if package == _OURS:
            called = ""
        elif not called and package not in sys.stdlib_module_names:
            called = package
        trace = trace.tb_next
    return called


def _library(module: str) -> str:
    """Return the name a module's library is installed by, as "yaml" is in PyYAML; empty where nobody knows.

    A module's own name may be a stranger's library, which must not be asked for.
    """
    return next(iter(metadata.packages_distributions().get(module, ())), "")
