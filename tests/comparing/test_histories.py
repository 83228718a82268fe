"""Histories of an invented bar, a step at a time, each with what guests are told otherwise by it: no more and no less.

The truths were written down from one rule before anything was compared: what guests were told, under the name they were
told it. A truth is a drink's name, `+` or `-` for more or less than guests were told, and of what; with a swap, in
brackets. Nothing is the truth of a step that is no business of a guest's.
"""

from collections.abc import Callable, Iterable, Mapping

import pytest

from menugen.comparing import Change, HouseVersion, compare, told_otherwise
from tests.houses import reading_of

Files = dict[str, str]
Edit = Callable[[Files], None]


def _line(name: str, *said: str) -> str:
    read = () if any("contains:" in one and "may" not in one for one in said) else ("contains: none",)
    rows = ("bottle: 700 ml", "price: 12.00", *said, *read, "checked: 2026-10-20")
    return f"{name}:\n" + "".join(f"  {row}\n" for row in rows)


def _spec(name: str, *pours: str, more: str = "") -> str:
    poured = "".join(f"  - {one}\n" for one in pours)
    made = "method: shake 12 s\nstrain: fine\nglass: coupe\n"
    return f"---\nname: {name}\npour:\n{poured}{made}{more}---\nDry and short.\n"


def _event(name: str, day: str, *drinks: str, head: str = "") -> str:
    listed = "".join(f"      - {drink}: 9.00\n" for drink in drinks)
    about = f"event: {name}\ndate: {day}\naddress: https://menu.example/\n{head}"
    return f"{about}menu:\n  - section: All\n    drinks:\n{listed}"


KILN, QUARRY, FAIR = "events/kiln-supper.yaml", "events/quarry-lunch.yaml", "events/lime-fair.yaml"

HOUSE: Mapping[str, str] = {
    "house.yaml": "name: The Kiln Cart\nregion: GB-ENG\ncurrency: GBP\nlanguages: [en, fr]\n",
    "stock/bar.yaml": _line("garden gin", "aliases: [gin]", "abv: 41 %")
    + _line("shore gin", "abv: 41 %")
    + _line("loft brandy", "aliases: [brandy]", "abv: 40 %")
    + _line("hearth liqueur", "abv: 22 %")
    + _line("moss liqueur", "abv: 21 %")
    + _line("ember liqueur", "abv: 24 %")
    + _line("hazel liqueur", "abv: 24 %", "contains: [hazelnut]")
    + _line("stave whisky", "abv: 43 %", "distilled from: [rye]")
    + _line("tawny vermouth", "aliases: [vermouth]", "abv: 16 %", "contains: [sulphites]"),
    "stock/larder.yaml": _line("lemon juice")
    + _line("sugar syrup", "sugar: 60 brix")
    + _line("tonic water", "cautions: [quinine]")
    + _line("egg white", "each: 30 ml", "contains: [egg]", "cautions: [raw egg]").replace(
        "  bottle: 700 ml\n", ""
    )
    + _line("aquafaba")
    + _line("single cream", "contains: [milk]")
    + _line("oat cream", "contains: [oats]"),
    "specs/felt-hat.md": _spec("Felt Hat", "40 ml brandy", "20 ml hearth liqueur", "20 ml lemon juice"),
    "specs/ashlar-flip.md": _spec(
        "Ashlar Flip",
        "50 ml brandy",
        "20 ml sugar syrup",
        "1 egg white",
        more="swap:\n  egg white: 20 ml aquafaba\n",
    ),
    "specs/brine-bell.md": _spec("Brine Bell", "40 ml gin", "40 ml tonic water"),
    "specs/cobble-cream.md": _spec(
        "Cobble Cream",
        "40 ml ember liqueur",
        "30 ml single cream",
        more="swap:\n  single cream: 30 ml oat cream\n",
    ),
    "specs/tin-lark.md": _spec("Tin Lark", "40 ml gin", "20 ml vermouth"),
    "specs/dun-cow.md": _spec("Dun Cow", "40 ml stave whisky", "20 ml lemon juice"),
    "specs/quill-pen.md": _spec("Quill Pen", "40 ml moss liqueur", "20 ml lemon juice"),
    KILN: _event("Kiln Supper", "2026-12-12", "felt-hat", "ashlar-flip", "brine-bell", "cobble-cream"),
    QUARRY: _event("Quarry Lunch", "2026-12-19", "felt-hat", "tin-lark", "dun-cow"),
}


