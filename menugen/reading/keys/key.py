"""A key of a file, a table of them, and reading a mapping by a table.

One entry says everything about a key: how its value is read, the record's fields it goes into, its JSON Schema, its
line of help and its example, and whether a change of it is a fact. Its place in the table is its place in a tidy file.
"""

from collections.abc import Callable, Iterable
from dataclasses import MISSING, dataclass, field
from dataclasses import fields as fields_in
from typing import Any, Generic, Literal, NamedTuple, TypeAlias, TypeVar

from menugen.measures import Fault, OunceKind
from menugen.problems import Place, Problem, did_you_mean, error
from menugen.reading.yaml_text import Data

T = TypeVar("T")

Schema: TypeAlias = dict[str, Any]
"""A JSON Schema, draft 2020-12."""


class Units(NamedTuple):
    """What a measure in a file stands for.

    Attributes:
        ounce: The ounce the house means.
        part_ml: What one part is; None where the file does not say.
    """

    ounce: OunceKind = "trade"
    part_ml: float | None = None


class Problems(list[Problem]):
    """What is wrong with a value, in place of the value; never empty."""


@dataclass(frozen=True, slots=True)
class Value(Generic[T]):
    """A kind of value: a text, a price, a list of lines.

    Attributes:
        read: Returns the value, or what is wrong with it, of plain data and the place it was written.
        schema: Returns what an editor needs to know of it.
        text: Returns in words what a record holds of it, as `compare` shows it.
        table: The keys inside it, where it has any.
        is_by_name: Whether those stand behind names of the user's own.
    """

    read: Callable[[Data, Place, Units], "T | Problems"]
    schema: Callable[[], Schema]
    text: Callable[[Any], str] = str
    table: "Table | None" = None
    is_by_name: bool = False


@dataclass(frozen=True, slots=True)
class Key:
    """One key of a table.

    Attributes:
        name: As it is typed.
        fields: The fields of the record that it goes into; its value has as many parts as there are. None for one that
            other keys are read with.
        value: How its value is read, described and shown.
        change: Whether a change of it is a fact that is compared, or prose (words, looks, paths), which is passed over.
        help: What it means, in one line.
        examples: Values, as JSON has them.
        is_needed: Whether it must be there.
        reads_blank: Whether an empty value is read; else it is as if the key were not there.
        translated: An example in another language, where guests read the value in their own.
        meant: What other people write for the key; offered, never taken silently.
    """

    name: str
    fields: tuple[str, ...]
    value: Value[Any]
    change: Literal["compared", "prose"]
    help: str
    examples: tuple[Any, ...]
    is_needed: bool = False
    reads_blank: bool = False
    translated: Any = None
    meant: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Table:
    """The keys of a kind of file, or of a mapping inside one, in the order of a tidy file.

    Attributes:
        title: What it is a table of: "Event".
        help: The same in one line.
        record: What a mapping becomes; None where it makes no record.
        keys: Its keys.
        beside: Fields of the record that no key fills: where it was written, what the file's name and notes say.
        called: What a message calls the mapping, "a line"; empty for a whole file.
        example: What to write where a key is missing; empty where the key's own example says it.
    """

    title: str
    help: str
    record: type | None
    keys: tuple[Key, ...]
    beside: tuple[str, ...] = ()
    called: str = ""
    example: str = ""
    by_name: dict[str, Key] = field(init=False)
    needed: tuple[Key, ...] = field(init=False)
    unsaid: dict[str, Any] = field(init=False)

    def __post_init__(self) -> None:
        """Keep the keys by their names, those that must be there, and what a record's fields are where one is not."""
        object.__setattr__(self, "by_name", {key.name: key for key in self.keys})
        object.__setattr__(self, "needed", tuple(key for key in self.keys if key.is_needed))
        unsaid = {
            known.name: known.default if known.default_factory is MISSING else known.default_factory()
            for known in (fields_in(self.record) if self.record else ())
        }
        object.__setattr__(self, "unsaid", unsaid)

    def names(self) -> tuple[str, ...]:
        """Return the keys as they are typed."""
        return tuple(self.by_name)

    def schema(self) -> Schema:
        """Return the JSON Schema of a mapping."""
        needed = [key.name for key in self.needed]
        return {
            "title": self.title,
            "description": self.help,
            "type": "object",
            "properties": {
                key.name: _schema(key, or_null=self.unsaid.get(next(iter(key.fields), ""), MISSING) is None)
                for key in self.keys
            },
            **({"required": needed} if needed else {}),
            "additionalProperties": False,
        }


def _schema(key: Key, *, or_null: bool) -> Schema:
    schema = key.value.schema()
    if or_null:
        kinds = schema["anyOf"] if list(schema) == ["anyOf"] else [schema]
        schema = {"anyOf": [*kinds, {"type": "null"}]}
    return {**schema, "description": key.help, "examples": list(key.examples)}


class Reading(NamedTuple):
    """A mapping read by a table.

    Attributes:
        values: What each key says that is without fault.
        problems: Everything that is wrong.
    """

    values: dict[str, Any]
    problems: Problems


