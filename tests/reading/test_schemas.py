import json
import re

import pytest

from menugen.reading import EVENT, HOUSE, LOOK, SPEC, STOCK, Table, json_schemas
from menugen.regions import known_regions


def test_there_is_a_schema_for_each_kind_of_file_and_it_is_plain_json() -> None:
    schemas = json_schemas()
    assert sorted(schemas) == ["event", "house", "spec", "stock", "theme"]
    assert json.loads(json.dumps(schemas)) == schemas
    assert all(schema["$schema"].endswith("2020-12/schema") for schema in schemas.values())


@pytest.mark.parametrize(
    ("kind", "table"), [("house", HOUSE), ("spec", SPEC), ("event", EVENT), ("theme", LOOK)]
)
def test_an_editor_knows_the_same_keys_as_the_reader(kind: str, table: Table) -> None:
    schema = json_schemas()[kind]
    assert list(schema["properties"]) == list(table.names())
    assert schema["additionalProperties"] is False


def test_stock_is_names_of_lines() -> None:
    schema = json_schemas()["stock"]
    assert list(schema["additionalProperties"]["properties"]) == list(STOCK.names())
    assert schema["additionalProperties"]["additionalProperties"] is False


@pytest.mark.parametrize("kind", ["house", "event"])
def test_an_editor_offers_the_regions_whose_rules_are_known(kind: str) -> None:
    offered, parts = json_schemas()[kind]["properties"]["region"]["anyOf"]
    assert offered["enum"] == [code for code, _ in known_regions()]
    assert {"AT", "LT", "NO", "CH", "GB-SCT"} <= set(offered["enum"])
    assert "EU" not in offered["enum"]
    assert re.fullmatch(parts["pattern"], "US-OR")
    assert not re.fullmatch(parts["pattern"], "EU")


def test_numbers_may_be_typed_as_an_editor_sees_them() -> None:
    schemas = json_schemas()
    price = schemas["stock"]["additionalProperties"]["properties"]["price"]
    assert {"string", "number"} <= set(price["anyOf"][0]["type"])
    assert schemas["event"]["properties"]["guests"]["anyOf"][0]["type"] == ["string", "integer"]
    assert schemas["event"]["properties"]["hide off"]["enum"] == ["yes", "no", True, False]


def test_an_editor_takes_serves_of_two_or_more_and_no_less() -> None:
    serves = json_schemas()["spec"]["properties"]["serves"]["anyOf"]
    assert {"type": "integer", "minimum": 2, "maximum": 500} in serves
