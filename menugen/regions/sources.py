"""Where a fact of this package comes from."""

from dataclasses import dataclass
from functools import cache

from menugen.regions.data_files import load


@dataclass(frozen=True, slots=True)
class Source:
    """A publication.

    Attributes:
        id: "nhs-units".
        publisher: Who published it.
        title: Of the page, act or paper.
        year: Of the text that was used; None where the copy shows no date.
        section: Which part; may be empty.
        address: The publisher's own; may be empty.
        how: "read" where the publisher's own text was read in a stored copy, "reported" where someone else's
            summary was, "memory" where nothing was: a lead, not a fact.
        note: May be empty.
    """

    id: str
    publisher: str
    title: str
    year: int | None
    section: str
    address: str
    how: str
    note: str


@cache
def source(source_id: str) -> Source:
    """Return a source by its id.

    Raises:
        KeyError: There is no such source (a fault in the data).
    """
    raw = load("sources.yaml")["sources"][source_id]
    return Source(
        id=source_id,
        publisher=raw["publisher"],
        title=raw["title"],
        year=raw.get("year"),
        section=raw.get("section", ""),
        address=raw.get("address", ""),
        how=raw["how"],
        note=raw.get("note", ""),
    )