def read_keys(table: Table, data: dict[str, Data], place: Place, units: Units) -> Reading:
    """Read a mapping: the value of every key that can be read, and every problem at once."""
    values: dict[str, Any] = {}
    problems = Problems()
    for name, typed in data.items():
        key = table.by_name.get(name)
        if key is None:
            problems.append(_unknown(name, table, place))
        elif typed != "" or key.reads_blank:
            value = key.value.read(typed, place.at(name), units)
            if isinstance(value, Problems):
                problems += value
            else:
                values[name] = value
    if table.called and any(problem.code == "unknown-key" for problem in problems):
        return Reading(values, problems)  # the key that is missing is the one that was mistyped
    for key in table.needed:
        if not _is_said(key, data):
            hint = table.example or f'add a line such as "{key.name}: {flow(key.examples[0])}"'
            where = Place(place.file, place.path, "key")
            problems.append(error("missing-key", f'"{key.name}" is missing', where, hint))
    return Reading(values, problems)


def _is_said(key: Key, data: dict[str, Data]) -> bool:
    return key.name in data and (data[key.name] != "" or key.reads_blank)


def _unknown(name: str, table: Table, place: Place) -> Problem:
    of = f"of {table.called}" if table.called else "here"
    what = "is not a key known here" if not table.called else f"is not a key {of}"
    meant = next((key.name for key in table.keys if name.casefold() in key.meant), name)
    hints = did_you_mean(meant, table.names()) or (f"the keys {of} are {', '.join(table.names())}",)
    return error("unknown-key", f'"{name}" {what}', place.at(name, on="key"), *hints)


def fields_of(table: Table, values: dict[str, Any]) -> dict[str, Any]:
    """Return the fields of a record from what the keys say; those that are not said are left out."""
    found: dict[str, Any] = {}
    for name, value in values.items():
        fields = table.by_name[name].fields
        if len(fields) == 1:
            found[fields[0]] = value
        elif fields:
            found.update(zip(fields, value, strict=True))
    return found


def problem_at(place: Place, fault: Fault) -> Problem:
    """Return the problem of a fault in the value at a place."""
    where = Place(place.file, place.path, place.on, fault.quote)
    return error(fault.code, fault.message, where, *([fault.hint] if fault.hint else []))


def refused(place: Place, code: str, message: str, hint: str = "", quote: str = "") -> Problems:
    """Return the one problem of the value at a place."""
    return Problems([problem_at(place, Fault(code, message, hint, quote))])


def refused_key(place: Place, code: str, message: str, hint: str = "") -> Problems:
    """Return the one problem of the value at a place; the message goes on from the name of its key."""
    return refused(place, code, f"{_subject(place.path)} {message}", hint)


def _subject(path: tuple[str | int, ...]) -> str:
    if not path:
        return "this"
    last = path[-1]
    return f'"{last}"' if isinstance(last, str) else f"item {last + 1} of {_subject(path[:-1])}"


def flow(example: Any) -> str:
    """Return an example as YAML in one line."""
    if isinstance(example, list):
        return f"[{', '.join(flow(item) for item in example)}]"
    if isinstance(example, dict):
        return f"{{{', '.join(f'{key}: {flow(value)}' for key, value in example.items())}}}"
    text = str(example)
    return f'"{text}"' if text.startswith("#") else text


class KeyDifference(NamedTuple):
    """A key that two records say differently; a side is empty where it is as if nothing were said."""

    key: str
    before: str
    after: str


def differences(table: Table, old: object, new: object) -> tuple[KeyDifference, ...]:
    """Return what two records of a table say differently, in the order of the table; prose is passed over.

    Keys inside a mapping that makes no record are named after those that lead to them: "colours light ground".
    """
    found: dict[tuple[str, ...], tuple[KeyDifference, ...]] = {}
    for key in table.keys:
        # Lines of a spec are one field with a key for each of their roles.
        if key.change == "compared" and key.fields not in found:
            was, now = _parts(table, key, old), _parts(table, key, new)
            if was != now:
                found[key.fields] = _differences(table, key, was, now)
    return tuple(difference for one in found.values() for difference in one)


def _differences(
    table: Table, key: Key, was: tuple[Any, ...], now: tuple[Any, ...]
) -> tuple[KeyDifference, ...]:
    inner = None if key.value.is_by_name else key.value.table
    if inner is not None and all(isinstance(said, dict | None) for said in (*was, *now)):
        found = differences(inner, was[0], now[0])
        return tuple(one._replace(key=f"{key.name} {one.key}") for one in found)
    return (KeyDifference(key.name, _text(table, key, was), _text(table, key, now)),)


def _parts(table: Table, key: Key, said: Any) -> tuple[Any, ...]:
    """Return what a record says by a key, or a mapping that makes none; there, None is what is not said."""
    if table.record is None:
        return tuple((said or {}).get(name) for name in key.fields)
    return tuple(getattr(said, name) for name in key.fields)


def _text(table: Table, key: Key, parts: tuple[Any, ...]) -> str:
    if parts == tuple(table.unsaid.get(name) for name in key.fields):
        return ""
    return key.value.text(parts[0] if len(parts) == 1 else parts)


def listed(words: Iterable[object]) -> str:
    """Return words in one line: "milk, almond"; "none" where there are none."""
    return ", ".join(str(word) for word in words) or "none"


def stated(table: Table, record: object) -> dict[str, str]:
    """Return what a record says, by key, as text in the order of the table; prose and what is not said are left out."""
    texts = (
        (key.name, _text(table, key, _parts(table, key, record)))
        for key in table.keys
        if key.change == "compared" and key.fields
    )
    return {name: text for name, text in texts if text}
