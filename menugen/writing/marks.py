"""The icons of a menu's allergens, each with a drawing: its own, or the one that stands in for it."""

from dataclasses import replace

from menugen.menu import AllergenMark, GuestDrink, GuestMenu, GuestSwap
from menugen.writing.icons import icon_name

Marks = tuple[AllergenMark, ...]


def with_drawn_icons(menu: GuestMenu) -> GuestMenu:
    """Return the menu with every icon that has no drawing replaced by the one that stands in for it.

    What needs nothing replaced is the same record: of a long menu nothing is copied but its sections.
    """
    return replace(
        menu,
        sections=tuple(
            replace(section, drinks=tuple(_drawn_drink(drink) for drink in section.drinks))
            for section in menu.sections
        ),
        columns=tuple(replace(column, mark=_drawn_mark(column.mark)) for column in menu.columns),
        choices=tuple(replace(choice, icon=icon_name(choice.icon)) for choice in menu.choices),
    )


def icons_of(made: GuestDrink | GuestSwap) -> list[str]:
    """Return the icons of what a drink contains, may contain or was distilled from."""
    return [mark.icon for mark in (*made.contains, *made.may_contain, *made.distilled_from)]


def _drawn_drink(drink: GuestDrink) -> GuestDrink:
    if all(map(_all_drawn, drink.ways)):
        return drink
    return replace(
        drink,
        contains=_drawn_marks(drink.contains),
        may_contain=_drawn_marks(drink.may_contain),
        distilled_from=_drawn_marks(drink.distilled_from),
        swaps=_drawn_swaps(drink.swaps),
        combined=_drawn_swaps(drink.combined),
    )


def _drawn_swaps(swaps: tuple[GuestSwap, ...]) -> tuple[GuestSwap, ...]:
    return tuple(
        replace(
            swap,
            contains=_drawn_marks(swap.contains),
            may_contain=_drawn_marks(swap.may_contain),
            distilled_from=_drawn_marks(swap.distilled_from),
        )
        for swap in swaps
    )


def _all_drawn(made: GuestDrink | GuestSwap) -> bool:
    return all(icon == icon_name(icon) for icon in icons_of(made))


def _drawn_marks(marks: Marks) -> Marks:
    return tuple(_drawn_mark(mark) for mark in marks)


def _drawn_mark(mark: AllergenMark) -> AllergenMark:
    return replace(mark, icon=icon_name(mark.icon))
