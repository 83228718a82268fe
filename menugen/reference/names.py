"""Names as people type them, made alike: capitals, accents, hyphens and underscores do not count."""

import re
import unicodedata

_BREAKS = re.compile(r"[\s_\-‐-―/]+")
_LEFT_OUT = re.compile(r"\([^)]*\)|,.*$|\b(no|number|batch)\b\.? ?\d+|\d[\d.,]* ?(proof|abv|vol)\b|['’.]")
_NO_LETTER = re.compile(r"[\W\d_]+")


def plain_name(text: str) -> str:
    """Return a name for comparison: "Crème-de_Cassis " and "creme de cassis" are one."""
    bare = "".join(
        character for character in unicodedata.normalize("NFKD", text) if not unicodedata.combining(character)
    )
    return _BREAKS.sub(" ", bare.casefold()).strip()


def head_name(text: str) -> str:
    """Return the plain name without brackets, figures and what follows a comma.

    "Lime juice, fresh" is lime juice, and "gin 40 %" is gin.
    """
    words = _LEFT_OUT.sub(" ", plain_name(text)).split()
    return " ".join(word for word in words if not _NO_LETTER.fullmatch(word))


def endings(name: str) -> list[str]:
    """Return a plain name and what is left of it as words drop off its front, longest first."""
    words = name.split()
    return [" ".join(words[start:]) for start in range(len(words))]
