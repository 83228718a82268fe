"""What is known to hold no alcohol without a stated strength, and what a name says that asks for one."""

from functools import cache, lru_cache

from menugen.reference.ingredients import holds_words, ingredient, is_alcoholic_kind, says_alcohol_free
from menugen.reference.names import endings, head_name, plain_name
from menugen.reference.package_data import package_data


@lru_cache(maxsize=4096)
def is_known_without_alcohol(name: str, kind: str) -> bool:
    """Return whether a stock line that states no strength is known to hold no alcohol: "lemon juice", "mint sprig".

    In doubt the answer is no: "house cordial", "ginger beer" (some are brewed), "alcohol-free spirit" (which may hold
    half a per cent), "cherries in brandy", "rum syrup".

    Args:
        name: As stock has it.
        kind: The kind that stock gives it; empty where it gives none.
    """
    if names_alcohol(name) or says_alcohol_free(plain_name(name)):
        return False
    data = _data()
    if kind:
        known = ingredient(kind)
        return known is not None and known.kind in data["classes"] and known.id not in data["doubtful"]
    known, ends = ingredient(name), endings(head_name(name))
    if any(f" {word} " in f" {head_name(name)} " for word in data["own"]):
        return False
    if known is not None:
        whole = plain_name(name) in map(plain_name, (known.id, *known.names))
        doubtful = {known.id, *(ends[:1] if whole else ends)}
        return known.kind in data["classes"] and doubtful.isdisjoint(data["doubtful"])
    return any(end in data["names"] or end.removesuffix("s") in data["names"] for end in ends)


@lru_cache(maxsize=4096)
def names_alcohol(name: str) -> bool:
    """Return whether any words of a stock name are of something alcoholic, or of what was soaked in it.

    Wider than `is_alcoholic_kind`, which asks what a thing is: "rum syrup" is a syrup, and names rum.
    """
    head = head_name(name)
    return (
        is_alcoholic_kind(name)
        or not _data()["signs"].isdisjoint(head.split())
        or holds_words(head, "alcoholic")
    )


@cache
def _data() -> dict[str, frozenset[str]]:
    return {group: frozenset(words) for group, words in package_data("no_alcohol").items()}
