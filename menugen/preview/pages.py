"""What the preview shows at one moment: the pages of every event, or the problems that keep them away."""

import html
import re
import shlex
import time
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from menugen.album import KEPT
from menugen.problems import Problem, Severity
from menugen.problems.drawing import draw_text, summary
from menugen.publishing import Look, Unfit, event_files, look_at_house, rehearsed
from menugen.reading import DiskFiles
from menugen.ready import gone_from, replaced_by
from menugen.replacing.gone import gone_text
from menugen.replacing.report import report_text

RELOADER = b"""const source = new EventSource("/-/changes");
let first = true;
source.onmessage = () => { if (first) { first = false; } else { location.reload(); } };
"""
"""Runs only in the preview: the server's first word is where it stands, each later one says the pages changed."""

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

    def panel(self, path: str) -> str:
        """Return what stands above a page, as text; empty for nothing."""
        alarms = self.alarms.get(path.partition("/")[0], "")
        if path == "index.html" and self.alarms:
            alarms = self.replaced
        return "\n".join(part for part in (alarms, self.problems) if part)


def make_pages(folder: Path, event: str | None, last: Pages | None = None) -> Pages:
    """Return the pages as the files now have them.

    Where a problem stops a publish, the last good pages stay, under the problems.
    """
    begun = time.perf_counter()
    look = look_at_house(folder, DiskFiles(folder), event, kept=folder / "out" / KEPT)
    files = dict(last.files) if last is not None else {}
    replaced, alarms = (last.replaced, last.alarms) if last is not None else ("", {})
    if look.stopped:
        look = rehearsed(look)
    else:
        made: dict[str, Mapping[str, bytes]] = {}
        unfit: list[Problem] = []
        for facts in look.events:
            try:
                made[facts.event.slug] = event_files(look, facts)
            except Unfit as fault:
                unfit += fault.problems
        look = replace(look, problems=tuple(dict.fromkeys((*look.problems, *unfit))))
        if not look.stopped:
            files = {f"{slug}/{path}": content for slug, own in made.items() for path, content in own.items()}
            replaced, alarms = _replaced(look, made, folder)
    files["-/reload.js"] = RELOADER
    files["-/preview.css"] = STYLE
    files["index.html"] = _list_of_events(look)
    return Pages(files, _drawn(look), time.perf_counter() - begun, replaced, alarms)


def _replaced(
    look: Look, made: Mapping[str, Mapping[str, bytes]], folder: Path
) -> tuple[str, Mapping[str, str]]:
    """Return what the pages would take the place of in the house's output, in all and by the event it alarms at."""
    out = folder / "out"
    gone = gone_from(look, out)
    every = [replaced_by(facts, made[facts.event.slug], out, gone) for facts in look.events]
    in_git = shlex.quote(folder.as_posix()) if look.stamp.revision else ""
    remove = shlex.join(["menugen", "publish", folder.as_posix(), "--remove-gone"])
    return (
        report_text(every, bold=False, in_git=in_git) + gone_text(gone, remove),
        {
            one.event: "Compared with what is published:\n\n" + report_text([one], bold=False)
            for one in every
            if one.alarming
        },
    )


def _drawn(look: Look) -> str:
    if not look.problems:
        return ""
    stopped = any(problem.severity is Severity.ERROR for problem in look.problems)
    text = draw_text(look.problems, look.reading.sources, prefix="", colour=False)
    after = "; the pages below are the last good ones" if stopped else ""
    return text + summary(look.problems) + after + "\n"


def _list_of_events(look: Look) -> bytes:
    rows = "".join(
        f'<li><a href="/{html.escape(facts.event.slug)}/site/">{html.escape(facts.event.name)}</a>, '
        f'<a href="/{html.escape(facts.event.slug)}/site/t/">table menu</a></li>'
        for facts in look.events
    )
    return (
        '<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Preview</title></head>'
        f'<body><ul class="preview-list">{rows}</ul></body></html>'
    ).encode()


def dressed(page: bytes, panel: str) -> bytes:
    """Return a page as the preview shows it: with a panel above it, and made again on every save.

    The page's own policy is for the published site; the preview sends one of its own that allows its two files.
    """
    text = page.decode("utf-8")
    start = text.find('<meta http-equiv="Content-Security-Policy"')
    if start >= 0:
        text = text[:start] + text[text.index(">", start) + 1 :]
    # No copy is kept of a preview: its pages change at every save, and another house may have its port tomorrow.
    text = _KEEPS_A_COPY.sub("", text)
    head = '<link rel="stylesheet" href="/-/preview.css"><script src="/-/reload.js" defer></script></head>'
    text = text.replace("</head>", head, 1)
    if panel:
        above = f'<div class="preview-problems" role="status"><pre>{html.escape(panel)}</pre></div>'
        body = text.index("<body")
        after = text.index(">", body) + 1
        text = text[:after] + above + text[after:]
    return text.encode("utf-8")
