"""Whether the rules of the place that a region names are known, and whose rules hold where they are not."""

from collections.abc import Collection, Iterable, Iterator
from datetime import date

from menugen import regions
from menugen.problems import Place, Problem, did_you_mean, error, warning
from menugen.records import Event, House
from menugen.regions import Region, UnknownRegion


def region_place(house: House, event: Event | None) -> Place:
    """Return where the region is written that holds for an event, or for the house at home."""
    return (event.place if event and event.region != house.region else house.place).at("region")


def unknown_place(fault: UnknownRegion, where: Place) -> Problem:
    """Return the error for a region of which nothing is known."""
    code = fault.code
    message = f'there are no rules for the region "{code}"'
    hint = "the regions there are: " + ", ".join(fault.codes)
    if fault.country:
        message = f'there is no "{code}": ISO 3166-2 has no such part of {fault.country}'
        hint = _instead(code.partition("-")[0], fault.codes)
    meant = (f'did you mean "{fault.meant}"?',) if fault.meant else _meant(code, fault.codes)
    return error("unknown-region", message, where, *meant, hint)


def _instead(country: str, codes: Collection[str]) -> str:
    """Return what to write instead of a part of a country that there is not."""
    if country not in codes:
        return "write the code of the state: " + ", ".join(codes)
    if own := _own_parts(country):
        return f"write a part of it that there is; these have rules of their own here: {', '.join(own)}"
    return f'write "{country}" alone, or a part of it that there is'


def check_place(region: Region, where: Place) -> Iterator[Problem]:
    """Yield an error where a region is a name for several states, each with rules of its own."""
    if region.states:
        yield error(
            "region-too-wide",
            f'"{region.code}" is not one place: each of its states has its own age limits, units and notices',
            where,
            "write the code of the state: " + ", ".join(region.states),
        )


def check_whose_rules(house: House, events: Iterable[Event], *, at_home: bool) -> Iterator[Problem]:
    """Yield a warning for each region whose own rules are not known, or that leaves open which hold; once for each.

    Args:
        house: The house.
        events: Those that matter.
        at_home: Whether the house's own region matters too, for drinks on no menu.
    """
    written: dict[str, tuple[Place, date]] = {}
    if at_home and house.region:
        written[house.region] = (region_place(house, None), date.max)
    for event in events:
        if event.region:
            written.setdefault(event.region, (region_place(house, event), event.date))
    for code, (where, day) in written.items():
        try:
            region = regions.load_region(code, day)
        except UnknownRegion:
            continue  # reported for each event, which cannot be worked out
        yield from _whose_rules(region, where)


def _whose_rules(region: Region, where: Place) -> Iterator[Problem]:
    if region.rules_of != region.code:
        yield warning(
            "region-rules-unknown",
            f'no rules of {region.part_name} itself ("{region.code}") are known here: those of {region.called} hold',
            where,
            f"ask the licensing authority of {region.part_name} what it adds or has otherwise: ages, signs, measures, "
            "lowest prices, what a menu must say",
        )
    elif region.parts_differ:
        yield warning(
            "region-too-wide",
            f'"{region.code}" does not say which part of {region.called} this is, and parts of it have their own rules',
            where,
            "write the part as ISO 3166-2 has it; the rules of these are known here: "
            + ", ".join(_own_parts(region.code)),
        )


def _own_parts(country: str) -> tuple[str, ...]:
    return tuple(code for code, _ in regions.known_regions() if code.startswith(f"{country}-"))


def _meant(code: str, codes: Iterable[str]) -> tuple[str, ...]:
    """Return the hint that names near misses; what stands behind the hyphen may be a code by itself: "EU-AT"."""
    codes = tuple(codes)
    last = code.rpartition("-")[2]
    return did_you_mean(last if last in codes else code, codes)
