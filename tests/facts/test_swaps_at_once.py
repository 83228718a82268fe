"""Several swaps of a drink made at once: which go together, what is then in it, and how many are worked out."""

from menugen.facts.serve import MOST_COMBINED
from menugen.records import Role
from tests.facts.drinks import worked_out

STOCK = """\
oat cream:
  bottle: 1 l
  price: 2.00
  contains: [oats]
  checked: 2026-11-20
juniper water:
  bottle: 700 ml
  price: 3.00
  abv: 0 %
  contains: none
  checked: 2026-11-20
"""

THREE = """\
pour:
  - 40 ml gin
  - 20 ml single cream
  - 1 egg white
method: shake
swap:
  single cream: [oat cream, orgeat]
  gin: juniper water
  egg white: 20 ml aquafaba
"""


def named(front: str) -> dict[tuple[str, ...], frozenset[str]]:
    """Return what each set of swaps at once leaves in the drink, by what is used instead."""
    facts = worked_out(front, stock=STOCK)
    return {
        tuple(facts.swaps[at].swap.line.name for at in many.of): frozenset(
            item.entry_id for item in many.serve.declaration.contains
        )
        for many in facts.combined
    }


def test_swaps_of_different_lines_go_together_and_two_of_one_line_do_not():
    found = named(THREE)
    assert list(found) == [
        ("oat cream", "juniper water"),
        ("orgeat", "juniper water"),
        ("oat cream", "aquafaba"),
        ("orgeat", "aquafaba"),
        ("juniper water", "aquafaba"),
        ("oat cream", "juniper water", "aquafaba"),
        ("orgeat", "juniper water", "aquafaba"),
    ]


def test_the_drink_is_worked_out_with_all_of_them():
    found = named(THREE)
    assert found["oat cream", "juniper water"] == {"cereals-gluten", "eggs"}
    assert found["oat cream", "aquafaba"] == {"cereals-gluten"}
    assert found["juniper water", "aquafaba"] == {"milk"}
    facts = worked_out(THREE, stock=STOCK)
    strengths = {many.of: many.serve.made.ethanol_ml for many in facts.combined}
    assert strengths[0, 2] == 0
    assert strengths[0, 3] == facts.serve.made.ethanol_ml > 0


def test_one_swap_alone_is_no_combination():
    assert named("pour: 40 ml gin\nmethod: stir\nswap:\n  gin: juniper water\n") == {}


def test_no_more_than_so_many_are_worked_out_and_those_of_fewer_swaps_first():
    lines = [f"spirit {number}" for number in range(6)]
    stock = "".join(
        f"{kind} {number}:\n  bottle: 700 ml\n  price: 9.00\n  abv: 40 %\n  contains: none\n  checked: 2026-11-20\n"
        for number in range(6)
        for kind in ("spirit", "other")
    )
    front = "pour:\n" + "".join(f"  - 10 ml {line}\n" for line in lines)
    front += "method: stir\nswap:\n" + "".join(f"  spirit {number}: other {number}\n" for number in range(6))
    facts = worked_out(front, stock=stock)
    assert len(facts.swaps) == 6
    assert len(facts.combined) == MOST_COMBINED
    assert {len(many.of) for many in facts.combined} == {2}


def swapped(front: str, name: str) -> tuple[Role, float]:
    """Return the role and volume of what a drink's one swap brings."""
    (swap,) = worked_out(front).swaps
    (line,) = (line for line in swap.serve.lines if line.line.name == name)
    return line.line.role, line.volume_ml


def test_a_swap_is_worked_out_in_the_role_of_the_line_it_replaces():
    front = "pour: 40 ml gin\ngarnish: lemon twist\nswap:\n  lemon twist: single cream"
    assert swapped(front, "single cream") == (Role.GARNISH, 0.0)


def test_a_swap_written_as_a_float_is_poured():
    front = (
        "pour: 40 ml gin\ngarnish: lemon twist\nswap:\n  lemon twist: {pour: 15 ml single cream, as: float}"
    )
    assert swapped(front, "single cream") == (Role.FLOAT, 15.0)
    facts = worked_out(front)
    assert facts.swaps[0].serve.served_ml > facts.serve.served_ml + 10.0


def test_a_garnish_in_place_of_what_is_drunk_is_counted_whole():
    front = "pour: [40 ml gin, 20 ml lemon juice]\nmethod: stir\nswap:\n  gin: {pour: 20 ml gin, as: garnish}"
    assert {swap.serve.made.ethanol_ml > 0 for swap in worked_out(front).swaps} == {True}
