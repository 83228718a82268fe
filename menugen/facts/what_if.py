"""What a drink would be with other measures: changes to its lines, as typed."""

from collections.abc import Iterable
from dataclasses import replace

from menugen.facts.bottles import Bottles
from menugen.measures import Fault, OunceKind, ParsedLine, parse_line, parse_number
from menugen.names import name_key
from menugen.problems import near
from menugen.records import Line, Measure, Role, Spec

NONE_WORDS = frozenset({"none", "no", "nothing", "out"})


class WrongChange(Exception):
    """What was typed cannot be done to this drink; the message says why in plain words."""


def sides(typed: str, option: str, example: str) -> tuple[str, str]:
    """Return what stands left and right of the first "=".

    Raises:
        WrongChange: One of them is missing.
    """
    left, sign, right = (part.strip() for part in typed.partition("="))
    if not (left and sign and right):
        raise WrongChange(f'{option} "{typed}" does not say what becomes of what: write {option} "{example}"')
    return left, right


def find_line(spec: Spec, name: str, bottles: Bottles) -> int | None:
    """Return the position of the line of this name, or that the same bottle fills; None where there is none.

    Raises:
        WrongChange: Several lines are of this name.
    """
    key, stock = name_key(name), bottles.find(name)
    found = [index for index, line in enumerate(spec.lines) if name_key(line.name) == key]
    if not found and stock is not None:
        found = [index for index, line in enumerate(spec.lines) if bottles.find(line.name) is stock]
    if len(found) > 1:
        drunk = [index for index in found if spec.lines[index].role not in (Role.RIM, Role.GARNISH)]
        if len(drunk) != 1:
            raise WrongChange(
                f'{spec.name} has {len(found)} lines of "{name}", and it is not clear which is meant'
            )
        found = drunk
    return found[0] if found else None


def changed(spec: Spec, changes: Iterable[str], bottles: Bottles, ounce: OunceKind) -> Spec:
    """Return a drink with changes as typed: "lime juice=20 ml", "egg white=none", "single cream=oat cream".

    A name that is in no line is added as a pour where stock has it. Swaps are left out: they belong to the written
    spec.

    Raises:
        WrongChange: A change cannot be made.
    """
    lines = list(spec.lines)
    for typed in changes:
        name, value = sides(typed, "--set", "lime juice=20 ml")
        index = find_line(replace(spec, lines=tuple(lines)), name, bottles)
        if _is_nothing(value):
            if index is None:
                raise WrongChange(
                    f'there is no "{name}" in {spec.name} to leave out{meant(name, spec, bottles)}'
                )
            del lines[index]
            continue
        if index is not None:
            lines[index] = _changed_line(lines[index], value, bottles, ounce, typed)
        else:
            lines.append(_added_line(spec, name, value, bottles, ounce, typed))
    if not any(line.role is Role.POUR for line in lines):
        raise WrongChange(f"nothing would be left to pour in {spec.name}")
    return replace(spec, lines=tuple(lines), swaps=())


def _is_nothing(value: str) -> bool:
    first, _, unit = value.partition(" ")
    number = parse_number(first.removesuffix("ml").removesuffix("oz"))
    return name_key(value) in NONE_WORDS or (number == 0.0 and not unit.strip().startswith("%"))


def meant(name: str, spec: Spec, bottles: Bottles, *, or_else: str = "") -> str:
    """Return, for the end of a sentence, near misses as a question; where nothing is near, which lines there are."""
    lines = list(dict.fromkeys(line.name for line in spec.lines))
    if close := near(name, lines) or near(name, bottles.names()):
        return ": did you mean " + " or ".join(f'"{word}"' for word in close) + "?"
    return f"; the lines there are: {', '.join(lines)}{or_else}"


def _parsed(value: str, name: str, bottles: Bottles, ounce: OunceKind, typed: str) -> ParsedLine:
    """Return a measure of the named thing, or of another thing that the value itself names."""
    if bottles.find(value) is not None:
        return ParsedLine(value, "", "each", count=1.0)
    parsed = parse_line(f"{value} {name}", ounce=ounce, part_ml=None)
    if isinstance(parsed, ParsedLine) and parsed.name != name:
        another = parse_line(value, ounce=ounce, part_ml=None)
        if isinstance(another, ParsedLine) and bottles.find(another.name) is not None:
            return another
        wrong = another.name if isinstance(another, ParsedLine) else value
        _refuse_promised(wrong, bottles, typed)
        close = near(wrong, bottles.names())
        hint = f': did you mean "{close[0]}"?' if close else ", and it is no measure"
        raise WrongChange(f'--set "{typed}": nothing in stock is called "{wrong}"{hint}')
    if isinstance(parsed, Fault):
        if parsed.code == "part-not-set":
            raise WrongChange(f'--set "{typed}": write the measure in millilitres or ounces, not in parts')
        raise WrongChange(f'--set "{typed}": {parsed.message}; {parsed.hint}')
    return parsed


def _refuse_promised(name: str, bottles: Bottles, typed: str) -> None:
    """Refuse a name that the event fills with a bottle there is not."""
    if bottles.is_promised(name):
        raise WrongChange(f'--set "{typed}": the bottle that the event names for "{name}" is not in stock')


def _measure(parsed: ParsedLine) -> Measure:
    return Measure(parsed.text, parsed.unit, parsed.volume_ml, parsed.mass_g, parsed.count)


def _check_counted(line: Line, bottles: Bottles, typed: str) -> None:
    """Refuse to count what comes in bottles: one of it would add nothing, and nobody would notice."""
    stock = bottles.find(line.name)
    is_drunk = line.role not in (Role.RIM, Role.GARNISH)
    if stock is None or line.measure.count is None or not is_drunk or stock.each_ml or stock.each_g:
        return
    if stock.bottle_ml is not None:
        raise WrongChange(f'--set "{typed}": write how much of it, such as "20 ml {line.name}"')


def _changed_line(line: Line, value: str, bottles: Bottles, ounce: OunceKind, typed: str) -> Line:
    if name_key(value) == "top":
        if line.role is not Role.TOP:
            raise WrongChange(f'--set "{typed}": "{line.name}" is not poured on top in this spec')
        return replace(line, measure=Measure("", "top"))
    parsed = _parsed(value, line.name, bottles, ounce, typed)
    now = replace(line, name=parsed.name, measure=_measure(parsed) if parsed.text else line.measure)
    _check_counted(now, bottles, typed)
    return now


def _added_line(spec: Spec, name: str, value: str, bottles: Bottles, ounce: OunceKind, typed: str) -> Line:
    stock = bottles.find(name)
    if stock is None:
        _refuse_promised(name, bottles, typed)
        raise WrongChange(
            f'--set "{typed}": no line of {spec.name} and nothing in stock is called "{name}"'
            + meant(name, spec, bottles, or_else="; anything else that is named in stock can be added")
        )
    if name_key(value) == "top":
        return Line(name, Measure("", "top"), Role.TOP, "", spec.place)
    parsed = _parsed(value, name, bottles, ounce, typed)
    if name_key(parsed.name) != name_key(name):
        raise WrongChange(f'--set "{typed}": there is no "{name}" in {spec.name} to be replaced')
    if not parsed.text:
        raise WrongChange(f'--set "{typed}": write how much of it, such as --set "{name}=10 ml"')
    line = Line(name, _measure(parsed), Role.TOP if parsed.top else Role.POUR, "", spec.place)
    _check_counted(line, bottles, typed)
    return line
