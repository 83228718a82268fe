"""What a drink costs: each line's share of what was bought."""

from decimal import Decimal

import pytest

from menugen.bar import serve_cost
from menugen.facts import work_out_event
from tests.houses import SOUR, STOCK, reading_of, with_drinks


def cost_of(spec: str, stock: str = STOCK):
    house = reading_of(with_drinks({"sour": spec}, stock=stock)).house
    assert house is not None
    facts, _ = work_out_event(house, house.events["small-supper"])
    assert facts is not None
    return serve_cost(next(iter(facts.drinks.values())).serve)


def test_a_serve_costs_its_share_of_bottles_and_packs():
    cost = cost_of(SOUR)
    expected = {
        "garden gin": Decimal(50) / 700 * 14,
        "lemon juice": Decimal(25) / 1000 * 5,
        "sugar syrup": Decimal(15) / 1000 * 2,
        "egg white": Decimal(3) / 12,
        "lemon": Decimal(3) / 10,
    }
    assert {line.name: float(line.amount or 0) for line in cost.lines} == pytest.approx(
        {name: float(amount) for name, amount in expected.items()}
    )
    assert cost.known == pytest.approx(sum(expected.values()))
    assert cost.unknown == ()


def test_a_bottle_without_a_price_is_named_and_not_guessed():
    cost = cost_of(SOUR, STOCK.replace("  price: 14.00\n", ""))
    assert cost.unknown == ("garden gin",)
    assert cost.known < 1


def test_a_bowl_costs_what_it_costs_and_each_serve_its_part():
    bowl = "---\nname: Bowl\nserves: 8\npour: 700 ml gin\nglass: punch bowl\nmethod: build\n---\n"
    cost = cost_of(bowl)
    assert (cost.known, cost.serves, cost.a_serve) == (Decimal(14), 8, Decimal("1.75"))
    alone = cost_of(bowl.replace("serves: 8\n", ""))
    assert (alone.known, alone.serves, alone.a_serve) == (Decimal(14), 1, Decimal(14))
