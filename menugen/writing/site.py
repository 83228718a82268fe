"""The site of one event: menu, a page a drink, allergen table, notices, table menu, menu for machines.

Comes in: a GuestMenu, which holds nothing private. Goes out: files into an Output, one by one, and none is kept here;
the same menu gives the same bytes.
"""

import hashlib
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from functools import partial
from typing import NamedTuple

from markupsafe import Markup

from menugen.menu import GuestDrink, GuestMenu, GuestSection, Notice, TableColumn
from menugen.writing.allergen_filter import AllergenFilter, token
from menugen.writing.drawing_svg import event_icon, glass_svg
from menugen.writing.file_cache import NO_CACHE, FileCache
from menugen.writing.fonts import characters_of, cut_fonts, early_script
from menugen.writing.icons import icon_symbols
from menugen.writing.link_picture import HEIGHT, WIDTH, draw_card, link_card
from menugen.writing.machine import menu_json
from menugen.writing.marks import icons_of, with_drawn_icons
from menugen.writing.notes import block_html, inline_html, opening_html
from menugen.writing.output import Output
from menugen.writing.page_rules import OwnParts, RefusedPart, checked_page
from menugen.writing.pages import (
    AllergenPage,
    ChoiceView,
    DrinkPage,
    DrinkView,
    Frame,
    Link,
    MenuPage,
    MissingPage,
    NoticeGroup,
    NoticePage,
    Page,
    Posted,
    SectionTable,
    SectionView,
    TableRow,
    WayView,
)
from menugen.writing.photos import Photo, photo_html
from menugen.writing.pieces import LazySequence, in_pieces
from menugen.writing.policy import SealedPages
from menugen.writing.structured import plain_text, structured_menu
from menugen.writing.theme import Theme
from menugen.writing.theme_fault import ThemeFault
from menugen.writing.worker import HIDDEN, contents_version, register_script, savable, worker_files

LONG_MENU = 12
"""Drinks from which a wide page sets the menu in two columns."""

MOST_SECTIONS = 100
"""Sections that every drink's page leads to. A page of a longer menu leads to its own section and to all drinks: links
to all others would be most of the page, and all pages would grow with every drink."""

LEAD_CHARACTERS = 240
"""Of a note's first paragraph, what a list shows of it at most: about forty words, five lines of a phone."""

NARROW_COLUMNS, WIDE_COLUMNS = 6, 16
"""Columns of the allergen table up to which their words stand upright on a tablet, and up to which they stand there at
all: with more there is a list a drink until the page is wider."""

HEADERS = "_headers.txt"
"""Where a site tells its host the headers to send; a host reads one for all pages."""

_NO_MARKUP = Markup()


def lay_site(
    menu: GuestMenu,
    theme: Theme,
    out: Output,
    photos: Mapping[str, Photo] | None = None,
    cache: FileCache = NO_CACHE,
    only: Collection[str] | None = None,
) -> SealedPages:
    """Write every file of the site.

    Args:
        menu: All that guests may see.
        theme: The look.
        out: Where the files go, by POSIX path in the site.
        photos: By drink; the others are drawn. Their files are among those of the first language, which the further
            ones lead to.
        cache: Where fonts and pictures made before are kept.
        only: Paths of the pages that are wanted before the others; with what they load, and no more. None is all.

    Returns:
        What the headers must allow: where a site has several languages, one file of headers stands for all.
    """
    return _Site(menu, theme, out, photos or {}, cache, only).lay()


