"""What a guest with a printed card is told."""

import json
import shutil
from dataclasses import replace
from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.facts import EventFacts, Serve, work_out_event
from menugen.menu import GuestMenu, SinceCard, guest_menu, words_of
from menugen.past.printed_card import PrintedCard
from menugen.past.since_card import since_card
from menugen.publishing import CheckedHouse, check_house, event_files, event_menus
from menugen.reading import DiskFiles
from menugen.regions import Declaration, Declared
from tests.houses import reading_of, texts
from tests.revisions.repositories import Books, books, git

UNSURE = (
    "Not every change is known, and the card may say otherwise. This page holds: ask us before you order."
)
ASK = "Ask us before you rely on what labels no longer name."
RAW_EGG = "Made with raw egg. If you are pregnant, older, very young or have a weakened immune system, ask us first."
CREAM_CUP = """---
name: Cream Cup
pour:
  - 30 ml gin
  - 30 ml single cream
method: shake
glass: coupe
swap:
  single cream: 30 ml aquafaba
---
Soft.
"""


def printed(house: Books) -> str:
    """Print the cards of what was committed last: the event names their version from now on."""
    version = git(house.house, "rev-parse", "HEAD")[:7]
    write_printed(house, version)
    return version


def write_printed(house: Books, version: str) -> None:
    """Write which version the printed cards carry, or that there are none."""
    file = "events/small-supper.yaml"
    others = [line for line in (house.house / file).read_text("utf-8").split("\n") if "printed:" not in line]
    house.write(file, "\n".join(others))
    if version:
        house.edit(file, "menu:", f"printed: {version}\nmenu:")


def tidy_result(house: Books) -> CheckedHouse:
    return check_house(house.house, DiskFiles(house.house))


def menu(house: Books) -> GuestMenu:
    look = tidy_result(house)
    return next(event_menus(look, look.events[0]))


def told(house: Books) -> tuple[str, ...]:
    since = menu(house).since_card
    return since.sentences() if since else ()


def warnings(house: Books) -> list[str]:
    return [problem.message for problem in tidy_result(house).problems if problem.code == "printed-unknown"]


@pytest.fixture
def house(tmp_path) -> Books:
    """A house whose cards are printed, with two drinks on its menu, one of them with a swap for milk."""
    made = books(tmp_path)
    made.write("specs/cream-cup.md", CREAM_CUP)
    made.edit(
        "events/small-supper.yaml", "      - marsh-sour: 9.50", "      - marsh-sour: 9.50\n      - cream-cup"
    )
    made.commit("Two drinks")
    printed(made)
    return made


def test_what_touches_no_allergen_is_not_told(house):
    house.edit("events/small-supper.yaml", "9.50", "12.00")
    house.edit("events/small-supper.yaml", "menu:", "off: [marsh-sour]\nmenu:")
    house.edit("specs/marsh-sour.md", "50 ml gin", "60 ml gin")
    assert told(house) == ()
    assert menu(house).since_card is None
    assert warnings(house) == []


def test_drinks_with_the_very_same_change_stand_together_each_thing_said_once(house):
    house.edit_stock(
        "garden gin", "contains: none", "contains: [sulphites]\n  may contain: [celery, mustard]"
    )
    assert told(house) == (
        "Marsh Sour, Cream Cup – each now contains sulphites; each may now contain celery, mustard",
    )


def test_a_spirit_of_another_grain_is_told_in_its_own_words_where_the_law_is_unsettled(house):
    house.edit("house.yaml", "GB-ENG", "US")
    house.commit("Over the sea")
    printed(house)
    house.edit_stock("garden gin", "distilled from: [wheat]", "distilled from: [wheat, rye]")
    assert told(house) == ("Marsh Sour, Cream Cup – now with spirit distilled from rye",)


def test_what_a_card_says_is_contained_and_is_only_distilled_from_now_is_told_with_advice(house):
    house.edit("house.yaml", "GB-ENG", "US")
    house.edit_stock("garden gin", "contains: none", "contains: [wheat]")
    house.commit("Over the sea")
    printed(house)
    house.edit_stock("garden gin", "contains: [wheat]", "contains: none")
    assert told(house) == ("Marsh Sour, Cream Cup – labels now say only “distilled from”: wheat", ASK)