def edit(path: str, before: str, after: str) -> Edit:
    def made(files: Files) -> None:
        assert before in files[path], f"{before!r} is not in {path}"
        files[path] = files[path].replace(before, after, 1)

    return made


def label(name: str, before: str, after: str) -> Edit:
    """Change one stock line."""

    def made(files: Files) -> None:
        path = next(
            path for path, text in files.items() if path.startswith("stock/") and f"{name}:\n" in text
        )
        head, own, rest = files[path].partition(f"{name}:\n")
        assert before in rest[: rest.index("  checked:") + 22], f"{before!r} is not said of {name}"
        files[path] = head + own + rest.replace(before, after, 1)

    return made


def says(name: str, *contains: str) -> Edit:
    """Have a label that says "none" name these."""
    return label(name, "contains: none", f"contains: [{', '.join(contains)}]")


def write(path: str, text: str) -> Edit:
    return lambda files: files.update({path: text})


def remove(path: str) -> Edit:
    return lambda files: files.pop(path) and None


def exchange(one: str, other: str) -> Edit:
    return lambda files: files.update({one: files[other], other: files[one]})


def everywhere(before: str, after: str) -> Edit:
    def made(files: Files) -> None:
        assert any(before in text for text in files.values())
        files.update({path: text.replace(before, after) for path, text in files.items()})

    return made


def names(first: str, second: str) -> tuple[Edit, Edit]:
    """Let two drinks exchange their names; each is given by its name, and its file is called after it."""
    paths = [f"specs/{name.lower().replace(' ', '-')}.md" for name in (first, second)]
    return (
        edit(paths[0], f"name: {first}\n", f"name: {second}\n"),
        edit(paths[1], f"name: {second}\n", f"name: {first}\n"),
    )


def fills(event: str, name: str, bottle: str) -> Edit:
    return edit(event, "menu:\n", f"bottles:\n  {name}: {bottle}\nmenu:\n")


def joins(event: str, slug: str) -> Edit:
    return edit(event, "    drinks:\n", f"    drinks:\n      - {slug}: 9.00\n")


def _new_event(*drinks: str, head: str = "") -> Edit:
    return write(FAIR, _event("Lime Fair", "2026-12-27", *drinks, head=head))


NUT_DRINK = _line("nut drink", "contains: [almond]")
PRINTED = edit(KILN, "menu:\n", "printed: 7f3a2c1\nmenu:\n")

