"""The tables of keys: each entry is whole, and all that follows from a table follows from every entry."""

from collections.abc import Iterator
from dataclasses import MISSING, dataclass, fields, replace
from textwrap import dedent

import pytest

from menugen.cli.help import help_lines
from menugen.comparing import stock_moves
from menugen.problems import Place
from menugen.reading import (
    EVENT,
    HOUSE,
    LOOK,
    SPEC,
    STOCK,
    Data,
    Table,
    differences,
    flow,
    json_schemas,
    read_mapping,
    read_spec,
    read_theme,
    stock_file,
)
from menugen.reading.keys import Key, Problems, Units, fields_of, read_keys, schemas, stated
from menugen.reading.keys.values import YES_OR_NO
from menugen.reading.stock_file import read_stock
from menugen.records import Look, LookFont, StockLine
from menugen.tidying import order, tidy
from tests.reading.json_schema import faults

FILES = {"house": HOUSE, "spec": SPEC, "stock": STOCK, "event": EVENT, "theme": LOOK}


def inside(table: Table) -> Iterator[Table]:
    """Yield a table and all tables inside it."""
    yield table
    for key in table.keys:
        if key.value.table is not None:
            yield from inside(key.value.table)


TABLES = list(dict.fromkeys(inner for table in FILES.values() for inner in inside(table)))
KEYS = [pytest.param(table, key, id=f"{table.title}: {key.name}") for table in TABLES for key in table.keys]
UNITS = Units("trade", 25.0)
BESIDE = {
    "Spec": {"slug", "guest_notes", "bar_notes", "comments", "place"},
    "Event": {"slug", "place"},
    "House": {"specs", "stock", "events", "place"},
    "Stock line": {"name", "place"},
    "Section": {"place", "id"},
    "Glass": {"name", "place"},
    "Line": {"place"},
}
"""Fields that no key fills: what the file's name, its notes and the other files say, and where it was written."""

READ_WITH_OTHERS = {("Spec", "part"), ("Measured melt", "before"), ("Measured melt", "after")}
"""Keys that fill no field: they are in what another key says."""


def typed(key: Key, example: object) -> Data:
    """Return an example as plain data, by way of the YAML that help shows."""
    data, problems = read_mapping(f"{key.name}: {flow(example)}\n", "a.yaml")
    assert not problems
    assert data is not None
    return data[key.name]


@pytest.mark.parametrize("table", [t for t in TABLES if t.record], ids=lambda table: table.title)
def test_each_field_of_a_record_is_compared_or_prose_or_beside_the_keys(table: Table) -> None:
    assert table.record is not None
    marks: dict[str, set[str]] = {name: {"beside"} for name in table.beside}
    for key in table.keys:
        for name in key.fields:
            marks.setdefault(name, set()).add(key.change)
    assert set(marks) == {known.name for known in fields(table.record)}
    assert {name: mark for name, mark in marks.items() if len(mark) != 1} == {}
    assert set(table.beside) == BESIDE.get(table.title, set())


def test_what_compare_passes_over_is_words_looks_and_where_files_are() -> None:
    prose = {kind: {key.name for key in table.keys if key.change == "prose"} for kind, table in FILES.items()}
    assert prose == {
        "house": {"theme", "contact", "specs", "stock", "events", "rules", "translations"},
        "spec": {
            "part",
            "family",
            "source",
            "translations",
        },  # a part is in the lines that are measured in it
        "stock": {"aliases", "supplier", "colour", "note"},
        "event": {"printed", "theme", "listed", "translations"},
        "theme": {"title", "about"},
    }


@pytest.mark.parametrize(
    ("line", "code", "hint"),
    [
        ("{por: 10 ml rum, as: float}", "unknown-key", 'did you mean "pour"?'),
        ("{as: float}", "missing-key", "write {pour: 10 ml dark rum, as: float}"),
    ],
)
def test_a_line_with_keys_is_refused_once_and_shown_whole(line: str, code: str, hint: str) -> None:
    text = f"---\nname: A\npour: 50 ml gin\nfloat:\n  - {line}\nglass: coupe\n---\n"
    [problem] = read_spec(text, "specs/a.md", "trade").problems
    assert (problem.code, problem.hints) == (code, (hint,))


def test_only_the_lines_of_a_spec_have_several_keys_for_one_field() -> None:
    for table in TABLES:
        filled = [name for key in table.keys for name in key.fields]
        repeated = {name for name in filled if filled.count(name) > 1}
        assert repeated == ({"lines"} if table is SPEC else set()), table.title


