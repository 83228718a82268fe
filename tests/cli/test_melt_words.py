"""The rule behind a drink's melt, in words that need no key."""

from menugen.cli.drink_text import _MELT_WORDS
from menugen.mixing.dilution import MELT_BASES


def test_every_rule_has_its_words():
    assert _MELT_WORDS.keys() == set(MELT_BASES)
