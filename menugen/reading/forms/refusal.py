"""Saying no to a value in a way that pydantic carries out of a form."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from pydantic import BaseModel, ValidationError
from pydantic_core import PydanticCustomError

from menugen.measures import Fault
from menugen.problems import Place, Problem, did_you_mean, error

_KIND = "refused"


@dataclass(frozen=True, slots=True)
class Refusal:
    """A fault in a value.

    Attributes:
        fault: What is wrong.
        inside: Where in the value, by keys and positions.
        on: Whether the key or the value is meant.
        of_key: Whether the message goes on from the key's name: '"date" ' and then "is not a day".
    """

    fault: Fault
    inside: tuple[str | int, ...]
    on: Literal["key", "value"]
    of_key: bool


def refused(
    fault: Fault,
    *,
    inside: tuple[str | int, ...] = (),
    on: Literal["key", "value"] = "value",
    of_key: bool = False,
) -> PydanticCustomError:
    """Return the exception that a form's validator raises to report a fault in its value."""
    return PydanticCustomError(_KIND, _KIND, {_KIND: Refusal(fault, inside, on, of_key)})


def wrong_shape(message: str, hint: str = "", *, inside: tuple[str | int, ...] = ()) -> PydanticCustomError:
    """Return the exception for, say, a list where a text is expected; the message goes on from the key."""
    return refused(Fault("wrong-shape", message, hint), inside=inside, of_key=True)


def problems_of(
    failure: ValidationError, place: Place, form: type[BaseModel], inner: Mapping[str, type[BaseModel]]
) -> list[Problem]:
    """Return a problem for each fault of a form.

    Args:
        failure: What pydantic found.
        place: Where the form's data stands.
        form: The form.
        inner: The forms inside it, by the keys that lead to them: "menu", "menu.translations".
    """
    return [_problem(fault, place, form, inner) for fault in failure.errors(include_url=False)]


def known_keys(form: type[BaseModel]) -> list[str]:
    """Return the keys a form knows, as the user types them."""
    return [field.alias or name for name, field in form.model_fields.items()]


def _problem(
    fault: Any, place: Place, form: type[BaseModel], inner: Mapping[str, type[BaseModel]]
) -> Problem:
    steps: tuple[str | int, ...] = tuple(step for step in fault["loc"] if step != "[key]")
    on_key = "[key]" in fault["loc"]
    if fault["type"] == _KIND:
        refusal: Refusal = fault["ctx"][_KIND]
        message = refusal.fault.message
        if refusal.of_key:
            message = f"{_subject((*steps, *refusal.inside))} {message}"
        where = Place(
            place.file,
            (*place.path, *steps, *refusal.inside),
            "key" if on_key else refusal.on,
            refusal.fault.quote,
        )
        return error(
            refusal.fault.code, message, where, *([refusal.fault.hint] if refusal.fault.hint else [])
        )
    within, path = form, ""
    for step in steps[:-1]:
        if isinstance(step, str):
            path = f"{path}.{step}" if path else step
            within = inner.get(path, within)
    if fault["type"] == "missing":
        key = str(steps[-1])
        where = Place(place.file, (*place.path, *steps[:-1]), "key")
        return error(
            "missing-key", f'"{key}" is missing', where, f'add a line such as "{_example(within, key)}"'
        )
    if fault["type"] == "extra_forbidden":
        key = str(steps[-1])
        meant: Mapping[str, str] = getattr(within, "meant", {})
        hints = did_you_mean(meant.get(key.casefold(), key), known_keys(within)) or (
            f"the keys here are {', '.join(known_keys(within))}",
        )
        return error("unknown-key", f'"{key}" is not a key known here', place.at(*steps, on="key"), *hints)
    message = f"{_subject(steps)} must be keys and values"
    return error("wrong-shape", message, place.at(*steps), f'write it as "{_example_of(within)}"')


def _subject(steps: tuple[str | int, ...]) -> str:
    if not steps:
        return "this"
    last = steps[-1]
    if isinstance(last, str):
        return f'"{last}"'
    return f"item {last + 1} of {_subject(steps[:-1])}"


def _example(form: type[BaseModel], key: str) -> str:
    for name, field in form.model_fields.items():
        if (field.alias or name) == key and field.examples:
            return f"{key}: {_shown(field.examples[0])}"
    return f"{key}: ..."


def _example_of(form: type[BaseModel]) -> str:
    first = known_keys(form)[0]
    return _example(form, first)


def _shown(example: Any) -> str:
    if isinstance(example, list):
        return f"[{', '.join(_shown(item) for item in example)}]"
    if isinstance(example, dict):
        return f"{{{', '.join(f'{key}: {_shown(value)}' for key, value in example.items())}}}"
    return str(example)