@pytest.mark.parametrize(("table", "key"), KEYS)
def test_a_key_has_a_field_a_line_of_help_and_an_example_that_reads(table: Table, key: Key) -> None:
    assert key.fields or (table.title, key.name) in READ_WITH_OTHERS
    assert key.help.endswith(".")
    assert key.examples
    for example in key.examples:
        value = key.value.read(typed(key, example), Place("a.yaml", (key.name,)), UNITS)
        assert not isinstance(value, Problems), value


@pytest.mark.parametrize(("table", "key"), KEYS)
def test_an_editor_takes_a_keys_examples_and_shows_its_help(table: Table, key: Key) -> None:
    schema = table.schema()["properties"][key.name]
    assert (schema["description"], schema["examples"]) == (key.help, list(key.examples))
    for example in (*key.examples, *(typed(key, example) for example in key.examples)):
        assert faults(example, schema) == []
    assert faults({"no": {"such": ["thing"]}}, schema) != []


def steps_inside(example: object, key: Key) -> list[str]:
    """Return the keys that lead to the one token of an example."""
    if not isinstance(example, dict) or key.value.is_by_name or key.value.table.record is not None:
        return []
    [(name, inner)] = example.items()
    return [name, *steps_inside(inner, key.value.table.by_name[name])]


@pytest.mark.parametrize(("table", "key"), [p for p in KEYS if p.values[0] in FILES.values()])
def test_a_changed_value_is_a_difference_where_the_table_says_so(table: Table, key: Key) -> None:
    if not key.fields or "lines" in key.fields or key.name == "swap":
        pytest.skip("said line by line")  # tests/comparing has them
    assert table.record is not None
    unsaid = {name: table.unsaid[name] for name in key.fields}
    read, problems = read_keys(
        replace(table, called=""), {key.name: typed(key, key.examples[0])}, Place("a.yaml"), UNITS
    )
    assert [problem.code for problem in problems if problem.code != "missing-key"] == []
    said = fields_of(table, read)
    if said == unsaid:
        said = {name: not value for name, value in unsaid.items()}
    whole = {name: "" for name, value in table.unsaid.items() if value is MISSING}
    old = table.record(**whole | {n: v for n, v in unsaid.items() if v is not MISSING})
    new = table.record(**whole | said)
    found = differences(table, old, new)
    if key.change == "prose":
        assert found == ()
    else:
        [difference] = found
        assert difference.key == " ".join([key.name, *steps_inside(key.examples[0], key)])
        assert difference.before != difference.after
        assert difference.after
        assert "(" not in difference.after  # as Python shows a record
    assert differences(table, new, new) == ()


def test_each_token_of_a_look_is_a_difference_of_its_own() -> None:
    def look(text: str) -> Look:
        return read_theme(text.encode(), "themes/lawn/theme.yaml").theme.look

    before = look(
        'title: Lawn\ncolours: {light: {ground: "#FFFDF8", text: "#111111"}}\ntype: {size: 1.25rem}\n'
    )
    after = look(
        'title: New\ncolours: {light: {ground: "#eeeeee"}, dark: {ground: "#101820"}}\nspace: {step: 1rem}\n'
    )
    assert differences(LOOK, before, after) == (
        ("colours light ground", "#fffdf8", "#eeeeee"),
        ("colours light text", "#111111", ""),
        ("colours dark ground", "", "#101820"),
        ("type size", "1.25rem", ""),
        ("space step", "", "1rem"),
    )
    assert (
        differences(
            LOOK,
            before,
            look('colours: {light: {text: "#111111", ground: "#fffdf8"}}\ntype: {size: 1.25rem}'),
        )
        == ()
    )
    [fonts] = differences(
        LOOK,
        before,
        replace(
            before, fonts=(LookFont("Lawn", "a.otf", "b.txt", stand_ins=((("Georgia", "Gill"), 85.5),)),)
        ),
    )
    assert fonts == ("fonts", "", "Lawn 400 from a.otf (Georgia, Gill 85.5 %)")


