"""What the menu's words are in another language: gettext files, read when a menu asks for them.

Comes in: a language. Goes out: a Catalogue, which gives a translation or nothing. The English text is the key.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType

SOURCE_LANGUAGE = "en"
"""The language the code and the data are written in; it has no file."""

PLURAL_FORMS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "fr": ("one", "other"),
        "de": ("one", "other"),
        "es": ("one", "other"),
        "it": ("one", "other"),
        "nl": ("one", "other"),
        "pt": ("one", "other"),
        "pl": ("one", "few", "many", "other"),
        "cy": ("zero", "one", "two", "few", "many", "other"),
        "ga": ("one", "two", "few", "many", "other"),
        "ar": ("zero", "one", "two", "few", "many", "other"),
    }
)
"""The languages there are catalogues for, and what each `msgstr[n]` is for, in Unicode CLDR's names.

Figures on a menu are often fractions, which gettext's own rules do not know: CLDR decides, and Polish has a fourth form
for them. The Romance languages' "many" (whole millions) is left out: no drink has them.
"""


@dataclass(frozen=True, slots=True)
class Catalogue:
    """The translations of one language.

    Attributes:
        language: Its code in PLURAL_FORMS.
        forms: By English text: one translation, or one for each of the language's plural forms.
    """

    language: str
    forms: Mapping[str, tuple[str, ...]]

    def get(self, text: str) -> str | None:
        """Return what an English text is in this language; None where nobody has translated it."""
        # The entry for no text at all is the catalogue's own header.
        found = self.forms.get(text) if text else None
        return found[0] if found and found[0] else None

    def counted(self, text: str, category: str) -> str | None:
        """Return what a counted noun is with a number of a CLDR plural category; None where it is not translated."""
        found = self.forms.get(text)
        order = PLURAL_FORMS[self.language]
        if not found or len(found) != len(order):
            return None
        return found[order.index(category if category in order else "other")] or None


def catalogue_languages() -> tuple[str, ...]:
    """Return the languages whose words there are, the source first."""
    return (SOURCE_LANGUAGE, *PLURAL_FORMS)


def primary(language: str) -> str:
    """Return the first part of a BCP 47 tag, in small letters: "pt" of "pt-BR"."""
    return language.partition("-")[0].lower()


@cache
def load_catalogue(language: str) -> Catalogue | None:
    """Return the catalogue for a BCP 47 tag; None for English, and for a language that has none."""
    name = primary(language)
    if name not in PLURAL_FORMS:
        return None
    text = files(__package__).joinpath("catalogues", f"{name}.po").read_text(encoding="utf-8")
    return Catalogue(name, MappingProxyType(dict(read_entries(text))))


def read_entries(text: str) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield the entries of a PO file: English text and translations; the header has an empty text.

    Ours keep to the plain part of the format: `msgid`, `msgid_plural`, `msgstr`, comments, folded strings. Fuzzy and
    obsolete entries are comments to us. A general reader takes ten times as long, which every publish would pay.
    """
    entry: dict[str, str] = {}
    key = ""
    for line in [*text.split("\n"), "msgid"]:
        if line.startswith("msg"):
            key, _, quoted = line.partition(" ")
            if key == "msgid" and entry:
                yield _finished(entry)
                entry = {}
            entry[key] = _unquoted(quoted)
        elif line.startswith('"'):
            entry[key] += _unquoted(line)


def _finished(entry: Mapping[str, str]) -> tuple[str, tuple[str, ...]]:
    return entry["msgid"], tuple(value for key, value in entry.items() if key.startswith("msgstr"))


def _unquoted(text: str) -> str:
    inner = text.strip()[1:-1]
    if "\\" not in inner:
        return inner
    return inner.replace("\\\\", "\0").replace('\\"', '"').replace("\\n", "\n").replace("\0", "\\")
