"""The drinks that come with menugen, read: what a house's own are set beside."""

from collections.abc import Mapping

from menugen.reading import decode, read_spec
from menugen.records import Spec
from menugen.shipped import shipped_folder


def library_specs() -> Mapping[str, Spec]:
    """Return the starter library by slug, in the order of its files; one with a fault is passed over."""
    specs: dict[str, Spec] = {}
    for path in sorted(shipped_folder("specs").glob("*.md")):
        decoded = decode(path.read_bytes(), path.name)
        # The library measures in millilitres; its few dashes and spoons are the same everywhere.
        spec = None if decoded.problem else read_spec(decoded.text, path.name, "trade").spec
        if spec is not None:
            specs[spec.slug] = spec
    return specs
