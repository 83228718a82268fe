"""Days and times as people write them where a revision is asked for."""

import re
from dataclasses import dataclass
from datetime import date, datetime

UNDERSTOOD = (
    'a month is written 2026-06, a day 2026-06-20, a time 2026-06-20T18:30; "yesterday", "2 weeks ago" and '
    '"last friday" are understood too'
)

_MONTH = re.compile(r"\d{4}-\d{2}")
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
_TIME = re.compile(r"(\d{4}-\d{2}-\d{2})[T ](\d{2}:\d{2}(?::\d{2})?) ?(Z|[+-]\d{2}:?\d{2})?")
_UNITS = "second|minute|hour|day|week|month"
_WEEKDAYS = "monday|tuesday|wednesday|thursday|friday|saturday|sunday"
_FROM_NOW = re.compile(
    rf"yesterday|(?:\d{{1,3}}[ .](?:{_UNITS})|\d{{1,2}}[ .]year)s?[ .]ago|last[ .](?:week|month|year|{_WEEKDAYS})",
    re.IGNORECASE,
)
"""Git takes any word for a time, and most for this very moment: only what plainly is one is handed on to it."""


class WrongDate(ValueError):
    """Written like a date, and none; the message says so in plain words."""


@dataclass(frozen=True, slots=True)
class Until:
    """The moment up to which commits count; exactly one of the three is set.

    Attributes:
        local: On the committer's own clock, so that the answer is the same on every machine: a text that no earlier
            "2026-06-20T18:30:00" sorts after.
        epoch_s: Seconds since 1970 began, where a time was written with its zone; None else.
        from_now: As git is to reckon it from now: "2 weeks ago".
    """

    local: str = ""
    epoch_s: float | None = None
    from_now: str = ""


def until(word: str) -> Until | None:
    """Return the moment a word means; None where it is not written like a date.

    Raises:
        WrongDate: There is no such month, day or time.
    """
    if _FROM_NOW.fullmatch(word):
        return Until(from_now=word)
    if _MONTH.fullmatch(word):
        _checked(word, f"{word}-01")
        # "2026-06-99" sorts after every day of June.
        return Until(local=f"{word}-99")
    if _DAY.fullmatch(word):
        _checked(word, word)
        return Until(local=f"{word}T99")
    if (time := _TIME.fullmatch(word)) is None:
        return None
    day, clock, zone = time.groups()
    moment = _checked(word, f"{day}T{clock}{zone or ''}")
    return Until(epoch_s=moment.timestamp()) if zone else Until(local=moment.isoformat())


def _checked(word: str, written: str) -> datetime:
    try:
        if _DAY.fullmatch(written):
            return datetime.combine(date.fromisoformat(written), datetime.min.time())
        return datetime.fromisoformat(written)
    except ValueError:
        raise WrongDate(f'there is no such date as "{word}": {UNDERSTOOD}') from None
