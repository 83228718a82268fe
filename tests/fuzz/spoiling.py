"""Ways to spoil a house's files: as texts, and as what lies in a folder. Each takes its chances from one seed."""

import os
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path
from random import Random

import yaml

from tests.fuzz.bases import Files, other_values
from tests.strategies import HOSTILE_PIECES, KEYS, VALUES

_NUMBERS = (
    *("0", "-0", "-1", "00", "1e999", "1e-999", "9" * 30, "9" * 400, "0x1f", "1_000", "NaN", "nan", "inf", "-inf"),
    *("0." + "0" * 50 + "1", "0.1.2", "1,5", "1/0", "0/0", "1/3", "٣", "½", "1½", "⅐", "²", "五", "1e5", "1E5"),
    *("99999999", "1000001", "65536", "2147483648", "18446744073709551616", "1" * 5000),
)  # fmt: skip
_DAYS = (
    *(
        "0000-00-00",
        "0001-01-01",
        "9999-12-31",
        "10000-01-01",
        "2026-02-30",
        "2024-02-29",
        "2026-12",
        "26-12-12",
    ),
    *("2026-12-12T25:00", "1970-01-01", "-2026-01-01", "24:00-24:00", "00:00-00:00", "19:00-19:00", "99:99"),
)
_WORDS = (
    *("<script>alert(1)</script>", "\"><img src=x onerror=alert(1)>", "{{7*7}}", "{% for x in y %}", "</style>"),
    *("-->", "]]>", "&amp;", "&#0;", "javascript:alert(1)", "[x](javascript:alert(1))", "![](http://a.example/)"),
    *("=cmd|'/c calc'!A0", "\u2066\u2067", "\u200f", "\u0301" * 90, "ﷺ", "Ⅻ", "ﬃ", "İ", "ß", "ſ", "K", "𐏿", "👩‍🚀"),
    *("a" * 300, "ä" * 5000, " ", "  ", "\u00a0", "\u3000", ".", "..", "/", "../x", "CON", "a/b", "#", "# x", "~"),
    *("none", "None", "yes", "off", "null", "[]", "{}", "[[[[", "*a", "&a b", "!!int 3", "!x y", "<<", "? ", ": "),
    *("as before", "shake -1 s", "50 ml", "ml gin", "50 ml 50 ml gin", "2-3 dashes gin", "top with", "part", "%"),
)  # fmt: skip

Spoil = Callable[[Files, Random], None]


def _any_file(files: Files, chance: Random) -> str:
    return chance.choice(sorted(files)) if files else "house.yaml"


def _lines(files: Files, name: str) -> list[bytes]:
    return files.get(name, b"").split(b"\n")


def _encoded(text: str) -> bytes:
    return text.encode("utf-8", "surrogatepass")


def hostile_word(chance: Random) -> str:
    """Return a word that nobody should write."""
    return chance.choice(chance.choice((_NUMBERS, _DAYS, _WORDS, VALUES, HOSTILE_PIECES)))


def flip_bytes(files: Files, chance: Random) -> None:
    name = _any_file(files, chance)
    content = bytearray(files.get(name, b""))
    for _ in range(chance.choice((1, 1, 2, 9))):
        if content:
            content[chance.randrange(len(content))] = chance.randrange(256)
    files[name] = bytes(content)


def cut_short(files: Files, chance: Random) -> None:
    name = _any_file(files, chance)
    content = files.get(name, b"")
    files[name] = content[: chance.randrange(len(content) + 1)]


def drop_lines(files: Files, chance: Random) -> None:
    name = _any_file(files, chance)
    lines = _lines(files, name)
    at = chance.randrange(len(lines))
    del lines[at : at + chance.choice((1, 1, 1, 4))]
    files[name] = b"\n".join(lines)


def repeat_lines(files: Files, chance: Random) -> None:
    name = _any_file(files, chance)
    lines = _lines(files, name)
    at = chance.randrange(len(lines))
    lines[at:at] = lines[at : at + chance.choice((1, 3))] * chance.choice((1, 1, 2, 40))
    files[name] = b"\n".join(lines)


def swap_lines(files: Files, chance: Random) -> None:
    name = _any_file(files, chance)
    lines = _lines(files, name)
    one, other = chance.randrange(len(lines)), chance.randrange(len(lines))
    lines[one], lines[other] = lines[other], lines[one]
    files[name] = b"\n".join(lines)


