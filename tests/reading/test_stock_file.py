from datetime import date
from decimal import Decimal

import pytest

from menugen.problems import Place
from menugen.reading.stock_file import read_stock
from menugen.records import Concentration, StockLine
from tests.reading.held import codes, reading_of, told

WALNUT = """\
walnut liqueur:
  bottle: 700 ml
  price: 17.90
  abv: 24 %
  contains: [walnut]
  may contain: milk
  distilled from: [wheat, barley, wheat]
  fined with: isinglass
  checked: 2026-11-02
  sugar: 240 g/l
  fat: 1 g/100 ml
  acid: 2 %
  density: 1.06 g/ml
  sulphites: 12 mg/l
  cautions: nuts
  aliases: [nut liqueur]
  kind: walnut_liqueur
  colour: "#8A4B2A"
  supplier: Quay Stores
  note: keep cold
"""


def line(text: str) -> StockLine:
    reading = read_stock(text, "stock/a.yaml", "trade")
    assert reading.problems == ()
    [found] = reading.lines
    return found


def test_a_stock_line_becomes_a_record() -> None:
    assert line(WALNUT) == StockLine(
        name="walnut liqueur",
        aliases=("nut liqueur",),
        kind="walnut_liqueur",
        bottle_ml=700.0,
        bottle_g=None,
        each_ml=None,
        each_g=None,
        pack=None,
        price=Decimal("17.90"),
        supplier="Quay Stores",
        abv_percent=24.0,
        sugar=Concentration(240.0, "g/l"),
        acid=Concentration(2.0, "% mass"),
        fat=Concentration(1.0, "g/100 ml"),
        density_g_per_ml=1.06,
        contains=("walnut",),
        may_contain=("milk",),
        distilled_from=("wheat", "barley"),
        fined_with=("isinglass",),
        sulphites_mg_per_l=12.0,
        cautions=("nuts",),
        checked=date(2026, 11, 2),
        colour="#8a4b2a",
        note="keep cold",
        place=Place("stock/a.yaml", ("walnut liqueur",), "key"),
    )


def test_none_said_nothing_listed_and_nobody_looked_are_three_things() -> None:
    assert line("gin:\n  contains: none\n").contains == ()
    assert line("gin:\n  contains: [None]\n").contains == ()
    assert line("gin:\n  contains: [milk]\n").contains == ("milk",)
    assert line("gin:\n  bottle: 700 ml\n").contains is None
    assert line("gin:\n").contains is None


@pytest.mark.parametrize(
    "empty", ["contains:", "contains: []", 'contains: ""', "contains: ~", "contains: [ '' ]"]
)
def test_an_empty_list_of_allergens_is_never_taken_for_none(empty: str) -> None:
    text = told({"stock/a.yaml": f"gin:\n  {empty}\n"})
    assert "error[contains-empty]" in text
    assert 'write "contains: none" once you have read the label' in text


@pytest.mark.parametrize(
    ("written", "code"),
    [
        ("[none, milk]", "none-with-others"),
        ("milk, egg", "wrong-shape"),
        ("[milk; egg]", "wrong-shape"),
        ("{milk: yes}", "wrong-shape"),
        ("[[milk]]", "wrong-shape"),
        ("[milk, '']", "wrong-shape"),
    ],
)
def test_doubtful_lists_of_allergens_are_refused(written: str, code: str) -> None:
    assert codes({"stock/a.yaml": f"gin:\n  contains: {written}\n"}) == [code]


def test_things_are_bought_by_weight_and_by_the_piece() -> None:
    egg = line("egg white:\n  each: 30 ml\n  pack: 12\n  contains: egg\n")
    assert (egg.each_ml, egg.each_g, egg.pack) == (30.0, None, 12)
    sugar = line("sugar:\n  bottle: 1 kg\n  each: 4 g\n")
    assert (sugar.bottle_ml, sugar.bottle_g, sugar.each_g) == (None, 1000.0, 4.0)


