"""The site as files: every page there, well made, honest and the same each time."""

import gzip
import json
import re
from dataclasses import fields, replace
from html.parser import HTMLParser
from io import BytesIO
from itertools import pairwise

import pytest
from PIL import Image

from menugen.menu import WORDS, GuestDrink, GuestMenu, GuestSection
from menugen.shipped import shipped_folder
from menugen.writing.photos import make_photo
from menugen.writing.site import MOST_SECTIONS
from menugen.writing.theme import load_theme, theme_names
from menugen.writing.worker import register_script
from tests.writing.fixtures import (
    NOTICES,
    drink,
    long_menu,
    menu_of,
    page_faults,
    rich_menu,
    single_menu,
    site_files,
)

SHIPPED = shipped_folder("themes")
TABLE_MENU_BYTES = 14_000
"""Compressed, for 24 drinks: all that a phone must have before it can show the first word."""

HOSTILE = '"><script>alert(1)</script><b onclick=x>&amp;\u202e{{ 7 * 7 }}'


def site_of(menu: GuestMenu, theme: str = "slate") -> dict[str, bytes]:
    return site_files(menu, load_theme([SHIPPED], theme))


def pages_of(files: dict[str, bytes]) -> dict[str, str]:
    return {path: content.decode() for path, content in files.items() if path.endswith(".html")}


class Reader(HTMLParser):
    """Reads a page with another parser than ours: tags in order, and the words in the body."""

    VOID = frozenset(
        ("meta", "link", "input", "br", "hr", "use", "path", "circle", "ellipse", "rect", "line")
    )

    def __init__(self, page: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.words: list[str] = []
        self.feed(page)
        self.close()

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag):
        if tag not in self.VOID:
            assert self.open.pop() == tag

    def handle_data(self, data):
        if self.open and self.open[-1] not in ("style", "script", "title"):
            self.words.append(data)

    def named(self, tag: str) -> list[dict[str, str | None]]:
        return [attributes for name, attributes in self.tags if name == tag]

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.words).split())


def test_every_page_is_there():
    files = site_of(rich_menu())
    drinks = {f"drinks/{served.id}.html" for section in rich_menu().sections for served in section.drinks}
    assert len(drinks) == 14
    picture, stylesheet = (path for path in files if path.startswith("assets/"))
    assert re.fullmatch(r"assets/slate\.[0-9a-f]{8}\.css", stylesheet)
    assert re.fullmatch(r"assets/link\.[0-9a-f]{8}\.png", picture)
    assert set(files) == drinks | {
        picture,
        stylesheet,
        "worker.js",
        "worker-off.js",
        "index.html",
        "allergens.html",
        "notices.html",
        "t/index.html",
        "404.html",
        "icon.svg",
        "menu.json",
        "_headers.txt",
    }


@pytest.mark.slow
@pytest.mark.parametrize("theme", theme_names([SHIPPED]))
@pytest.mark.parametrize(
    "menu", [rich_menu(), single_menu(), long_menu(), menu_of(())], ids=["rich", "one", "80", "none"]
)
def test_pages_hold_together(menu, theme):
    files = site_of(menu, theme)
    assert page_faults(files) == ()
    for path, page in pages_of(files).items():
        reader = Reader(page)
        assert reader.open == [], path
        levels = [int(tag[1]) for tag, _ in reader.tags if re.fullmatch("h[1-6]", tag)]
        assert levels[0] == 1
        assert levels.count(1) == 1, path
        assert all(after <= before + 1 for before, after in pairwise(levels)), path
        assert len(reader.named("main")) == 1
        # One keeps a copy; the other asks for the look's letters, which the table menu does without.
        letters = any(name.endswith(".woff2") for name in files) and path != "t/index.html"
        assert reader.named("script") == ([] if path == "404.html" else [{}] * (1 + letters)), path
        ids = [attributes["id"] for _, attributes in reader.tags if attributes.get("id")]
        assert len(ids) == len(set(ids)), path


def test_the_same_menu_gives_the_same_bytes():
    assert site_of(rich_menu()) == site_of(rich_menu())
    assert list(site_of(rich_menu())) == sorted(site_of(rich_menu()))


