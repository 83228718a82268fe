"""One allergen gained or lost, as a sentence that cannot be missed without colour."""

from menugen.comparing import Change


def allergen_words(one: Change, drink: str = "") -> str:
    """Return what a drink is declared with differently.

    Args:
        one: What changed.
        drink: The drink's name, where the reader does not know which it is.
    """
    if one.gained:
        mark = "!! ALLERGEN GAINED: "
    elif one.after:
        mark = "allergen declared less firmly: "
    else:
        mark = "allergen declared no longer: "
    said, before = (f"is {text}" if text == "distilled from" else text for text in (one.after, one.before))
    was = f", {before} before" if one.before and one.after else ""
    swap = f" with {one.swap}" if one.swap else ""
    name = f"{drink} " if drink else ""
    causes = dict.fromkeys(cause.text for cause in one.causes)
    why = f", because {'; '.join(causes)}" if causes else ""
    return f"{mark}{name}{said or before} {one.word}{swap}{was}{why}"
