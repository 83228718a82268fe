"""The user's own words on a page: as they are translated, else as they are written, with the language they are in."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TypeVar

from menugen import reference
from menugen.menu.catalogue import SOURCE_LANGUAGE, primary
from menugen.menu.guest import PageText
from menugen.menu.language import PageLanguage
from menugen.menu.words import EQUIPMENT, INSTEAD
from menugen.names import name_key
from menugen.records import Event, House, MenuSection, Spec

T = TypeVar("T")


def written_in(house: House, languages: Iterable[str]) -> str:
    """Return the language the user writes in: the house's first, else the first of the event."""
    return next(iter((*house.languages, *languages)), SOURCE_LANGUAGE)


def translation(translations: Mapping[str, T], tag: str, own: str) -> tuple[str, T] | None:
    """Return what was written for a language, with its tag: for the very tag, else for its language anywhere.

    Args:
        translations: By BCP 47.
        tag: The language that is asked for.
        own: The language the user writes in, of which another country's words are no translation: a house in British
            English may have American words for an American page, and only for that.
    """
    if tag in translations:
        return tag, translations[tag]
    if primary(tag) == primary(own):
        return None
    alike = ((known, words) for known, words in translations.items() if primary(known) == primary(tag))
    return next(alike, None)


def own_words(house: House, event: Event, page: PageLanguage, own: str, own_page: PageLanguage) -> "OwnWords":
    """Return the user's words for one page; arguments as in OwnWords."""
    found = translation(house.translations, page.tag, own)
    names = {name_key(name): said for name, said in found[1].names.items()} if found else {}
    return OwnWords(house, event, page, own, own_page, names, found[0] if found else "")


@dataclass(frozen=True, slots=True)
class OwnWords:
    """What the user wrote, for one page.

    Attributes:
        house: The house.
        event: The event.
        page: The language of the page.
        own: BCP 47 of what is not translated.
        own_page: How a page in that language is written, in the same place.
        glossary: The house's names, by `name_key` -> in the page's language; empty where it has none.
        glossary_language: BCP 47 of those.
    """

    house: House
    event: Event
    page: PageLanguage
    own: str
    own_page: PageLanguage
    glossary: Mapping[str, str]
    glossary_language: str

    def spec_name(self, spec: Spec) -> PageText:
        """Return a drink's name."""
        found = translation(spec.translations, self.page.tag, self.own)
        return self._said(spec.name, found and (found[0], found[1].name))

    def spec_notes(self, spec: Spec) -> PageText:
        """Return a drink's notes for guests, Markdown."""
        found = translation(spec.translations, self.page.tag, self.own)
        return self._said(spec.guest_notes, found and (found[0], found[1].notes))

    def section_name(self, section: MenuSection) -> PageText:
        """Return a section's heading."""
        found = translation(section.translations, self.page.tag, self.own)
        return self._said(section.name, found and (found[0], found[1].name))

    def section_note(self, section: MenuSection) -> PageText:
        """Return the line under a section's heading."""
        found = translation(section.translations, self.page.tag, self.own)
        return self._said(section.note, found and (found[0], found[1].note))

    def event_name(self) -> PageText:
        """Return the event's name."""
        found = translation(self.event.translations, self.page.tag, self.own)
        return self._said(self.event.name, found and (found[0], found[1].name))

    def venue(self) -> PageText:
        """Return where the event is."""
        found = translation(self.event.translations, self.page.tag, self.own)
        return self._said(self.event.venue, found and (found[0], found[1].venue))

    def rules(self) -> tuple[PageText, ...]:
        """Return the house's rules for guests."""
        found = translation(self.house.translations, self.page.tag, self.own)
        told = found[1].rules if found and found[1].rules else ("",) * len(self.house.rules)
        language = found[0] if found else ""
        return tuple(
            self._said(rule, (language, said)) for rule, said in zip(self.house.rules, told, strict=True)
        )

    def made_with(self, names: Iterable[str]) -> PageText:
        """Return a row of what a drink is made with; in one language, so that it can be said which."""
        written = list(dict.fromkeys(names))
        language, said = self._names(written)
        if said:
            return PageText(self.page.row(said), self._language(language))
        return PageText(self.own_page.row(written), self._language(self.own))

    def instead(self, new: str, old: str) -> tuple[PageText, ...]:
        """Return the sentence of a swap in stretches of one language: a name that is not translated stays the user's.

        Args:
            new: What is used.
            old: What it takes the place of.
        """
        language, said = self._names([new, old])
        names = dict(zip(("new", "old"), said or (new, old), strict=True))
        foreign = self._language(language if said else self.own)
        if not foreign:
            return (PageText(self.page.filled(INSTEAD, **names)),)
        stretches = re.split(r"\{(\w+)\}", self.page.say(INSTEAD))
        runs = (
            PageText(names[text], foreign) if number % 2 else PageText(text)
            for number, text in enumerate(stretches)
        )
        return tuple(run for run in runs if run.text)

    def glass(self, name: str) -> PageText:
        """Return the name of a glass; the usual ones are in the catalogues."""
        language, said = self._names([name])
        if said:
            return PageText(said[0], self._language(language))
        known = reference.glass(name)
        if known is not None and known.name == name and self._is_own(SOURCE_LANGUAGE):
            translated = self.page.catalogue.get(name) if self.page.catalogue else None
            if translated:
                return PageText(translated, "")
        return PageText(name, self._language(self.own))

    def equipment(self, names: Iterable[str]) -> tuple[str, ...]:
        """Return what drinks share in the page's language; empty where a word of it is not translated."""
        said = [self._equipment(name) for name in names]
        return tuple(name for name in said if name) if all(said) else ()

    def _equipment(self, name: str) -> str:
        language, said = self._names([name])
        if said and not self._language(language):
            return said[0]
        known = name_key(name) if self._is_own(SOURCE_LANGUAGE) and name_key(name) in EQUIPMENT else ""
        return (self.page.catalogue.get(known) or "") if self.page.catalogue else ""

    def _names(self, names: list[str]) -> tuple[str, list[str]]:
        """Return the names in the page's language and its tag; no names where one is missing."""
        here = not self._language(self.own)
        said = [self.glossary.get(name_key(name)) or (name if here else "") for name in names]
        return self.own if here else self.glossary_language, said if all(said) else []

    def _said(self, written: str, translated: tuple[str, str] | None) -> PageText:
        if translated and translated[1]:
            return PageText(translated[1], self._language(translated[0]))
        return PageText(written, self._language(self.own) if written else "")

    def _language(self, tag: str) -> str:
        """Return a language where it is not the page's, else nothing."""
        return "" if primary(tag) == self.page.spoken else tag

    def _is_own(self, language: str) -> bool:
        return primary(self.own) == language
