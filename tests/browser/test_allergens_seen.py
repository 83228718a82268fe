"""Every answer about an allergen can be seen: the drink's name, the allergen and the answer on one screen, uncovered.

Measured in a browser by what is visible: on a narrow page with the page's own scroll alone, in a table likewise, as it
never scrolls by itself.
"""

from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

import pytest

from menugen import regions
from menugen.menu import WORDS, AllergenMark, GuestDrink, GuestMenu, GuestSection, TableColumn
from menugen.menu.language import page_language
from menugen.shipped import shipped_folder
from menugen.writing.theme import load_theme
from tests.writing.fixtures import drink, menu_of, site_files

pytestmark = pytest.mark.browser

SHIPPED = shipped_folder("themes")
BIG = "html { font-size: 200% !important }"
HEIGHT = 844


@dataclass(frozen=True)
class House:
    """A long menu: its language, its look, and what its drinks are called."""

    language: str
    look: str
    names: tuple[str, ...]


HOUSES = (
    House(
        "en",
        "slate",
        ("The Long Evening at the Far End of the Old Boathouse Landing", "Ebb Tide", "Low Water"),
    ),
    House(
        "de",
        "lawn",
        (
            "Donaudampfschifffahrtsgesellschaftskapitänsmützenabzeichen",
            "Stiller Hafen",
            "Schwarzwaldkirschwasserbowle",
        ),
    ),
    House(
        "ar",
        "bunting",
        ("المساء الطويل في الطرف البعيد من رصيف القوارب القديم والفنار", "حامض المستنقع", "ماء"),
    ),
    House(
        "ga",
        "slate",
        ("Fizz an lochta féir agus oíche fhada ag ceann na cé thall úd", "Fizz", "An Cuan Ciúin"),
    ),
)
WIDTHS = (320, 390, 580, 600, 768, 1280)


