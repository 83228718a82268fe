"""What the working of a figure holds: what goes in and where from, the steps, the result, its range and why."""

from collections.abc import Sequence
from dataclasses import dataclass

from menugen.facts.tolerances import JIGGER_SOURCE, JIGGER_TOLERANCE
from menugen.facts.uncertainty import Doubt, Worked
from menugen.mixing import Figure

OIML = "OIML R 22 (1975), International Alcoholometric Tables, general formula at 20 C"
SUGAR_ROOM = "ICUMSA SPS-4 (1994): 0.616 to 0.631 ml to a gram from 5 to 70 Brix"
SPEC = "the spec"


@dataclass(frozen=True, slots=True)
class Given:
    """One thing that goes into a figure.

    Attributes:
        name: What it is.
        value: As it goes in.
        unit: Of the value; may be empty.
        basis: "spec", "label", "measured", "reference", "law", "habit" or "worked out".
        source: Where it comes from, in words.
        tolerance: How far it may lie off, either way; 0 where that is not known or nothing.
    """

    name: str
    value: float
    unit: str
    basis: str
    source: str
    tolerance: float = 0.0


@dataclass(frozen=True, slots=True)
class Working:
    """One figure with its working.

    Attributes:
        name: What the figure is.
        figure: The result and its range.
        unit: Of the result; may be empty.
        decimals: That make sense of it.
        given: What goes in.
        steps: The sums, in words with numbers.
        doubts: What the range is made of; independent ones add by their squares.
        sources: Of the rules and constants in the steps.
    """

    name: str
    figure: Figure
    unit: str
    decimals: int
    given: tuple[Given, ...]
    steps: tuple[str, ...]
    doubts: tuple[Doubt, ...] = ()
    sources: tuple[str, ...] = ()


def lab_note(
    name: str,
    worked: Worked,
    unit: str,
    decimals: int,
    steps: Sequence[str],
    given: Sequence[Given] = (),
    sources: Sequence[str] = (),
) -> Working:
    """Return the working of a result whose doubts have been added up."""
    return Working(
        name, worked.figure, unit, decimals, tuple(given), tuple(steps), worked.doubts, tuple(sources)
    )


def jigger_doubt(off_by: float) -> Doubt:
    """Return the doubt of all measures together, in the result's unit."""
    return Doubt(f"each measure within {JIGGER_TOLERANCE * 100:.0f} %", off_by, off_by, (JIGGER_SOURCE,))


def summed(parts: Sequence[float], unit: str, decimals: int = 2) -> str:
    """Return "0.65 + 9.22 = 9.87 g"; one part alone, "1.20 g"."""
    total = f"{sum(parts):.{decimals}f} {unit}"
    some = [part for part in parts if part > 0]
    return total if len(some) < 2 else " + ".join(f"{part:.{decimals}f}" for part in some) + f" = {total}"
