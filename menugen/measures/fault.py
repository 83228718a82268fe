"""What is wrong with a measure, before it is known where it stands."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with a text.

    Attributes:
        code: Names the fault: "unknown-unit".
        message: What is wrong; stands alone; no full stop.
        hint: What to write instead; empty where there is nothing to add.
        quote: The stretch of the text that is meant, as typed; empty means all of it.
    """

    code: str
    message: str
    hint: str = ""
    quote: str = ""
