"""What is said of a template that was stopped, and where in it that was."""

from collections.abc import Mapping, Sequence
from types import TracebackType

from jinja2 import TemplateNotFound, TemplateSyntaxError, Undefined
from jinja2.environment import TemplateModule
from jinja2.exceptions import SecurityError, UndefinedError
from jinja2.runtime import Macro

_LIBRARIES = ("jinja2", "markupsafe")
_LONGEST = 300

_KINDS: tuple[tuple[type | tuple[type, ...], str], ...] = (
    (Undefined, "what is not there"),
    (type(None), "nothing"),
    (bool, "a yes or no"),
    (str, "a text"),
    ((int, float), "a number"),
    (Mapping, "a list of names"),
)

_TOO_DEEP = ("this is nested too deeply, or holds too large a number", "write it as several templates")

_SAID: tuple[tuple[type[BaseException], tuple[str, str]], ...] = (
    (RecursionError, ("this calls or includes itself again and again", "take one of the calls out")),
    (ZeroDivisionError, ("this divides by zero", "ask first whether it is 0")),
    (SyntaxError, _TOO_DEEP),
    (MemoryError, _TOO_DEEP),
    (ValueError, _TOO_DEEP),
    (OverflowError, _TOO_DEEP),
)


def called(value: object) -> str:
    """Return what something is called in a message to whoever writes templates."""
    if isinstance(value, Macro):
        return f'the macro "{value.name}"'
    if isinstance(value, TemplateModule):
        return f'"{value.__name__}"'
    for kind, words in _KINDS:
        if isinstance(value, kind):
            return words
    if isinstance(value, Sequence) and not hasattr(value, "_fields"):
        return "a row"
    name = type(value).__name__
    return f'"{"".join(f" {one.lower()}" if one.isupper() else one for one in name).strip(" _")}"'


def in_words(fault: BaseException, *, reading: bool = False) -> tuple[str, str]:
    """Return what stopped a template, as a message and a hint; the hint may be empty.

    Args:
        fault: What stopped it.
        reading: Whether it was only read.
    """
    if reading and isinstance(fault, RecursionError):
        return _TOO_DEEP
    if isinstance(fault, TemplateNotFound):
        return (
            f'there is no template called "{fault.name}"',
            "write the name of one that lies in the look's folder",
        )
    if isinstance(fault, SecurityError | UndefinedError):
        return _one_line(fault), ""
    if isinstance(fault, TemplateSyntaxError):
        return f"this is no template: {_one_line(fault.message or '').rstrip('.')}", ""
    for kind, said in _SAID:
        if isinstance(fault, kind):
            return said
    return f"this cannot be done: {_one_line(fault)}", ""


def template_places(trace: TracebackType | None, own: str) -> tuple[list[tuple[str, int]], bool]:
    """Return the files and lines of templates in a traceback, outermost first, and whether ours failed beyond them.

    Args:
        trace: Of the fault.
        own: The module that works for templates, and fails where they do.
    """
    places: list[tuple[str, int]] = []
    beyond = False
    while trace is not None:
        scope = trace.tb_frame.f_globals
        template = scope.get("__jinja_template__")
        module = str(scope.get("__name__"))
        if template is not None:
            places.append((template.filename, template.get_corresponding_lineno(trace.tb_lineno)))
            beyond = False
        elif module != own and not module.startswith(_LIBRARIES):
            beyond = True
        trace = trace.tb_next
    return places, beyond and bool(places)


def _one_line(fault: object) -> str:
    return " ".join(str(fault).split())[:_LONGEST]
