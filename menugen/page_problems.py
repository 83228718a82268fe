"""What is wrong with an event's pages, as problems of the files a person wrote.

Comes in: what the last look at the pages found, and the event. Goes out: problems at the place that has to be changed.
"""

from collections.abc import Iterable, Iterator
from pathlib import Path

from menugen.facts import EventFacts
from menugen.house_photos import PhotoChanged
from menugen.private_texts import where_written
from menugen.problems import Place, Problem, Sources, Span, error
from menugen.reading import THEMES_FOLDER
from menugen.writing.page_check import PageFault
from menugen.writing.private import Found


def leak_problems(leaks: Iterable[Found], facts: EventFacts, sources: Sources) -> Iterator[Problem]:
    """Yield a problem for each private text that stands in an event's files; the first of these is named.

    Args:
        leaks: In order of files.
        facts: The event.
        sources: The texts, to point into them.
    """
    first = {one.text: one.path for one in reversed(list(leaks))}
    for text, path in first.items():
        yield error(
            "private-text-shown",
            f'{facts.event.slug}/{path} would show guests the private text "{_short(text)}"',
            where_written(facts, text, sources),
            "this is a fault of menugen, which keeps such texts from guests: report it",
            "until it is mended, take the text out here, or write it in other words",
        )


def page_problems(
    faults: Iterable[PageFault], facts: EventFacts, looks: Path, theme: str
) -> Iterator[Problem]:
    """Yield a problem for each fault of an event's pages; what is wrong with many pages alike is told once.

    Args:
        faults: In order.
        facts: The event.
        looks: Where the house's own looks lie.
        theme: Name of the event's.
    """
    alike: dict[tuple[Place | Span, str], list[PageFault]] = {}
    for fault in faults:
        # A note's links count from the top of the site, and a page that lies deeper leads there first.
        address = fault.link.removeprefix("../")
        written = _where_linked(address, facts) if address else None
        if written is None:
            where = _in_look(_template_of(fault.page), facts, looks, theme)
            alike.setdefault((where, fault.message), []).append(fault)
            continue
        yield error(
            "dead-link",
            f"the note {fault.message.replace(fault.link, address)}",
            written,
            "link to a page of the site from its top, such as drinks/NAME.html or allergens.html, "
            "or to a whole https:// address",
        )
    for (where, message), same in alike.items():
        more = len(same) - 1
        others = f", and so do {more} more" if more > 1 else ", and so does 1 more" if more else ""
        yield error(
            "page-broken",
            f"the page {facts.event.slug}/{same[0].page} {message}{others}",
            where,
            "a template of the look makes it: it must close what it opens, use each id once and link to what is there",
        )


_TEMPLATES = {
    "allergens.html": "allergens",
    "notices.html": "notices",
    "t/index.html": "table",
    "404.html": "missing",
    "index.html": "index",
}
"""Which template makes which page of a site."""


def _template_of(page: str) -> str:
    """Return the name of the template that a page of an event is made with."""
    if page.startswith("print/"):
        return "cards.html.jinja"
    name = next((made for end, made in _TEMPLATES.items() if page.endswith(f"/{end}")), "")
    return f"{'drink' if '/drinks/' in page else name}.html.jinja"


def _in_look(template: str, facts: EventFacts, looks: Path, theme: str) -> Place | Span:
    """Return the house's own file that a page's fault most likely lies in; where the look is named if it has none."""
    own = [file.name for file in sorted((looks / theme).glob("*.jinja"))]
    likely = [name for name in (template, "frame.html.jinja") if name in own] + own
    if likely:
        return Span(f"{THEMES_FOLDER}/{theme}/{likely[0]}", 1, 1, 1)
    house = facts.setting.house
    return (facts.event.place if facts.event.theme or not house.theme else house.place).at("theme")


def photo_problem(fault: PhotoChanged) -> Problem:
    """Return a photo that could not be had when it was to be made ready as a problem."""
    return error("photo-changed", fault.why, Span(fault.path, 1, 1, 1), fault.hint)


def _short(text: str) -> str:
    return text if len(text) <= 60 else f"{text[:59]}…"


def _where_linked(address: str, facts: EventFacts) -> Place | Span | None:
    """Return where a guest's note holds a link; None where no note does."""
    for section in facts.event.sections:
        if address in section.note:
            return section.place.at("note")._replace(quote=address)
        for language, words in section.translations.items():
            if address in words.note:
                return section.place.at("translations", language, "note")._replace(quote=address)
    for drink in facts.drinks.values():
        spec = drink.spec
        if address in spec.guest_notes:
            return spec.place._replace(quote=address)
        for language, said in spec.translations.items():
            if address in said.notes:
                return spec.place.at("translations", language, "notes")._replace(quote=address)
    return None