def long_house(house: House, count: int = 32, sections: int = 4, columns: int = 14) -> GuestMenu:
    """Return a menu on which every drink contains some allergens and may contain others: one of them all."""
    page = page_language(house.language, "DE", "EUR")
    entries = regions.load_region("DE", date(2026, 12, 12)).regime.entries[:columns]
    marks = tuple(AllergenMark(entry.id, page.say(entry.label), "milk") for entry in entries)
    assert len(marks) == columns

    def made(number: int) -> GuestDrink:
        contains = tuple(mark for at, mark in enumerate(marks) if number == 0 or (at * 7 + number) % 5 == 0)
        may = tuple(
            mark for at, mark in enumerate(marks) if mark not in contains and (at * 5 + number) % 4 == 0
        )
        name = house.names[number % len(house.names)]
        return drink(
            f"drink-{number}",
            name if number < len(house.names) else f"{name} {number}",
            contains=contains,
            may_contain=may,
            off=number % 9 == 1,
            picture=None,
        )

    drinks = [made(number) for number in range(count)]
    parts = tuple(
        GuestSection(
            f"part-{at}",
            f"{house.names[1]} {at}",
            "",
            tuple(drinks[at * count // sections : (at + 1) * count // sections]),
        )
        for at in range(sections)
    )
    return replace(
        menu_of(parts, since_card=None),
        language=page.code,
        direction=page.direction,
        words={word: page.say(text) for word, text in WORDS.items()},
        columns=tuple(TableColumn(mark) for mark in marks),
    )


UNSEEN = r"""expected => {
    const wholes = new Map();
    const whole = part => {
        if (!wholes.has(part)) {
            const range = document.createRange();
            range.selectNodeContents(part);
            wholes.set(part, {part, range});
        }
        return wholes.get(part);
    };
    const word = (part, text) => {
        const walker = document.createTreeWalker(part, NodeFilter.SHOW_TEXT);
        for (let node; (node = walker.nextNode());) {
            // "nuts" is not to be found in "peanuts".
            const plain = text.replace(/[().]/g, '\\$&');
            const at = node.data.search(new RegExp(`(?<!\\p{L})${plain}(?!\\p{L})`, 'u'));
            if (at < 0) continue;
            const range = document.createRange();
            range.setStart(node, at); range.setEnd(node, at + text.length);
            return {part: node.parentElement, range};
        }
        return null;
    };
    const rects = spot => [...spot.range.getClientRects()].filter(rect => rect.width > .5 && rect.height > .5);
    // A name and a head of a column are asked after many times before the page moves.
    const known = new Map();
    let top = scrollY;
    const seen = spot => {
        if (scrollY !== top) { known.clear(); top = scrollY; }
        if (!known.has(spot)) known.set(spot, isSeen(spot));
        return known.get(spot);
    };
    const isSeen = spot => {
        const all = rects(spot);
        return all.length > 0 && all.every(rect => {
            const x = (rect.left + rect.right) / 2, y = (rect.top + rect.bottom) / 2;
            if (rect.left < -1 || rect.right > innerWidth + 1) return false;
            if (rect.top < -1 || rect.bottom > innerHeight + 1) return false;
            return [.2, .5, .8].every(share => {
                const at = document.elementFromPoint(rect.left + rect.width * share, y);
                return at && (at.contains(spot.part) || spot.part.contains(at));
            });
        });
    };
    const together = spots => {
        if (spots.some(spot => !spot)) return false;
        if (spots.every(seen)) return true;
        for (const share of [.5, .75, .35, .9]) {
            scrollBy(0, rects(spots[2])[0].top - innerHeight * share);
            if (spots.every(seen)) return true;
        }
        return false;
    };
    const missed = [];
    let asked = 0;
    const isList = document.querySelector('.by-drink').checkVisibility();
    for (const [address, answers] of Object.entries(expected)) {
        const links = [...document.querySelectorAll(`main a[href="${address}"]`)].filter(a => a.checkVisibility());
        if (links.length !== 1) { missed.push([address, links.length]); continue; }
        const name = whole(links[0]);
        for (const [allergen, answer] of Object.entries(answers)) {
            asked += 1;
            let spots;
            if (isList) {
                const lines = [...links[0].closest('li').querySelectorAll('ul li')].map(line => [
                    word(line.lastElementChild, allergen), whole(line.querySelector('b'))]);
                const line = lines.find(([found]) => found);
                spots = line ? [name, ...line] : [null];
            } else {
                const row = links[0].closest('tr'), head = [...row.closest('table').rows[0].cells];
                const at = head.findIndex(cell => cell.textContent.trim() === allergen);
                const cell = row.cells[at];
                const said = cell && cell.lastElementChild.textContent === answer;
                spots = said ? [name, ...[head[at], cell].map(part => whole(part.querySelector('span')))] : [null];
            }
            if (isList && spots[2] && spots[2].part.textContent !== answer) spots = [null];
            if (!together(spots)) missed.push([address, allergen, answer]);
        }
    }
    const heads = [...document.querySelectorAll('.across table')].map(table => [...table.rows[0].cells]
        .map(cell => Math.round(cell.getBoundingClientRect().width)).join(' '));
    return {
        asked, missed, isList,
        both: ['.by-drink', '.across'].every(part => document.querySelector(part).checkVisibility()),
        widths: new Set(heads).size,
        equal: isList || new Set(heads[0].split(' ').slice(1)).size <= 2,
        over: document.documentElement.scrollWidth - innerWidth,
    };
}"""


def expected(menu: GuestMenu) -> dict[str, dict[str, str]]:
    """Return the answers there are to see, by the address of the drink's page and the allergen's name."""
    return {
        f"drinks/{made.id}.html": {
            column.mark.word: menu.words[
                "listed_contains"
                if column.mark in made.contains
                else "listed_may_contain"
                if column.mark in made.may_contain
                else "not_listed"
            ]
            for column in menu.columns
        }
        for section in menu.sections
        for made in section.drinks
    }


@pytest.fixture(scope="module")
def seen(measured, tmp_path_factory):
    """Return what is seen of a long menu's allergens; the site of each menu is written once."""
    written: dict[tuple[object, ...], tuple[GuestMenu, Path]] = {}

    def look(house: House, size: tuple[int, ...], width: int, style: str = "") -> dict[str, object]:
        if (house, size) not in written:
            menu, folder = long_house(house, *size), tmp_path_factory.mktemp(house.look)
            for path, content in site_files(menu, load_theme([SHIPPED], house.look)).items():
                (folder / path).parent.mkdir(parents=True, exist_ok=True)
                (folder / path).write_bytes(content)
            written[house, size] = (menu, folder / "allergens.html")
        menu, address = written[house, size]
        page = measured.open(address, width, HEIGHT)
        if style:
            page.add_style_tag(content=style)
        page.evaluate("document.fonts.ready")
        return {**page.evaluate(UNSEEN, expected(menu)), "words": menu.words}

    return look


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("house", HOUSES, ids=lambda house: f"{house.language}-{house.look}")
def test_every_answer_can_be_seen_with_its_drink_and_its_allergen(seen, house, width):
    found = seen(house, (), width)
    assert found["asked"] == 32 * 14
    assert found["missed"] == []
    assert found["isList"] == (width < 600)
    assert found["both"] is False, "what is there twice is never read twice"
    assert found["widths"] == 1, "the columns of all sections are alike"
    assert found["equal"], "and none is wider than the others"
    assert found["over"] <= 0


@pytest.mark.parametrize("width", [320, 768, 1280])
@pytest.mark.parametrize("house", HOUSES[:3], ids=lambda house: f"{house.language}-{house.look}")
def test_large_text_hides_no_answer(seen, house, width):
    found = seen(house, (24, 3), width, BIG)
    # Words of this size fill a small phone: what no label lists may run on past the words that say so.
    assert [miss for miss in found["missed"] if width > 320 or miss[-1] != found["words"]["not_listed"]] == []
    assert found["over"] <= 0


@pytest.mark.parametrize("columns", [1, 6, 7])
def test_few_allergens_are_shown_as_well_as_many(seen, columns):
    for width in (320, 600, 1280):
        found = seen(HOUSES[0], (6, 1, columns), width)
        assert (found["missed"], found["over"] <= 0, found["isList"]) == ([], True, width == 320), width