def test_titles_differ_and_say_page_then_event():
    titles = [re.search("<title>(.*)</title>", page)[1] for page in pages_of(site_of(rich_menu())).values()]
    assert len(set(titles)) == len(titles)
    assert "Saltmarsh Sour - Lantern Supper" in titles


@pytest.mark.parametrize("path", ["index.html", "t/index.html", "drinks/saltmarsh-sour.html"])
def test_a_drink_says_everything_a_guest_must_know(path):
    text = Reader(site_of(rich_menu())[path].decode()).text
    for part in (
        "Saltmarsh Sour",
        "Bright, saline and silky",
        "dry gin, lemon juice, samphire syrup, egg white",
        "about 16 %",
        "2 units",
        "Contains egg, sulphites",
        "May contain milk",
        "Made with raw egg white.",
        "£9.50",
        WORDS["tell_the_bar"],
        "Menu 3f9a1c02",
    ):
        assert part in text, part


@pytest.mark.parametrize(
    ("path", "times"),
    [("index.html", 1), ("t/index.html", 1), ("drinks/quiet-harbour.html", 1), ("allergens.html", 2)],
)
def test_sold_out_is_a_word_at_the_name(path, times):
    """Among the allergens it stands in the list and in the table, of which a screen shows one."""
    page = site_of(rich_menu())[path].decode()
    assert Reader(page).text.count("Sold out") == times
    assert (
        len(re.findall(r'Quiet Harbour(</a>)? <span class="off">Sold out</span></(h1|h3|th)>', page)) == times
    )


def test_help_is_said_on_every_page():
    for path, page in pages_of(site_of(rich_menu())).items():
        assert Reader(page).text.count(WORDS["tell_the_bar"]) == 1, path


def test_swaps_stand_on_the_drinks_own_page_with_their_own_facts():
    files = site_of(rich_menu())
    text = Reader(files["drinks/saltmarsh-sour.html"].decode()).text
    swap = text[text.index("aquafaba instead of egg white") : text.index("juniper water instead")]
    assert "about 16 % Alcohol 2 units" in swap
    assert "Contains sulphites" in swap
    assert "egg," not in swap
    assert "May contain milk" in swap
    both = text[text.index("aquafaba instead of egg white, juniper water instead of dry gin") :]
    assert both.index("alcohol free") < both.index("Contains sulphites")


@pytest.mark.parametrize("path", ["index.html", "t/index.html"])
def test_the_menus_say_in_short_how_else_a_drink_is_made_and_in_full_what_to_ask_for(path):
    page = site_of(rich_menu())[path].decode()
    one = page[
        page.index('<li class="drink" id="milk-round"') : page.index('<li class="drink" id="bitter-rind"')
    ]
    text = Reader(one).text
    asked = text.index("Ask for it made with oat drink instead of whole milk")
    assert asked < text.index("Contains barley") < text.index("As it comes") < text.index("Contains milk")
    assert "Can also be made with oat drink – adds barley soya drink – adds soya" in text
    assert 'data-then="milk"' in one


def test_a_long_note_is_cut_on_the_menus_with_the_way_to_the_rest_and_stands_whole_on_the_drinks_own_page():
    long_lead = "Bright, saline and silky, as the tide is. " * 30
    told = drink("told", "Told", lead=long_lead, story="And *more* of it.")
    short = drink("short", "Short", lead="Cold, dry and salty.", story="And more of it.")
    files = site_of(menu_of((GuestSection("part", "Part", "", (told, short)),)))
    assert page_faults(files) == ()
    for path, root in (("index.html", ""), ("t/index.html", "../")):
        page = files[path].decode()
        text = Reader(page).text
        assert 2 < text.count("as the tide is.") < 8, "some sentences, and those whole"
        assert text.count("as the tide") == text.count("as the tide is.")
        assert page.count('class="more"') == 1
        assert (
            f'<a class="more" href="{root}drinks/told.html">Read on<span class="unseen"> – Told</span></a>'
            in page
        )
    own = files["drinks/told.html"].decode()
    assert Reader(own).text.count("as the tide is.") >= 30
    assert 'class="more"' not in own


