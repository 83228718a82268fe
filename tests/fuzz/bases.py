"""Sound houses to spoil: the one a new bar starts with, the small one of the tests, and one that uses every key."""

from functools import cache
from textwrap import dedent

from menugen.cli.start import _starting_files
from menugen.shipped import shipped_folder
from tests.houses import texts

Files = dict[str, bytes]
"""Path, with forward slashes -> content."""

_HOUSE = """
# Every key a house may have.
name: The Tin Ferry
region: GB-ENG
currency: GBP
languages: [en, fr]
ounce: us
theme: slate
contact: hello@tinferry.example
cube: 25 mm
large cube: 50 mm
specs: [specs, more]
stock: stock
events: events

rules:
  - Water is free.   # always
  - Ask us before you order.

tax registered: yes
prices include tax: yes

glasses:
  coupe: 182 ml
  tin cup:
    brim: 300 ml
    wash line: 255 ml
    profile: [[0, 36], [4, 39], [62.3, 39.5]]

translations:
  fr:
    rules: [L'eau est gratuite., Demandez avant de commander.]
    words:
      gin: gin
      lemon juice: jus de citron
"""

_STOCK = """
# What is poured.

gin:
  aliases: [ferry gin, "juniper spirit"]
  kind: gin
  bottle: 700 ml
  price: 14.00
  supplier: Hidden Wharf
  abv: 40 %
  distilled from: [wheat]
  contains: none
  checked: 2026-11-01
  colour: "#ffffff"

# Liqueurs

walnut liqueur:
  bottle: 700 ml
  price: 0
  abv: 24 %
  sugar: 240 g/l
  contains: [walnut, milk]
  may contain: [almond]   # same line of bottles
  cautions: none
  checked: 2026-11-02
white wine:
  bottle: 750 ml
  price: 6.00
  abv: 12 %
  fined with: [isinglass, egg]
  sulphites: 100 mg/l
  contains: [sulphites]
  checked: 2026-11-01
  kept: fridge
lemon juice: {kind: lemon_juice, bottle: 1 l, price: 5.00, contains: none, checked: 2026-11-01}
sugar syrup:
  bottle: 1 l
  price: 2.00
  sugar: 615 g/l
  acid: 1 g/l
  fat: 0 g/l
  density: 1.23 g/ml
  contains: none
  checked: 2026-11-01
  note: boiled here
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
soda water:
  bottle: 1 l
  price: 0.80
  contains: none
  checked: 2026-11-01
tonic water:
  bottle: 1 l
  price: 0.90
  contains: none
  cautions: [quinine]
  checked: 2026-11-01
lemon twist:
  pack: 10
  price: 3.00
  contains: none
  checked: 2026-11-01
"""

_SOUR = """
---
name: Ferry Sour
pour:
  - 50 ml gin
  - {pour: 25 ml lemon juice, note: fresh}
  - 15 ml sugar syrup   # by weight
  - 1 egg white
float: 5 ml walnut liqueur
rim: lemon twist
garnish: [lemon twist]
method: [dry shake 10 s, shake 12 s]
strain: fine
glass: coupe
swap:
  egg white: 20 ml aquafaba
cautions: [raw egg]
family: sour
source: our own
melt: 0.45
translations:
  fr:
    name: Aigre du bac
    notes: Vif et court.
---
Bright, **short** and silky.

## Bar notes
The secret is a cold tin.
"""

_BOWL = """
---
name: Ferry Bowl
serves: 10
pour:
  - 350 ml white wine
  - 2 oz gin
  - 100 ml sugar syrup
top: soda water
method: build
glass: punch bowl
ice: cubed
---
For a table.
"""

_LONG = """
---
name: Slack Water
part: 25 ml
pour:
  - 2 parts lemon juice
  - 1 part sugar syrup
  - 2 dashes walnut liqueur
top: tonic water
rinse: 5 ml gin
inside: 5 ml sugar syrup
glass: highball
ice: cubed
method: [build, stir]
garnish: lemon twist
---
"""

_SUPPER = """
event: Ferry Supper
date: 2026-12-12
hours: 19:00-00:30
place: The Slipway
region: GB-ENG
currency: GBP
languages: [en, fr]
guests: 40
tables: 2
address: https://menu.example/ferry/
theme: slate
equipment: [shared shakers, shared blender]
bottles: {gin: ferry gin}
menu:
  - section: Before supper
    note: Short and cold.
    translations:
      fr: {section: Avant, note: Court et froid.}
    drinks:
      - ferry-sour: 9.50
      - slack-water: 0
  - section: For all
    drinks: [ferry-bowl: 45.00]
off: [slack-water]
hide off: no
listed: yes
translations:
  fr: {event: Souper du bac, place: La cale}
"""

_DRY = """
event: Dry Ferry
date: 2027-01-09
alcohol: none
hosted: yes
menu:
  - section: All
    drinks: [still-water]
"""

_STILL = """
---
name: Still Water
pour: [30 ml lemon juice, 20 ml sugar syrup]
top: soda water
glass: tin cup
ice: cubed
method: build
---
"""


def _every_key() -> Files:
    named = {
        "house.yaml": _HOUSE,
        "stock/all.yaml": _STOCK,
        "specs/ferry-sour.md": _SOUR,
        "specs/ferry-bowl.md": _BOWL,
        "more/slack-water.md": _LONG,
        "more/still-water.md": _STILL,
        "events/ferry-supper.yaml": _SUPPER,
        "events/dry-ferry.yaml": _DRY,
    }
    return {path: dedent(text).lstrip("\n").encode() for path, text in named.items()}


@cache
def _library() -> Files:
    return {f"specs/{path.name}": path.read_bytes() for path in sorted(shipped_folder("specs").glob("*.md"))}


@cache
def bases() -> dict[str, Files]:
    """Return the sound houses by name."""
    return {
        "first": {path: text.encode() for path, text in _starting_files().items()},
        "small": {path: text.encode() for path, text in texts().items()},
        "every key": _every_key(),
    }


@cache
def other_values() -> tuple[bytes, ...]:
    """Return lines of every file of every house and of the starter library, to be put where they do not belong."""
    every = [content for files in (*bases().values(), _library()) for content in files.values()]
    return tuple(sorted({line for content in every for line in content.splitlines() if 0 < len(line) < 200}))