_STEPS: Mapping[str, tuple[tuple[tuple[Edit, ...], tuple[str, ...]], ...]] = {
    "a label that nothing pours, then an event that pours it": (
        ((says("shore gin", "walnut"),), ()),
        ((fills(KILN, "gin", "shore gin"),), ("Brine Bell + walnut",)),
        ((_new_event("brine-bell", head="bottles:\n  gin: shore gin\n"),), ()),
        ((joins(FAIR, "tin-lark"),), ("Tin Lark + walnut",)),
        ((edit(FAIR, "bottles:\n  gin: shore gin\n", ""),), ("Brine Bell - walnut", "Tin Lark - walnut")),
    ),
    "the same with a new event": (
        ((says("shore gin", "walnut"),), ()),
        (
            (_new_event("brine-bell", "dun-cow", head="bottles:\n  gin: shore gin\n"),),
            ("Brine Bell + walnut",),
        ),
        ((remove(FAIR),), ()),
        ((_new_event("brine-bell", head="bottles:\n  gin: shore gin\n"),), ("Brine Bell + walnut",)),
    ),
    "a label of a drink on no menu, which joins one": (
        ((says("moss liqueur", "walnut"),), ("Quill Pen + walnut",)),
        ((joins(KILN, "quill-pen"),), ()),
        ((label("moss liqueur", "[walnut]", "none"),), ("Quill Pen - walnut",)),
    ),
    "a label and the menu that needs it, in one": (
        ((says("moss liqueur", "walnut"), joins(KILN, "quill-pen")), ("Quill Pen + walnut",)),
    ),
    "a new event with bottles of its own": (
        (
            (_new_event("felt-hat", head="bottles:\n  hearth liqueur: hazel liqueur\n"),),
            ("Felt Hat + hazelnut",),
        ),
        ((joins(FAIR, "brine-bell"),), ()),
    ),
    "a drink on no menu joins one that fills its bottle otherwise": (
        ((fills(KILN, "moss liqueur", "ember liqueur"),), ()),
        (
            (says("ember liqueur", "lupin"), joins(KILN, "quill-pen")),
            ("Cobble Cream + lupin", "Quill Pen + lupin"),
        ),
        (
            (edit(KILN, "moss liqueur: ember liqueur", "moss liqueur: hazel liqueur"),),
            ("Quill Pen + hazelnut", "Quill Pen - lupin"),
        ),
    ),
    "older menus that differ": (
        ((fills(KILN, "hearth liqueur", "hazel liqueur"),), ("Felt Hat + hazelnut",)),
        ((exchange(KILN, QUARRY),), ()),
        ((_new_event("felt-hat", head="bottles:\n  hearth liqueur: hazel liqueur\n"),), ()),
        (
            (edit(FAIR, "hearth liqueur: hazel liqueur", "hearth liqueur: moss liqueur"),),
            ("Felt Hat - hazelnut",),
        ),
        ((remove(FAIR),), ()),
        ((_new_event("felt-hat"),), ()),
        ((remove(FAIR), says("ember liqueur", "hazelnut")), ("Cobble Cream + hazelnut",)),
        ((_new_event("felt-hat", head="bottles:\n  hearth liqueur: ember liqueur\n"),), ()),
    ),
    "a drink on no menu, at a new event with bottles of its own": (
        (
            (_new_event("quill-pen", head="bottles:\n  moss liqueur: hazel liqueur\n"),),
            ("Quill Pen + hazelnut",),
        ),
    ),
    "what fills a swap at a new event": (
        ((write("stock/more.yaml", NUT_DRINK),), ()),
        (
            (_new_event("cobble-cream", head="bottles:\n  oat cream: nut drink\n"),),
            (
                "Cobble Cream [oat cream instead of single cream] + almond",
                "Cobble Cream [oat cream instead of single cream] - oats",
            ),
        ),
    ),
    "swaps": (
        ((says("aquafaba", "mustard"),), ("Ashlar Flip [aquafaba instead of egg white] + mustard",)),
        (
            (edit("specs/ashlar-flip.md", "swap:\n  egg white: 20 ml aquafaba\n", ""),),
            ("Ashlar Flip - swap",),
        ),
    ),
    "one name, a new file, other pours": (
        (
            (
                remove("specs/felt-hat.md"),
                write(
                    "specs/winter-hat.md",
                    _spec("Felt Hat", "40 ml stave whisky", "30 ml hazel liqueur", "1 egg white"),
                ),
                edit(KILN, "felt-hat", "winter-hat"),
                edit(QUARRY, "felt-hat", "winter-hat"),
            ),
            ("Felt Hat + egg", "Felt Hat + hazelnut", "Felt Hat + raw egg"),
        ),
    ),
    "a name that goes on to another drink": (
        (
            (
                remove("specs/cobble-cream.md"),
                edit(KILN, "      - cobble-cream: 9.00\n", ""),
                edit("specs/tin-lark.md", "name: Tin Lark", "name: Cobble Cream"),
            ),
            ("Cobble Cream + sulphites", "Cobble Cream - milk", "Cobble Cream - swap"),
        ),
    ),
    "a namesake on another menu": (
        (
            (
                write("specs/dun-cream.md", _spec("Dun Cow", "40 ml stave whisky", "30 ml single cream")),
                joins(KILN, "dun-cream"),
            ),
            ("Dun Cow + milk",),
        ),
    ),
    "names exchanged": ((names("Tin Lark", "Dun Cow"), ("Dun Cow + sulphites", "Tin Lark - sulphites")),),
    "names exchanged of drinks that hold the same": ((names("Felt Hat", "Dun Cow"), ()),),
    "files exchanged": (
        ((exchange("specs/ashlar-flip.md", "specs/cobble-cream.md"),), ()),
        ((exchange(KILN, QUARRY),), ()),
    ),
    "labels nobody has read": (
        ((label("ember liqueur", "  contains: none\n", ""),), ("Cobble Cream ? ember liqueur",)),
        ((edit("specs/dun-cow.md", "Dry and short.", "Smoky."),), ("Cobble Cream ? ember liqueur",)),
        ((label("ember liqueur", "  checked", "  contains: none\n  checked"),), ()),
        ((label("tawny vermouth", "  contains: [sulphites]\n", ""),), ("Tin Lark ? tawny vermouth",)),
        (
            (label("tawny vermouth", "  checked", "  contains: [sulphites]\n  checked"),),
            ("Tin Lark + sulphites",),
        ),
        ((label("oat cream", "  contains: [oats]\n", ""),), ("Cobble Cream ? oat cream",)),
    ),
    "what cannot be worked out, then or now or ever": (
        ((edit("specs/felt-hat.md", "hearth liqueur", "birch liqueur"),), ("Felt Hat ? unknown",)),
        ((edit("specs/dun-cow.md", "Dry and short.", "Smoky."),), ("Felt Hat ? unknown",)),
        (
            (write("stock/more.yaml", _line("birch liqueur", "contains: [hazelnut]")),),
            ("Felt Hat ? unknown",),
        ),
        ((edit(KILN, "menu:\n", "menu:\n  - sektion: [\n"),), ("Kiln Supper ? unknown",)),
        ((edit("specs/dun-cow.md", "Smoky.", "Dry."),), ("kiln-supper ? unknown",)),
    ),
    "cautions": (
        ((label("egg white", "[raw egg]", "none"),), ("Ashlar Flip - raw egg",)),
        ((label("tonic water", "[quinine]", "none"),), ("Brine Bell - quinine",)),
        (
            (edit("specs/dun-cow.md", "glass: coupe\n", "glass: coupe\ncautions: [flaming]\n"),),
            ("Dun Cow + flaming",),
        ),
    ),
    "what drinks share": (
        ((edit(KILN, "menu:\n", "equipment: [shared shakers]\nmenu:\n"),), ("Kiln Supper + shared shakers",)),
        ((edit(KILN, "equipment: [shared shakers]\n", ""),), ("Kiln Supper - shared shakers",)),
    ),
    "a drink that is on no printed card": (
        ((PRINTED,), ()),
        (
            (write("specs/slow-kite.md", _spec("Slow Kite", "40 ml gin")), joins(KILN, "slow-kite")),
            ("Slow Kite ? not on cards",),
        ),
        ((write("specs/low-gate.md", _spec("Low Gate", "40 ml gin")), joins(QUARRY, "low-gate")), ()),
        ((joins(KILN, "dun-cow"),), ("Dun Cow ? not on cards",)),
    ),
    "an ingredient renamed everywhere": (
        ((everywhere("single cream", "farm cream"),), ()),
        ((everywhere("oat cream", "oat float"),), ()),
        (
            (
                everywhere("farm cream", "cart cream"),
                write("specs/slow-kite.md", _spec("Slow Kite", "40 ml gin", "30 ml cart cream")),
            ),
            (),
        ),
        ((everywhere("cart cream", "farm cream"), remove("specs/slow-kite.md")), ()),
        ((everywhere("garden gin", "meadow gin"),), ()),
        (
            (everywhere("hearth liqueur", "ingle liqueur"), says("ingle liqueur", "almond")),
            ("Felt Hat + almond",),
        ),
    ),
    "levels": (
        (
            (label("hearth liqueur", "contains:", "may contain: [peanut]\n  contains:"),),
            ("Felt Hat + peanut",),
        ),
        (
            (label("hearth liqueur", "may contain: [peanut]\n  contains: none", "contains: [peanut]"),),
            ("Felt Hat + peanut",),
        ),
        (
            (label("hearth liqueur", "contains: [peanut]", "may contain: [peanut]\n  contains: none"),),
            ("Felt Hat - peanut",),
        ),
    ),
    "another bottle under the same name": (
        (
            (
                label("tawny vermouth", "  aliases: [vermouth]\n", ""),
                label("hazel liqueur", "abv", "aliases: [vermouth]\n  abv"),
            ),
            ("Tin Lark + hazelnut", "Tin Lark - sulphites"),
        ),
        ((fills(KILN, "gin", "garden gin"),), ()),
    ),
    "where the law is another": (
        ((edit(QUARRY, "menu:\n", "region: US-CA\nmenu:\n"),), ("Dun Cow + rye",)),
        ((edit(QUARRY, "region: US-CA\n", ""),), ("Dun Cow - rye",)),
        ((_new_event("dun-cow", head="region: US-CA\n"),), ("Dun Cow + rye",)),
    ),
    "how much sulphite there is in a glass": (
        ((label("tawny vermouth", "contains", "sulphites: 90 mg/l\n  contains"),), ()),
        ((edit("specs/tin-lark.md", "20 ml vermouth", "5 ml vermouth"),), ("Tin Lark - sulphites",)),
    ),
    "what no law lists": (
        ((says("ember liqueur", "mango"),), ("Cobble Cream + mango",)),
        ((label("ember liqueur", "[mango]", "none"),), ("Cobble Cream - mango",)),
    ),
    "a name in one language": (
        (
            (
                edit(
                    "specs/felt-hat.md",
                    "glass: coupe\n",
                    "glass: coupe\ntranslations:\n  fr:\n    name: Le Feutre\n",
                ),
                edit(
                    "specs/tin-lark.md",
                    "glass: coupe\n",
                    "glass: coupe\ntranslations:\n  fr:\n    name: La Plume\n",
                ),
            ),
            (),
        ),
        (
            (
                edit("specs/felt-hat.md", "Le Feutre", "La Plume"),
                edit("specs/tin-lark.md", "La Plume", "Le Feutre"),
            ),
            ("La Plume - sulphites", "Le Feutre + sulphites"),
        ),
    ),
    "no business of a guest's": (
        ((edit("specs/dun-cow.md", "Dry and short.", "Smoky, with walnut on the nose."),), ()),
        ((edit(KILN, "      - felt-hat: 9.00\n", "      - felt-hat: 9.50\n"),), ()),
        ((label("loft brandy", "12.00", "14.00"), label("loft brandy", "2026-10-20", "2026-11-02")), ()),
        ((edit(KILN, "section: All", "section: To begin"),), ()),
        ((edit(QUARRY, "      - dun-cow: 9.00\n", ""),), ()),
        ((write(KILN, HOUSE[KILN] + "off: [felt-hat]\n"),), ()),
        ((label("hazel liqueur", "[hazelnut]", "[hazelnuts]"),), ()),
        ((write("specs/slow-kite.md", _spec("Slow Kite", "40 ml gin", "30 ml single cream")),), ()),
        ((joins(KILN, "slow-kite"),), ()),
    ),
}


