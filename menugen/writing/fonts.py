"""Fonts of a look: cut to the characters a site uses, and told to browsers so that nothing ever jumps.

Comes in: an OpenType file and the characters. Goes out: WOFF2, the style rules that name it, and the script that asks
for it early. A font that comes too late is not shown on that page (`font-display: optional`): another font's words are
never quite as wide, and one line more moves all that follows. fontTools is imported only where a font is cut: most
looks have none.
"""

import hashlib
import json
import struct
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields, is_dataclass
from functools import lru_cache
from importlib.metadata import version
from io import BytesIO
from pathlib import Path

from markupsafe import Markup

from menugen.writing.file_cache import NO_CACHE, FileCache
from menugen.writing.font_apart import CannotCut, cut_apart
from menugen.writing.theme_fault import ThemeFault
from menugen.writing.theme_files import LARGEST_FONT, is_shipped, read_own

ALWAYS = " \u00a0-–—‘’“”…·,.:;!?()&%/0123456789"
"""Characters in every font, whatever a menu says: those that typesetting may put in place of the typed ones."""

_FEATURES = ("smcp", "c2sc", "onum", "lnum", "pnum", "tnum")
"""What style sheets ask for by name, beside what every text needs."""

_TABLES = frozenset(
    {"CFF ", "cvt "}
    | set(
        """
        BASE CFF2 GDEF GPOS GSUB HVAR MVAR OS/2 STAT VORG VVAR avar cmap fpgm fvar gasp glyf gvar head hhea hmtx kern
        loca maxp name post prep vhea vmtx
        """.split()  # noqa: SIM905
    )
)
"""What of a font is looked at: outlines, and how they are set. No pictures, which may be packed without end."""


@dataclass(frozen=True, slots=True)
class StandIn:
    """A font that may be on the guest's phone, shown on a page that the look's own does not reach in time.

    Attributes:
        names: What it is called: systems differ.
        percent: How wide the same words run in the look's own font, as a share of their width in this one.
    """

    names: tuple[str, ...]
    percent: float


@dataclass(frozen=True, slots=True)
class FontFile:
    """A font in a theme's folder.

    Attributes:
        family: What the type tokens call it.
        file: The .otf or .ttf.
        weight: "400", or a range it is given out for: "400 900".
        stand_ins: Best first.
    """

    family: str
    file: Path
    weight: str
    stand_ins: tuple[StandIn, ...]


@dataclass(frozen=True, slots=True)
class CutFonts:
    """Style rules for the site's style sheet, and the files they name, which lie beside it."""

    style: str
    files: Mapping[str, bytes]


def cut_fonts(fonts: Iterable[FontFile], characters: str, cache: FileCache = NO_CACHE) -> CutFonts:
    """Return a look's fonts, cut to these characters.

    A font that has none of the letters used is left out; what stands in for it is shown for good.

    Args:
        fonts: The look's.
        characters: All that the site shows, in any order.
        cache: Where fonts cut before are kept.

    Raises:
        ThemeFault: A file is missing or no OpenType font.
    """
    wanted = "".join(sorted({*characters, *characters.upper(), *ALWAYS}))
    rules = []
    files = {}
    for font in fonts:
        source = _source(font.file)
        cut = _cut_once(font.file, source, wanted, cache)
        rules.append(_stand_in_rules(font, source))
        if not cut:
            continue
        digest = hashlib.sha256(cut).hexdigest()[:8]
        name = f"{font.family.lower().replace(' ', '-')}-{font.weight.replace(' ', '-')}.{digest}.woff2"
        files[name] = cut
        rules.append(
            f'@font-face{{font-family:"{font.family}";font-weight:{font.weight};font-display:optional;'
            f'src:url({name}) format("woff2")}}'
        )
    return CutFonts("".join(rules), files)


def early_script(addresses: Iterable[str]) -> Markup:
    """Return the script that asks for the fonts together with the style sheet, without its tags; empty without fonts.

    Without it a browser asks once it has read the style sheet, which is too late on most phones; with it, the slowest
    alone have the stand-ins on their first page. It is a script since a plain link would have to say how it is fetched:
    across origins from a host, and not so from disk.

    Args:
        addresses: Of the fonts, from the page.
    """
    named = json.dumps(list(addresses), ensure_ascii=True, separators=(",", ":"))
    # Built of names we chose: families are letters, digits and spaces.
    return Markup(  # noqa: S704
        ""
        if named == "[]"
        else f"for(const href of {named}){{"
        'const link=Object.assign(document.createElement("link"),{rel:"preload",as:"font",type:"font/woff2",href});'
        'if(location.protocol!="file:")link.crossOrigin="";'
        "document.head.append(link)}"
    )


def with_stand_ins(families: str, fonts: Iterable[FontFile]) -> str:
    """Return a list of font families in which each of the look's own is followed by those that stand in for it."""
    most: dict[str, int] = {}
    for font in fonts:
        most[font.family] = max(most.get(font.family, 0), len(font.stand_ins))
    told = []
    for item in families.split(","):
        told.append(item.strip())
        family = told[-1].strip("\"'")
        told += [f'"{family} {number}"' for number in range(1, most.get(family, 0) + 1)]
    return ",".join(told)