def test_what_a_bottle_brings_is_told_with_its_swaps_only_where_they_differ(house):
    house.edit_stock("aquafaba", "  contains: none\n", "  contains: [lupin]\n")
    house.edit_stock("aquafaba", "may contain: [lupin]", "may contain: [soy]")
    (line,) = told(house)
    both, what = line.split(" – ")
    assert both == "Marsh Sour (aquafaba instead of egg white), Cream Cup (aquafaba instead of single cream)"
    assert what == "each now contains lupin; each may now contain soybeans"


def test_gains_come_first_and_a_loss_is_no_promise(house):
    house.edit_stock("egg white", "contains: [egg]", "contains: [milk]")
    house.edit_stock("single cream", "contains: [milk]", "contains: [milk]\n  may contain: [soy]")
    assert told(house) == (
        "Marsh Sour – now contains milk",
        "Cream Cup – may now contain soybeans",
        "Marsh Sour – labels no longer name eggs",
        ASK,
    )


def test_the_gravest_stands_first_whatever_the_order_of_the_menu(house):
    house.edit_stock("egg white", "contains: [egg]", "contains: [egg]\n  may contain: [mustard]")
    house.edit_stock("single cream", "contains: [milk]", "contains: [milk, celery]")
    assert told(house) == ("Cream Cup – now contains celery", "Marsh Sour – may now contain mustard")


def test_of_what_labels_no_longer_name_the_gravest_stands_first(house):
    house.edit_stock("garden gin", "contains: none", "contains: none\n  may contain: [celery]")
    house.commit("A warning")
    printed(house)
    house.edit_stock("garden gin", "  may contain: [celery]\n", "")
    house.edit_stock("egg white", "contains: [egg]", "contains: none")
    assert told(house)[0] == "Marsh Sour – labels no longer name eggs, celery"


def test_a_drink_that_was_hidden_when_the_card_was_printed_is_new_to_its_guests(house):
    write_printed(house, "")
    house.edit("events/small-supper.yaml", "menu:", "off: [cream-cup]\nhide off: yes\nmenu:")
    house.commit("No cream")
    printed(house)
    house.edit("events/small-supper.yaml", "off: [cream-cup]\nhide off: yes\n", "")
    assert told(house) == ("Cream Cup – not on the card; contains: milk",)


def test_a_drink_that_was_only_sold_out_was_on_the_card(house):
    write_printed(house, "")
    house.edit("events/small-supper.yaml", "menu:", "off: [cream-cup]\nmenu:")
    house.commit("No cream")
    printed(house)
    house.edit("events/small-supper.yaml", "off: [cream-cup]\n", "")
    assert told(house) == ()


def test_two_drinks_that_change_names_are_held_against_the_card_by_name(house):
    for slug, then, now in (
        ("marsh-sour", "Marsh Sour", "Cream Cup"),
        ("cream-cup", "Cream Cup", "Marsh Sour"),
    ):
        house.edit(f"specs/{slug}.md", f"name: {then}", f"name: {now}")
    # With aquafaba each may contain lupin, as the card says of it.
    assert told(house) == (
        "Cream Cup – now contains eggs",
        "Marsh Sour – now contains milk",
        f"Cream Cup – {RAW_EGG}",
        "Cream Cup – labels no longer name milk",
        "Marsh Sour – labels no longer name eggs",
        ASK,
    )


def test_two_swaps_at_once_that_leave_something_out_no_longer_are_told(house):
    write_printed(house, "")
    house.edit("specs/cream-cup.md", "  - 30 ml single cream", "  - 30 ml single cream\n  - 10 ml orgeat")
    house.edit_stock("single cream", "contains: [milk]", "contains: [milk, almond]")
    house.edit(
        "specs/cream-cup.md",
        "  single cream: 30 ml aquafaba",
        "  single cream: 30 ml aquafaba\n  orgeat: sugar syrup",
    )
    house.commit("Two ways round")
    printed(house)
    house.edit_stock("sugar syrup", "contains: none", "contains: [almond]")
    both = "aquafaba instead of single cream, sugar syrup instead of orgeat"
    assert told(house) == (f"Marsh Sour, Cream Cup ({both}) – each now contains almonds",)