class _Site:
    """The writing of one menu: what its pages share, worked out once."""

    def __init__(
        self,
        menu: GuestMenu,
        theme: Theme,
        out: Output,
        photos: Mapping[str, Photo],
        cache: FileCache,
        only: Collection[str] | None,
    ) -> None:
        self._menu = with_drawn_icons(menu)
        self._theme = theme
        self._out = out
        self._only = only
        self._paths: list[str] = []
        self._sealed = SealedPages()
        self._photos = {drink.id: photos[drink.id] for drink in _each_drink(menu) if drink.id in photos}
        self._first_photo = next(iter(self._photos), "")
        self._photo_root = "../" if menu.folder else ""
        self._link_picture = draw_card(link_card(menu, theme.dark), cache) if menu.address else b""
        digest = hashlib.sha256(self._link_picture).hexdigest()[:8]
        self._link_picture_path = f"assets/link.{digest}.png"
        self._words = {**menu.words, **_filled(menu)}
        self._sieve = AllergenFilter(menu)
        self._style = theme.inside + self._sieve.rules()
        # The table menu and the page that is shown at any depth hold their styles and wait for no font.
        self._fonts = cut_fonts(theme.fonts, characters_of(menu) if theme.fonts else "", cache)
        self._sheet = self._fonts.style + theme.style + self._sieve.rules()
        digest = hashlib.sha256(self._sheet.encode()).hexdigest()[:8]
        self._stylesheet = f"assets/{theme.name}.{digest}.css"
        self._symbols: dict[tuple[str, ...], Markup] = {}
        self._ways_back: dict[tuple[str, str], _Links] = {}
        self._any_off = any(drink.off for drink in _each_drink(menu))
        self._drinks = sum(len(section.drinks) for section in menu.sections)

    def lay(self) -> SealedPages:
        self._theme.templates.begin(sum(len(drink.ways) for drink in _each_drink(self._menu)))
        self._page("index.html", "index.html.jinja", lambda: self._menu_page(root=""))
        self._page("allergens.html", "allergens.html.jinja", self._allergen_page)
        self._page("notices.html", "notices.html.jinja", self._notice_page)
        self._page("t/index.html", "table.html.jinja", self._table_page)
        self._page("404.html", "missing.html.jinja", self._missing_page)
        for section in self._menu.sections:
            for drink in section.drinks:
                made = partial(self._drink_page, drink, section)
                self._page(f"drinks/{drink.id}.html", "drink.html.jinja", made)
        icon = event_icon(ground=self._theme.dark["ground"], line=self._theme.dark["strong"])
        self._text("icon.svg", (icon.decode(),))
        self._text(self._stylesheet, (self._sheet,))
        for name, content in self._fonts.files.items():
            self._data(f"assets/{name}", content)
        if self._link_picture:
            self._data(self._link_picture_path, self._link_picture)
        photos = {shown.path: shown.content for photo in self._photos.values() for shown in photo}
        if not self._menu.folder:
            for path, content in photos.items():
                self._data(path, content)
        if self._only is None:
            self._text("menu.json", menu_json(self._menu))
            self._text(HEADERS, (self._sealed.headers(listed=self._menu.listed),))
            self._lay_worker([self._photo_root + path for path in photos])
        return self._sealed

    def _lay_worker(self, photos: list[str]) -> None:
        # What was written is read again: the version goes by the paths' order, and some files are known last.
        files = ((path, *self._out.kept(path)) for path in sorted(set(self._paths)))
        scripts = worker_files(self._paths, contents_version(files), self._menu.version, photos)
        for path, script in scripts.items():
            self._text(path, (script,))

    def _page(self, path: str, template: str, made: Callable[[], Page]) -> None:
        if self._only is not None and path not in self._only:
            return
        page, templates = made(), self._theme.templates
        pieces = in_pieces(templates.get_template(template).generate(page=page))
        if templates.own:
            pieces = self._held_to_rules(pieces, page.frame)
        self._text(path, savable(path, self._sealed.page(pieces), self._menu.version))

    def _held_to_rules(self, pieces: Iterable[str], frame: Frame) -> Iterator[str]:
        """Yield the pieces of a page on that templates of the look's own had a hand in."""

        def fault(found: RefusedPart) -> ThemeFault:
            return self._theme.templates.fault_with(found.words, found.message, found.hint)

        own = OwnParts(
            style=str(frame.style),
            scripts=(str(frame.saving), str(frame.letters)),
            saved=HIDDEN if frame.saving else "",
            version=self._menu.version if frame.saving else "",
        )
        return checked_page(pieces, own, fault)

    def _text(self, path: str, pieces: Iterable[str]) -> None:
        self._paths.append(path)
        self._out.text(path, pieces)

    def _data(self, path: str, content: bytes) -> None:
        self._paths.append(path)
        self._out.data(path, content)

    def _frame(
        self,
        title: str,
        *,
        root: str,
        icons: Iterable[str] = (),
        links: "_Links | None" = None,
        here: str = "",
        inside: bool = False,
        about: str = "",
    ) -> Frame:
        """Return what surrounds a page; `here` is its path in the site, by which other languages have it too."""
        names = tuple(sorted({name for name in icons if name}))
        if names not in self._symbols:
            self._symbols[names] = icon_symbols(names) if names else _NO_MARKUP
        return Frame(
            title=title,
            menu=self._menu,
            words=self._words,
            root=root,
            links=links.all if links else (),
            sections=links.drawn if links else _NO_MARKUP,
            ways=self._ways(root, here) if here else (),
            letters=early_script(() if inside else (f"{root}assets/{name}" for name in self._fonts.files)),
            stylesheet="" if inside else root + self._stylesheet,
            style=Markup(self._style) if inside else _NO_MARKUP,  # noqa: S704  (tokens and rules are checked)
            icons=self._symbols[names],
            saving=register_script(root) if here else _NO_MARKUP,
            description=about,
            posted=self._posted(title, here) if here and self._menu.address else None,
        )

    def _posted(self, title: str, here: str) -> Posted:
        address = self._menu.address
        return Posted(
            title=title,
            address=address + here.removesuffix("index.html"),
            picture=address + self._link_picture_path,
            width=WIDTH,
            height=HEIGHT,
        )

    def _about(self) -> str:
        menu = self._menu
        told = (menu.when, menu.venue, *(section.name for section in menu.sections))
        return " · ".join(part for part in told if part)

    def _links(self, *links: Link) -> "_Links":
        drawn = self._theme.templates.get_template("sections.html.jinja").render(
            links=links, words=self._words
        )
        return _Links(links, Markup(drawn.strip()))  # noqa: S704  (the template escapes)

    def _links_down(self) -> "_Links":
        return self._links(*(_link("", section) for section in self._menu.sections))

    def _ways(self, root: str, here: str) -> tuple[Link, ...]:
        return tuple(
            Link(f"{root}{other.root}{here}", other.name, other.code) for other in self._menu.languages
        )

    def _links_back(self, root: str, section: GuestSection | None = None) -> "_Links":
        """Return the ways to the menu and its sections; of a very long menu, to the section given alone."""
        near = section is not None and len(self._menu.sections) > MOST_SECTIONS
        key = (root, section.id if section and near else "")
        if key not in self._ways_back:
            menu = f"{root}index.html"
            sections = (section,) if section and near else self._menu.sections
            self._ways_back[key] = self._links(
                Link(menu, self._words["back_to_menu"]), *(_link(menu, one) for one in sections)
            )
        return self._ways_back[key]

    def _titled(self, page: str) -> str:
        return f"{page} - {self._menu.event}"

    def _menu_page(self, *, root: str) -> MenuPage:
        frame = self._frame(
            self._titled(self._words["drinks"]),
            root=root,
            icons=self._menu_icons(),
            links=self._links_down(),
            here="index.html",
            about=self._about(),
        )
        return self._menu_of(frame, drawn=True, data=structured_menu(self._menu))

    def _table_page(self) -> MenuPage:
        frame = self._frame(
            self._words["drinks_of"],
            root="../",
            icons=self._menu_icons(),
            links=self._links_down(),
            here="t/index.html",
            inside=True,
            about=self._about(),
        )
        return self._menu_of(frame, drawn=False)

    def _menu_of(self, frame: Frame, *, drawn: bool, data: Markup = _NO_MARKUP) -> MenuPage:
        return MenuPage(
            frame=frame,
            sections=LazySequence(
                self._menu.sections, lambda section: self._section(section, root=frame.root, drawn=drawn)
            ),
            choices=tuple(ChoiceView(token(choice.id), choice) for choice in self._menu.choices),
            any_off=self._any_off,
            notices=tuple(notice for notice in self._menu.notices if notice.prominent),
            long=self._drinks >= LONG_MENU,
            data=data,
        )

    def _menu_icons(self) -> set[str]:
        drinks = {icon for drink in _each_drink(self._menu) for way in drink.ways for icon in icons_of(way)}
        return drinks | {choice.icon for choice in self._menu.choices}

    def _section(self, section: GuestSection, *, root: str, drawn: bool) -> SectionView:
        return SectionView(
            anchor=_anchor(section),
            name=section.name,
            note=inline_html(section.note, root=root),
            drinks=LazySequence(
                section.drinks, lambda drink: self._drink(drink, root=root, drawn="small" if drawn else "")
            ),
            name_language=section.name_language,
            note_language=section.note_language,
        )

    def _drink(self, drink: GuestDrink, *, root: str, drawn: str, whole: bool = False) -> DrinkView:
        if whole:
            lead, more = inline_html(drink.lead, root=root), False
        else:
            lead, more = opening_html(drink.lead, LEAD_CHARACTERS, root=root)
        ticks = self._sieve.ticks(drink)
        return DrinkView(
            drink=drink,
            address=f"{root}drinks/{drink.id}.html",
            lead=lead,
            more=more,
            story=block_html(drink.story, root=root) if whole else _NO_MARKUP,
            ticks=ticks,
            ways=tuple(map(WayView, (*drink.swaps, *drink.combined), ticks.ways)),
            picture=self._picture(drink, root, drawn) if drawn else _NO_MARKUP,
        )

    def _picture(self, drink: GuestDrink, root: str, size: str) -> Markup:
        photo = self._photos.get(drink.id)
        if photo is not None:
            first = size == "large" or drink.id == self._first_photo
            return photo_html(photo, root=root + self._photo_root, size=size, first=first)
        return glass_svg(drink.picture, size=size) if drink.picture else _NO_MARKUP

    def _drink_page(self, drink: GuestDrink, section: GuestSection) -> DrinkPage:
        icons = [icon for way in drink.ways for icon in icons_of(way)]
        frame = self._frame(
            self._titled(drink.name),
            root="../",
            icons=icons,
            links=self._links_back("../", section),
            here=f"drinks/{drink.id}.html",
            about=plain_text(drink.lead) or drink.made_with,
        )
        return DrinkPage(frame, self._drink(drink, root="../", drawn="large", whole=True))

    def _allergen_page(self) -> AllergenPage:
        columns = self._menu.columns
        return AllergenPage(
            frame=self._frame(
                self._titled(self._words["allergen_table"]),
                root="",
                icons=[column.mark.icon for column in columns]
                + [icon for drink in _each_drink(self._menu) for icon in icons_of(drink)],
                links=self._links_back(""),
                here="allergens.html",
                about=self._words["tell_the_bar"],
            ),
            columns=columns,
            tables=LazySequence(self._menu.sections, self._table),
            width=(
                "narrow"
                if len(columns) <= NARROW_COLUMNS
                else "wide"
                if len(columns) <= WIDE_COLUMNS
                else "widest"
            ),
        )

    def _table(self, section: GuestSection) -> SectionTable:
        return SectionTable(
            anchor=_anchor(section),
            name=section.name,
            language=section.name_language,
            rows=LazySequence(section.drinks, lambda drink: _row(drink, self._menu.columns)),
        )

    def _notice_page(self) -> NoticePage:
        required = [notice for notice in self._menu.notices if notice.required]
        customary = [notice for notice in self._menu.notices if not notice.required]
        return NoticePage(
            frame=self._frame(
                self._titled(self._words["notices"]),
                root="",
                links=self._links_back(""),
                here="notices.html",
                about=self._words["tell_the_bar"],
            ),
            groups=tuple(
                NoticeGroup(heading, _by_topic(notices))
                for heading, notices in (
                    (self._words["required_here"], required),
                    (self._words["customary_here"], customary),
                )
                if notices
            ),
        )

    def _missing_page(self) -> MissingPage:
        # A host shows this page at any depth, where no relative link can be right; the full address can.
        address = self._menu.address
        home = address if address.startswith(("https://", "http://")) else "./"
        return MissingPage(self._frame(self._words["not_found"], root="", inside=True), home)


