"""One allergen gained or lost, as a sentence that cannot be missed without colour."""

from menugen.comparing.changes import AllergenMove, Declared

_KINDS = {
    Declared.CONTAINS: "contains",
    Declared.MAY_CONTAIN: "may contain",
    Declared.DISTILLED_FROM: "is distilled from",
}


def allergen_words(one: AllergenMove, drink: str = "") -> str:
    """Return what a drink is declared with differently.

    Args:
        one: What moved.
        drink: The drink's name, where the reader does not know which it is.
    """
    if one.gained:
        mark = "!! ALLERGEN GAINED: "
    elif one.after is Declared.NOT:
        mark = "allergen declared no longer: "
    else:
        mark = "allergen declared less firmly: "
    kind = _KINDS[one.before if one.after is Declared.NOT else one.after]
    before = f", {_KINDS[one.before]} before" if Declared.NOT not in (one.before, one.after) else ""
    swap = f" with {one.swap}" if one.swap else ""
    name = f"{drink} " if drink else ""
    causes = dict.fromkeys(cause.text for cause in one.causes)
    why = f", because {'; '.join(causes)}" if causes else ""
    return f"{mark}{name}{kind} {one.word}{swap}{before}{why}"
