"""The responsible-drinking notices of a menu: what the place's rules ask for, then good practice."""

from collections.abc import Iterable

from menugen import regions
from menugen.menu.catalogue import primary
from menugen.menu.guest import Notice
from menugen.menu.language import NO_BREAK, PageLanguage
from menugen.menu.own_words import OwnWords
from menugen.menu.words import NO_PROMISE, SHARED
from menugen.regions import Ages, PlaceNotice, Region

_SHOWN_TO_GUESTS = ("menu", "premises", "website")


def kitchen_lines(own: OwnWords, equipment: Iterable[str]) -> tuple[str, ...]:
    """Return the honest sentences on cross-contact: what is shared tonight, and what cannot be promised.

    Where the user's words for it are not in the page's language, the usual sentence stands instead: a guest with an
    allergy has to be able to read it.
    """
    page, shared = own.page, own.equipment(equipment)
    if not shared:
        return (page.say(regions.caution("cross-contact").guest or ""),)
    return page.filled(SHARED, shared=page.listed(shared)), page.say(NO_PROMISE)


def menu_notices(
    region: Region,
    cautions: Iterable[str],
    own: OwnWords,
    *,
    has_prices: bool,
    has_alcohol: bool,
    age: int | None,
) -> tuple[Notice, ...]:
    """Return the notices in the order they are shown.

    Args:
        region: The rules on the day of the event.
        cautions: Every caution of every drink on the menu; some notices are asked for only with one.
        own: The house's own rules, which come last, and the language of the page.
        has_prices: Whether anything is charged; notices on prices are left out where nothing is.
        has_alcohol: Whether any drink holds some; notices on it are left out where none does.
        age: The highest age from which any drink on the menu is served; None where none holds alcohol.
    """
    present = set(cautions)
    page = own.page
    notices = [
        _notice(notice, region, page)
        for notice in region.notices
        if notice.text
        and notice.where in _SHOWN_TO_GUESTS
        and (not notice.needs_caution or notice.needs_caution in present)
        and (has_prices or notice.topic != "prices")
        and _fits_age(notice, region.ages, age)
        and (has_alcohol or not notice.of_alcohol)
    ]
    medicines = regions.caution("medicines").guest if has_alcohol else None
    if medicines and not any(notice.id == "medicines" for notice in notices):
        notices.append(Notice("medicines", "health", page.say(medicines), required=False, prominent=False))
    notices += [
        Notice(
            f"house-rule-{number}",
            "house",
            rule.text,
            required=False,
            prominent=False,
            text_language=rule.language,
        )
        for number, rule in enumerate(own.rules(), start=1)
    ]
    return tuple(notices)


def _fits_age(notice: PlaceNotice, ages: Ages, age: int | None) -> bool:
    """Return whether a notice is one for menus whose strictest drink is served from this age."""
    if ages.lower is None or notice.needs_age not in ("served", "lower"):
        return True
    return (notice.needs_age == "lower") is (age == ages.lower.age)


def _notice(notice: PlaceNotice, region: Region, page: PageLanguage) -> Notice:
    filling = {name: _fact(name, text, region, page) for name, text in notice.filling}
    text = regions.filled(page.say(notice.pattern), filling)
    wording, language = notice.wording, notice.wording_language
    if wording and primary(language) == page.spoken:
        text, wording, language = wording, "", ""
    elif text == wording:  # nobody has translated it: the law's words are all there is
        text = ""
    return Notice(
        notice.id,
        notice.topic,
        text,
        required=notice.standing == "required",
        prominent=notice.prominent,
        wording=wording,
        wording_language=language,
    )


def _fact(name: str, text: str, region: Region, page: PageLanguage) -> str:
    """Return a fact of the place in the page's language; the name and the number of a help line stay as they are."""
    line = region.helpline
    if name != "helpline" or line is None:
        return page.say(text)
    number = line.number.replace(" ", NO_BREAK)  # read off a screen in one piece
    told = page.row([page.apart(line.name), page.apart(number)])
    return f"{told} ({page.say(line.note)})" if line.note else told
