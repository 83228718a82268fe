"""The parts of countries that ISO 3166-2 has, whether or not they have rules of their own here."""

from menugen.regions.data_files import load, part_files


def part_name(code: str) -> str:
    """Return the English name of a part of a country, "Oregon" for "US-OR"; empty where ISO 3166-2 has none such."""
    part = _part(code)
    return str(part["name"] if isinstance(part, dict) else part or "")


def part_of(code: str) -> str:
    """Return what a part belongs to: "GB-SCT" for "GB-EDH", and the country where it belongs to no larger part."""
    country = code.partition("-")[0]
    part = _part(code)
    return f"{country}-{part['in']}" if isinstance(part, dict) else country


def parts_of(country: str) -> tuple[str, ...]:
    """Return the code of every part of a country, sorted; empty where they are not known here."""
    if country not in part_files():
        return ()
    return tuple(sorted(f"{country}-{part}" for part in load(f"parts/{country}.yaml")["parts"]))


def _part(code: str) -> dict[str, str] | str | None:
    country, _, part = code.partition("-")
    if not part or country not in part_files():
        return None
    found: dict[str, str] | str | None = load(f"parts/{country}.yaml")["parts"].get(part)
    return found
