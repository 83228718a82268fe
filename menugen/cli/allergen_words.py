"""One allergen gained or lost, as a sentence that cannot be missed without colour."""

from menugen.history import AllergenMove, Declared


def allergen_words(one: AllergenMove, drink: str = "") -> str:
    """Return what a drink is declared with differently.

    Args:
        one: What moved.
        drink: The drink's name, where the reader does not know which it is.
    """
    mark = "!! ALLERGEN GAINED: " if one.gained else "allergen declared no longer: "
    level = one.after if one.gained else one.before
    kind = "contains" if level is Declared.CONTAINS else "may contain"
    swap = f" with {one.swap}" if one.swap else ""
    name = f"{drink} " if drink else ""
    causes = dict.fromkeys(cause.text for cause in one.causes)
    why = f", because {'; '.join(causes)}" if causes else ""
    return f"{mark}{name}{kind} {one.word}{swap}{why}"
