"""What is wrong with how an event is to be published: its look, languages, address, money, and the links of its notes.

Comes in: an event and its house. Goes out: problems. The drinks themselves are checked in facts/.
"""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from babel import Locale
from babel.numbers import get_currency_precision, list_currencies

from menugen.menu import catalogue_languages, is_at_home, primary
from menugen.problems import Place, Problem, Sources, Span, error, near, warning
from menugen.reading import THEMES_FOLDER
from menugen.records import Event, House, Spec
from menugen.regions import UnknownRegion, load_region
from menugen.writing import ThemeFault
from menugen.writing.notes import site_links
from menugen.writing.qr import AddressError, shorter_address_hint
from menugen.writing.theme import contrast_findings, load_theme, theme_names

DEFAULT_THEME = "slate"

_PAGES = ("", "index.html", "allergens.html", "notices.html", "t", "t/", "t/index.html", "menu.json")
"""Pages of a site besides its drinks, as a link from its root names them."""


def check_event_settings(
    event: Event, house: House, folders: tuple[Path, ...], sources: Sources
) -> Iterator[Problem]:
    """Yield what is wrong with how an event is to be published.

    Args:
        event: As written.
        house: Its house.
        folders: Where looks are found.
        sources: The texts, to point into notes.
    """
    yield from _check_look(event, house, folders)
    yield from _check_languages(event, house)
    yield from _check_usual_language(event, house)
    yield from _check_money(event, house)
    yield from _check_address(event)
    yield from _check_links(event, house, sources)


def _check_look(event: Event, house: House, folders: tuple[Path, ...]) -> Iterator[Problem]:
    theme = event.theme or house.theme or DEFAULT_THEME
    known = theme_names(folders)
    if theme not in known:
        close = near(theme, list(known))
        yield error(
            "unknown-theme",
            f'there is no look called "{theme}"',
            (event.place if event.theme else house.place).at("theme"),
            *([f'did you mean "{close[0]}"?'] if close else []),
            "the looks there are: " + ", ".join(known),
        )
        return
    try:
        findings = contrast_findings(load_theme(folders, theme))
    except ThemeFault as fault:
        yield from theme_problems(fault, folders[0])
        return
    for finding in findings:
        # A shipped look is held to its contrasts by tests; what a house changes is told to the house.
        if Path(finding.where.file).resolve().is_relative_to(folders[0].resolve()):
            yield warning(
                "theme-contrast", finding.message, _in_look(finding.where, folders[0]), finding.hint
            )


def theme_problems(fault: ThemeFault, looks: Path) -> Iterator[Problem]:
    """Yield what is wrong with a look as problems of the house.

    Args:
        fault: What is wrong.
        looks: Where the house's own looks lie.
    """
    for one in fault.problems:
        also = tuple((_in_look(where, looks), word) for where, word in one.also)
        yield replace(one, where=_in_look(one.where, looks), also=also)


def _in_look(where: Place | Span, looks: Path) -> Span:
    """Return a place in a house's own look, given by its path, as a stretch of a file of the house."""
    file = Path(where.file)
    # By its name alone: a link may lead anywhere, or in a circle.
    inside = file.relative_to(looks).as_posix() if file.is_relative_to(looks) else file.name
    return (where if isinstance(where, Span) else Span("", 1, 1, 1))._replace(
        file=f"{THEMES_FOLDER}/{inside}"
    )


def _check_languages(event: Event, house: House) -> Iterator[Problem]:
    owner = event.place if event.languages != house.languages else house.place
    for position, language in enumerate(event.languages):
        if primary(language) not in catalogue_languages():
            yield warning(
                "language-not-there",
                f'there are no words in "{language}" yet: what is not your own stays in English',
                owner.at("languages", position),
                "the languages there are: " + ", ".join(catalogue_languages()),
            )


def _check_usual_language(event: Event, house: House) -> Iterator[Problem]:
    """Yield a warning where nobody names a language, and there are no words in the one that is usual in the place."""
    if event.languages or not event.region:
        return
    try:
        region = load_region(event.region, event.date)
    except UnknownRegion:
        return
    usual = primary(region.languages[0])
    if usual not in catalogue_languages():
        yield warning(
            "language-not-there",
            f"a menu in {region.called} is in {Locale(usual).english_name} unless something else is said, "
            "and there are no words in it yet: what is not your own stays in English",
            (event.place if event.region != house.region else house.place).at("region"),
            'write the languages of the menu, such as "languages: [en]"; those there are: '
            + ", ".join(catalogue_languages()),
        )


