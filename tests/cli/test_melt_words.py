"""The rule behind a drink's melt, in words that need no key."""

from menugen.drink_facts.making import MELT_WORDS
from menugen.mixing import MELT_BASES


def test_every_rule_has_its_words():
    assert MELT_WORDS.keys() == set(MELT_BASES)