def test_two_translations_that_change_places_are_held_against_the_card_in_that_language(house):
    def named(marsh: str, cream: str) -> None:
        for slug, name in (("marsh-sour", marsh), ("cream-cup", cream)):
            path = f"specs/{slug}.md"
            lines = (house.house / path).read_text("utf-8").split("\n")
            lines = [line for line in lines if not line.startswith("translations:")]
            lines.insert(2, f"translations: {{fr: {{name: {name}}}}}")
            house.write(path, "\n".join(lines))

    write_printed(house, "")
    house.edit("events/small-supper.yaml", "menu:", "languages: [en, fr]\nmenu:")
    named("Le Marais", "La Coupe")
    house.commit("In French")
    printed(house)
    named("La Coupe", "Le Marais")
    look = tidy_result(house)
    english, french = event_menus(look, look.events[0])
    assert english.since_card is None
    assert french.since_card is not None
    assert {"La Coupe – contient désormais\N{NO-BREAK SPACE}: œufs"} <= set(french.since_card.sentences())


@pytest.mark.parametrize(
    ("stock", "before", "after", "is_told"),
    [
        ("aquafaba", "may contain: [lupin]", "may contain: [egg]", True),
        ("aquafaba", "contains: none", "contains: [egg]", False),
        ("egg white", "contains: [egg]", "contains: none\n  may contain: [egg]", True),
        ("aquafaba", "may contain: [lupin]", "may contain: [egg, celery]", True),
    ],
)
def test_a_swap_that_is_gone_and_spared_guests_something_is_told(house, stock, before, after, is_told):
    gone = "Marsh Sour (aquafaba instead of egg white) – this choice is no longer offered"
    write_printed(house, "")
    house.edit_stock("egg white", "  cautions: [raw egg]\n", "  cautions: none\n")
    house.edit_stock(stock, before, after)
    house.commit("Another label")
    printed(house)
    house.edit("specs/marsh-sour.md", "swap:\n  egg white: 20 ml aquafaba\n", "")
    assert (gone in told(house)) is is_told


def test_a_swap_that_spared_guests_a_caution_alone_is_told_when_it_is_gone(house):
    gone = "Marsh Sour (aquafaba instead of egg white) – this choice is no longer offered"
    write_printed(house, "")
    house.edit_stock("egg white", "contains: [egg]", "contains: none")
    house.commit("Of no egg")
    printed(house)
    house.edit("specs/marsh-sour.md", "swap:\n  egg white: 20 ml aquafaba\n", "")
    assert told(house) == (gone,)
    house.edit_stock("egg white", "  cautions: [raw egg]\n", "  cautions: none\n")
    assert told(house) == ()


def test_a_swap_that_is_gone_and_spared_guests_nothing_that_is_still_in_it_is_not_told(house):
    house.edit("specs/marsh-sour.md", "swap:\n  egg white: 20 ml aquafaba\n", "")
    house.edit_stock(
        "egg white", "contains: [egg]\n  cautions: [raw egg]", "contains: none\n  cautions: none"
    )
    assert told(house) == ("Marsh Sour – labels no longer name eggs", ASK)


def test_a_swap_that_spared_guests_nothing_is_not_told_whatever_the_drink_has_now(house):
    write_printed(house, "")
    house.edit_stock(
        "egg white", "contains: [egg]\n  cautions: [raw egg]", "contains: none\n  may contain: [celery]"
    )
    house.edit_stock("aquafaba", "may contain: [lupin]", "may contain: [celery]")
    house.commit("Celery in both")
    printed(house)
    house.edit("specs/marsh-sour.md", "swap:\n  egg white: 20 ml aquafaba\n", "")
    house.edit_stock(
        "egg white", "contains: none\n  may contain: [celery]", "contains: [celery]\n  cautions: none"
    )
    assert told(house) == ("Marsh Sour – now contains celery",)


