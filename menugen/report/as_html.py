"""A report as one HTML page for the bar alone: all in one file, loading nothing."""

from collections.abc import Iterable, Iterator
from functools import cache
from html import escape
from importlib.resources import files

from menugen.report.tree import Block, Item, Items, Note, Plot, Report, Row, Rows, Section, Table

_HEAD = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="robots" content="noindex, nofollow">
<meta name="color-scheme" content="light dark">
<title>{title} (private)</title>
<style>{style}</style>
</head>
<body>
<header>
<p class="private">Private: for the bar, not for the website.{why}</p>
<h1 dir="auto">{heading}</h1>
"""


def as_html(report: Report, *, title: str = "", why: str = "") -> str:
    """Return a report as a page that is marked private; whoever writes it gives it its content policy.

    Args:
        report: What to say; every text is escaped, and an SVG element of a plot is not.
        title: The page's, where that is more than the report's own.
        why: What makes it private: "It says what drinks cost."
    """
    head = _HEAD.format(
        title=escape(title or report.title),
        style=_style(),
        why=f" {escape(why)}" if why else "",
        heading=escape(report.title),
    )
    lead = "".join(_blocks(report.lead))
    body = "".join(
        line for number, section in enumerate(report.sections) for line in _section(section, number)
    )
    return f"{head}{lead}</header>\n<main>\n{body}</main>\n</body>\n</html>\n"


@cache
def _style() -> str:
    return files("menugen.report").joinpath("private.css").read_text("utf-8")


def _section(section: Section, number: int) -> Iterator[str]:
    if section.title:
        alarm = ' class="alarm"' if section.alarm else ""
        value = f' <span class="value">{escape(section.value)}</span>' if section.value else ""
        yield f'<section aria-labelledby="s{number}">\n'
        yield f'<h2 id="s{number}"{alarm} dir="auto">{escape(section.title)}{value}</h2>\n'
    else:
        yield "<section>\n"
    yield from _blocks(section.blocks)
    yield "</section>\n"


def _blocks(blocks: Iterable[Block]) -> Iterator[str]:
    for block in blocks:
        match block:
            case Note():
                yield f'<p dir="auto">{escape(block.text)}</p>\n'
            case Rows():
                yield f"<dl>\n{''.join(map(_row, _joined(block.rows)))}</dl>\n"
            case Items():
                yield f"<ul>\n{''.join(map(_item, block.items))}</ul>\n"
            case Table() if block.rows:
                yield from _table(block)
            case Plot():
                yield from _plot(block)


def _joined(rows: Iterable[Row]) -> Iterator[tuple[Row, list[str]]]:
    """Yield each labelled row with the texts that go on from it."""
    found: list[tuple[Row, list[str]]] = []
    for row in rows:
        if row.label or not found:
            found.append((row, [row.text]))
        else:
            found[-1][1].append(row.text)
    return iter(found)


def _row(row: tuple[Row, list[str]]) -> str:
    first, texts = row
    alarm = ' class="alarm"' if first.loud else ""
    said = "".join(f'<dd dir="auto">{escape(text)}</dd>' for text in texts)
    return f"<div{alarm}><dt>{escape(first.label)}</dt>{said}</div>\n"


def _item(item: Item) -> str:
    alarm = ' class="alarm"' if item.loud else ""
    under = "".join(f'<li dir="auto">{escape(line)}</li>\n' for line in item.under)
    below = f"\n<ul>\n{under}</ul>\n" if under else ""
    return f'<li{alarm} dir="auto">{escape(item.text)}{below}</li>\n'


def _table(table: Table) -> Iterator[str]:
    yield "<table>\n"
    if any(column.head for column in table.columns):
        heads = "".join(
            f'<th scope="col"{_right(column.right)}>{escape(column.head)}</th>' for column in table.columns
        )
        yield f"<thead><tr>{heads}</tr></thead>\n"
    yield "<tbody>\n"
    for number, row in enumerate(table.rows):
        strong = ' class="strong"' if number in table.strong else ""
        cells = "".join(
            f'<td dir="auto"{_right(column.right)}>{escape(str(cell))}</td>'
            for column, cell in zip(table.columns, row, strict=True)
        )
        yield f"<tr{strong}>{cells}</tr>\n"
    yield "</tbody>\n</table>\n"


def _right(right: bool) -> str:
    return ' class="right"' if right else ""


def _plot(plot: Plot) -> Iterator[str]:
    if plot.wide:
        yield f'<div class="wide">{plot.wide}</div>\n<div class="narrow">{plot.narrow or plot.wide}</div>\n'
    else:
        yield f"<pre>{escape(plot.text)}</pre>\n"
    if plot.words:
        yield f'<p class="small">{escape(plot.words)}</p>\n'