def indent_lines(files: Files, chance: Random) -> None:
    name = _any_file(files, chance)
    lines = _lines(files, name)
    at = chance.randrange(len(lines))
    for number in range(at, min(len(lines), at + chance.choice((1, 1, 5)))):
        lines[number] = chance.choice((b" ", b"  ", b"\t", b"- ", b"# ", b"    ")) + lines[number]
    files[name] = b"\n".join(lines)


def line_from_elsewhere(files: Files, chance: Random) -> None:
    """Put a line of some other file where it does not belong."""
    name = _any_file(files, chance)
    lines = _lines(files, name)
    lines.insert(chance.randrange(len(lines) + 1), chance.choice(other_values()))
    files[name] = b"\n".join(lines)


def hostile_value(files: Files, chance: Random) -> None:
    """Put a hostile word in the place of what stands behind a colon or a dash."""
    name = _any_file(files, chance)
    lines = _lines(files, name)
    at = chance.randrange(len(lines))
    word = _encoded(hostile_word(chance))
    lines[at] = re.sub(rb"(?<=: |- ).*$", lambda _: word, lines[at], count=1)
    files[name] = b"\n".join(lines)


def hostile_token(files: Files, chance: Random) -> None:
    """Put a hostile word in the place of one word or number."""
    name = _any_file(files, chance)
    content = files.get(name, b"")
    found = list(re.finditer(rb"[\w.%/-]+", content))
    if found:
        token, word = chance.choice(found), _encoded(hostile_word(chance))
        files[name] = content[: token.start()] + word + content[token.end() :]


def value_of_another(files: Files, chance: Random) -> None:
    """Give a key the value that a key of that name, or of any name, has elsewhere."""
    name = _any_file(files, chance)
    lines = _lines(files, name)
    keyed = [at for at, line in enumerate(lines) if re.match(rb"\s*[\w ]+: \S", line)]
    if keyed:
        at = chance.choice(keyed)
        key = lines[at].partition(b":")[0]
        same = [one for one in other_values() if one.strip().startswith(key.strip() + b": ")]
        value = chance.choice(same if same and chance.random() < 0.7 else other_values())
        lines[at] = key + b": " + value.partition(b": ")[2]
        files[name] = b"\n".join(lines)


def another_key(files: Files, chance: Random) -> None:
    """Add a key that some file may have."""
    name = _any_file(files, chance)
    lines = _lines(files, name)
    pad = chance.choice((b"", b"", b"  ", b"    "))
    word = chance.choice((chance.choice(VALUES), hostile_word(chance)))
    lines.insert(
        chance.randrange(len(lines) + 1), pad + _encoded(f"{chance.choice((*KEYS, *_LATER_KEYS))}: {word}")
    )
    files[name] = b"\n".join(lines)


_LATER_KEYS = (
    *("serves", "kept", "fined with", "cautions", "cube", "large cube", "tax registered", "prices include tax"),
    *("alcohol", "hosted", "printed", "equipment", "translations", "words", "notes", "acid", "fat", "density"),
)  # fmt: skip


@cache
def _edges() -> dict[str, tuple[str, ...]]:
    """Return values that are just allowed, or just not, by their key."""
    groups = yaml.load((Path(__file__).parent / "edges.yaml").read_text("utf-8"), yaml.BaseLoader)  # noqa: S506  # texts alone
    edges = {key: tuple(group["values"]) for group in groups for key in group["keys"]}
    return edges | {
        "guests": (*edges["guests"], "9" * 5000),
        "pack": (*edges["pack"], "9" * 5000),
        "address": (*edges["address"], f"https://a.example/{'x' * 1500}/"),
    }


def value_at_the_edge(files: Files, chance: Random) -> None:
    """Give a key a value that is just allowed, or just not."""
    name = _any_file(files, chance)
    lines = _lines(files, name)
    keyed = [
        (at, key)
        for at, line in enumerate(lines)
        if (found := re.match(rb"\s*(?:- )?([a-z ]+):", line))
        and (key := found[1].decode().strip()) in _edges()
    ]
    if keyed:
        at, key = chance.choice(keyed)
        lines[at] = lines[at].partition(b":")[0] + _encoded(f": {chance.choice(_edges()[key])}")
        files[name] = b"\n".join(lines)


