"""What guests' texts promise: a strength that must be true, and an allergen's absence, which may never be promised."""

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from menugen import regions
from menugen.facts.serve import DrinkFacts, Serve
from menugen.problems import Place, Problem, error, warning
from menugen.records import Event, House, MenuSection, Spec
from menugen.regions import Claim, Region

_WITHIN = {"<": "under", "<=": "at most", "=": "exactly"}


class GuestText(NamedTuple):
    """A text guests read.

    Attributes:
        what: What it is to the user: "the name".
        text: As written.
        place: Where.
        is_name: Whether it names what it stands over. A sentence may speak of something else, so that what it seems to
            claim of strength is told and does not stop a publish.
    """

    what: str
    text: str
    place: Place
    is_name: bool


def spec_texts(spec: Spec) -> Iterator[GuestText]:
    """Yield a drink's texts in each language it has them in."""
    yield GuestText("the name", spec.name, spec.place.at("name"), True)
    yield GuestText("the note for guests", spec.guest_notes, spec.place, False)
    for language, words in spec.translations.items():
        at = spec.place.at("translations", language)
        yield GuestText("the name", words.name, at.at("name"), True)
        yield GuestText("the note for guests", words.notes, at.at("notes"), False)


def line_texts(spec: Spec) -> Iterator[GuestText]:
    """Yield what guests read of how a drink is made: its lines' names, its swaps' and its glass."""
    for line in (*spec.lines, *(swap.line for swap in spec.swaps)):
        yield GuestText("the ingredient", line.name, line.place, True)
    yield GuestText("the glass", spec.glass, spec.place.at("glass"), True)


def house_texts(house: House) -> Iterator[GuestText]:
    """Yield the house's own texts in each language it has them in."""
    yield GuestText("the house's name", house.name, house.place.at("name"), True)
    yield GuestText("the contact", house.contact, house.place.at("contact"), False)
    for number, rule in enumerate(house.rules):
        yield GuestText("the house rule", rule, house.place.at("rules", number), False)
    for language, words in house.translations.items():
        at = house.place.at("translations", language)
        for number, rule in enumerate(words.rules):
            yield GuestText("the house rule", rule, at.at("rules", number), False)
        for name, said in words.names.items():
            yield GuestText(f'the name for "{name}"', said, at.at("words", name), True)


def place_texts(event: Event) -> Iterator[GuestText]:
    """Yield what guests read of where an event is and of what its drinks share."""
    yield GuestText("the place", event.venue, event.place.at("place"), True)
    for language, words in event.translations.items():
        yield GuestText("the place", words.venue, event.place.at("translations", language, "place"), True)
    for number, name in enumerate(event.equipment):
        yield GuestText("the equipment", name, event.place.at("equipment", number), True)


def event_texts(event: Event) -> Iterator[GuestText]:
    """Yield the texts that stand over every drink of an event."""
    yield GuestText("the event's name", event.name, event.place.at("event"), True)
    for language, words in event.translations.items():
        yield GuestText(
            "the event's name", words.name, event.place.at("translations", language, "event"), True
        )


def section_texts(section: MenuSection) -> Iterator[GuestText]:
    """Yield a section's texts in each language it has them in."""
    yield GuestText("the section's name", section.name, section.place.at("section"), True)
    yield GuestText("the section's note", section.note, section.place.at("note"), False)
    for language, words in section.translations.items():
        at = section.place.at("translations", language)
        yield GuestText("the section's name", words.name, at.at("section"), True)
        yield GuestText("the section's note", words.note, at.at("note"), False)


def check_promises(texts: Iterable[GuestText]) -> Iterator[Problem]:
    """Yield an error for each text that calls something free of an allergen."""
    for told in filter(lambda told: told.text, texts):
        for promise in regions.absence_promises(told.text):
            yield error(
                "absence-promised",
                f'{told.what} says "{promise.phrase}", and nothing may be called free of an allergen',
                told.place._replace(quote=promise.phrase),
                "say what is in the drink instead: labels name what a bottle holds, not what a shaker has touched",
            )


def check_strength_claims(
    texts: Iterable[GuestText], drinks: Iterable[DrinkFacts], region: Region
) -> Iterator[Problem]:
    """Yield a problem for each claim about strength that is not true of a drink it stands over, swaps included.

    In a name it stops the publish.
    """
    drinks = tuple(drinks)
    serves = [(drink.spec.name, drink.serve) for drink in drinks]
    serves += [
        (f"{drink.spec.name} with {swap.swap.line.name}", swap.serve)
        for drink in drinks
        for swap in drink.swaps
    ]
    for told in texts:
        untrue: dict[int, list[tuple[str, Serve, Claim]]] = {}
        for name, serve in serves:
            for claim in region.claims(told.text, serve.claims_as):
                if not claim.holds(serve.at_most_percent):
                    untrue.setdefault(claim.start, []).append((name, serve, claim))
        for _, found in sorted(untrue.items()):
            name, serve, claim = max(found, key=lambda one: one[1].made.served_abv_percent.value)
            yield (error if told.is_name else warning)(
                "untrue-strength-claim",
                f'{told.what} says "{claim.phrase}", '
                + (
                    f"and {name} {_strength(serve)}"
                    if claim.allowed
                    else f"a word that {region.name} does not want on a drink like {name}"
                ),
                told.place._replace(quote=claim.phrase),
                _remedy(claim, region),
                claim.why,
            )


def _strength(serve: Serve) -> str:
    if serve.labelled_percent is not None:
        return f"is {serve.labelled_percent:g} % vol by its label"
    return f"comes to about {serve.made.served_abv_percent.value:.2g} % vol with everything in it"


def _remedy(claim: Claim, region: Region) -> str:
    if not claim.allowed or claim.limit_percent is None:
        return f'take "{claim.phrase}" out; the menu itself says how strong a drink is'
    limit = (
        "no alcohol at all"
        if claim.limit_percent == 0
        else f"{_WITHIN[claim.operator]} {claim.limit_percent:g} % vol"
    )
    return f'in {region.name} "{claim.phrase}" asks for {limit}: take it out, or make the drink so'
