"""What a house says that guests may not read: its texts, where each was written, and the house without them.

Comes in: a worked-out event and the texts of its house. Goes out: private texts with their places, and the same event
as it would be if nobody had written them. A file that comes out otherwise then has something private in it.
"""

import os
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from menugen.facts import Broken, EventFacts, work_out_event
from menugen.problems import Place, Sources, Span
from menugen.records import Line, Spec, StockLine
from menugen.reference import made_cautions, noted_cautions, words_of_caution
from menugen.writing.private import not_public

_SHORTEST = 4
"""Letters of a private text that is looked for: shorter ones say nothing."""

BAR_NOTES = "bar notes"


def private_texts(facts: EventFacts) -> frozenset[str]:
    """Return the private texts behind an event that must not be found in its site.

    A text that the user has also written somewhere public (a supplier named in a guest's note) is theirs to show, and
    very short ones say nothing.
    """
    private = (text for text, _ in _written(facts))
    return not_public((text for text in private if len(text) >= _SHORTEST), _public(facts))


def private_path(folder: Path) -> str:
    """Return where a house lies on this machine, which is nobody's business."""
    return os.fsencode(folder.resolve()).decode("utf-8", "replace")


def where_written(facts: EventFacts, text: str, sources: Sources) -> Place | Span:
    """Return where a private text behind an event was written; the event where it was nowhere."""
    place = next((place for written, place in _written(facts) if written == text), facts.event.place)
    notes = next((drink.spec for drink in facts.drinks.values() if place is drink.spec.place), None)
    return place if notes is None else _in_private_notes(notes, text, sources)


def without_private_texts(facts: EventFacts) -> EventFacts | None:
    """Return an event worked out again as if nobody had written a private text, and nothing else were different."""
    house = facts.setting.house
    bare = replace(
        house,
        specs={slug: _bare_spec(spec) for slug, spec in house.specs.items()},
        stock={name: _bare_stock(line) for name, line in house.stock.items()},
    )
    return work_out_event(bare, facts.event, Broken())[0]


def _written(facts: EventFacts) -> Iterator[tuple[str, Place]]:
    """Yield each private text behind an event with its place; a spec's own stands for its private notes."""
    stock: dict[str, StockLine] = {}
    for drink in facts.drinks.values():
        spec = drink.spec
        for text in (spec.bar_notes, *spec.comments):
            yield from ((line.strip(), spec.place) for line in text.split("\n"))
        yield from ((line.note, _beside(line)) for line in _lines(spec) if line.note)
        stock |= {item.stock.name: item.stock for serve in drink.ways for item in serve.lines}
    for section in facts.event.sections:
        for text in section.comments:
            yield from ((line.strip(), section.place.at("note")) for line in text.split("\n"))
    for line in stock.values():
        yield line.supplier, line.place.at("supplier")
        yield line.note, line.place.at("note")


def _public(facts: EventFacts) -> list[str]:
    house, event = facts.setting.house, facts.event
    public = [house.name, house.contact, *house.rules, event.name, event.venue, event.address]
    public += [text for words in event.translations.values() for text in (words.name, words.venue)]
    public += [
        text for words in house.translations.values() for text in (*words.rules, *words.names.values())
    ]
    for section in event.sections:
        public += [section.name, section.note]
        public += [text for words in section.translations.values() for text in (words.name, words.note)]
    for drink in facts.drinks.values():
        spec = drink.spec
        public += [spec.name, spec.guest_notes, *(line.name for line in spec.lines)]
        public += [text for words in spec.translations.values() for text in (words.name, words.notes)]
        public += [swap.line.name for swap in spec.swaps]
    return public


def _beside(line: Line) -> Place:
    """Return where the note of a line was written: beside its measure."""
    path = line.place.path[:-1] if line.place.path[-1:] == ("pour",) else line.place.path
    return Place(line.place.file, (*path, "note"))


def _lines(spec: Spec) -> tuple[Line, ...]:
    return (*spec.lines, *(swap.line for swap in spec.swaps))


def _in_private_notes(spec: Spec, text: str, sources: Sources) -> Place | Span:
    """Return where a line of a spec's bar notes stands in its file, else one of its comments, else the spec."""
    whole = sources.text(spec.place.file)
    notes = whole.rfind(spec.bar_notes) if spec.bar_notes else -1
    at = whole.find(text, notes) if notes >= 0 else -1
    if at < 0:
        comment = whole.find("<!--")
        at = whole.find(text, comment) if comment >= 0 else -1
    if at < 0:
        return spec.place
    line = whole.count("\n", 0, at) + 1
    column = at - (whole.rfind("\n", 0, at) + 1) + 1
    return Span(spec.place.file, line, column, column + len(text))


def _bare_spec(spec: Spec) -> Spec:
    if not spec.bar_notes and not spec.comments and not any(line.note for line in _lines(spec)):
        return spec
    return replace(
        spec,
        bar_notes=_only_cautions(spec.bar_notes),
        comments=tuple(_only_cautions(text) for text in spec.comments),
        lines=tuple(_bare_line(line) for line in spec.lines),
        swaps=tuple(replace(swap, line=_bare_line(swap.line)) for swap in spec.swaps),
    )


def _only_cautions(notes: str) -> str:
    """Return those words of private notes that show a caution, which guests are told in the words of its own."""
    words = words_of_caution(notes)
    return words if noted_cautions(BAR_NOTES, words) == noted_cautions(BAR_NOTES, notes) else notes


def _bare_line(line: Line) -> Line:
    if not line.note:
        return line
    words = words_of_caution(line.note)
    same = made_cautions(f"{line.name} {words}".strip()) == made_cautions(f"{line.name} {line.note}")
    return replace(line, note=words) if same else line


def _bare_stock(line: StockLine) -> StockLine:
    return replace(line, supplier="", note="") if line.supplier or line.note else line