def test_a_caution_that_is_gone_is_not_told(house):
    write_printed(house, "")
    house.edit_stock("aquafaba", "contains: none", "contains: none\n  cautions: [raw egg]")
    house.commit("Raw egg in both")
    printed(house)
    house.edit_stock("egg white", "cautions: [raw egg]", "cautions: none")
    assert told(house) == ()


def test_what_drinks_were_warned_of_before_makes_no_two_lines_of_one(house):
    house.edit("events/small-supper.yaml", "printed:", "# printed:")
    house.edit_stock("egg white", "contains: [egg]", "contains: [egg]\n  may contain: [celery]")
    house.commit("A warning")
    printed(house)
    house.edit_stock("egg white", "contains: [egg]\n  may contain: [celery]", "contains: [egg, celery]")
    house.edit_stock("single cream", "contains: [milk]", "contains: [milk, celery]")
    assert told(house) == ("Marsh Sour, Cream Cup – each now contains celery",)


def test_a_caution_that_is_new_is_told_of_each_way_that_has_it(house):
    house.edit_stock("aquafaba", "contains: none", "contains: none\n  cautions: [raw egg]")
    assert told(house) == (
        "Marsh Sour (aquafaba instead of egg white), Cream Cup (aquafaba instead of single cream) – "
        + RAW_EGG,
    )
    house.edit_stock("single cream", "contains: [milk]", "contains: [milk]\n  cautions: [raw egg]")
    assert told(house) == ("Marsh Sour (aquafaba instead of egg white), Cream Cup – " + RAW_EGG,)


def test_a_caution_that_is_the_bars_alone_is_not_told(house):
    house.edit_stock("garden gin", "contains: none", "contains: none\n  cautions: [infusion]")
    assert told(house) == ()


def test_a_drink_that_is_new_is_told_with_its_cautions(house):
    write_printed(house, "")
    house.edit("events/small-supper.yaml", "      - marsh-sour: 9.50\n", "")
    house.commit("One drink")
    printed(house)
    house.edit("events/small-supper.yaml", "      - cream-cup", "      - cream-cup\n      - marsh-sour")
    assert told(house) == ("Marsh Sour – not on the card; contains: eggs", f"Marsh Sour – {RAW_EGG}")


def test_equipment_that_drinks_share_now_is_told_and_what_they_shared_before_is_not(house):
    write_printed(house, "")
    house.edit("events/small-supper.yaml", "menu:", "equipment: [shared shakers]\nmenu:")
    house.commit("Shakers")
    printed(house)
    house.edit("events/small-supper.yaml", "[shared shakers]", "[Shared Shakers, shared blender]")
    assert told(house) == ("We work with shared blender, so traces can pass from one drink to the next.",)
    house.edit("events/small-supper.yaml", "menu:", "languages: [en, fr]\nmenu:")
    house.edit("events/small-supper.yaml", "shared blender", "our tongs")
    look = tidy_result(house)
    english, french = event_menus(look, look.events[0])
    assert english.since_card is not None
    assert english.since_card.sentences()[0].startswith("We work with our tongs, so ")
    assert french.since_card is not None
    assert french.since_card.sentences() == french.kitchen  # what has no French name is not named
    house.edit("events/small-supper.yaml", "equipment: [Shared Shakers, our tongs]\n", "")
    assert told(house) == ()


def test_while_a_label_is_unread_nothing_is_said_to_be_lost():
    full = [{"almond": True, "egg": False}, {}, {}, {}]
    now = with_labels([{}, {}, {}, {}])
    slug, drink = next(iter(now.drinks.items()))
    first, *others = drink.serve.lines
    unlabelled = replace(first, stock=replace(first.stock, contains=None))
    serve = replace(drink.serve, lines=(unlabelled, *others))
    unread = replace(now, drinks={**now.drinks, slug: replace(drink, serve=serve)})
    for facts, lost in ((now, 1), (unread, 0)):
        found = since_card(
            PrintedCard(with_labels(full)), facts, guest_menu(facts, "slate"), words_of(facts, "en")
        )
        assert len(found.lost if found else ()) == lost