def test_a_difference_is_said_with_its_unit() -> None:
    text = "gin:\n" + "".join(f"  {key.name}: {flow(key.examples[0])}\n" for key in STOCK.keys)
    [said] = read_stock(text, "stock/a.yaml", "trade").lines
    found = differences(STOCK, StockLine(name="gin", place=said.place), said)
    assert {key: after for key, _, after in found} == {
        "kind": "gin", "bottle": "700 ml", "each": "30 ml", "pack": "12", "price": "17.90", "abv": "24 % vol",
        "sugar": "240 g/l", "acid": "60 g/l", "fat": "19 g/100 ml", "density": "1.03 g/ml", "kept": "freezer",
        "contains": "milk", "may contain": "almond", "distilled from": "barley", "fined with": "isinglass",
        "sulphites": "35 mg/l", "cautions": "raw egg", "checked": "2026-11-02",
    }  # fmt: skip


def test_every_file_of_the_demo_is_one_that_an_editor_takes(demo: dict[str, list[Data]]) -> None:
    for kind, documents in demo.items():
        assert documents
        for document in documents:
            assert faults(document, json_schemas()[kind]) == [], document


@pytest.mark.parametrize("kind", FILES)
def test_an_editor_refuses_a_key_that_is_mistyped_and_misses_one_that_is_needed(
    kind: str, demo: dict[str, list[Data]]
) -> None:
    document = demo[kind][0]
    schema = json_schemas()[kind]
    assert isinstance(document, dict)
    if kind == "stock":
        name, said = next(iter(document.items()))
        assert isinstance(said, dict)
        assert faults({name: {**said, "botle": "700 ml"}}, schema) != []
        return
    assert faults({**document, "nmae": "A"}, schema) != []
    needed = FILES[kind].needed
    assert bool(needed) is (kind != "theme")  # a look may leave all to the one it extends
    for key in needed:
        assert faults({name: value for name, value in document.items() if name != key.name}, schema) != []


@pytest.fixture(scope="module")
def demo(request: pytest.FixtureRequest) -> dict[str, list[Data]]:
    """Return the documents of the demo house, by kind."""
    root = request.config.rootpath
    found: dict[str, list[Data]] = {}
    for kind, paths in {
        "house": [root / "demo_data" / "house.yaml"],
        "stock": sorted((root / "demo_data" / "stock").glob("*.yaml")),
        "event": sorted((root / "demo_data" / "events").glob("*.yaml")),
        "spec": sorted((root / "specs").glob("*.md")),
        "theme": sorted((root / "themes").glob("*/theme.yaml")),
    }.items():
        for path in paths:
            text = path.read_text(encoding="utf-8")
            data, problems = read_mapping(text.split("---\n")[1] if kind == "spec" else text, path.name)
            assert not problems
            assert data is not None
            found.setdefault(kind, []).append(data)
    return found


@pytest.mark.parametrize("kind", FILES)
def test_a_file_is_tidied_into_the_order_of_its_table(kind: str) -> None:
    table = FILES[kind]
    roles = {"pour", "top", "float", "rinse", "inside", "rim", "garnish"}
    keys = [key for key in table.keys if key.name not in roles - {"pour"}]
    lines = [f"{key.name}: {flow(key.examples[0])}" for key in reversed(keys)]
    text = "\n".join(f"  {line}" for line in lines) if kind == "stock" else "\n".join(lines)
    whole = {"stock": f"gin:\n{text}\n", "spec": f"---\n{text}\n---\n"}.get(kind, f"{text}\n")
    tidied = tidy(whole.encode(), "a", kind)  # type: ignore[arg-type]  # one of the four
    assert not tidied.left_alone
    found = [line.strip().partition(":")[0] for line in tidied.content.decode().splitlines()]
    names = [key.name for key in keys]
    at = [found.index(name) for name in names]
    assert at == sorted(at), found


def test_keys_inside_a_mapping_are_ordered_and_names_of_the_users_own_are_not() -> None:
    text = "---\nname: A\npour: 50 ml gin\nglass: coupe\nmelt: {after: 130 g, before: 90 g}\n---\n"
    assert "before: 90 g\n  after: 130 g" in tidy(text.encode(), "a.md", "spec").content.decode()
    house = "name: A\nglasses:\n  wash line: 100 ml\n  brim: {wash line: 80 ml, brim: 90 ml}\n"
    found = tidy(house.encode(), "house.yaml", "house").content.decode()
    assert [line.strip() for line in found.splitlines()[-4:]] == [
        "wash line: 100 ml",
        "brim:",
        "brim: 90 ml",
        "wash line: 80 ml",
    ]


