"""A look as one theme.yaml says it."""

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class LookFont:
    """A font as a look names it.

    Attributes:
        family: What the type tokens call it.
        file: The .otf or .ttf, by its name in the look's folder.
        licence: The same of its licence.
        weight: "400", or a range it is given out for: "400 900".
        stand_ins: Fonts shown until it has come, each with its names and how wide to set it, as a share in per cent.
    """

    family: str
    file: str
    licence: str
    weight: str = "400"
    stand_ins: tuple[tuple[tuple[str, ...], float], ...] = ()


@dataclass(frozen=True, slots=True)
class Look:
    """What one theme.yaml says; what it leaves out is that of the look it extends.

    Attributes:
        title: What people call it.
        about: What it is like, in a sentence.
        extends: The look it builds on; None for none.
        colours: "light" and "dark", each with its colours, "#rrggbb" by name.
        type: Families and sizes of letters, by name.
        space: Lengths, by name.
        fonts: Fonts of its own; None where nothing is said of them.
    """

    title: str = ""
    about: str = ""
    extends: str | None = None
    colours: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    type: Mapping[str, str] = field(default_factory=dict)
    space: Mapping[str, str] = field(default_factory=dict)
    fonts: tuple[LookFont, ...] | None = None
