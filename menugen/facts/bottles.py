"""Which bottle fills a name."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from menugen.names import name_key
from menugen.records import StockLine


@dataclass(frozen=True, slots=True)
class Bottles:
    """What each name means, tonight or always.

    Attributes:
        by_name: Key of a name or alias -> stock line.
        tonight: Key of a name -> stock name, from the event's `bottles`.
    """

    by_name: Mapping[str, StockLine]
    tonight: Mapping[str, str]
    _found: dict[str, StockLine | None] = field(default_factory=dict, init=False, repr=False, compare=False)

    def find(self, name: str) -> StockLine | None:
        """Return the stock line that fills this name; None where nothing is called that.

        Both the written name and the stock name it is an alias of may be given another bottle for the night.
        """
        if name not in self._found:
            # Every drink asks for the same few dozen names, many times over.
            self._found[name] = self.by_name.get(name_key(self._chosen(name) or name))
        return self._found[name]

    def is_promised(self, name: str) -> bool:
        """Return whether tonight's bottle for this name is one that is not in stock."""
        chosen = self._chosen(name)
        return chosen is not None and name_key(chosen) not in self.by_name

    def _chosen(self, name: str) -> str | None:
        """Return the bottle the event chose for a name; None where it chose none."""
        key = name_key(name)
        chosen = self.tonight.get(key)
        if chosen is None and (line := self.by_name.get(key)) is not None:
            chosen = self.tonight.get(name_key(line.name))
        return chosen

    def names(self) -> list[str]:
        """Return every name and alias there is, for near misses."""
        return sorted({name for line in self.by_name.values() for name in (line.name, *line.aliases)})


def shelve(stock: Mapping[str, StockLine], tonight: Mapping[str, str]) -> Bottles:
    """Return the bottles of a house, with tonight's choices."""
    by_name: dict[str, StockLine] = {}
    for line in stock.values():
        for alias in line.aliases:
            by_name.setdefault(name_key(alias), line)
    for line in stock.values():
        by_name[name_key(line.name)] = line
    return Bottles(by_name, {name_key(name): bottle for name, bottle in tonight.items()})