def test_a_drink_the_card_does_not_know_says_what_it_contains(house):
    house.write(
        "specs/orgeat-soda.md",
        "---\nname: Almond Soda\npour: 20 ml orgeat\ntop: soda water\nglass: highball\n---\nTall.\n",
    )
    house.edit("events/small-supper.yaml", "      - marsh-sour", "      - orgeat-soda\n      - marsh-sour")
    assert told(house) == ("Almond Soda – not on the card; contains: almonds",)


@pytest.mark.parametrize("hidden", [True, False])
def test_a_sold_out_drink_was_on_the_card_unless_it_was_hidden(house, hidden):
    off = "off: [cream-cup]\nhide off: yes\n" if hidden else "off: [cream-cup]\nhide off: no\n"
    house.edit("events/small-supper.yaml", "menu:", f"{off}menu:")
    house.commit("Cream Cup is sold out")
    printed(house)
    house.edit("events/small-supper.yaml", off, "")
    found = [sentence for sentence in told(house) if sentence.startswith("Cream Cup")]
    assert bool(found) is hidden, "guests never saw it on a card that hid it"


def test_a_drink_whose_file_is_called_otherwise_is_still_the_drink_on_the_card(house):
    git(house.house, "mv", "specs/marsh-sour.md", "specs/sour-of-the-marsh.md")
    house.edit("events/small-supper.yaml", "marsh-sour", "sour-of-the-marsh")
    house.edit_stock("garden gin", "contains: none", "contains: [almond]")
    assert told(house) == ("Marsh Sour, Cream Cup – each now contains almonds",)


def test_a_warning_that_became_an_ingredient_is_told_and_so_is_the_way_back(house):
    house.edit_stock("garden gin", "contains: none", "contains: none\n  may contain: [almond]")
    house.commit("A warning")
    printed(house)
    house.edit_stock("garden gin", "contains: none\n  may contain: [almond]", "contains: [almond]")
    assert told(house) == ("Marsh Sour, Cream Cup – each now contains almonds",)
    house.commit("An ingredient")
    printed(house)
    house.edit_stock("garden gin", "contains: [almond]", "contains: none\n  may contain: [almond]")
    assert told(house) == ("Marsh Sour, Cream Cup – labels now say only “may contain”: almonds", ASK)


def test_nuts_are_told_by_name_and_not_as_a_group(house):
    house.edit_stock("garden gin", "contains: none", "contains: [almond]\n  may contain: [hazelnut]")
    house.commit("Two nuts")
    printed(house)
    house.edit_stock("garden gin", "contains: [almond]", "contains: none")
    assert told(house) == ("Marsh Sour, Cream Cup – labels no longer name almonds", ASK)


def test_a_way_out_that_is_gone_is_told_where_the_drink_still_holds_what_it_left_out(house):
    house.edit("specs/cream-cup.md", "swap:\n  single cream: 30 ml aquafaba\n", "")
    assert told(house) == ("Cream Cup (aquafaba instead of single cream) – this choice is no longer offered",)
    house.edit_stock("single cream", "contains: [milk]", "contains: none")
    assert told(house) == ("Cream Cup – labels no longer name milk", ASK)


def test_a_way_that_the_card_does_not_know_is_told_by_what_it_brings_and_never_by_what_it_leaves_out(house):
    house.edit("specs/cream-cup.md", "swap:\n", "swap:\n  gin: 30 ml orgeat\n")
    assert told(house) == ("Cream Cup (orgeat instead of gin) – now contains almonds",)


def test_an_event_called_otherwise_is_followed(house):
    git(house.house, "mv", "events/small-supper.yaml", "events/winter-supper.yaml")
    house.edit_stock("garden gin", "contains: none", "contains: [almond]")
    assert told(house) == ("Marsh Sour, Cream Cup – each now contains almonds",)
    house.edit("events/winter-supper.yaml", "event: Small Supper", "event: Winter Supper")
    assert told(house) == ("Marsh Sour, Cream Cup – each now contains almonds",)
    assert warnings(house) == []


def test_another_event_that_is_still_there_is_not_taken_for_this_one(house):
    house.write("events/a-second.yaml", (house.house / "events/small-supper.yaml").read_text("utf-8"))
    look = tidy_result(house)
    second = next(facts for facts in look.events if facts.event.slug == "a-second")
    assert next(event_menus(look, second)).since_card == SinceCard(advice=(UNSURE,))
    (warning,) = warnings(house)
    assert 'has no event "a-second"' in warning


