"""What the preview shows at one moment: the pages of every event, or the problems that keep them away."""

import html
import os
import re
import shlex
import time
import traceback
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field, replace
from pathlib import Path

from menugen.facts import EventFacts
from menugen.house_photos import KEPT
from menugen.problems import DETAILS, Problem, Severity, draw_text, own_fault, summary, visible
from menugen.publishing import CheckedHouse, Unfit, check_house, event_files, with_page_problems
from menugen.reading import BrokenLink, DiskFiles, NotOnThisMachine
from menugen.ready import gone_from, replaced_by
from menugen.replacing import gone_text, report_text

RELOADER = b"""const source = new EventSource("/-/changes?" + location.pathname);
let first = true;
source.onmessage = () => { if (first) { first = false; } else { location.reload(); } };
"""
"""Runs only in the preview: the server's first word is where it stands, each later one says that the page changed."""

STYLE = b"""
.preview-problems { margin: 0; padding: 1rem; background: #fff8e1; color: #1a1300; border-block-end: 3px solid #8a5a00;
  font: 14px/1.45 ui-monospace, monospace; overflow-x: auto; }
.preview-problems pre { margin: 0; font: inherit; white-space: pre; }
.preview-list { font: 1.1rem/1.6 Georgia, serif; max-width: 36rem; margin: 3rem auto; padding: 0 1rem; }
"""


_KEEPS_A_COPY = re.compile(r"<script>.*?</script>", re.DOTALL)
"""The one script a page has that is run."""


@dataclass(frozen=True, slots=True)
class Pages:
    """Everything the preview can be asked for.

    Attributes:
        files: Path under the top -> content, "lantern-supper/site/index.html".
        problems: As drawn for a terminal; empty where there are none.
        took_s: How long it took to make them.
        replaced: What they would take the place of in the house's own output, and what else is there, as text.
        alarms: By the event's slug: the part of it that must not be missed on that event's pages.
    """

    files: dict[str, bytes]
    problems: str
    took_s: float
    replaced: str = ""
    alarms: Mapping[str, str] = field(default_factory=dict)

    def shown(self, path: str) -> tuple[bytes | None, str]:
        """Return all that a browser is given for a page."""
        return self.files.get(path), self.panel(path)

    def panel(self, path: str) -> str:
        """Return what stands above a page, as text; empty for nothing."""
        alarms = self.alarms.get(path.partition("/")[0], "")
        if path == "index.html" and self.alarms:
            alarms = self.replaced
        return "\n".join(part for part in (alarms, self.problems) if part)


class Outdated(Exception):
    """There was another save before all pages were made."""


def make_pages(folder: Path, event: str | None, last: Pages | None = None) -> Pages:
    """Return the pages as the files now have them; whatever goes wrong is among the problems, and never raised.

    Where a problem stops a publish, the last good pages stay, under the problems.
    """
    (made,) = pages_in_turn(folder, event, last)
    return made


def pages_in_turn(
    folder: Path,
    event: str | None,
    last: Pages | None = None,
    first: Collection[str] = (),
    outdated: Callable[[], bool] = lambda: False,
) -> Iterator[Pages]:
    """Yield the last pages with those of them made again that somebody is looking at, then all pages made again.

    The first are yielded only where nothing is wrong with them; what they take the place of is said with all.

    Args:
        folder: The house.
        event: Slug of the one event that is shown; None shows all.
        last: As yielded before.
        first: Paths of the pages that somebody is looking at.
        outdated: Asked from time to time, once those are made, whether there was another save.

    Raises:
        Outdated: There was; all are to be made again anyway.
    """
    begun = time.perf_counter()
    last = last or Pages({"index.html": _list_of_events(())}, "", 0.0)
    try:
        for made in _made(folder, event, last, first, outdated):
            yield _with_ours(made, begun)
    except Outdated:
        raise
    except Exception as fault:  # noqa: BLE001  # the last stop: a preview goes on until the next save
        yield _with_ours(replace(last, problems=_sentence(fault) + _LAST_GOOD), begun)


def _with_ours(made: Pages, begun: float) -> Pages:
    made.files.update({"-/reload.js": RELOADER, "-/preview.css": STYLE})
    return replace(made, took_s=time.perf_counter() - begun)


_LAST_GOOD = "the pages below are the last good ones\n"


def _made(
    folder: Path, event: str | None, last: Pages, first: Collection[str], outdated: Callable[[], bool]
) -> Iterator[Pages]:
    checked = check_house(folder, DiskFiles(folder), event, kept=folder / "out" / KEPT)
    listed = _list_of_events(checked.events)
    said = ""
    if first and not checked.stopped:
        # Whatever is wrong with a page is found again, and told, with all.
        with suppress(Exception):
            files = dict(_first_files(checked, first))
            yield replace(last, files={**last.files, **files}, problems=_drawn(checked))
    try:
        checked, made = _files_of(checked, outdated)
        if not checked.stopped:
            replaced, alarms = _replaced(checked, made, folder)
            files = {f"{slug}/{path}": content for slug, own in made.items() for path, content in own.items()}
            yield Pages({**files, "index.html": listed}, _drawn(checked), 0.0, replaced, alarms)
            return
    except Outdated:
        raise
    except Exception as fault:  # noqa: BLE001  # what else is wrong with the house is told beside it
        said = _sentence(fault) + _LAST_GOOD
    yield replace(last, files={**last.files, "index.html": listed}, problems=_drawn(checked) + said)


