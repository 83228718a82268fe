"""The site of one event: menu, a page a drink, allergen table, notices, table menu, menu for machines.

Comes in: a GuestMenu, which holds nothing private. Goes out: bytes by path; the same menu gives the same
bytes.
"""

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from markupsafe import Markup

from menugen.menu.guest import AllergenMark, GuestDrink, GuestMenu, GuestSection, GuestSwap, Notice
from menugen.writing.drawing import draw_glass, event_icon
from menugen.writing.fonts import characters_of, cut_fonts
from menugen.writing.icons import icon_name, icon_symbols
from menugen.writing.link_picture import HEIGHT, WIDTH, draw_card, link_card
from menugen.writing.machine import menu_json
from menugen.writing.made_before import MadeBefore
from menugen.writing.notes import block_html, inline_html
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
    Posted,
    SectionTable,
    SectionView,
    TableRow,
)
from menugen.writing.photos import Photo, photo_html
from menugen.writing.policy import headers_text, seal
from menugen.writing.sieve import has_tokens, sieve_rules, token
from menugen.writing.structured import plain_text, structured_menu
from menugen.writing.theme import Theme
from menugen.writing.worker import register_script, worker_files

LONG_MENU = 12
"""Drinks from which a wide page sets the menu in two columns."""

_NO_MARKUP = Markup()


def write_site(
    menu: GuestMenu,
    theme: Theme,
    photos: Mapping[str, Photo] | None = None,
    made: MadeBefore | None = None,
) -> dict[str, bytes]:
    """Return every file of the site, by POSIX path, in order.

    Args:
        menu: All that guests may see.
        theme: The look.
        photos: By drink; the others are drawn. Their files are among those of the first language, which the further
            ones lead to.
        made: Where fonts cut before are kept.
    """
    return _Site(menu, theme, photos or {}, made).files()