def _truths(changes: Iterable[Change]) -> set[str]:
    return {_truth(one) for one in told_otherwise(changes)}


def _truth(one: Change) -> str:
    name = one.subject.name or one.subject.old_name
    if one.kind in ("unknown", "not on cards"):
        return f"{name} ? {one.kind}"
    if one.kind == "unread":
        return f"{name} ? {one.fact}"
    if one.kind == "swap":
        return f"{name} - swap"
    swap = f" [{one.swap}]" if one.swap else ""
    return f"{name}{swap} {'+' if one.gained else '-'} {one.fact}"


@pytest.mark.parametrize("history", _STEPS)
def test_guests_are_told_otherwise_by_what_changed_for_them_and_by_nothing_else(history: str):
    files = dict(HOUSE)
    older = HouseVersion("older", "", reading_of(files))
    for number, (edits, truths) in enumerate(_STEPS[history], 1):
        for one in edits:
            one(files)
        newer = HouseVersion("newer", "", reading_of(dict(files)))
        found = _truths(compare(older, newer).changes)
        assert found == set(truths), f"step {number} of {history}"
        older = newer


@pytest.mark.parametrize("history", _STEPS)
def test_a_house_against_itself_tells_only_what_is_not_known(history: str):
    files = dict(HOUSE)
    for edits, _ in _STEPS[history]:
        for one in edits:
            one(files)
    house = HouseVersion("same", "", reading_of(files))
    assert all("?" in truth for truth in _truths(compare(house, house).changes))
