"""What a word of a label stands for, where that is one thing."""

from menugen.regions import label_word


def sole_substance(word: str) -> str | None:
    """Return the one substance a word surely stands for; None where there is none, or more than one."""
    found = label_word(word)
    return found.substances[0] if found and len(found.substances) == 1 else None