_POURS = (
    *(
        "0.001 ml",
        "5 l",
        "5000 ml",
        "1 drop",
        "500 dashes",
        "1/8 oz",
        "50 g",
        "5 kg",
        "500",
        "1 barspoon",
        "2-3 dashes",
    ),
    *("60 parts", "1 part", "½ oz", "1 ml", "0.1 cl", "1000 drops", "one", "a splash of"),
)


def pour_at_the_edge(files: Files, chance: Random) -> None:
    """Give a measured line another measure."""
    name = _any_file(files, chance)
    content = files.get(name, b"")
    found = list(re.finditer(rb"(?<=[-\[:,] )[\d./]+ (?:ml|oz|parts?|dashes|cl|barspoons?)?", content))
    if found:
        line = chance.choice(found)
        files[name] = (
            content[: line.start()] + _encoded(chance.choice(_POURS)) + b" " + content[line.end() :].lstrip()
        )


def nested_deep(files: Files, chance: Random) -> None:
    name = _any_file(files, chance)
    depth = chance.choice((10, 60, 1000, 20000))
    opened, closed = chance.choice(
        (("[", "]"), ("{a: ", "}"), ("- ", ""), ("> ", ""), ("*a ", "*"), ("[", "](x)"))
    )
    lines = _lines(files, name)
    lines.insert(chance.randrange(len(lines) + 1), _encoded(f"{opened * depth}{closed * depth}"))
    files[name] = b"\n".join(lines)


def other_line_ends(files: Files, chance: Random) -> None:
    name = _any_file(files, chance)
    ends = chance.choice((b"\r\n", b"\r", b"\n\n", b"\r\n\n"))
    content = files.get(name, b"").removeprefix(b"\xef\xbb\xbf").replace(b"\n", ends)
    files[name] = chance.choice((b"", b"", b"\xef\xbb\xbf", b"\xff\xfe")) + content


def comments_everywhere(files: Files, chance: Random) -> None:
    """Lay comments beside, above and under lines, as people do who take notes."""
    name = _any_file(files, chance)
    lines = _lines(files, name)
    for number in range(chance.randrange(1, 9)):
        at = chance.randrange(len(lines))
        note = f"# note {number}{chance.choice(('', ' ', ' 😀', ': x', ' - y'))}".encode()
        match chance.randrange(3):
            case 0:
                lines[at] += b"   " + note
            case 1:
                lines.insert(at, b" " * chance.randrange(7) + note)
            case _:
                lines[at:at] = [b""] * chance.randrange(1, 4) + [note] + [b""] * chance.randrange(3)
    files[name] = b"\n".join(lines)


def quoted_otherwise(files: Files, chance: Random) -> None:
    """Write a value in another of YAML's ways."""
    name = _any_file(files, chance)
    lines = _lines(files, name)
    at = chance.randrange(len(lines))
    way = chance.choice(
        (
            b'"%s"',
            b"'%s'",
            b">\n    %s",
            b"|\n    %s",
            b"|+\n    %s\n\n",
            b"[%s]",
            b"{%s: }",
            b"? %s",
            b"\n    %s",
        )
    )
    lines[at] = re.sub(rb"(?<=: |- )(\S.*)$", lambda found: way.replace(b"%s", found[1]), lines[at], count=1)
    files[name] = b"\n".join(lines)


def rename(files: Files, chance: Random) -> None:
    """Give a file another name, or the name of another file in other letters."""
    name = _any_file(files, chance)
    folder, _, last = name.rpartition("/")
    stem, dot, ending = last.rpartition(".")
    new = chance.choice(
        (
            *(
                last.upper(),
                last.title(),
                f"{stem}{dot}{ending.upper()}",
                f"{stem}.yml",
                f".{last}",
                f"{stem} {last}",
            ),
            *(f"{stem}é{dot}{ending}", f"{stem}e\u0301{dot}{ending}", f"-{last}", f"--help{dot}{ending}"),
            *(
                f"\u202e{last}",
                f"{stem}\n{dot}{ending}",
                f"{stem}\x1b[31m{dot}{ending}",
                f"x{stem}{dot}{ending}",
            ),
            *(
                f"con{dot}{ending}",
                f"{stem}{dot}{dot}{ending}",
                f"site{dot}{ending}",
                f"{'n' * 240}{dot}{ending}",
            ),
            *(f"a/{last}", f"readme{dot}{ending}", f"\udce4{last}", f"{stem}%20{dot}{ending}"),
        )
    )
    content = files.get(name, b"")
    if chance.random() < 0.6:
        files.pop(name, None)
    files[f"{folder}/{new}" if folder else new] = content