def test_where_the_version_is_not_known_the_page_fails_safe(house):
    write_printed(house, "0123456")
    assert told(house) == (UNSURE,)
    (warning,) = warnings(house)
    assert 'git knows no revision "0123456" here' in warning
    look = tidy_result(house)
    assert not look.stopped
    files = event_files(look, look.events[0])
    assert json.loads(files["site/menu.json"])["changes"] == [UNSURE]
    for page in ("site/index.html", "site/t/index.html"):
        assert UNSURE in files[page].decode()
    shutil.rmtree(house.house / ".git")
    assert told(house) == (UNSURE,)


def test_a_card_from_files_that_were_not_committed_is_told_of_as_far_as_it_is_known(house):
    write_printed(house, f"{printed(house)}+0123456")
    house.edit_stock("garden gin", "contains: none", "contains: [almond]")
    assert told(house) == ("Marsh Sour, Cream Cup – each now contains almonds", UNSURE)
    assert len(warnings(house)) == 1


@pytest.mark.slow
@pytest.mark.parametrize("with_git", [True, False])
def test_a_card_of_this_very_menu_says_what_the_page_says(house, with_git):
    write_printed(house, "")
    house.edit_stock("garden gin", "contains: none", "contains: [almond]")
    if not with_git:
        shutil.rmtree(house.house / ".git")
    version = menu(house).version
    write_printed(house, version)
    assert menu(house).version == version
    assert told(house) == ()
    assert warnings(house) == []
    if with_git:
        house.commit("Committed as it was printed")
        assert menu(house).version != version
        assert told(house) == ()
        assert warnings(house) == []


def test_a_drink_that_could_not_be_worked_out_then_is_not_called_absent(tmp_path):
    made = books(tmp_path)
    made.edit("specs/marsh-sour.md", "25 ml lemon juice", "25 ml of what was left")
    made.commit("A slip")
    printed(made)
    made.edit("specs/marsh-sour.md", "25 ml of what was left", "25 ml orgeat")
    assert told(made) == ("Marsh Sour – cannot be compared with the card", UNSURE)
    (warning,) = warnings(made)
    assert "Marsh Sour cannot be worked out as it is in" in warning


def test_a_bottle_that_could_not_be_read_then_cannot_be_compared(tmp_path):
    made = books(tmp_path)
    made.edit_stock("garden gin", "abv: 40 %", "abv: forty")
    made.commit("A slip")
    printed(made)
    made.edit_stock("garden gin", "abv: forty", "abv: 40 %")
    made.edit_stock("garden gin", "contains: none", "contains: [almond]")
    assert told(made) == ("Marsh Sour – cannot be compared with the card", UNSURE)


def test_a_label_nobody_had_read_then_cannot_be_compared(tmp_path):
    made = books(tmp_path)
    made.edit_stock("garden gin", "  contains: none\n", "")
    made.commit("Not read")
    printed(made)
    made.edit_stock("garden gin", "abv: 40 %", "abv: 40 %\n  contains: none")
    assert told(made) == ("Marsh Sour – cannot be compared with the card", UNSURE)


def test_nor_can_such_a_drink_under_the_name_of_another_file(tmp_path):
    made = books(tmp_path)
    made.edit_stock("garden gin", "  contains: none\n", "")
    made.commit("Not read")
    printed(made)
    made.edit_stock("garden gin", "abv: 40 %", "abv: 40 %\n  contains: none")
    git(made.house, "mv", "specs/marsh-sour.md", "specs/moor-sour.md")
    made.edit("events/small-supper.yaml", "marsh-sour", "moor-sour")
    assert told(made) == ("Marsh Sour – cannot be compared with the card", UNSURE)


def test_an_event_whose_file_could_not_be_read_then_is_not_called_missing(tmp_path):
    made = books(tmp_path)
    made.edit("events/small-supper.yaml", "2026-12-12", "the twelfth")
    made.commit("A slip")
    printed(made)
    made.edit("events/small-supper.yaml", "the twelfth", "2026-12-12")
    assert told(made) == (UNSURE,)
    (warning,) = warnings(made)
    assert "the event's file cannot be read in" in warning
    assert "no event" not in warning


