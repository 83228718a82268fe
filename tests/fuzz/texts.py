"""One file spoilt and tidied, hundreds a second: it is tidy afterwards, and says what it said.

Run: python -m tests.fuzz.texts [--seconds 600] [--seed 1]; exits with 1 where anything was found.
"""

import argparse
import sys
import time
from random import Random

from menugen.tidying import tidy
from menugen.tidying.order import Kind
from tests.fuzz import spoiling
from tests.fuzz.bases import bases

_KINDS: dict[str, Kind] = {
    "specs": "spec",
    "more": "spec",
    "stock": "stock",
    "events": "event",
    "house.yaml": "house",
}
_SPOILS = (
    *(
        spoiling.comments_everywhere,
        spoiling.quoted_otherwise,
        spoiling.quoted_otherwise,
        spoiling.indent_lines,
    ),
    *(spoiling.drop_lines, spoiling.repeat_lines, spoiling.swap_lines, spoiling.line_from_elsewhere),
    *(spoiling.hostile_value, spoiling.hostile_token, spoiling.value_of_another, spoiling.another_key),
    *(spoiling.value_at_the_edge, spoiling.other_line_ends, spoiling.flip_bytes),
)


def spoilt(seed: int) -> tuple[str, Kind, bytes]:
    """Return a file's name, what it holds, and its spoilt text."""
    chance = Random(seed)
    files = bases()[chance.choice(sorted(bases()))]
    name = chance.choice(sorted(name for name in files if name.split("/")[0] in _KINDS))
    one = {name: files[name]}
    for _ in range(chance.choice((1, 2, 3, 5))):
        chance.choice(_SPOILS)(one, chance)
    return name, _KINDS[name.split("/")[0]], one[name]


def wrong_of(name: str, kind: Kind, content: bytes) -> str:
    """Return what is wrong with how a text is tidied; empty where nothing is."""
    once = tidy(content, name, kind)
    if once.left_alone:
        # It would say something else, or nobody can tell what its comments belong to.
        doubted = "cannot be tidied" in once.left_alone or "nobody can tell" in once.left_alone
        return once.left_alone if doubted or once.content != content else ""
    again = tidy(once.content, name, kind)
    if again != once:
        return f"not tidy the second time: {again.left_alone}"
    return "" if once.content.count(b"# note") == content.count(b"# note") else "a comment is lost"


def main() -> int:
    """Tidy texts until the time is over."""
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz.texts")
    parser.add_argument("--seconds", type=float, default=60)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    begun, seed, found = time.monotonic(), args.seed, 0
    while time.monotonic() - begun < args.seconds:
        name, kind, content = spoilt(seed)
        if wrong := wrong_of(name, kind, content):
            found += 1
            print(f"{seed}: {name}: {wrong}\n{content.decode('utf-8', 'replace')}\n", flush=True)
        seed += 1
    print(f"{seed - args.seed} texts, {found} of them wrong")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
