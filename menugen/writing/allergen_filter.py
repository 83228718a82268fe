"""The filter that needs no script: rules that hide a drink once no way of making it is left by the boxes ticked.

A box is ticked against what it names: an allergen, or alcohol. A way of making a drink is out once it holds something
ticked; a drink is out once every way of it is. A style rule can ask that of a whole menu only where it knows which
things each way holds. So a drink of one way carries them as words, each with a rule of its own; one of several ways
carries the number of a family of ways, and that family has a rule that asks of each way whether it is out.
"""

import re
from collections.abc import Iterable

from menugen.menu import GuestDrink, GuestMenu, GuestSwap
from menugen.writing.pages import DrinkTicks, Ticked, WayTicks

ALCOHOL = "_alcohol"
"""What a way holds that is not alcohol-free, for the box that leaves only those that are; no token is written so."""

_OUTSIDE_TOKEN = re.compile(r"[^A-Za-z0-9_-]+")

Held = frozenset[str]


def token(identity: str) -> str:
    """Return an id as one word that is safe in an attribute and in a selector: "pine nut" is "pine-nut".

    Two ids that come out alike hide each other's drinks as well: a filter may hide too much, never too
    little.
    """
    return _OUTSIDE_TOKEN.sub("-", identity).strip("-_") or "-"


class AllergenFilter:
    """What each part of a menu is shown or hidden by, and the style rules that do it."""

    def __init__(self, menu: GuestMenu) -> None:
        self._boxes = {token(choice.id): f"#out_{token(choice.id)}" for choice in menu.choices}
        if menu.has_alcohol_free:
            self._boxes[ALCOHOL] = "#only_free"
        self._families: dict[frozenset[Held], str] = {}
        for section in menu.sections:
            for drink in section.drinks:
                self.ticks(drink)

    def ticks(self, drink: GuestDrink) -> DrinkTicks:
        """Return what a drink, and each thing that stands with it, is shown or hidden by."""
        as_written = self._held(drink)
        swaps = [self._held(swap) for swap in drink.swaps]
        held = {swap.of: self._held(swap) for swap in (*drink.swaps, *drink.combined)}
        others = self._ticked(swaps)
        return DrinkTicks(
            out=self._ticked([as_written, *held.values()]),
            as_written_out=_words(as_written),
            none_besides=Ticked(_words(as_written.union(others.any.split())), others.every)
            if swaps
            else others,
            swaps=tuple(map(_words, swaps)),
            ways=tuple(
                WayTicks(_words(way), self._ticked([as_written, *_simpler(of, held)]))
                for of, way in held.items()
            ),
        )

    def rules(self) -> str:
        """Return the style rules, for browsers that know `:has()`. Paper shows every drink, whatever is ticked.

        Each box hides its drinks, shows its word beside the closed filter, and shows in each section that lost a
        drink the sentence that says so.
        """
        rules = []
        for name, box in self._boxes.items():
            out = f"body:has({box}:checked)"
            rules.append(
                _hide(out, f'[data-has~="{name}"]') + f'{out} [data-then~="{name}"]{{display:block}}'
            )
            if name != ALCOHOL:
                rules.append(f'{out} .left-out [data-for="{name}"]{{display:inline}}')
        for ways, number in self._families.items():
            out = "body" + "".join(f":has({self._any_of(way)})" for way in sorted(map(sorted, ways)))
            rules.append(
                _hide(out, f'[data-gone="{number}"]') + f'{out} [data-left="{number}"]{{display:block}}'
            )
        rules.append(_hide("body:has(#hide_off:checked)", "[data-off]"))
        return f"@media not print{{@supports selector(:has(*)){{.sieve[hidden]{{display:block}}{''.join(rules)}}}}}"

    def _any_of(self, held: Iterable[str]) -> str:
        return ",".join(f"{self._boxes[one]}:checked" for one in held)

    def _held(self, way: GuestDrink | GuestSwap) -> Held:
        """Return what a way holds that can be ticked."""
        held = {token(one) for one in way.ids} | (set() if way.alcohol_free else {ALCOHOL})
        return frozenset(held & self._boxes.keys())

    def _ticked(self, ways: Iterable[Held]) -> Ticked:
        """Return what is ticked once each of these ways is out."""
        ways = set(ways)
        # Whatever puts a way out also puts out each way that holds all it does, and more.
        least = frozenset(way for way in ways if not any(other < way for other in ways))
        if not least or frozenset() in least:
            return Ticked("", "")
        if len(least) == 1:
            return Ticked(_words(*least), "")
        return Ticked("", self._families.setdefault(least, str(len(self._families) + 1)))


def _simpler(of: tuple[int, ...], held: dict[tuple[int, ...], Held]) -> list[Held]:
    """Return what the ways hold that make some of these swaps and not all."""
    return [way for fewer, way in held.items() if set(fewer) < set(of)]


def _words(held: Iterable[str]) -> str:
    return " ".join(sorted(held))


def _hide(out: str, part: str) -> str:
    return (
        f"{out} {part}{{display:none!important}}{out} section:has(.drink{part}) .some-hidden{{display:block}}"
    )