def test_the_table_has_a_word_or_a_dash_in_every_cell():
    menu = rich_menu()
    page = site_of(menu)["allergens.html"].decode()
    for section in menu.sections:
        for served in section.drinks:
            row = re.search(rf'<th scope="row"><a href="drinks/{served.id}\.html">.*?</tr>', page, re.DOTALL)[
                0
            ]
            cells = [re.sub("<[^<>]*>", "", cell) for cell in re.findall("<td.*?</td>", row)]
            assert len(cells) == len(menu.columns)
            for column, cell in zip(menu.columns, cells, strict=True):
                ids = ({m.id for m in served.contains}, {m.id for m in served.may_contain})
                if column.mark.id in ids[0]:
                    assert cell == "contains"
                elif column.mark.id in ids[1]:
                    assert cell == "may contain"
                else:
                    assert cell == "–not listed"


def test_notices_are_all_there_and_the_prominent_ones_on_the_menu():
    files = site_of(rich_menu())
    law, menu, table = (
        Reader(files[path].decode()).text for path in ("notices.html", "index.html", "t/index.html")
    )
    for notice in NOTICES:
        assert notice.text in law
        assert (notice.text in menu) == (notice.text in table) == notice.prominent
    required = law.index(WORDS["required_here"])
    customary = law.index(WORDS["customary_here"])
    for notice in NOTICES:
        assert (required < law.index(notice.text) < customary) == notice.required
    assert WORDS["local_law"] in law


@pytest.mark.parametrize("path", ["index.html", "t/index.html"])
def test_the_filter_offers_what_the_menu_has(path):
    reader = Reader(site_of(rich_menu())[path].decode())
    boxes = [box["id"] for box in reader.named("input")]
    assert boxes == [*(f"out_{choice.id}" for choice in rich_menu().choices), "only_free", "hide_off"]
    (form,) = reader.named("form")
    assert form["autocomplete"] == "off"
    assert "hidden" in form
    for label in reader.named("label"):
        assert label["for"] in boxes


def test_a_menu_with_nothing_to_leave_out_has_no_filter():
    assert Reader(site_of(single_menu())["index.html"].decode()).named("form") == []


def test_the_table_menu_is_one_small_file():
    page = site_of(long_menu(24, 4))["t/index.html"]
    reader = Reader(page.decode())
    assert len(gzip.compress(page, 6)) <= TABLE_MENU_BYTES
    assert [link["rel"] for link in reader.named("link")] == ["icon"]
    assert reader.named("img") == []
    assert page.count(b'class="drink"') == 24


def test_what_the_printed_card_says_otherwise_stands_before_the_drinks_under_one_heading():
    site = site_of(rich_menu())
    for path in ("index.html", "t/index.html"):
        text = site[path].decode()
        box = text[text.index('<div class="changes"') : text.index('<form class="sieve"')]
        assert box.count("<h2") == 1
        words = " ".join(re.sub(r"<[^>]*>", " ", box).split())
        assert words.startswith(
            "Since the card was printed Saltmarsh Sour, Hedge School – each now contains sulphites; "
            "each may now contain celery The Lighthouse Keeper&#39;s Long"
        )
        assert (
            '<span lang="de" dir="auto">Johannisbeerschaumwein</span> instead of oat cream)</b> – now' in box
        )
        assert (
            box.index("now contains") < box.index("no longer name milk") < box.index("Ask us before you rely")
        )
    assert [path for path, page in pages_of(site).items() if "since_card" in page] == [
        "index.html",
        "t/index.html",
    ]
    assert b"since_card" not in site_of(single_menu())["index.html"]


def test_every_page_carries_the_version_with_the_day_and_says_when_it_was_not_committed():
    for menu, line in (
        (rich_menu(), "Menu 3f9a1c02 · 12 December 2026"),
        (rich_menu(uncommitted=True), "Menu 3f9a1c02 · 12 December 2026 · with changes not yet committed"),
    ):
        for path, page in pages_of(site_of(menu)).items():
            assert f'<p class="version">{line}</p>' in page, path


def test_no_page_asks_another_host_for_anything():
    for path, page in pages_of(site_of(rich_menu())).items():
        for tag, attributes in Reader(page).tags:
            if tag != "a":
                for value in (attributes.get("href"), attributes.get("src")):
                    assert value is None or not re.match("[a-z]+:|//", value), path
        assert "url(" not in page


