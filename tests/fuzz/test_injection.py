"""A whole house in which every text is an attack, published: pages keep their structure and nothing of it runs."""

import json
import re
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree

import pytest

from menugen.cli import main
from menugen.preview.pages import dressed, make_pages
from tests.houses import texts
from tests.revisions.repositories import git

ATTACKS = (
    "<script>alert(1)</script> \"><img src=//a.example/x onerror=alert(1)> 'onload='alert(1)",
    "</style></title></script><svg onload=alert(1)> <!-- --> ]]> <![CDATA[ {{ 7 * 7 }}{% for x in () %}",
    "javascript:alert(1) [x](javascript:alert(1)) ![y](http://a.example/z) <http://b.example/>",
    "=cmd|'/c calc'!A0 `${alert(1)}` \\u003cscript\\u003e %3Cscript%3E '; alert(1); // &lt;b&gt;&#60;b&#62; \u2066x",
)
PLAIN = "Harbour water"
_SUM = re.compile(r"\b[0-9a-f]{8,}\b")
"""What of a name or a script follows from the words of the pages."""
_LOADS = {
    "src",
    "href",
    "srcset",
    "poster",
    "action",
    "formaction",
    "data",
    "background",
    "xlink:href",
    "ping",
    "manifest",
}


class _Reader(HTMLParser):
    """What a browser makes of a page, as far as structure, scripts and addresses go."""

    def __init__(self, page: str) -> None:
        super().__init__(convert_charrefs=True)
        self.structure: list[str] = []
        self.scripts: list[tuple[str, str]] = []
        self.addresses: list[str] = []
        self.words: list[str] = []
        self._raw = ""
        self.feed(page)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        # A name that reads from right to left brings one attribute of its own.
        self.structure.append(f"<{tag} {' '.join(sorted(name for name, _ in attrs if name != 'dir'))}>")
        assert not [name for name, _ in attrs if name.startswith("on")], attrs
        self.addresses += [value or "" for name, value in attrs if name in _LOADS]
        self._raw = dict(attrs).get("type") or tag if tag in ("script", "style") else ""
        if tag in ("script", "style"):
            self.scripts.append((self._raw, ""))

    def handle_endtag(self, tag: str) -> None:
        self.structure.append(f"</{tag}>")
        self._raw = "" if tag in ("script", "style") else self._raw

    def handle_data(self, data: str) -> None:
        if self._raw:
            self.scripts[-1] = (self._raw, self.scripts[-1][1] + data)
        else:
            self.words.append(data)

    def handle_comment(self, data: str) -> None:
        raise AssertionError(f"a comment: {data}")

    def handle_pi(self, data: str) -> None:
        raise AssertionError(f"an instruction: {data}")

    def unknown_decl(self, data: str) -> None:
        raise AssertionError(f"a declaration: {data}")


_OF_HOUSE = """
name: WORD
region: GB-ENG
languages: [en, fr]
contact: WORD
rules: [WORD, WORD]
translations:
  fr:
    rules: [WORD, WORD]
    words: {lemon juice: WORD}
"""
_OF_EVENT = """
event: WORD
date: 2026-12-12
place: WORD
address: https://menu.example/s/
equipment: [WORD]
tables: 2
menu:
  - section: WORD
    note: WORD
    translations: {fr: {section: WORD, note: WORD}}
    drinks: [marsh-sour: 9.50]
translations: {fr: {event: WORD, place: WORD}}
"""
_OF_SPEC = """name: WORD
source: WORD
translations: {fr: {name: WORD, notes: WORD}}"""
_OF_STOCK = """
WORD:
  aliases: [odd garnish]
  pack: 9
  price: 1
  supplier: WORD
  contains: none
  checked: 2026-11-01
  note: WORD
"""


def _house(word: str) -> dict[str, str]:
    """Return a house in which a word stands wherever a text of the user's own may."""
    files = texts(**{"house.yaml": _OF_HOUSE, "events/small-supper.yaml": _OF_EVENT})
    files["stock/all.yaml"] += _OF_STOCK
    files["specs/marsh-sour.md"] = (
        files["specs/marsh-sour.md"]
        .replace("name: Marsh Sour", _OF_SPEC)
        .replace("garnish: lemon twist", "garnish: odd garnish")
    )
    # What YAML reads in double quotes; the notes are Markdown, and take the word as it is.
    said = {path: text.replace("WORD", json.dumps(word)) for path, text in files.items()}
    notes = f"{PLAIN}\n\n{PLAIN} {word}\n\n    {word}"
    return {path: text.replace("Bright and short.", notes) for path, text in said.items()}


