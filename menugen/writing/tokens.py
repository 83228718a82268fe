"""The tokens of a whole look: what one theme.yaml says laid over what another says, and nothing left out."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from menugen.problems import Problem, error
from menugen.reading.theme_file import (
    BAND_COLOURS,
    COLOURS,
    SPACE,
    TYPE,
    ThemeFile,
    Token,
    Tokens,
    quoted,
)
from menugen.writing.fonts import FontFile, StandIn
from menugen.writing.theme_fault import ThemeFault
from menugen.writing.theme_files import LARGEST_FONT, LARGEST_TEXT, is_there, own_file


def laid_over(own: ThemeFile, base: ThemeFile) -> ThemeFile:
    """Return a look with what `own` says, and what `base` says where `own` is silent."""
    return replace(
        own,
        extends=base.extends,
        light={**base.light, **own.light},
        dark={**base.dark, **own.dark},
        type={**base.type, **own.type},
        space={**base.space, **own.space},
        fonts=base.fonts if own.fonts is None else own.fonts,
        no_keys=own.no_keys | base.no_keys,
    )


def with_bands(look: ThemeFile) -> ThemeFile:
    """Return a look with a colour for what may be left out; what else is left out is missing."""
    return replace(look, light=_with_band(look.light), dark=_with_band(look.dark))


def _with_band(tokens: Tokens) -> Tokens:
    return {**{name: tokens[other] for name, (_, other) in BAND_COLOURS.items()}, **tokens}


def missing_tokens(look: ThemeFile) -> Iterator[Problem]:
    """Yield a problem for each token that a whole look lacks."""
    for tokens, needed, what in (
        (look.light, COLOURS, "colours, light"),
        (look.dark, COLOURS, "colours, dark"),
        (look.type, TYPE, "type"),
        (look.space, SPACE, "space"),
    ):
        if what in look.no_keys:
            continue
        if not tokens:
            said = f"{what}: nothing is said here; it takes: {', '.join(needed)}"
            yield error("theme-fault", said, look.where)
            continue
        for name in needed:
            if name not in tokens:
                yield error("theme-fault", f'{what}: "{name}" is missing', look.where)


def font_problems(look: ThemeFile) -> Iterator[Problem]:
    """Yield a problem for each file that a look names for a font and that is none of its own."""
    for font in look.fonts or ():
        yield from _file_problems(font.licence, "licence", LARGEST_TEXT)
        yield from _file_problems(font.file, "file", LARGEST_FONT)


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


def font_files(look: ThemeFile) -> tuple[FontFile, ...]:
    """Return the fonts of a look, once their files are known to be its own."""
    return tuple(
        FontFile(
            family=font.family,
            file=_home(font.file) / font.file.value,
            weight=font.weight,
            stand_ins=tuple(StandIn(names, percent) for names, percent in font.stand_ins),
        )
        for font in look.fonts or ()
    )


def _home(named: Token) -> Path:
    """Return the folder of the look that names a file."""
    return Path(named.where.file).parent