def test_every_page_is_sealed_and_quiet_to_other_hosts():
    for page in pages_of(site_of(rich_menu())).values():
        head = page[: page.index("<title>")]
        assert '<meta charset="utf-8">\n<meta http-equiv="Content-Security-Policy"' in head
        assert '<meta name="referrer" content="no-referrer">' in page
        assert " style=" not in page
        assert not re.search(r"\son[a-z]+=", page)


def test_search_engines_are_kept_out_unless_the_event_is_listed():
    assert all('content="noindex"' in page for page in pages_of(site_of(rich_menu())).values())
    assert not any("noindex" in page for page in pages_of(site_of(rich_menu(listed=True))).values())


def test_the_missing_page_leads_home_from_any_depth():
    assert 'href="https://menu.example/lantern/"' in site_of(rich_menu())["404.html"].decode()
    for address in ("", "javascript:alert(1)", "menu.example"):
        assert 'href="./"' in site_of(rich_menu(address=address))["404.html"].decode()


def test_the_machine_form_has_the_pages_facts():
    form = json.loads(site_of(rich_menu())["menu.json"])
    assert (form["menu"], form["event"], form["version"]) == (2, "Lantern Supper", "3f9a1c02")
    served = {made["id"]: made for section in form["sections"] for made in section["drinks"]}
    assert served["saltmarsh-sour"]["contains"] == [
        {"id": "egg", "word": "egg", "substances": {"hen egg": "egg"}},
        {"id": "sulphites", "word": "sulphites", "substances": {}},
    ]
    assert served["quiet-harbour"]["sold_out"] is True
    assert served["orchard-gate"]["alcohol_free"] is True
    assert served["lamplighter"]["swaps"][0]["text"] == "oat cream instead of single cream"
    files = site_of(rich_menu())
    assert all(made["page"] in files for made in served.values())


def test_right_to_left_is_said_on_the_page():
    page = site_of(rich_menu(language="ar", direction="rtl"))["index.html"].decode()
    assert '<html lang="ar" dir="rtl">' in page


def hostile_drink() -> GuestDrink:
    made = drink("plain", "Plain")
    return replace(
        made,
        **{
            field.name: HOSTILE
            for field in fields(made)
            if field.type is str and field.name not in ("id", "story")
        },
    )


def test_hostile_words_stay_words():
    hostile = menu_of(
        (GuestSection("part", HOSTILE, HOSTILE, (replace(hostile_drink(), cautions=(HOSTILE,)),)),)
    )
    hostile = replace(
        hostile, event=HOSTILE, house=HOSTILE, venue=HOSTILE, kitchen=(HOSTILE,), contact=HOSTILE
    )
    files = site_of(hostile)
    assert page_faults(files) == ()
    for path, page in pages_of(files).items():
        reader = Reader(page)
        assert [attributes for attributes in reader.named("script") if attributes] == [], path
        root = "../" if "/" in path else ""
        ours = f"<script>{register_script(root)}</script>" if path != "404.html" else ""
        assert page.count("<script") == page.count(ours) * (ours != ""), path
        assert not any(name.startswith("on") for _, attributes in reader.tags for name in attributes), path
        assert "49" not in reader.text
        assert "<script>alert(1)</script>" in " ".join(reader.words)


def test_a_notes_link_leads_to_the_same_place_from_every_page():
    linked = drink("here", "Here", lead="Like [there](drinks/there.html).")
    files = site_of(menu_of((GuestSection("part", "Part", "", (linked, drink("there", "There"))),)))
    assert page_faults(files) == ()
    for path in ("index.html", "t/index.html", "drinks/here.html"):
        assert "drinks/there.html" in files[path].decode()
    dead = drink("here", "Here", lead="Like [there](drinks/nowhere.html).")
    faults = page_faults(site_of(menu_of((GuestSection("part", "Part", "", (dead,)),))))
    assert 'index.html links to "drinks/nowhere.html", which is not there' in faults


def test_an_unknown_icon_has_a_stand_in_and_none_is_none():
    mark = replace(rich_menu().choices[0], id="odd", label="odd", icon="no-such-drawing")
    files = site_of(rich_menu(choices=(mark, replace(mark, id="bare", icon=""))))
    assert page_faults(files) == ()
    assert 'href="#a-other"' in files["index.html"].decode()