def _first_files(checked: CheckedHouse, first: Collection[str]) -> Iterator[tuple[str, bytes]]:
    """Yield the files of pages that somebody is looking at, of those events that are shown.

    Raises:
        Unfit: Something is wrong with one.
    """
    for facts in checked.events:
        top = f"{facts.event.slug}/"
        wanted = {path.removeprefix(top) for path in first if path.startswith(top)}
        if wanted:
            made = event_files(checked, facts, only=wanted)
            yield from ((top + path, content) for path, content in made.items())


def _files_of(
    checked: CheckedHouse, outdated: Callable[[], bool]
) -> tuple[CheckedHouse, dict[str, Mapping[str, bytes]]]:
    """Return a house with what is wrong with its pages too, and the files of each event whose pages are whole."""
    made: dict[str, Mapping[str, bytes]] = {}
    if checked.stopped:
        return with_page_problems(checked), made
    unfit: list[Problem] = []

    def go_on() -> None:
        if outdated():
            raise Outdated

    for facts in checked.events:
        try:
            made[facts.event.slug] = event_files(checked, facts, at_each=go_on)
        except Unfit as fault:
            unfit += fault.problems
    return replace(checked, problems=tuple(dict.fromkeys((*checked.problems, *unfit)))), made


def _sentence(fault: Exception) -> str:
    """Return what is to be said of whatever stopped the pages, as lines."""
    if isinstance(fault, MemoryError):
        return (
            "this machine has too little free memory to make the pages: close other programs and save again\n"
        )
    if isinstance(fault, BrokenLink):
        return f"{visible(str(fault.filename))}: {fault.why}\n"
    if isinstance(fault, NotOnThisMachine):
        return f"{visible(str(fault))}\n"
    if isinstance(fault, OSError) and fault.filename is not None:
        return f"{visible(os.fsdecode(fault.filename))}: {fault.strerror}\n"
    if os.environ.get(DETAILS):
        traceback.print_exception(fault)
    return f"{own_fault(fault)}\n"


def _replaced(
    checked: CheckedHouse, made: Mapping[str, Mapping[str, bytes]], folder: Path
) -> tuple[str, Mapping[str, str]]:
    """Return what the pages would take the place of in the house's output, in all and by the event it alarms at."""
    out = folder / "out"
    gone = gone_from(checked, out)
    every = [replaced_by(facts, made[facts.event.slug], out, gone) for facts in checked.events]
    in_git = shlex.quote(folder.as_posix()) if checked.stamp.revision else ""
    remove = shlex.join(["menugen", "publish", folder.as_posix(), "--remove-gone"])
    return (
        report_text(every, bold=False, in_git=in_git) + gone_text(gone, remove),
        {
            one.event: "Compared with what is published:\n\n" + report_text([one], bold=False)
            for one in every
            if one.alarming
        },
    )


def _drawn(checked: CheckedHouse) -> str:
    if not checked.problems:
        return ""
    stopped = any(problem.severity is Severity.ERROR for problem in checked.problems)
    text = draw_text(checked.problems, checked.reading.sources, prefix="", colour=False)
    after = "; the pages below are the last good ones" if stopped else ""
    return text + summary(checked.problems) + after + "\n"


def _list_of_events(events: Iterable[EventFacts]) -> bytes:
    rows = "".join(
        f'<li><a href="/{html.escape(facts.event.slug)}/site/">{html.escape(facts.event.name)}</a>, '
        f'<a href="/{html.escape(facts.event.slug)}/site/t/">table menu</a></li>'
        for facts in events
    )
    return (
        '<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Preview</title></head>'
        f'<body><ul class="preview-list">{rows}</ul></body></html>'
    ).encode()


def dressed(page: bytes, panel: str) -> bytes:
    """Return a page as the preview shows it: with a panel above it, and made again on every save.

    The page's own policy is for the published site; the preview sends one of its own that allows its two files.
    """
    text = page.decode("utf-8", "replace")
    start = text.find('<meta http-equiv="Content-Security-Policy"')
    if start >= 0:
        text = text[:start] + text[start:].partition(">")[2]
    # No copy is kept of a preview: its pages change at every save, and another house may have its port tomorrow.
    text = _KEEPS_A_COPY.sub("", text)
    head = '<link rel="stylesheet" href="/-/preview.css"><script src="/-/reload.js" defer></script>'
    # A look may have a page without these; it is shown all the same, and made again on every save.
    text = text.replace("</head>", f"{head}</head>", 1) if "</head>" in text else head + text
    if panel:
        above = f'<div class="preview-problems" role="status"><pre>{html.escape(panel)}</pre></div>'
        before, body, after = text.partition("<body")
        attributes, ends, rest = after.partition(">")
        text = f"{before}{body}{attributes}{ends}{above}{rest}" if ends else above + text
    return text.encode("utf-8")
