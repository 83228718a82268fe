"""Published menus as a `menu.json` has them, in few words."""

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from menugen.writing.output import MARKER

Form = dict[str, Any]


def marks(*named: str) -> list[Form]:
    """Return allergens: "almond", or "nuts:almond=almonds" with the law's group and the menu's word."""
    found = []
    for one in named:
        entry, _, rest = one.rpartition(":")
        substance, _, word = rest.partition("=")
        found.append(
            {
                "id": entry or substance,
                "word": word or substance,
                "substances": {substance: word or substance},
            }
        )
    return found


def swap(name: str, contains: Sequence[str] = (), may: Sequence[str] = (), **more: Any) -> Form:
    return {
        "id": name,
        "text": name.replace("->", "out, in:"),
        "strength": "",
        "units": "",
        "contains": marks(*contains),
        "may_contain": marks(*may),
        **more,
    }


def drink(
    name: str,
    contains: Sequence[str] = (),
    may: Sequence[str] = (),
    *,
    cautions: Sequence[str] = (),
    swaps: Sequence[Form] = (),
    **more: Any,
) -> Form:
    return {
        "id": name.casefold().replace(" ", "-"),
        "name": name,
        "sold_out": False,
        "contains": marks(*contains),
        "may_contain": marks(*may),
        "cautions": [f"Made with {one}." for one in cautions],
        "caution_ids": list(cautions),
        "swaps": list(swaps),
        **more,
    }


def menu(*drinks: Form, **more: Any) -> Form:
    return {
        "menu": 2,
        "event": "Small Supper",
        "house": "The Test Bar",
        "language": "en",
        "region": "England",
        "region_code": "GB-ENG",
        "date": "2026-12-12",
        "version": "1a2b3c4",
        "kitchen": ["Drinks share shakers."],
        "sections": [{"name": "All", "note": "", "drinks": list(drinks)}],
        **more,
    }


def as_form_1(form: Form) -> Form:
    """Return a menu as the form before had it: words and no ids."""

    def old(value: Any) -> Any:
        if isinstance(value, list):
            return [old(one) for one in value]
        if not isinstance(value, dict):
            return value
        left = {
            key: old(one)
            for key, one in value.items()
            if key not in ("substances", "caution_ids", "region_code")
        }
        if "text" in left:
            left.pop("id", None)
        return left

    return {**old(form), "menu": 1}


def content(form: Form) -> bytes:
    return json.dumps(form, ensure_ascii=False).encode()


def put(folder: Path, *menus: Form) -> Path:
    """Make a folder as a publish leaves it: the first menu at the top of the site, each other in its language's."""
    (folder / "site").mkdir(parents=True, exist_ok=True)
    (folder / MARKER).write_text("Made by menugen.", encoding="utf-8")
    for number, form in enumerate(menus):
        place = folder / "site" / (form["language"] if number else "")
        place.mkdir(exist_ok=True)
        (place / "menu.json").write_bytes(content(form))
    return folder
