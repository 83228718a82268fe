"""The square code that opens the table menu, and its files for the printer.

Comes in: the address where the site will lie. Goes out: the code's modules, an SVG and a PNG.
Sources: ISO/IEC 18004 for the symbol, which segno draws: "M" mends about 15 % damage, and four light modules
stand all round. "At least 4 printer dots a module" is DENSO WAVE's advice. That a symbol is read from ten
times its width is a rule of thumb of print guides; no standard says so.
"""

import re
import struct
import zlib
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from urllib.parse import quote, urlsplit, urlunsplit

import segno

TABLE_MENU = "t/"
"""Where the table menu lies below the site's address."""

QUIET_ZONE = 4
"""Light modules that a reader needs on every side. Source: ISO/IEC 18004."""

SYMBOL_MM = 50.0
"""Least width of the printed symbol without its quiet zone: read at 50 cm by the rule of thumb above."""

DOTS_PER_MODULE = 12
"""Pixels a module in the PNG: enough for a printer to give each at least four dots at any likely size."""

LONGEST_ADDRESS = 213
"""Bytes that a code may hold. Version 10 at level M takes 213 (ISO/IEC 18004, table 7): its modules are still
0.88 mm wide in a 50 mm symbol. A longer address is better shortened than printed finer."""

_MEDIUM_BYTES = (14, 26, 42, 62, 84, 106, 122, 152, 180, LONGEST_ADDRESS)
"""Bytes at level M for versions 1 to 10. Source: ISO/IEC 18004, table 7; a test has segno fill each."""

_HOST = re.compile(r"[a-z0-9_-]+(\.[a-z0-9_-]+)*")

_EASILY_SAVED = 6
"""Characters that an address could lose without becoming another address; our own guess."""


class AddressError(ValueError):
    """An address cannot be put in a code. The message is a sentence for the user, without full stop."""


@dataclass(frozen=True, slots=True)
class Qr:
    """A code, ready to draw.

    Attributes:
        text: What a phone reads from it.
        version: Size step of the standard, 1 to 10; the symbol is 17 + 4 x version modules wide.
        level: How much damage it mends: "M" or better ("Q", "H") where that costs no size.
        rows: Modules from the top left, True for dark, without the quiet zone.
    """

    text: str
    version: int
    level: str
    rows: tuple[tuple[bool, ...], ...]

    @property
    def modules(self) -> int:
        """Modules a side, without the quiet zone."""
        return len(self.rows)

    @property
    def width_modules(self) -> int:
        """Modules a side, quiet zone and all."""
        return self.modules + 2 * QUIET_ZONE


@dataclass(frozen=True, slots=True)
class Hint:
    """How a shorter address would give a coarser code, which is read from further away and in worse light.

    Attributes:
        characters: How many fewer would do; 1 or more.
        modules: Modules a side now.
        fewer_modules: Modules a side then.
    """

    characters: int
    modules: int
    fewer_modules: int

    @property
    def message(self) -> str:
        """What could be better, for the user; no full stop."""
        letters = "1 character" if self.characters == 1 else f"{self.characters} characters"
        return f"an address {letters} shorter would give a coarser QR, which reads better in bad light"

    @property
    def hints(self) -> tuple[str, ...]:
        """What to do about it."""
        wide = f"the symbol would be {self.fewer_modules} squares wide, not {self.modules}"
        return (f"{wide}; shorten the folder at the end of the address",)


@lru_cache(maxsize=512)
def menu_qr(address: str, table: int | None = None) -> Qr:
    """Return the code that opens the table menu of the site at this address.

    Args:
        address: Where the site will lie; with or without the slash at its end.
        table: The table the card stands on, carried as the fragment "#7"; None for a card for every table.

    Raises:
        AddressError: The address is no web address, or too long for a code that reads well.
    """
    text = code_text(address, table)
    if len(text) > LONGEST_ADDRESS:
        raise AddressError(
            f"the address of the table menu has {len(text)} characters; a code that reads well holds at most "
            f"{LONGEST_ADDRESS}"
        )
    symbol = segno.make_qr(text, error="m", boost_error=True)
    return Qr(
        text=text,
        version=int(symbol.version),
        level=str(symbol.error),
        rows=tuple(tuple(bool(module) for module in row) for row in symbol.matrix),
    )


def code_text(address: str, table: int | None = None) -> str:
    """Return the address of the table menu as a code carries it: ASCII only, so that every reader agrees.

    Letters beyond ASCII become "xn--" in the host (Python's IDNA) and percent signs elsewhere (RFC 3986);
    what is already escaped stays as it is.

    Raises:
        AddressError: It is no web address, or has a query or fragment, below which no folder can lie.
    """
    try:
        parts = urlsplit(address.strip())
        host, port = parts.hostname or "", parts.port
        ascii_host = host.encode("idna").decode("ascii") if not host.isascii() else host
    except ValueError:
        raise AddressError(f'"{address}" is not a web address') from None
    if parts.scheme not in {"http", "https"} or not _HOST.fullmatch(ascii_host) or parts.username is not None:
        raise AddressError(f'"{address}" is not a web address; write it as https://menu.example/supper/')
    if parts.query or parts.fragment:
        raise AddressError(f'"{address}" has a "?" or "#" in it; the address of a site ends in a folder')
    path = quote(parts.path.removesuffix("/"), safe="/%:@!$&'()*+,;=~-._") + "/" + TABLE_MENU
    place = ascii_host if port is None else f"{ascii_host}:{port}"
    return urlunsplit((parts.scheme, place, path, "", "" if table is None else str(table)))


