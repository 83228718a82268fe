"""Small houses for tests, as texts."""

from collections.abc import Mapping
from dataclasses import dataclass
from textwrap import dedent

from menugen.reading import HouseReading, read_house

HOUSE = """
name: The Test Bar
region: GB-ENG
"""

STOCK = """
garden gin:
  aliases: [gin]
  kind: gin
  bottle: 700 ml
  price: 14.00
  supplier: Hidden Wharf Ltd
  abv: 40 %
  distilled from: [wheat]
  contains: none
  checked: 2026-11-01
lemon juice:
  kind: lemon_juice
  bottle: 1 l
  price: 5.00
  contains: none
  checked: 2026-11-01
sugar syrup:
  bottle: 1 l
  price: 2.00
  sugar: 615 g/l
  contains: none
  checked: 2026-11-01
egg white:
  kind: egg_white
  each: 20 ml
  pack: 12
  price: 3.00
  contains: [egg]
  cautions: [raw egg]
  checked: 2026-11-01
aquafaba:
  bottle: 400 ml
  price: 0.80
  contains: none
  may contain: [lupin]
  checked: 2026-11-01
orgeat:
  bottle: 700 ml
  price: 8.00
  sugar: 600 g/l
  contains: [almond]
  checked: 2026-11-01
white wine:
  bottle: 750 ml
  price: 6.00
  abv: 12 %
  contains: [sulphites]
  sulphites: 100 mg/l
  checked: 2026-11-01
soda water:
  bottle: 1 l
  price: 0.80
  contains: none
  checked: 2026-11-01
single cream:
  bottle: 600 ml
  price: 2.10
  contains: [milk]
  checked: 2026-11-01
lemon:
  aliases: [lemon twist]
  pack: 10
  price: 3.00
  contains: none
  checked: 2026-11-01
"""

SOUR = """
---
name: Marsh Sour
pour:
  - 50 ml gin
  - 25 ml lemon juice
  - 15 ml sugar syrup
  - 1 egg white
method: [dry shake, shake]
glass: sour
garnish: lemon twist
swap:
  egg white: 20 ml aquafaba
---
Bright and short.

## Bar notes
The secret is a cold tin.
"""

EVENT = """
event: Small Supper
date: 2026-12-12
address: https://menu.example/s/
menu:
  - section: All
    drinks:
      - marsh-sour: 9.50
"""


@dataclass(frozen=True)
class TextFiles:
    """A house's files, held as texts."""

    texts: Mapping[str, str]

    def names(self, folder: str) -> tuple[str, ...]:
        found = (path.rpartition("/") for path in self.texts)
        return tuple(sorted(name for place, _, name in found if place == folder))

    def read(self, path: str) -> bytes:
        if path not in self.texts:
            raise FileNotFoundError(path)
        return self.texts[path].encode("utf-8")


def texts(**changed: str) -> dict[str, str]:
    """Return the texts of a small house that publishes; a changed file is named by its stem ("marsh_sour")."""
    found = {
        "house.yaml": HOUSE,
        "stock/all.yaml": STOCK,
        "specs/marsh-sour.md": SOUR,
        "events/small-supper.yaml": EVENT,
    }
    return {path: dedent(text).lstrip("\n") for path, text in (found | changed).items()}


def reading_of(files: Mapping[str, str]) -> HouseReading:
    """Return a house read from texts."""
    return read_house(TextFiles(files))


def with_drinks(
    specs: Mapping[str, str], event: str = EVENT, stock: str = STOCK, house: str = HOUSE
) -> dict[str, str]:
    """Return the texts of a house with these specs on one event's menu."""
    listed = "\n".join(f"      - {slug}" for slug in specs)
    head, _, _ = event.partition("    drinks:")
    files = {
        "house.yaml": house,
        "stock/all.yaml": stock,
        "events/small-supper.yaml": f"{head}    drinks:\n{listed}\n",
    }
    files |= {f"specs/{slug}.md": text for slug, text in specs.items()}
    return {path: dedent(text).lstrip("\n") for path, text in files.items()}


SHORE_GIN = """\
shore gin:
  kind: gin
  bottle: 700 ml
  price: 21.00
  abv: 45 %
  contains: [almond]
  checked: 2026-11-20
"""

LONG = "---\nname: Long Walk\npour: 100 ml white wine\ntop: soda water\nglass: wine\n---\nCold and long.\n"
