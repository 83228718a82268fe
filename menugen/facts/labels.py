"""What a bottle's label says of substances: what it brings into a drink, and what is wrong with its words."""

from collections.abc import Iterable, Iterator

from menugen import reference, regions
from menugen.problems import Problem, did_you_mean, error
from menugen.problems.near import near
from menugen.records import StockLine
from menugen.regions import Carried, LabelWord, Made

_NAME_IT = "name the thing itself, as the label does: almond and not nuts, barley and not gluten"


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
    contains = _read(stock.contains or ())
    may_contain, distilled_from = _read(stock.may_contain), _read(stock.distilled_from)
    fined_with = _read(stock.fined_with)
    return Carried(
        substances=_substances(word for word in contains if not word.thing),
        may_contain=_substances(may_contain),
        distilled_from=_substances(distilled_from),
        sulphites_mg_per_l=stock.sulphites_mg_per_l if volume_ml > 0 else None,
        volume_ml=volume_ml,
        kind=drink_class(stock),
        made=(
            *(
                Made(word.thing, "ingredient", frozenset(word.substances), word.said)
                for word in contains
                if word.thing
            ),
            *(
                Made(word.thing, "fining", frozenset(word.substances), word.said)
                for word in fined_with
                if word.substances
            ),
        ),
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
                close = near(word, regions.substance_words())
                # Spirits are made from more plants than anyone lists: only what may be a slip is asked about.
                if close or key != "distilled from":
                    yield error(
                        "unknown-substance",
                        f'"{word}" is no substance menugen knows',
                        where,
                        *did_you_mean(word, close),
                        _NAME_IT,
                        f'if no law lists it, write "{word} ({regions.UNLISTED})": it is shown as said',
                    )
            elif not found.is_clear and not (key == "distilled from" and found.substances):
                asks = tuple(one for one in found.asks if found.must_name or one not in named)
                if asks or found.must_name:
                    yield error(
                        "unclear-substance", _question(word, found, asks), where, *_answers(word, found, asks)
                    )


def _question(word: str, found: LabelWord, asks: tuple[str, ...]) -> str:
    if found.must_name:
        return f'"{word}" does not say which substance it is' + (f": {found.why}" if found.why else "")
    return f'"{word}" is {_row(found.substances, "and")}, and may bring {_row(asks, "or")} as well'


def _answers(word: str, found: LabelWord, asks: tuple[str, ...]) -> Iterator[str]:
    """Yield what to write, once the label has been read again."""
    if not found.must_name:
        added = ", ".join(regions.substance(one).word for one in asks)
        yield f'read the label: keep "{word}" and add what it names of these: {added}'
        sure = ", ".join(regions.substance(one).word for one in found.substances)
        yield f'if it names none of them, write "{sure}" in place of "{word}"'
        return
    if asks:
        yield f"read the label and name it: {_row(asks, 'or')}"
    if found.or_another:
        yield f'if it is made from something else, say from what: "{word} (sunflower)"'
    if not asks:
        yield 'a warning of contact stands under "may contain", each substance by its name'


def _row(ids: tuple[str, ...], last: str) -> str:
    words = [regions.substance(one).word for one in ids]
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} {last} {words[-1]}"
