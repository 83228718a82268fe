"""The tokens of a whole look: what one theme.yaml says laid over what another says, and nothing left out."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from menugen.problems import Problem, error
from menugen.reading.theme_file import NEEDED, STANDS_IN, ThemeFile, Token, Tokens, quoted
from menugen.writing.fonts import FontFile, StandIn
from menugen.writing.theme_fault import ThemeFault
from menugen.writing.theme_files import LARGEST_FONT, LARGEST_TEXT, is_there, own_file


def laid_over(own: ThemeFile, base: ThemeFile) -> ThemeFile:
    """Return a look with what `own` says, and the tokens of `base` where `own` is silent."""
    return replace(
        own,
        light={**base.light, **own.light},
        dark={**base.dark, **own.dark},
        type={**base.type, **own.type},
        space={**base.space, **own.space},
        written=own.written | base.written,
    )


def with_bands(tokens: Tokens) -> Tokens:
    """Return colours with one for what may be left out; what else is left out is missing."""
    return {**{name: tokens[other] for name, other in STANDS_IN.items()}, **tokens}


def missing_tokens(theme: ThemeFile) -> Iterator[Problem]:
    """Yield a problem for each token that a whole look lacks."""
    for path, names in NEEDED.items():
        missing = [name for name in names if not theme.is_written(*path, name)]
        what = ", ".join(path)
        if len(missing) == len(names):
            said = f"{what}: nothing is said here; it takes: {', '.join(names)}"
            yield error("theme-fault", said, theme.where)
        else:
            yield from (error("theme-fault", f'{what}: "{name}" is missing', theme.where) for name in missing)


def font_problems(theme: ThemeFile) -> Iterator[Problem]:
    """Yield a problem for each file that a look names for a font and that is none of its own."""
    for key, named in theme.font_files:
        yield from _file_problems(named, key, LARGEST_TEXT if key == "licence" else LARGEST_FONT)


def _file_problems(named: Token, what: str, largest: int) -> Iterator[Problem]:
    try:
        own_file(_home(named), named.value, largest)
    except ThemeFault as fault:
        inside = not any("lies outside" in one.message for one in fault.problems)
        if inside and named.value and is_there(_home(named) / named.value):
            yield from fault.problems
        else:
            said = f"fonts, {what}: there is no {quoted(named.value)} in this theme's folder"
            yield error("theme-fault", said, named.where)


def font_files(theme: ThemeFile) -> tuple[FontFile, ...] | None:
    """Return the fonts of a look, once their files are known to be its own; None where it says nothing of them."""
    if theme.look.fonts is None:
        return None
    return tuple(
        FontFile(
            family=font.family,
            file=Path(theme.where.file).parent / font.file,
            weight=font.weight,
            stand_ins=tuple(StandIn(names, percent) for names, percent in font.stand_ins),
        )
        for font in theme.look.fonts
    )


def _home(named: Token) -> Path:
    """Return the folder of the look that names a file."""
    return Path(named.where.file).parent
