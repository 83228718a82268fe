"""Every English text that a catalogue has to translate: of the interface, of the rules of places, of glasses."""

from functools import cache

from menugen import reference, regions
from menugen.drink_facts import told_guests
from menugen.menu.words import EQUIPMENT, PHRASES, SERVE, SERVES, WITHOUT_ALCOHOL, WORDS
from menugen.regions import GuestText


@cache
def messages() -> tuple[GuestText, ...]:
    """Return every text, each once: what a page says first, then allergens, cautions and places."""
    found: dict[str, GuestText] = {}
    for message in (
        *(GuestText(word, "", f"word of the page: {name}") for name, word in WORDS.items()),
        *(
            GuestText(word, "", f"word of a page without alcohol: {name}")
            for name, word in WITHOUT_ALCOHOL.items()
        ),
        *(GuestText(phrase, "", "part of a sentence") for phrase in PHRASES),
        *(GuestText(one.text, "", "known of a drink") for one in told_guests()),
        GuestText(SERVE, SERVES, "counted: what one guest gets of a bowl or a jug"),
        *(GuestText(name, "", "equipment, within: We work with ...") for name in EQUIPMENT),
        *(GuestText(name, "", "kind of glass") for name in reference.glass_names()),
        *regions.guest_texts(),
    ):
        found.setdefault(message.text, message)
    return tuple(found.values())