def _filled(menu: GuestMenu) -> dict[str, str]:
    # Figures and letters keep their own order in a sentence that runs the other way.
    version = f"\u2068{menu.version}\u2069" if menu.direction == "rtl" else menu.version
    return {
        "drinks_of": menu.words["drinks_of"].replace("{event}", menu.event),
        "saved_copy": menu.words["saved_copy"].replace("{version}", version),
    }


def _each_drink(menu: GuestMenu) -> Iterator[GuestDrink]:
    return (drink for section in menu.sections for drink in section.drinks)


class _Links(NamedTuple):
    """Links to sections, and the same as they stand on a page: many pages have them."""

    all: tuple[Link, ...]
    drawn: Markup


def _link(menu: str, section: GuestSection) -> Link:
    return Link(f"{menu}#{_anchor(section)}", section.name, section.name_language)


def _row(drink: GuestDrink, columns: tuple[TableColumn, ...]) -> TableRow:
    found = {mark.id: "distilled from" for mark in drink.distilled_from}
    found |= {mark.id: "may contain" for mark in drink.may_contain}
    found |= {mark.id: "contains" for mark in drink.contains}
    return TableRow(
        name=drink.name,
        language=drink.name_language,
        address=f"drinks/{drink.id}.html",
        off=drink.off,
        cells=tuple(found.get(column.mark.id, "") for column in columns),
        contains=drink.contains,
        may_contain=drink.may_contain,
        distilled_from=drink.distilled_from,
        not_listed=tuple(column.mark for column in columns if column.mark.id not in found),
    )


def _anchor(section: GuestSection) -> str:
    # A slug holds no underscore, so a section and a drink of one name do not share an anchor.
    return f"in_{section.id}"


def _by_topic(notices: list[Notice]) -> tuple[tuple[Notice, ...], ...]:
    topics = dict.fromkeys(notice.topic for notice in notices)
    return tuple(tuple(notice for notice in notices if notice.topic == topic) for topic in topics)