def test_the_same_line_with_keys_says_the_same_alone_and_in_a_list() -> None:
    front = "---\nname: A\npour: 50 ml gin\nglass: coupe\ngarnish:{}\n---\n"
    line = "{pour: mint, note: slapped}"
    alone, listed = (
        read_spec(front.format(text), "specs/a.md", "trade").spec for text in (f" {line}", f"\n  - {line}")
    )
    assert alone is not None
    assert listed is not None
    assert [(one.name, one.role, one.note) for one in alone.lines] == [
        (one.name, one.role, one.note) for one in listed.lines
    ]
    assert alone.lines[1].place.path == ("garnish", "pour")
    assert listed.lines[1].place.path == ("garnish", 0, "pour")


@dataclass(frozen=True, slots=True, kw_only=True)
class OrganicLine(StockLine):
    """A stock line with one more fact."""

    organic: bool | None = None


ORGANIC = Key("organic", ("organic",), YES_OR_NO, "compared", "Whether its label says it is.", ("yes",))


@pytest.fixture
def one_more(monkeypatch: pytest.MonkeyPatch) -> Table:
    """Return the table of stock with one more entry, in the place of the table."""
    at = STOCK.names().index("abv")
    table = replace(STOCK, record=OrganicLine, keys=(*STOCK.keys[:at], ORGANIC, *STOCK.keys[at:]))
    for module in (stock_file, stock_moves, schemas):
        monkeypatch.setattr(module, "STOCK", table)
    monkeypatch.setattr(stock_file, "StockLine", OrganicLine)
    monkeypatch.setitem(order._TABLES, "stock", table)
    read_stock.cache_clear()
    return table


def test_a_fact_of_stock_needs_an_entry_in_the_table_and_a_field_and_no_more(one_more: Table) -> None:
    read = [
        read_stock(f"gin:\n  abv: 40 %{line}\n", "stock/a.yaml", "trade")
        for line in ("", "\n  organic: no", "\n  organic: yes")
    ]
    read_stock.cache_clear()
    unsaid, no, yes = (line for reading in read for line in reading.lines)
    assert [getattr(line, "organic") for line in (unsaid, no, yes)] == [None, False, True]  # noqa: B009  # of the test
    assert [phrase.text for phrase in stock_moves.stock_moves(unsaid, yes)] == ["organic not said -> yes"]
    assert [phrase.text for phrase in stock_moves.stock_moves(yes, no)] == ["organic yes -> no"]
    assert [stated(one_more, line).get("organic") for line in (unsaid, no, yes)] == [None, "no", "yes"]
    [problem] = read_stock("gin:\n  organc: yes\n", "stock/a.yaml", "trade").problems
    assert problem.hints == ('did you mean "organic"?',)
    [problem] = read_stock("gin:\n  organic: perhaps\n", "stock/a.yaml", "trade").problems
    assert (problem.code, problem.where) == (
        "unknown-choice",
        Place("stock/a.yaml", ("gin", "organic"), quote="perhaps"),
    )
    read_stock.cache_clear()
    schema = json_schemas()["stock"]["additionalProperties"]
    assert schema["properties"]["organic"]["description"] == ORGANIC.help
    assert any(line.startswith("  organic ") and ORGANIC.help in line for line in help_lines(schema))
    text = dedent("""\
        gin:
          note: x
          abv: 40 %
          organic: yes
          price: 14
        """)
    tidied = tidy(text.encode(), "stock/a.yaml", "stock").content.decode()
    assert [line.split(":")[0].strip() for line in tidied.splitlines()] == [
        "gin",
        "price",
        "organic",
        "abv",
        "note",
    ]


def test_stock_says_its_price_last_and_a_kind_brings_its_cautions() -> None:
    old, new = (
        read_stock(f"white:\n  {said}\n", "stock/a.yaml", "trade").lines[0]
        for said in ("kind: lime_juice\n  price: 3", "kind: egg_white\n  price: 4")
    )
    told = [phrase.text for phrase in stock_moves.stock_moves(old, new)]
    assert told == ["caution + raw egg", "kind lime_juice -> egg_white", "price 3.00 -> 4.00"]


def test_a_compared_fact_that_nobody_worded_is_said_in_the_words_of_the_table() -> None:
    """Each compared key of stock has words: its own, or the table's."""
    worded = set(stock_moves._WORDS)
    assert worded <= {key.name for key in STOCK.keys if key.change == "compared"}