def shorter_address_hint(address: str, tables: Iterable[int] = ()) -> Hint | None:
    """Return what a shorter address would gain, for `check` to say.

    Args:
        address: As for `menu_qr`.
        tables: Those that get a card of their own: the longest number counts.

    Returns:
        None when the code is as coarse as it gets, or when the path has too few characters to lose.

    Raises:
        AddressError: As `menu_qr`.
    """
    code = menu_qr(address, max(tables, default=None))
    if code.version == 1:
        return None
    characters = len(code.text) - _MEDIUM_BYTES[code.version - 2]
    # What could go is the path, but for a letter of it: a host is what it is.
    spare = len(urlsplit(code.text).path.removesuffix(TABLE_MENU).strip("/")) - 1
    if characters > min(_EASILY_SAVED, spare):
        return None
    return Hint(characters, code.modules, code.modules - 4)


def dark_path(code: Qr) -> str:
    """Return the dark modules as one SVG path, a unit a module, the quiet zone left free around them."""
    runs = []
    for y, row in enumerate(code.rows, QUIET_ZONE):
        x = 0
        while x < len(row):
            end = x
            while end < len(row) and row[end]:
                end += 1
            if end > x:
                runs.append(f"M{x + QUIET_ZONE} {y}h{end - x}v1h-{end - x}z")
            x = max(end, x + 1)
    return "".join(runs)


def svg_text(code: Qr) -> str:
    """Return the code as an SVG file on its own white ground, its symbol `SYMBOL_MM` wide."""
    width = code.width_modules
    side = f"{SYMBOL_MM * width / code.modules:.2f}mm"
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{side}" height="{side}" '
        f'viewBox="0 0 {width} {width}" shape-rendering="crispEdges">'
        f'<path fill="#fff" d="M0 0h{width}v{width}H0z"/>'
        f'<path fill="#000" d="{dark_path(code)}"/></svg>\n'
    )


def png_bytes(code: Qr, *, dots_per_module: int = DOTS_PER_MODULE) -> bytes:
    """Return the code as a black and white PNG file on its own white ground, its symbol `SYMBOL_MM` wide.

    The pixels are stored, not compressed: compressors differ from one Python to the next, and the same menu
    must give the same bytes.

    Args:
        code: What to draw.
        dots_per_module: Pixels a module is wide; 4 or more.

    Raises:
        ValueError: Fewer than four dots a module, which printers smear.
    """
    if dots_per_module < 4:
        raise ValueError("a module needs at least 4 dots")
    width = code.width_modules * dots_per_module
    light_row = (False,) * code.width_modules
    margin = (False,) * QUIET_ZONE
    rows = (
        (light_row,) * QUIET_ZONE
        + tuple(margin + row + margin for row in code.rows)
        + (light_row,) * QUIET_ZONE
    )
    pixels = b"".join((b"\0" + _packed(row, dots_per_module)) * dots_per_module for row in rows)
    dots_per_metre = round(code.modules * dots_per_module / (SYMBOL_MM / 1000))
    return (
        b"\x89PNG\r\n\x1a\n"
        + _chunk(b"IHDR", struct.pack(">IIBBBBB", width, width, 1, 0, 0, 0, 0))
        + _chunk(b"pHYs", struct.pack(">IIB", dots_per_metre, dots_per_metre, 1))
        + _chunk(b"IDAT", _stored(pixels))
        + _chunk(b"IEND", b"")
    )


def _packed(row: tuple[bool, ...], dots: int) -> bytes:
    """One line of pixels, a bit each, 1 for white; the last byte is filled up with zeros."""
    bits = "".join(("0" if dark else "1") * dots for dark in row)
    bits += "0" * (-len(bits) % 8)
    return int(bits, 2).to_bytes(len(bits) // 8, "big")


def _stored(data: bytes) -> bytes:
    """Return a zlib stream of stored blocks. Source: RFC 1950; RFC 1951, section 3.2.4."""
    starts = range(0, len(data), 0xFFFF)
    blocks = b"".join(
        struct.pack("<BHH", start == starts[-1], len(block), len(block) ^ 0xFFFF) + block
        for start in starts
        for block in (data[start : start + 0xFFFF],)
    )
    return b"\x78\x01" + blocks + struct.pack(">I", zlib.adler32(data))


def _chunk(kind: bytes, data: bytes) -> bytes:
    """Return one chunk of a PNG file. Source: Portable Network Graphics (W3C), section 5.3."""
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
