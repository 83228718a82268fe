"""What a command reports: a small tree, and its three forms.

Comes in: headings, rows, tables, lines, plots and notes, made by whoever knows the facts.
Goes out: text for a terminal, CommonMark, one HTML page for the bar.
Knows nothing of: drinks, events, files or what was typed.
"""

from menugen.report.as_html import as_html
from menugen.report.as_markdown import as_markdown
from menugen.report.as_text import ALARM, WIDTH, as_text, fold, section_text
from menugen.report.tree import (
    Block,
    Cell,
    Column,
    Item,
    Items,
    Note,
    Plot,
    Report,
    Row,
    Rows,
    Section,
    Table,
    counted,
    listed,
)

__all__ = [
    "ALARM",
    "WIDTH",
    "Block",
    "Cell",
    "Column",
    "Item",
    "Items",
    "Note",
    "Plot",
    "Report",
    "Row",
    "Rows",
    "Section",
    "Table",
    "as_html",
    "as_markdown",
    "as_text",
    "counted",
    "fold",
    "listed",
    "section_text",
]