def _check_money(event: Event, house: House) -> Iterator[Problem]:
    """Yield a currency there is not, and prices finer than its smallest coin."""
    currency = event.currency
    owner = event.place if event.currency != house.currency else house.place
    if not currency:
        try:
            currency = load_region(event.region, event.date).currency
        except UnknownRegion:
            return
    if currency not in list_currencies():
        yield error(
            "unknown-currency",
            f'there is no currency "{currency}"',
            owner.at("currency"),
            "write its three letters as ISO 4217 has them: GBP, EUR, USD",
        )
        return
    yield from _check_unpriced(event, house)
    yield from _check_tax(event, house)
    digits = get_currency_precision(currency)
    for section in event.sections:
        for entry in section.entries:
            if entry.price is not None and entry.price != round(entry.price, digits):
                yield error(
                    "price-too-fine",
                    f"{entry.price} is finer than {currency} is paid in",
                    entry.place,
                    f"write it with {digits} decimals" if digits else "write it without decimals",
                )


def _check_unpriced(event: Event, house: House) -> Iterator[Problem]:
    """Yield a warning for each drink without a price among drinks that have one: guests would take it for free.

    An event that prices nothing says nothing of money, and one that someone else pays for shows none.
    """
    if not event.has_prices:
        return
    for section in event.sections:
        for entry in section.entries:
            if entry.price is None:
                spec = house.specs.get(entry.slug)
                yield warning(
                    "price-missing",
                    f"{spec.name if spec else entry.slug} has no price, and other drinks on this menu have one",
                    entry.place._replace(quote=entry.slug),
                    f'write "- {entry.slug}: 9.50", or "- {entry.slug}: 0" where it is free',
                    'or "hosted: yes" in the event, where nobody pays at the bar: it shows no prices at all',
                )


def _check_tax(event: Event, house: House) -> Iterator[Problem]:
    """Yield a warning where prices are without tax in a place whose guests are to be shown prices with it."""
    if not (event.charges and house.tax_registered and house.prices_include_tax is False):
        return
    try:
        region = load_region(event.region, event.date)
    except UnknownRegion:
        return
    if region.tax_included and is_at_home(house, region):
        yield warning(
            "tax-not-in-prices",
            f"in {region.name} guests are to be shown prices with the tax in them, and these are without",
            house.place.at("prices include tax"),
            'write the prices with tax, and "prices include tax: yes"',
            "where every guest buys for a business it may be otherwise: ask your tax adviser",
        )


def _check_address(event: Event) -> Iterator[Problem]:
    if not event.address:
        yield warning(
            "address-missing",
            "without an address there is no QR and there are no table cards",
            event.place,
            'write where the site will lie: "address: https://menu.example/lantern/"',
        )
        return
    try:
        shorter = shorter_address_hint(event.address, range(1, (event.tables or 0) + 1))
    except AddressError as fault:
        yield error(
            "address-unusable",
            str(fault),
            event.place.at("address"),
            "write a web address: https://menu.example/",
        )
        return
    if shorter is not None:
        letters = "1 character" if shorter.characters == 1 else f"{shorter.characters} characters"
        yield warning(
            "address-long",
            f"an address {letters} shorter would print a coarser code, {shorter.fewer_modules} squares a side and not "
            f"{shorter.modules}, which phones read from further away",
            event.place.at("address"),
            "a shorter folder name does it, or leave it: the code is readable as it is",
        )


def _check_links(event: Event, house: House, sources: Sources) -> Iterator[Problem]:
    """Yield each link in a guest's note that leads to a page the site does not have."""
    listed = [entry.slug for section in event.sections for entry in section.entries]
    pages = {*_PAGES, *(f"drinks/{slug}.html" for slug in listed)}
    for spec in (house.specs[slug] for slug in listed if slug in house.specs):
        for address in site_links(spec.guest_notes):
            if address.partition("#")[0] not in pages:
                yield error(
                    "dead-link",
                    f'the note links to "{address}", and the site has no such page',
                    _in_notes(spec, address, sources),
                    "link to a page of the site from its top, such as drinks/NAME.html or allergens.html, "
                    "or to a whole https:// address",
                )


def _in_notes(spec: Spec, address: str, sources: Sources) -> Place | Span:
    """Return where an address stands in a spec's file; the file as a whole where it is written otherwise there."""
    lines = sources.text(spec.place.file).split("\n")
    for number, line in enumerate(lines, start=1):
        column = line.find(address)
        if column >= 0:
            return Span(spec.place.file, number, column + 1, column + 1 + len(address))
    return spec.place
