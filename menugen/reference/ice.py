"""Ice by kind: how it packs and how cold it is."""

from dataclasses import dataclass
from functools import cache

from menugen.reference.names import plain_name
from menugen.reference.package_data import package_data


@dataclass(frozen=True, slots=True)
class ReferenceIce:
    """A kind of ice.

    Attributes:
        name: As specs write it: "cubed".
        names: Other names it goes by.
        liquid_share: Share of a glass left for liquid when ice is packed to the level of the drink, 0 to 1.
        usual_fill: Share of that packing a drink is usually served with, 0 to 1.
        least_fill: Share of it that is the least, where the drink needs the room.
        piece_mm: Side of one cube; None for ice that is no cubes.
        usual_c: Temperature it is worked with; 20 stands for no ice.
        source: Where the share comes from.
        status: How sure that is; see data/ingredients.yaml.
    """

    name: str
    names: tuple[str, ...]
    liquid_share: float
    usual_fill: float
    least_fill: float
    piece_mm: float | None
    usual_c: float
    source: str
    status: str


def ice(name: str) -> ReferenceIce | None:
    """Return the ice of this name or alias, or None where we know none. An empty name is no ice."""
    return _by_name().get(plain_name(name) or "none")


@cache
def _by_name() -> dict[str, ReferenceIce]:
    found: dict[str, ReferenceIce] = {}
    for entry in package_data("ice")["ice"]:
        share, status, source = entry["liquid_share"]
        known = ReferenceIce(
            name=entry["name"],
            names=tuple(entry["names"]),
            liquid_share=float(share),
            usual_fill=float(entry["usual_fill"][0]),
            least_fill=float(entry["least_fill"][0]),
            piece_mm=float(entry["piece_mm"][0]) if "piece_mm" in entry else None,
            usual_c=float(entry["usual_c"]),
            source=source,
            status=status,
        )
        found.update((plain_name(name), known) for name in (known.name, *known.names))
    return found
