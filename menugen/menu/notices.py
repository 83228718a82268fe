"""The responsible-drinking notices of a menu: what the place's rules ask for, then good practice."""

from collections.abc import Iterable, Sequence

from menugen import regions
from menugen.menu.guest import Notice
from menugen.regions import Region

_SHOWN_TO_GUESTS = ("menu", "premises", "website")


def kitchen_lines(equipment: Sequence[str]) -> tuple[str, ...]:
    """Return the honest sentences on cross-contact: what is shared tonight, and what cannot be promised."""
    usual = regions.caution("cross-contact").guest or ""
    if not equipment:
        return (usual,)
    shared = equipment[0] if len(equipment) == 1 else ", ".join(equipment[:-1]) + " and " + equipment[-1]
    _, _, promise = usual.partition(". ")
    return (f"We work with {shared}, so traces can pass from one drink to the next.", promise)


def menu_notices(
    region: Region, cautions: Iterable[str], *, has_prices: bool, rules: Sequence[str]
) -> tuple[Notice, ...]:
    """Return the notices in the order they are shown.

    Args:
        region: The rules on the day of the event.
        cautions: Every caution of every drink on the menu; some notices are asked for only with one.
        has_prices: Whether anything is charged; notices on prices are left out where nothing is.
        rules: The house's own, which come last.
    """
    present = set(cautions)
    notices = [
        Notice(notice.id, notice.topic, notice.text, notice.standing == "required", notice.prominent)
        for notice in region.notices
        if notice.text
        and notice.where in _SHOWN_TO_GUESTS
        and (not notice.needs_caution or notice.needs_caution in present)
        and (has_prices or notice.topic != "prices")
    ]
    medicines = regions.caution("medicines").guest
    if medicines and not any(notice.id == "medicines" for notice in notices):
        notices.append(Notice("medicines", "health", medicines, required=False, prominent=False))
    notices += [
        Notice(f"house-rule-{number}", "house", rule, required=False, prominent=False)
        for number, rule in enumerate(rules, start=1)
    ]
    return tuple(notices)
