"""The demo, published in every look, for tests that open it."""

from dataclasses import replace
from pathlib import Path

import pytest

from menugen.facts import DrinkFacts, EventFacts
from menugen.past.printed_card import PrintedCard
from menugen.publishing import CheckedHouse, check_house, event_files, theme_folders
from menugen.reading import DiskFiles
from menugen.writing.theme import theme_names

REPOSITORY = Path(__file__).resolve().parents[2]
DEMO = REPOSITORY / "demo_data"
EVENT = "lantern-supper"
LANGUAGES = ("en", "fr", "ar")
"""One that is the bar's own, one that it has translated, and one that runs from right to left."""
LOOKS = theme_names(theme_folders(DEMO))


@pytest.fixture(scope="session")
def demo() -> CheckedHouse:
    return check_house(DEMO, DiskFiles(DEMO))


def old_card(facts: EventFacts) -> PrintedCard:
    """A printed card of which everything that can have changed since has, and which is not known in full."""

    def named(drink: DrinkFacts, **declared: object) -> DrinkFacts:
        declaration = replace(drink.serve.declaration, **declared)
        return replace(drink, serve=replace(drink.serve, declaration=declaration))

    drinks = dict(facts.drinks)
    del drinks["tin-whistle"]
    for slug in ("saltmarsh-sour", "plum-lantern", "cobnut-cup"):
        drinks[slug] = named(drinks[slug], contains=(), may_contain=())
    milk = next(drink for slug, drink in facts.drinks.items() if slug == "date-caravan").serve.declaration
    drinks["estuary-spritz"] = named(drinks["estuary-spritz"], may_contain=milk.contains)
    return PrintedCard(replace(facts, drinks=drinks), frozenset({"two-tides"}), ("it is a test",))


@pytest.fixture(scope="session")
def published(demo: CheckedHouse, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The demo's supper in every look and three languages: name of the look -> folder with site/ and print/."""
    facts = next(facts for facts in demo.events if facts.event.slug == EVENT)
    with_card = replace(demo, printed={EVENT: old_card(facts)})
    folders = {}
    for look in LOOKS:
        folder = tmp_path_factory.mktemp(look)
        for path, content in event_files(
            with_card, replace(facts, event=replace(facts.event, theme=look, languages=LANGUAGES))
        ).items():
            (folder / path).parent.mkdir(parents=True, exist_ok=True)
            (folder / path).write_bytes(content)
        folders[look] = folder
    return folders