def _written(house: Path, word: str) -> None:
    for name, text in _house(word).items():
        (house / name).parent.mkdir(parents=True, exist_ok=True)
        (house / name).write_text(text, encoding="utf-8")


@pytest.fixture(scope="module")
def plain(tmp_path_factory) -> dict[str, bytes]:
    """The pages of the same house with a harmless word."""
    house = tmp_path_factory.mktemp("plain")
    _written(house, PLAIN)
    return _published(house)


def _published(house: Path) -> dict[str, bytes]:
    assert main(["publish", str(house), "--quiet"]) == 0
    out = house / "out"
    return {
        _SUM.sub("SUM", path.relative_to(out).as_posix()): path.read_bytes()
        for path in out.rglob("*")
        if path.is_file() and ".photos" not in path.parts
    }


@pytest.mark.slow
@pytest.mark.parametrize("word", ATTACKS)
def test_no_text_of_a_house_runs_on_its_pages(tmp_path, capsys, plain, word):
    _written(tmp_path, word)
    found = _published(tmp_path)
    assert found.keys() == plain.keys()
    capsys.readouterr()
    for name, content in found.items():
        if name.endswith(".html"):
            _look_at_page(name, content.decode(), plain[name].decode(), word)
        elif name.endswith((".svg", ".xml")):
            drawn = ElementTree.fromstring(content)  # noqa: S314  # our own file
            assert not [
                one
                for one in drawn.iter()
                if "script" in one.tag or any(key.startswith("on") for key in one.attrib)
            ]
        elif name.endswith((".json", ".webmanifest")):
            json.loads(content)
    assert any(
        word in " ".join(_Reader(content.decode()).words)
        for name, content in found.items()
        if name.endswith("index.html")
    )


def _look_at_page(name: str, text: str, plain: str, word: str) -> None:
    page, harmless = _Reader(text), _Reader(plain)
    # What a note is written with may be marked up; links and pictures in it are left out.
    kept = [one for one in page.structure if one not in _OF_NOTES]
    assert kept == [one for one in harmless.structure if one not in _OF_NOTES], name
    assert [kind for kind, _ in page.scripts] == [kind for kind, _ in harmless.scripts], name
    for (kind, script), (_, was) in zip(page.scripts, harmless.scripts, strict=True):
        if kind == "application/ld+json":
            assert _shape(json.loads(script)) == _shape(json.loads(was)), name
        elif kind == "script":
            assert _SUM.sub("SUM", script) == _SUM.sub("SUM", was), name
        else:
            assert _without_strings(script) == _without_strings(was), name
    for address in page.addresses:
        assert not re.match(r"\s*(javascript|vbscript|data:text)", address, re.IGNORECASE), name
        assert "a.example" not in address, name
        assert "b.example" not in address, name


_OF_NOTES = frozenset(
    f"{mark}{tag}{end}" for tag in ("code", "pre", "em", "strong") for mark, end in (("<", " >"), ("</", ">"))
)


def _shape(data: object) -> object:
    if isinstance(data, dict):
        return {key: _shape(value) for key, value in data.items()}
    return [_shape(value) for value in data] if isinstance(data, list) else type(data)


def _without_strings(style: str) -> str:
    # Sizes follow how long the words are.
    return re.sub(r"[\d.]+", "0", re.sub(r'"(?:[^"\\]|\\.)*"', '""', style))


def test_no_text_of_a_house_runs_in_the_preview_or_on_a_drinks_life(tmp_path, capsys):
    word = " ".join(ATTACKS)
    _written(tmp_path, ATTACKS[1])
    git(tmp_path, "init", "-q", ".")
    git(tmp_path, "add", "-A")
    git(tmp_path, "commit", "-qm", word)
    pages = make_pages(tmp_path, None)
    assert "error[" not in pages.problems, pages.problems
    for name, content in pages.files.items():
        if name.endswith(".html"):
            _Reader(dressed(content, f"{word} </pre>").decode())
    assert (
        main(["drink", "marsh-sour", "--house", str(tmp_path), "--history", "--to", str(tmp_path / "papers")])
        == 0
    )
    page = _Reader((tmp_path / "papers/bar/marsh-sour.html").read_text("utf-8"))
    assert not [one for one in page.structure if one.startswith(("<img", "<script", "<a "))]
    capsys.readouterr()
