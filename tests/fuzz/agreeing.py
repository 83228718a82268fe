"""What two commands, or the same one twice, must agree on; each is run as one command of a case."""

import contextlib
import io
import json
from collections.abc import Callable, Mapping
from pathlib import Path

from menugen.cli import main
from menugen.house_photos import KEPT
from menugen.preview.pages import dressed, make_pages


class Disagreement(Exception):
    """Two that must agree do not."""


def _quietly(*words: str) -> tuple[int, str]:
    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        try:
            return main(words), out.getvalue()
        except SystemExit as left:
            return int(left.code or 0), out.getvalue()


def _files(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file() and KEPT not in path.parts
    }


def preview(house: Path, *event: str) -> int:
    """Make what the preview shows, twice, as after a save."""
    pages = make_pages(house, *(event or (None,)))
    again = make_pages(house, *(event or (None,)), pages)
    for path, content in again.files.items():
        if path.endswith(".html"):
            dressed(content, again.panel(path))
    print(again.replaced, again.problems)
    return 0


def publish_twice(house: Path) -> int:
    """Check, publish and publish again: what passes the check is published, the same each time, as it is previewed."""
    to = Path("twice")
    checked, _ = _quietly("check", "--quiet", str(house))
    first, _ = _quietly("publish", "--quiet", "--to", str(to), str(house))
    made = _files(to) if to.is_dir() else {}
    again, _ = _quietly("publish", "--quiet", "--to", str(to), str(house))
    if (checked == 1) != (first == 1):
        raise Disagreement(f"check says {checked} and publish {first}")
    if again != first or (_files(to) if to.is_dir() else {}) != made:
        raise Disagreement("a second publish is not the same")
    if first == 0:
        shown = make_pages(house, None).files
        sites = {path: content for path, content in made.items() if "/site/" in path}
        if sites != {path: content for path, content in shown.items() if "/site/" in path}:
            raise Disagreement("the preview shows something else than what was published")
    return 0


def compare_with_itself(house: Path) -> int:
    """Compare the last commit with itself: nothing has changed."""
    _, out = _quietly("compare", "--json", "--house", str(house), "HEAD", "HEAD")
    if out:
        told = json.loads(out)
        kinds = (
            "drinks_added",
            "drinks_gone",
            "drinks",
            "bottles",
            "stock",
            "stock_renamed",
            "stock_added",
            "stock_gone",
        )
        if any(told[kind] for kind in (*kinds, "house", "events_added", "events_gone", "events")):
            raise Disagreement("a commit is not what it is")
    return 0


TOGETHER: Mapping[str, Callable[..., int]] = {
    "(preview)": preview,
    "(publish twice)": publish_twice,
    "(compare with itself)": compare_with_itself,
}
