"""What a menu calls an allergen in another language, held against that language's version of the law."""

from pathlib import Path
from typing import Any

import pytest
import yaml

from menugen.menu.catalogue import load_catalogue

DATA = yaml.safe_load((Path(__file__).parent / "data" / "allergen_names.yaml").read_text(encoding="utf-8"))
CASES = [
    (language, entry["item"], entry["en"], name, kind)
    for kind in ("groups", "substances")
    for entry in DATA[kind]
    for language, name in entry.items()
    if language in DATA["checked"]
]


def said(language: str, text: str) -> str:
    catalogue = load_catalogue(language)
    assert catalogue is not None
    return catalogue.get(text) or ""


def test_no_name_is_held_to_that_was_not_read() -> None:
    checked: dict[str, Any] = DATA["checked"]
    assert all(item <= checked[language]["read_to"] for language, item, *_ in CASES)
    assert len(CASES) > 120


@pytest.mark.slow
@pytest.mark.parametrize(("language", "item", "english", "name", "kind"), CASES)
def test_a_menu_says_what_the_law_says(language: str, item: int, english: str, name: str, kind: str) -> None:
    # Cereals are named with "(gluten)" beside them, which a guest with coeliac disease looks for.
    text = f"{english} (gluten)" if kind == "substances" and item == 1 else english
    shown = said(language, text)
    if kind == "substances" and item == 1:
        assert shown.startswith(f"{name} (")
    else:
        assert shown.casefold() == name.casefold()