def test_the_page_and_the_machines_are_told_where_the_event_names_its_cards(house):
    house.edit_stock("garden gin", "contains: none", "contains: [almond]")
    look = tidy_result(house)
    files = event_files(look, look.events[0])
    form = json.loads(files["site/menu.json"])
    assert form["changes"] == ["Marsh Sour, Cream Cup – each now contains almonds"]
    assert (form["date"], form["uncommitted"]) == ("2026-12-12", True)
    for page in ("site/index.html", "site/t/index.html"):
        text = files[page].decode()
        assert text.count("Since the card was printed") == 1
        assert "<b>Marsh Sour, Cream Cup</b> – each now contains almonds" in text
    assert b"Since the card" not in files["site/allergens.html"]
    assert form["version"] in files["print/cards-a4.html"].decode()


@pytest.mark.slow
@pytest.mark.parametrize(
    ("language", "sentence"),
    [
        ("fr", "Marsh Sour, Cream Cup – contiennent désormais\N{NO-BREAK SPACE}: amandes"),
        ("ar", "Marsh Sour، Cream Cup – تحتوي الآن على: لوز"),
    ],
)
def test_other_languages_say_it_with_bare_nouns(house, language, sentence):
    house.edit("events/small-supper.yaml", "menu:", f"languages: [en, {language}]\nmenu:")
    house.edit_stock("garden gin", "contains: none", "contains: [almond]")
    look = tidy_result(house)
    _, other = event_menus(look, look.events[0])
    assert other.since_card is not None
    assert other.since_card.sentences() == (sentence,)
    text = event_files(look, look.events[0])[f"site/{language}/t/index.html"].decode()
    assert '<span lang="en" dir="auto">Marsh Sour</span>' in text


def test_a_swap_is_said_in_the_pages_language_with_the_houses_names_in_it(house):
    house.edit("events/small-supper.yaml", "menu:", "languages: [en, fr]\nmenu:")
    house.edit_stock("aquafaba", "  contains: none\n", "  contains: [soy]\n")
    look = tidy_result(house)
    files = event_files(look, look.events[0])
    told = json.loads(files["site/fr/menu.json"])["changes"][0]
    assert told.startswith("Marsh Sour (aquafaba au lieu de egg white), Cream Cup (")
    page = files["site/fr/drinks/cream-cup.html"].decode()
    assert (
        '<span lang="en" dir="auto">aquafaba</span> au lieu de <span lang="en" dir="auto">single cream</span>'
        in page
    )


def test_one_publish_has_one_name_in_every_language_and_on_its_cards(house):
    house.edit("events/small-supper.yaml", "menu:", "languages: [en, fr, ar]\nmenu:")
    look = tidy_result(house)
    versions = {found.version for found in event_menus(look, look.events[0])}
    assert len(versions) == 1
    house.edit(
        "events/small-supper.yaml",
        "event: Small Supper",
        "event: Small Supper\ntranslations: {fr: {event: Petit souper}}",
    )
    look = tidy_result(house)
    assert {found.version for found in event_menus(look, look.events[0])}.isdisjoint(versions)


def test_every_page_and_card_carries_version_day_and_what_is_not_committed(house):
    house.edit("events/small-supper.yaml", "menu:", "languages: [en, fr]\nmenu:")
    look = tidy_result(house)
    version = next(event_menus(look, look.events[0])).version
    files = event_files(look, look.events[0])
    pages = [path for path in files if path.endswith(".html") and path.startswith("site/")]
    assert len(pages) == 14
    for path in pages:
        french = path.startswith("site/fr/")
        line = f"Carte {version} · 12 décembre 2026" if french else f"Menu {version} · 12 December 2026"
        words = (
            "avec des modifications non encore enregistrées" if french else "with changes not yet committed"
        )
        assert f'<p class="version">{line} · {words}</p>' in files[path].decode(), path
    for paper in ("a4", "letter"):
        cards = files[f"print/cards-{paper}.html"].decode()
        # Two cards of two faces, and the head that is seen on screens.
        assert cards.count(f"Menu {version} · 12 December 2026<") == 5
        assert "not yet" not in cards
    house.commit("Kept")
    look = tidy_result(house)
    version = git(house.house, "rev-parse", "HEAD")[:7]
    page = event_files(look, look.events[0])["site/t/index.html"].decode()
    assert f'<p class="version">Menu {version} · 12 December 2026</p>' in page