def test_the_menu_for_search_engines_stands_on_the_menu_alone_and_only_where_it_may():
    for menu, told in ((rich_menu(listed=True), {"index.html"}), (rich_menu(listed=False), set())):
        pages = pages_of(site_of(menu))
        assert {path for path, page in pages.items() if "application/ld+json" in page} == told
    (data,) = re.findall(
        r'<script type="application/ld\+json">(.*?)</script>',
        site_of(rich_menu(listed=True))["index.html"].decode(),
    )
    assert len(json.loads(data)["hasMenuSection"]) == 3


def posted(page: str) -> dict[str, str]:
    found = [a for a in Reader(page).named("meta") if str(a.get("property", "")).startswith("og:")]
    return {str(a["property"]).removeprefix("og:"): str(a["content"]) for a in found}


def test_a_posted_address_shows_the_event_and_its_picture():
    files = site_of(rich_menu())
    page = posted(files["drinks/saltmarsh-sour.html"].decode())
    assert page["title"] == "Saltmarsh Sour - Lantern Supper"
    assert page["description"] == "Bright, saline and silky: a hedgerow sour with a wave in it."
    assert page["url"] == "https://menu.example/lantern/drinks/saltmarsh-sour.html"
    assert page["image"].removeprefix("https://menu.example/lantern/") in files
    for path, address in (("index.html", ""), ("t/index.html", "t/"), ("allergens.html", "allergens.html")):
        page = posted(files[path].decode())
        assert page["url"] == f"https://menu.example/lantern/{address}"
        assert page["image"].endswith(".png")
        assert page["description"]


def test_without_an_address_nothing_is_said_of_one():
    files = site_of(rich_menu(address=""))
    assert not any(path.endswith(".png") for path in files)
    assert not any("og:" in page for page in pages_of(files).values())
    assert 'name="description"' in files["index.html"].decode()


def test_photos_take_the_drawings_place_but_on_the_table_menu():
    photo = make_photo(photo_content())
    assert isinstance(photo, tuple)
    shown = {"saltmarsh-sour": photo, "glasshouse": photo, "not-on-this-menu": photo}
    theme = load_theme([SHIPPED], "slate")
    files = site_files(rich_menu(), theme, shown)
    assert page_faults(files) == ()
    index, own, other, table = (
        files[path].decode()
        for path in (
            "index.html",
            "drinks/saltmarsh-sour.html",
            "drinks/lamplighter.html",
            "t/index.html",
        )
    )
    assert index.count("<picture") == 2
    assert index.count('fetchpriority="high"') == 1
    assert index.index("fetchpriority") < index.index('loading="lazy"')
    assert (
        index.count('class="glass"') == site_of(rich_menu())["index.html"].decode().count('class="glass"') - 2
    )
    assert own.count("<picture") == 1
    assert 'class="glass"' not in own
    assert "<picture" not in other
    assert "<picture" not in table
    named = set(re.findall(r"assets/photo-[\w.]+", index + own))
    assert named <= set(files)
    assert {rendition.path for rendition in photo} <= set(files)
    french = site_files(rich_menu(folder="fr/"), theme, shown)
    assert not any("photo-" in path for path in french)
    assert '"../../assets/photo-' in french["drinks/saltmarsh-sour.html"].decode()
    assert '"../assets/photo-' in french["worker.js"].decode()


def photo_content() -> bytes:
    content = BytesIO()
    Image.new("RGB", (400, 300), "#8a4b2a").save(content, "JPEG")
    return content.getvalue()


@pytest.mark.slow
def test_a_drinks_page_leads_to_every_section_unless_they_are_very_many():
    for count, shown in ((MOST_SECTIONS, MOST_SECTIONS), (MOST_SECTIONS + 1, 1)):
        sections = tuple(
            GuestSection(f"part-{number}", f"Part {number}", "", (drink(f"d{number}", f"Drink {number}"),))
            for number in range(count)
        )
        files = site_of(menu_of(sections))
        assert page_faults(files) == ()
        for number in (0, 7):
            page = files[f"drinks/d{number}.html"].decode()
            assert page.count('<a href="../index.html#') == shown
            assert f'<a href="../index.html#in_part-{number}">Part {number}</a>' in page
        assert files["allergens.html"].decode().count('<li><a href="index.html#') == count