class _Site:
    """The writing of one menu: what its pages share, worked out once."""

    def __init__(
        self, menu: GuestMenu, theme: Theme, photos: Mapping[str, Photo], made: MadeBefore | None
    ) -> None:
        self._menu = _with_drawn_icons(menu)
        self._theme = theme
        self._photos = {drink.id: photos[drink.id] for drink in _each_drink(menu) if drink.id in photos}
        self._first_photo = next(iter(self._photos), "")
        self._photo_root = "../" if menu.folder else ""
        self._link_picture = draw_card(link_card(menu, theme.dark)) if menu.address else b""
        digest = hashlib.sha256(self._link_picture).hexdigest()[:8]
        self._link_picture_path = f"assets/link.{digest}.png"
        self._words = {**menu.words, **_filled(menu)}
        self._style = theme.style + sieve_rules(menu.choices)
        # The table menu and the page that is shown at any depth hold their styles and wait for no font.
        self._fonts = cut_fonts(theme.fonts, characters_of(menu), made)
        self._sheet = self._fonts.style + self._style
        digest = hashlib.sha256(self._sheet.encode()).hexdigest()[:8]
        self._stylesheet = f"assets/{theme.name}.{digest}.css"
        self._symbols: dict[tuple[str, ...], Markup] = {}

    def files(self) -> dict[str, bytes]:
        pages = {
            "index.html": self._render("index.html.jinja", self._menu_page(root="")),
            "allergens.html": self._render("allergens.html.jinja", self._allergen_page()),
            "notices.html": self._render("notices.html.jinja", self._notice_page()),
            "t/index.html": self._render("table.html.jinja", self._table_page()),
            "404.html": self._render("missing.html.jinja", self._missing_page()),
        }
        for drink in _each_drink(self._menu):
            pages[f"drinks/{drink.id}.html"] = self._render("drink.html.jinja", self._drink_page(drink))
        files = {path: page.encode() for path, page in pages.items()}
        files["icon.svg"] = event_icon(ground=self._theme.dark["ground"], line=self._theme.dark["strong"])
        files["menu.json"] = menu_json(self._menu)
        files["_headers.txt"] = headers_text(pages.values(), listed=self._menu.listed).encode()
        files[self._stylesheet] = self._sheet.encode()
        files |= {f"assets/{name}": content for name, content in self._fonts.files.items()}
        if self._link_picture:
            files[self._link_picture_path] = self._link_picture
        photos = {shown.path: shown.content for photo in self._photos.values() for shown in photo}
        if not self._menu.folder:
            files |= photos
        files |= worker_files(files, self._menu.version, [self._photo_root + path for path in photos])
        return dict(sorted(files.items()))

    def _render(self, template: str, page: object) -> str:
        return seal(self._theme.templates.get_template(template).render(page=page))

    def _frame(
        self,
        title: str,
        *,
        root: str,
        icons: Iterable[str] = (),
        links: tuple[Link, ...] = (),
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
            links=links,
            ways=self._ways(root, here) if here else (),
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

    def _links(self, page: str = "") -> tuple[Link, ...]:
        return tuple(
            Link(f"{page}#{_anchor(section)}", section.name, section.name_language)
            for section in self._menu.sections
        )

    def _ways(self, root: str, here: str) -> tuple[Link, ...]:
        return tuple(
            Link(f"{root}{other.root}{here}", other.name, other.code) for other in self._menu.languages
        )

    def _links_back(self, root: str) -> tuple[Link, ...]:
        menu = f"{root}index.html"
        return (Link(menu, self._words["back_to_menu"]), *self._links(menu))

    def _titled(self, page: str) -> str:
        return f"{page} - {self._menu.event}"

    def _menu_page(self, *, root: str) -> MenuPage:
        sections = tuple(self._section(section, root=root, drawn=True) for section in self._menu.sections)
        frame = self._frame(
            self._titled(self._words["drinks"]),
            root=root,
            icons=self._menu_icons(),
            links=self._links(),
            here="index.html",
            about=self._about(),
        )
        return self._menu_of(frame, sections, data=structured_menu(self._menu))

    def _table_page(self) -> MenuPage:
        sections = tuple(self._section(section, root="../", drawn=False) for section in self._menu.sections)
        frame = self._frame(
            self._words["drinks_of"],
            root="../",
            icons=self._menu_icons(),
            links=self._links(),
            here="t/index.html",
            inside=True,
            about=self._about(),
        )
        return self._menu_of(frame, sections)

    def _menu_of(
        self, frame: Frame, sections: tuple[SectionView, ...], *, data: Markup = _NO_MARKUP
    ) -> MenuPage:
        drinks = tuple(_each_drink(self._menu))
        return MenuPage(
            frame=frame,
            sections=sections,
            choices=tuple(ChoiceView(token(choice.id), choice) for choice in self._menu.choices),
            any_off=any(drink.off for drink in drinks),
            notices=tuple(notice for notice in self._menu.notices if notice.prominent),
            long=len(drinks) >= LONG_MENU,
            data=data,
        )

    def _menu_icons(self) -> list[str]:
        drinks = [icon for drink in _each_drink(self._menu) for icon in _icons(drink)]
        return drinks + [choice.icon for choice in self._menu.choices]

    def _section(self, section: GuestSection, *, root: str, drawn: bool) -> SectionView:
        return SectionView(
            anchor=_anchor(section),
            name=section.name,
            note=inline_html(section.note, root=root),
            drinks=tuple(
                self._drink(drink, root=root, drawn="small" if drawn else "") for drink in section.drinks
            ),
            name_language=section.name_language,
            note_language=section.note_language,
        )

    def _drink(self, drink: GuestDrink, *, root: str, drawn: str, story: bool = False) -> DrinkView:
        return DrinkView(
            drink=drink,
            address=f"{root}drinks/{drink.id}.html",
            lead=inline_html(drink.lead, root=root),
            story=block_html(drink.story, root=root) if story else _NO_MARKUP,
            has=has_tokens(drink),
            picture=self._picture(drink, root, drawn) if drawn else _NO_MARKUP,
        )

    def _picture(self, drink: GuestDrink, root: str, size: str) -> Markup:
        photo = self._photos.get(drink.id)
        if photo is not None:
            first = size == "large" or drink.id == self._first_photo
            return photo_html(photo, root=root + self._photo_root, size=size, first=first)
        return draw_glass(drink.picture, size=size) if drink.picture else _NO_MARKUP

    def _drink_page(self, drink: GuestDrink) -> DrinkPage:
        icons = [*_icons(drink), *(icon for swap in drink.swaps for icon in _icons(swap))]
        frame = self._frame(
            self._titled(drink.name),
            root="../",
            icons=icons,
            links=self._links_back("../"),
            here=f"drinks/{drink.id}.html",
            about=plain_text(drink.lead) or drink.made_with,
        )
        return DrinkPage(frame, self._drink(drink, root="../", drawn="large", story=True))

    def _allergen_page(self) -> AllergenPage:
        columns = self._menu.columns
        return AllergenPage(
            frame=self._frame(
                self._titled(self._words["allergen_table"]),
                root="",
                icons=[column.mark.icon for column in columns],
                links=self._links_back(""),
                here="allergens.html",
                about=self._words["tell_the_bar"],
            ),
            columns=columns,
            tables=tuple(
                SectionTable(
                    anchor=_anchor(section),
                    name=section.name,
                    language=section.name_language,
                    rows=tuple(
                        TableRow(
                            name=drink.name,
                            language=drink.name_language,
                            address=f"drinks/{drink.id}.html",
                            off=drink.off,
                            cells=tuple(self._cell(drink, column.mark) for column in columns),
                        )
                        for drink in section.drinks
                    ),
                )
                for section in self._menu.sections
            ),
        )

    def _cell(self, drink: GuestDrink, mark: AllergenMark) -> str:
        if any(found.id == mark.id for found in drink.contains):
            return "contains"
        return "may contain" if any(found.id == mark.id for found in drink.may_contain) else ""

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


def _anchor(section: GuestSection) -> str:
    # A slug holds no underscore, so a section and a drink of one name do not share an anchor.
    return f"in_{section.id}"


def _icons(made: GuestDrink | GuestSwap) -> list[str]:
    return [mark.icon for mark in (*made.contains, *made.may_contain)]


def _with_drawn_icons(menu: GuestMenu) -> GuestMenu:
    """Return the menu with every icon that has no drawing replaced by the one that stands in for it."""
    return replace(
        menu,
        sections=tuple(
            replace(section, drinks=tuple(_drawn_drink(drink) for drink in section.drinks))
            for section in menu.sections
        ),
        columns=tuple(replace(column, mark=_drawn_mark(column.mark)) for column in menu.columns),
        choices=tuple(replace(choice, icon=icon_name(choice.icon)) for choice in menu.choices),
    )


def _drawn_drink(drink: GuestDrink) -> GuestDrink:
    return replace(
        drink,
        contains=_drawn_marks(drink.contains),
        may_contain=_drawn_marks(drink.may_contain),
        swaps=tuple(
            replace(swap, contains=_drawn_marks(swap.contains), may_contain=_drawn_marks(swap.may_contain))
            for swap in drink.swaps
        ),
    )


def _drawn_marks(marks: tuple[AllergenMark, ...]) -> tuple[AllergenMark, ...]:
    return tuple(_drawn_mark(mark) for mark in marks)


def _drawn_mark(mark: AllergenMark) -> AllergenMark:
    return replace(mark, icon=icon_name(mark.icon))


def _by_topic(notices: list[Notice]) -> tuple[tuple[Notice, ...], ...]:
    topics = dict.fromkeys(notice.topic for notice in notices)
    return tuple(tuple(notice for notice in notices if notice.topic == topic) for topic in topics)