@pytest.mark.parametrize("written", ["1", "0", "0 ml", "none", "one"])
def test_a_piece_says_what_it_adds_or_nothing(written: str) -> None:
    [problem] = read_stock(f"mint:\n  each: {written}\n", "stock/a.yaml", "trade").problems
    assert problem.hints == (
        'write what one adds, "30 ml" or "4 g"; leave it out for things that add nothing',
    )


def test_a_figure_a_label_may_state_as_nothing_is_asked_for_from_0() -> None:
    text = "gin:\n  abv: -4 %\n  sugar: -5 g/l\n  bottle: -1 l\n"
    hints = {
        problem.where.path[-1]: problem.hints[0]
        for problem in read_stock(text, "stock/a.yaml", "trade").problems
    }
    assert hints == {
        "abv": "write an amount of 0 or more",
        "sugar": "write an amount of 0 or more",
        "bottle": "write an amount above 0",
    }
    assert line("gin:\n  abv: 0 %\n  sugar: 0 g/l\n").abv_percent == 0.0


def test_a_faulty_line_leaves_the_others_and_its_names_behind() -> None:
    reading = reading_of(
        {"stock/a.yaml": "Gin:\n  abv: 140 %\n  aliases: [House Gin]\nrum:\n  contains: none\n"}
    )
    assert reading.house is not None
    assert set(reading.house.stock) == {"rum"}
    assert reading.broken_stock == {"gin", "house gin"}


def test_where_a_file_cannot_be_read_no_name_is_called_unknown() -> None:
    reading = reading_of(
        {
            "stock/a.yaml": "gin: [",
            "specs/a.md": "---\nname: A\npour: 50 ml Gin\nglass: coupe\nswap: {gin: juniper water}\n---\n",
        }
    )
    assert reading.broken_stock == {"gin", "juniper water"}


@pytest.mark.parametrize(
    "other", ["Gin:\n  contains: none\n", "rum:\n  aliases: GIN\n", "rum:\n  aliases: [rum punch, gin]\n"]
)
def test_a_name_stands_for_one_thing_across_files(other: str) -> None:
    text = told({"stock/a.yaml": "gin:\n  contains: none\n", "stock/b.yml": other})
    assert "stock/b.yml" in text
    assert "error[stock-name-twice]" in text
    assert "also: stock/a.yaml:1:1: the first one" in text


@pytest.mark.parametrize(
    ("written", "shown"),
    [
        ("checked: 2/11/2026", "2026-11-02 or 2026-02-11"),
        ("checked: 2026-02-29", "not in the calendar"),
        ("checked: 1226-01-01", "check the year"),
        ("price: 17,90", '"17.90"'),
        ("price: £17.90", '"17.90"'),
        ("price: cheap", '"9.50"'),
        ("pack: 12.5", "whole number"),
        ("pack: 0", "whole number"),
        ("abv: 24", '"24 %"'),
        ("abv: 70° proof", "British"),
        ("colour: brown", '"#8a4b2a"'),
        ("prise: 3", 'did you mean "price"?'),
        ("Contains: milk", 'did you mean "contains"?'),
    ],
)
def test_faults_say_what_to_write(written: str, shown: str) -> None:
    assert shown in told({"stock/a.yaml": f"gin:\n  {written}\n"})


def test_what_stands_in_brackets_may_hold_commas() -> None:
    text = 'miso:\n  contains: ["soy sauce (soya, wheat)", milk]\n'
    assert line(text).contains == ("soy sauce (soya, wheat)", "milk")


def test_half_a_bracket_says_that_quotes_are_missing() -> None:
    reading = read_stock("miso:\n  contains: [soy sauce (soya, wheat)]\n", "stock/a.yaml", "trade")
    [problem] = reading.problems
    assert problem.code == "wrong-shape"
    assert problem.hints == ('write it in quotes: ["soy sauce (soya, wheat)"]',)
