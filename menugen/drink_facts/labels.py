"""What the labels of a drink say, in words and as data; what no label has told yet is never called clean."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from menugen.drink_facts.fact import Fact, Way, WordList
from menugen.facts import Serve
from menugen.regions import Declaration, Declared
from menugen.report import Row

NOTHING_DECLARED = "none declared on the labels"


def words_of(items: Iterable[Declared]) -> list[str]:
    """Return the menu words of what is declared, in the order of the law's list."""
    return [word for item in items for word in item.words]


def distilled_words(declaration: Declaration) -> list[str]:
    """Return the words for what spirits in a drink were distilled from, where the law does not exempt it."""
    return [*declaration.distilled_words, *declaration.distilled_said]


def also_named(declaration: Declaration) -> list[str]:
    """Return what labels name and no law here lists, as typed: "mango", "perhaps chestnut"."""
    return [*declaration.said, *(f"perhaps {word}" for word in declaration.may_said)]


def not_read(names: Sequence[str]) -> str:
    """Return "not known: the label of gin has not been read"."""
    if len(names) == 1:
        return f"not known: the label of {names[0]} has not been read"
    return f"not known: the labels of {', '.join(names[:-1])} and {names[-1]} have not been read"


def contains_words(serve: Serve) -> str:
    """Return what a drink contains, as far as its labels have been read."""
    words = ", ".join(words_of(serve.declaration.contains))
    if not serve.unread:
        return words or NOTHING_DECLARED
    return not_read(serve.unread) + (f"; the labels read say {words}" if words else "")


def contains_phrase(serve: Serve) -> str:
    """Return the same as a phrase within a line: "contains eggs"."""
    return ("what it contains is " if serve.unread else "contains ") + contains_words(serve)


def label_data(serve: Serve) -> dict[str, Any]:
    """Return the same as plain data: None for a list that an unread label could add to."""
    declared = serve.declaration
    contains, may_contain = words_of(declared.contains), words_of(declared.may_contain)
    return {
        "contains": None if serve.unread else contains,
        "may_contain": None if serve.unread else may_contain,
        "distilled_from": None if serve.unread else distilled_words(declared),
        "also_named": list(declared.said),
        "also_warned_of": list(declared.may_said),
        "unread": list(serve.unread),
        "labels_read_say": {
            "contains": contains,
            "may_contain": may_contain,
            "distilled_from": distilled_words(declared),
        },
    }


def _rows(way: Way) -> Iterator[Row]:
    """Yield what labels say; what guests are not told is said to be so."""
    serve, declaration = way.serve, way.serve.declaration
    yield Row("Contains", contains_words(serve))
    if declaration.may_contain:
        yield Row("May contain", ", ".join(words_of(declaration.may_contain)))
    shown = distilled_words(declaration)
    if shown:
        yield Row("Distilled", f"from {', '.join(shown)}")
    if named := also_named(declaration):
        yield Row("Also named", f"{', '.join(named)}: on no list here, shown as said")
    not_shown = [
        f"{item.stock.name} {done} {', '.join(of)}"
        for item in serve.lines
        for done, of in (
            ("is distilled from", item.stock.distilled_from if not shown else ()),
            ("is fined with", item.stock.fined_with),
        )
        if of
    ]
    if not_shown:
        yield Row("For the bar", "; ".join(dict.fromkeys(not_shown)))


def _phrase(way: Way) -> str:
    declaration = way.serve.declaration
    said = [contains_phrase(way.serve)]
    if declaration.may_contain:
        said.append("may contain " + ", ".join(words_of(declaration.may_contain)))
    if distilled := distilled_words(declaration):
        said.append("distilled from " + ", ".join(distilled))
    if named := also_named(declaration):
        said.append("labels also name " + ", ".join(named))
    return "; ".join(said)


def _caution_rows(way: Way) -> Iterator[Row]:
    if way.serve.cautions:
        yield Row("Cautions", ", ".join(way.serve.cautions))


def _caution_phrase(way: Way) -> str:
    return "cautions: " + ", ".join(way.serve.cautions) if way.serve.cautions else ""


LABELS = Fact(
    name="labels",
    part="contents",
    rows=_rows,
    data=lambda way: label_data(way.serve),
    phrase=_phrase,
    lists=(
        WordList("Contains", lambda serve: words_of(serve.declaration.contains)),
        WordList("May contain", lambda serve: words_of(serve.declaration.may_contain)),
        WordList("Distilled", lambda serve: distilled_words(serve.declaration)),
        WordList("Also named", lambda serve: also_named(serve.declaration)),
    ),
)
CAUTIONS = Fact(
    name="cautions",
    part="contents",
    rows=_caution_rows,
    data=lambda way: {"cautions": list(way.serve.cautions)},
    phrase=_caution_phrase,
    lists=(WordList("Cautions", lambda serve: serve.cautions, by_label=False),),
)

FACTS = (LABELS, CAUTIONS)
