"""What a name on a menu is held against: what older menus declared under it.

The menu of the same event comes first. A drink that joins a menu, or is on that of a new event, is held against every
older menu that has its name; where none has, against its own spec as it was.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from menugen.comparing.house_version import OpenedHouse
from menugen.comparing.matching import Matches
from menugen.names import name_key
from menugen.records import Event, House, Spec


class OnMenu(NamedTuple):
    """A drink on an older menu.

    Attributes:
        slug: The drink's.
        event: The event's; NO_EVENT of a drink as the house itself makes it.
    """

    slug: str
    event: str


@dataclass(frozen=True, slots=True)
class HeldAgainst:
    """What one name on a menu is held against.

    Attributes:
        olds: What had that name, or was the drink; one where it was on the same event's menu, or on none.
        is_same_menu: Whether that was on the menu of the same event.
        name: As guests read it.
        languages: In which it is so; empty where it is so in the event's first.
    """

    olds: tuple[OnMenu, ...]
    is_same_menu: bool
    name: str
    languages: tuple[str, ...] = ()


class EarlierMenus:
    """The menus of the older house, by the names on them."""

    def __init__(self, before: OpenedHouse, after: OpenedHouse, matches: Matches) -> None:
        """Remember where to look; nothing is looked up yet."""
        self._before = before
        self._after = after
        self._matches = matches
        self._names: dict[tuple[str, str], dict[str, list[OnMenu]]] = {}

    def of(self, slug: str, event: str) -> tuple[HeldAgainst, ...]:
        """Return what a drink on a newer menu is held against, by the names it has in the event's languages.

        Args:
            slug: The drink's.
            event: The newer event's.
        """
        spec, menu = self._after.house.specs[slug], self._after.house.events[event]
        found: dict[tuple[tuple[OnMenu, ...], bool], list[tuple[str, str]]] = {}
        for language in menu.languages or ("",):
            name = _name(spec, language, self._after.house, menu)
            for olds in self._olds(slug, event, name, language):
                found.setdefault(olds, []).append((language, name))
        first = next(iter(menu.languages or ("",)))
        return tuple(
            # What is so in the first language is said of the drink; what is not, of its name in the others.
            HeldAgainst(*olds, said[0][1], () if said[0][0] == first else tuple(one for one, _ in said))
            for olds, said in found.items()
        )

    def _olds(
        self, slug: str, event: str, name: str, language: str
    ) -> Iterator[tuple[tuple[OnMenu, ...], bool]]:
        """Yield what had a name, and whether that was on the same event's menu."""
        old_event, own = self._matches.events.get(event), self._matches.drinks.get(slug)
        if old_event is not None:
            same_name = self._named(old_event, language).get(name_key(name), [])
            yield from (((one,), True) for one in [one for one in same_name if one.slug == own] or same_name)
            if same_name:
                return
        was_there = old_event is not None and own in self._before.menus[old_event]
        if was_there:
            # It was called otherwise there.
            yield (OnMenu(own or "", old_event or ""),), True
        # The latest comes first: what it declared explains what is otherwise now.
        everywhere = (
            self._named(one, language).get(name_key(name), ()) for one in reversed(self._before.menus)
        )
        olds = tuple(one for menu in everywhere for one in menu)
        if olds or not was_there:
            yield olds, False

    def _named(self, event: str, language: str) -> dict[str, list[OnMenu]]:
        """Return what is on an older menu, by its name in one language."""
        if (event, language) not in self._names:
            house = self._before.house
            menu = house.events[event]
            found: dict[str, list[OnMenu]] = {}
            for slug in sorted(self._before.menus[event]):
                if (spec := house.specs.get(slug)) is not None:
                    name = name_key(_name(spec, language, house, menu))
                    found.setdefault(name, []).append(OnMenu(slug, event))
            self._names[event, language] = found
        return self._names[event, language]


def _name(spec: Spec, language: str, house: House, event: Event) -> str:
    """Return what guests read a drink's name as, in one language."""
    if not spec.translations:
        return spec.name
    from menugen.menu import translation, written_in

    found = translation(spec.translations, language, written_in(house, event.languages))
    return (found[1].name if found else "") or spec.name
