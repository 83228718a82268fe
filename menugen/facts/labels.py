"""What a bottle's label says of substances: what it brings into a drink, and what is wrong with its words."""

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache

from menugen import reference, regions
from menugen.problems import Place, Problem, did_you_mean, error, near
from menugen.records import StockLine
from menugen.regions import Carried, LabelWord, Made


def drink_class(stock: StockLine) -> str:
    """Return the class of drink a bottle belongs to, "spirit" or "beer"; empty where not known."""
    known = reference.ingredient(stock.kind or stock.name)
    return known.kind if known is not None else ""


def carried(stock: StockLine, volume_ml: float) -> Carried:
    """Return what a bottle brings by way of allergens.

    What sits on the glass adds no known volume, so a sulphite figure of its own cannot be summed: it is left out, and
    the rule for "no figure" declares it. A word that asks brings what it is sure of; the rest is told as a problem.

    Args:
        stock: The bottle.
        volume_ml: Poured, 0 for rims and garnishes.
    """
    label = _on_label(stock)
    if volume_ml <= 0:
        return label
    return Carried(
        label.substances,
        label.may_contain,
        label.distilled_from,
        stock.sulphites_mg_per_l,
        volume_ml,
        label.kind,
        label.kind_id,
        label.made,
        label.said,
        label.may_said,
        label.distilled_said,
    )


# Drinks pour the same few dozen bottles, each in its own measure.
@lru_cache(maxsize=4096)
def _on_label(stock: StockLine) -> Carried:
    """Return what a bottle brings whatever is poured of it."""
    contains = _read(stock.contains or ())
    may_contain, distilled_from = _read(stock.may_contain), _read(stock.distilled_from)
    of_ingredients = (
        Made(word.thing, "ingredient", frozenset(word.substances), word.said)
        for word in contains
        if word.thing
    )
    of_fining = (
        Made(word.thing, "fining", frozenset(word.substances), word.said)
        for word in _read(stock.fined_with)
        if word.substances
    )
    return Carried(
        substances=_substances(word for word in contains if not word.thing),
        may_contain=_substances(may_contain),
        distilled_from=_substances(distilled_from),
        kind=drink_class(stock),
        kind_id=said.id if stock.kind and (said := reference.ingredient(stock.kind)) else "",
        made=(*of_ingredients, *of_fining),
        said=_said(contains),
        may_said=_said(may_contain),
        distilled_said=_said(distilled_from),
    )


def _read(words: Iterable[str]) -> list[LabelWord]:
    """Return what words mean; one that is not known stands for itself, and is told of by `word_faults`."""
    return [regions.label_word(word) or LabelWord(word) for word in words]


def _substances(words: Iterable[LabelWord]) -> frozenset[str]:
    return frozenset(one for word in words for one in word.substances)


def _said(words: Iterable[LabelWord]) -> tuple[str, ...]:
    """Return the words that bring no substance and ask for none: what no law lists, as typed."""
    return tuple(word.said for word in words if not word.substances and word.is_clear)


def word_faults(stock: StockLine) -> Iterator[Problem]:
    """Yield a problem for each word of a label that is not known, or that does not say which substance it is."""
    named = _substances(_read((*(stock.contains or ()), *stock.may_contain)))
    for key, words in (
        ("contains", stock.contains or ()),
        ("may contain", stock.may_contain),
        ("distilled from", stock.distilled_from),
        ("fined with", stock.fined_with),
    ):
        for position, word in enumerate(words):
            where = stock.place.at(key, position)._replace(quote=word)
            found = regions.label_word(word)
            if found is None:
                yield from _not_known(word, where, key)
            elif found.must_name:
                yield error(
                    "unclear-substance",
                    f'"{word}" does not say which substance it is',
                    where,
                    *_ways_to_name(word, found, key),
                )
            elif asked := [one for one in found.asks if one not in named and key != "distilled from"]:
                yield error(
                    "unclear-substance",
                    f'"{word}" brings {_row(found.substances, "and")}, and may bring {_row(asked, "or")}',
                    where,
                    f'read the label: write "{_row(found.substances, ",")}" in its place, and beside it whichever of '
                    f"these the label names: {_row(asked, ',')}",
                )


def _not_known(word: str, where: Place, key: str) -> Iterator[Problem]:
    """Yield a problem for a word that nobody knows; spirits are made from more plants than anyone lists."""
    close = near(word, regions.substance_words("en")) or near(word, regions.substance_words())
    if close or key != "distilled from":
        keep = f'if no law lists it, write "{word} ({regions.UNLISTED})": it is shown as said'
        yield error(
            "unknown-substance",
            f'"{word}" is no substance menugen knows',
            where,
            *did_you_mean(word, close),
            "name the thing itself, as the label does: almond and not nuts, barley and not gluten",
            *(() if close else (keep,)),
        )


def _ways_to_name(word: str, found: LabelWord, key: str) -> Iterator[str]:
    """Yield what to write for a word that says nothing by itself, once the label has been read again."""
    if not found.asks:
        yield 'what the label only warns of stands under "may contain", each substance by its name'
        return
    yield f"read the label and name it: {_row(found.asks, 'or')}"
    if found.or_another:
        yield f'if it was made from something else, say from what: "{word} (sunflower)"'
    if key == "may contain":
        yield "if the label says no more, ask the maker, or name each that it may be"


def _row(ids: Sequence[str], last: str) -> str:
    """Return the words of substances in a row, with a word or a comma before the last."""
    words = [regions.substance(one).word for one in ids]
    between = f"{last} " if last == "," else f" {last} "
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])}{between}{words[-1]}"