def test_an_arabic_version_line_keeps_the_order_of_its_figures(house):
    house.edit("events/small-supper.yaml", "menu:", "languages: [ar]\nmenu:")
    found = menu(house)
    assert f"\u2068{found.version}\u2069 · " in found.version_line
    assert replace(found, version_line="").version == found.version


@cache
def supper() -> EventFacts:
    menu_of_two = texts()["events/small-supper.yaml"] + "      - cream-cup\n"
    reading = reading_of(texts(**{"specs/cream-cup.md": CREAM_CUP, "events/small-supper.yaml": menu_of_two}))
    assert reading.house is not None
    facts, _ = work_out_event(reading.house, reading.house.events["small-supper"])
    assert facts is not None
    return facts


SUBSTANCES = ("almond", "celery", "egg", "hazelnut", "milk")
LABELS = st.dictionaries(st.sampled_from(SUBSTANCES), st.booleans())
"""What a way to make a drink is labelled with: whether each substance is contained, or may be."""


def labelled(serve: Serve, label: dict[str, bool]) -> Serve:
    def declared(*, contained: bool) -> tuple[Declared, ...]:
        named = sorted(one for one, certain in label.items() if certain is contained)
        return tuple(Declared(one, one, (one,), (one,), "", duty=True) for one in named)

    return replace(serve, declaration=Declaration(declared(contained=True), declared(contained=False)))


def with_labels(labels: list[dict[str, bool]]) -> EventFacts:
    """The supper with other labels: each drink's, then that of its one swap."""
    left = iter(labels)
    drinks = {}
    for slug, drink in supper().drinks.items():
        serve = labelled(drink.serve, next(left))
        swaps = tuple(replace(swap, serve=labelled(swap.serve, next(left))) for swap in drink.swaps)
        drinks[slug] = replace(drink, serve=serve, swaps=swaps)
    return replace(supper(), drinks=drinks)


@pytest.mark.slow
@given(st.lists(LABELS, min_size=4, max_size=4), st.lists(LABELS, min_size=4, max_size=4))
def test_everything_gained_and_lost_is_told_of_each_drink_and_nothing_else_is(then, now):
    facts = with_labels(now)
    found = since_card(
        PrintedCard(with_labels(then)), facts, guest_menu(facts, "slate"), words_of(facts, "en")
    )
    gained = [change.text for change in found.gained] if found else []
    lost = [change.text for change in found.lost] if found else []
    for number, name in ((0, "Marsh Sour"), (2, "Cream Cup")):
        before, after = then[number], now[number]
        of_drink = [line for line in gained if name in line.replace(f"{name} (", "")]
        lost_of_drink = [line for line in lost if name in line.replace(f"{name} (", "")]
        for one in SUBSTANCES:
            rises = one in after and (one not in before or (after[one] and not before[one]))
            assert any(one in line.partition(" – ")[2] for line in of_drink) == rises
            falls = one in before and (one not in after or (before[one] and not after[one]))
            assert any(one in line.partition(" – ")[2] for line in lost_of_drink) == falls
    assert (found is None) == (then == now)


def test_a_card_printed_before_the_house_moved_is_known_still(tmp_path):
    made = books(tmp_path / "top")
    version = git(made.house, "rev-parse", "HEAD")[:7]
    (made.house / "bars").mkdir()
    for name in ("house.yaml", "specs", "stock", "events"):
        git(made.house, "mv", name, f"bars/{name}")
    made.commit("Moved")
    house = Books(made.house / "bars")
    write_printed(house, version)
    house.edit_stock("garden gin", "contains: none", "contains: [almond]")
    assert told(house) == ("Marsh Sour – now contains almonds",)
    assert warnings(house) == []