def move_to_another_folder(files: Files, chance: Random) -> None:
    name = _any_file(files, chance)
    content = files.pop(name, b"")
    files[
        f"{chance.choice(('specs', 'stock', 'events', 'photos', 'themes/slate', 'more'))}/{name.rpartition('/')[2]}"
    ] = content


def delete(files: Files, chance: Random) -> None:
    files.pop(_any_file(files, chance), None)


def one_in_the_place_of_another(files: Files, chance: Random) -> None:
    files[_any_file(files, chance)] = files.get(_any_file(files, chance), b"")


def anything(files: Files, chance: Random) -> None:
    files[_any_file(files, chance)] = b"".join(
        _encoded(hostile_word(chance)) for _ in range(chance.randrange(9))
    )


TEXT: tuple[Spoil, ...] = (
    *(flip_bytes, cut_short, drop_lines, repeat_lines, swap_lines, indent_lines, line_from_elsewhere),
    *(hostile_value, hostile_value, hostile_value, hostile_token, hostile_token, hostile_token),
    *(value_of_another, value_of_another, another_key, another_key, pour_at_the_edge, pour_at_the_edge),
    *(value_at_the_edge, value_at_the_edge, value_at_the_edge, value_at_the_edge, value_at_the_edge, value_at_the_edge),
    *(nested_deep, other_line_ends, comments_everywhere, comments_everywhere, quoted_otherwise, rename),
    *(move_to_another_folder, delete, one_in_the_place_of_another, anything),
)  # fmt: skip
"""What is done to texts; what finds most stands more than once."""


GENTLE: tuple[Spoil, ...] = (
    *(value_at_the_edge, value_at_the_edge, value_at_the_edge, pour_at_the_edge, pour_at_the_edge),
    *(value_of_another, comments_everywhere),
)
"""What mostly leaves a file that can be read."""


def _any_path(house: Path, chance: Random) -> Path:
    found = sorted(path for path in house.rglob("*") if ".git" not in path.parts)
    return chance.choice(found) if found else house / "house.yaml"


def _away(path: Path) -> None:
    """Take away what lies there, whatever it is."""
    if path.is_dir() and not path.is_symlink():
        path.rename(path.with_name(f"{path.name[:200]}.was"))
    else:
        path.unlink(missing_ok=True)


def a_folder_for_a_file(house: Path, chance: Random) -> None:
    path = _any_path(house, chance)
    _away(path)
    path.mkdir(parents=True)


def a_file_for_a_folder(house: Path, chance: Random) -> None:
    path = house / chance.choice(
        ("specs", "stock", "events", "photos", "themes", "out", "checks", ".git", "specs/a.md")
    )
    if path.parent.is_dir():
        _away(path)
        path.write_bytes(b"x")


def a_link(house: Path, chance: Random) -> None:
    """Put a link in the place of something: to nothing, to itself, out of the house, or to another part of it."""
    path = _any_path(house, chance)
    to = chance.choice(
        (
            "nowhere",
            path.name,
            "..",
            "../beside",
            "/dev/null",
            "/dev/zero",
            str(_any_path(house, chance)),
            "",
            "../house",
            ".",
        )
    )
    _away(path)
    if to:
        path.symlink_to(to)


def a_pipe(house: Path, chance: Random) -> None:
    """Put a pipe that nobody writes to in the place of a file."""
    path = _any_path(house, chance)
    if hasattr(os, "mkfifo"):
        _away(path)
        os.mkfifo(path)


def no_leave_to_read(house: Path, chance: Random) -> None:
    _any_path(house, chance).chmod(chance.choice((0, 0o111, 0o222, 0o444, 0o777)))


def a_large_file(house: Path, chance: Random) -> None:
    path = _any_path(house, chance)
    if path.is_file():
        with path.open("ab") as file:
            file.truncate(chance.choice((1024**2, 1024**2 + 1, 100 * 1024**2)))


ON_DISK: tuple[Callable[[Path, Random], None], ...] = (
    *(a_folder_for_a_file, a_file_for_a_folder, a_link, a_link, a_pipe, no_leave_to_read, a_large_file),
)  # fmt: skip
