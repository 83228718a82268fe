"""What the menus in several languages still lack: the user's words, and our own."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from babel import Locale

from menugen import reference
from menugen.facts import EventFacts
from menugen.menu.build import menu_languages
from menugen.menu.catalogue import SOURCE_LANGUAGE, load_catalogue, primary
from menugen.menu.messages import messages
from menugen.menu.own_words import translation, written_in
from menugen.menu.words import EQUIPMENT
from menugen.names import name_key
from menugen.problems import Place, Problem, warning
from menugen.records import Spec

_NAMED = 5
"""How many of many things are named before the rest are counted."""


@dataclass(frozen=True, slots=True)
class _Lack:
    """What one file lacks in one language; the hint shows where it is written."""

    place: Place
    language: str
    hint: str


def missing_translations(events: Iterable[EventFacts]) -> Iterator[Problem]:
    """Yield one warning for each file and language in which guests of these events would read another language.

    A drink whose block leaves the name out keeps its name on purpose; nothing is said of that.
    """
    lacks: dict[_Lack, dict[str, None]] = {}
    for facts in events:
        languages = menu_languages(facts)
        own = written_in(facts.setting.house, languages)
        for language in languages:
            if primary(language) != primary(own):
                for lack, things in _of_event(facts, language, own):
                    lacks.setdefault(lack, {}).update(dict.fromkeys(things))
    for lack, missing in lacks.items():
        if missing:
            yield warning(
                "translation-missing",
                f"not in {_called(lack.language)} yet: {_some(list(missing))}",
                lack.place,
                lack.hint,
            )


def missing_words(events: Iterable[EventFacts]) -> Iterator[Problem]:
    """Yield one warning for each event and language whose catalogue lacks words of ours, which stay in English."""
    for facts in events:
        for language in menu_languages(facts):
            catalogue = load_catalogue(language)
            if catalogue is None:
                continue
            lacking = [f'"{one.text}"' for one in messages() if catalogue.get(one.text) is None]
            if lacking:
                yield warning(
                    "words-not-translated",
                    f"some of our own words are not in {_called(language)} yet and stay in English: {_some(lacking)}",
                    facts.event.place.at("languages"),
                )


def _of_event(facts: EventFacts, language: str, own: str) -> Iterator[tuple[_Lack, list[str]]]:
    event, house = facts.event, facts.setting.house
    yield (
        _Lack(
            event.place.at("event"),
            language,
            f'write "translations: {{{language}: {{...}}}}" in the section or the event, with the keys it translates',
        ),
        _of_menu(facts, language, own),
    )
    for drink in facts.drinks.values():
        yield (
            _Lack(
                drink.spec.place.at("name"),
                language,
                f'write "translations: {{{language}: {{name: ..., notes: ...}}}}" in the front matter',
            ),
            _of_spec(drink.spec, language, own),
        )
    found = translation(house.translations, language, own)
    rules = ["the house rules"] if house.rules and not (found and found[1].rules) else []
    yield (
        _Lack(
            house.place.at("translations") if house.translations else house.place.at("name"),
            language,
            f'write "translations: {{{language}: {{rules: [...], words: {{lemon juice: ...}}}}}}" in house.yaml',
        ),
        [*rules, *_names(facts, language, own)],
    )


def _of_menu(facts: EventFacts, language: str, own: str) -> list[str]:
    event = facts.event
    lacking = [] if translation(event.translations, language, own) else ["the event's name"]
    for section in event.sections:
        found = translation(section.translations, language, own)
        if found is None or not found[1].name:
            lacking.append(f'section "{section.name}"')
        if section.note and (found is None or not found[1].note):
            lacking.append(f'the note of "{section.name}"')
    return lacking


def _of_spec(spec: Spec, language: str, own: str) -> list[str]:
    found = translation(spec.translations, language, own)
    notes = ["notes"] if spec.guest_notes and not (found and found[1].notes) else []
    return notes if found else ["name", *notes]


def _names(facts: EventFacts, language: str, own: str) -> list[str]:
    """Return the names on the menu that the house has no word for in a language, each once."""
    names: dict[str, None] = {}
    for drink in facts.drinks.values():
        names.update(dict.fromkeys(line.name for line in drink.spec.lines))
        names.update(dict.fromkeys(swap.swap.line.name for swap in drink.swaps))
        glass = drink.vessel.name if drink.vessel else drink.spec.glass
        if primary(own) != SOURCE_LANGUAGE or reference.glass(glass) is None:
            names[glass] = None
    for name in facts.event.equipment:
        if primary(own) != SOURCE_LANGUAGE or name_key(name) not in EQUIPMENT:
            names[name] = None
    found = translation(facts.setting.house.translations, language, own)
    known = set(map(name_key, found[1].names)) if found else set()
    return [f'"{name}"' for name in names if name_key(name) not in known]


def _some(things: list[str]) -> str:
    if len(things) <= _NAMED + 1:
        return ", ".join(things)
    return f"{', '.join(things[:_NAMED])} and {len(things) - _NAMED} more"


def _called(language: str) -> str:
    """Return a language's English name."""
    return str(Locale(SOURCE_LANGUAGE).languages.get(primary(language), f'"{language}"'))