def characters_of(value: object) -> str:
    """Return each character in the texts of a record, its fields and what they hold, once and sorted."""
    found: set[str] = set()
    _gather(value, found)
    return "".join(sorted(found))


def _gather(value: object, found: set[str]) -> None:
    if isinstance(value, str):
        found.update(value)
    elif isinstance(value, Mapping):
        for item in value.values():
            _gather(item, found)
    elif isinstance(value, tuple | list):
        for item in value:
            _gather(item, found)
    elif is_dataclass(value):
        for field in fields(value):
            _gather(getattr(value, field.name), found)


def _source(file: Path) -> bytes:
    # It was seen to lie in the look's folder when theme.yaml was read.
    source = read_own(file.parent, file.name, LARGEST_FONT)
    if source[:4] not in (b"OTTO", b"\0\1\0\0", b"true"):
        raise ThemeFault(file, "this is no OpenType font; a look takes .otf and .ttf files")
    return source


def _cut_once(file: Path, source: bytes, characters: str, cache: FileCache) -> bytes:
    # Another release of the cutter may make other bytes of the same font.
    made_of = (source, characters.encode(), version("fonttools").encode(), version("brotli").encode())
    return cache.get_or_make("woff2", made_of, lambda: _cut_or_fault(file, source, characters))


def _cut_or_fault(file: Path, source: bytes, characters: str) -> bytes:
    if not is_shipped(file):
        try:
            return cut_apart(source, characters)
        except CannotCut:
            raise ThemeFault(
                file,
                "this font is damaged, or takes too long to cut",
                hint="save it again with a font editor",
            ) from None
    from fontTools.ttLib import TTLibError  # type: ignore[import-untyped]  # it comes without types

    try:
        return cut_font(source, characters)
    # What a damaged font makes fontTools raise.
    except (TTLibError, struct.error, AssertionError, AttributeError, LookupError, ValueError, TypeError):
        raise ThemeFault(file, "this font is damaged") from None


@lru_cache(maxsize=16)
def cut_font(source: bytes, characters: str) -> bytes:
    """Return the font cut to these characters as WOFF2; empty where it has none of their letters."""
    from fontTools import subset  # type: ignore[import-untyped]  # as above
    from fontTools.ttLib import TTFont

    # Bounds and times are kept as they are: the first costs time, the second would differ from day to day.
    font = TTFont(BytesIO(source), lazy=True, recalcBBoxes=False, recalcTimestamp=False)
    for tag in set(font.keys()) - _TABLES - {"GlyphOrder"}:
        del font[tag]
    has = font.getBestCmap() or {}
    if not any(ord(character) in has for character in characters if character.isalpha()):
        return b""
    options = subset.Options()
    options.layout_features = [*options.layout_features, *_FEATURES]
    # They hold the copyright and the licence.
    options.name_IDs = ["*"]
    options.prune_unicode_ranges = False
    options.prune_codepage_ranges = False
    options.ignore_missing_glyphs = True
    cutter = subset.Subsetter(options)
    cutter.populate(text=characters)
    cutter.subset(font)
    font.flavor = "woff2"
    cut = BytesIO()
    font.save(cut, reorderTables=False)
    return cut.getvalue()


def _stand_in_rules(font: FontFile, source: bytes) -> str:
    """Return a rule for each font that stands in: as wide, and on the same line, as the one to come."""
    if not font.stand_ins:
        return ""
    ascent, descent = _line(font.file, source)
    return "".join(
        f'@font-face{{font-family:"{font.family} {number}";font-weight:{font.weight};src:{_local(stand_in)};'
        f"size-adjust:{stand_in.percent:g}%;ascent-override:{_share(ascent, stand_in)};"
        f"descent-override:{_share(descent, stand_in)};line-gap-override:0%}}"
        for number, stand_in in enumerate(font.stand_ins, start=1)
    )


def _local(stand_in: StandIn) -> str:
    return ",".join(f'local("{name}")' for name in stand_in.names)


def _share(height: float, stand_in: StandIn) -> str:
    # The size adjustment acts on these too, so it is taken out beforehand.
    return f"{height / stand_in.percent * 10_000:.1f}%"


def _line(file: Path, source: bytes) -> tuple[float, float]:
    """Return how far a line reaches above and below its baseline, as shares of the size.

    Source: OpenType specification, "Table Directory", "head" and "hhea".
    """
    try:
        tables = {}
        for number in range(struct.unpack_from(">H", source, 4)[0]):
            tag, _, offset, _ = struct.unpack_from(">4sLLL", source, 12 + 16 * number)
            tables[tag] = offset
        units = struct.unpack_from(">H", source, tables[b"head"] + 18)[0]
        ascent, descent = struct.unpack_from(">hh", source, tables[b"hhea"] + 4)
        return ascent / units, -descent / units
    except (struct.error, KeyError, ZeroDivisionError):
        raise ThemeFault(file, "this font is damaged") from None
