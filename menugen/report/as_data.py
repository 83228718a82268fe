"""A report as plain data: what has a key, in the order it is shown."""

from menugen.report.tree import Block, Cell, Items, Note, Plot, Report, Rows, Shown, Table


def as_data(report: Report) -> dict[str, object]:
    """Return what a program reads: numbers as they were worked out, texts as they are shown."""
    found: dict[str, object] = {"title": report.title} if report.title else {}
    _add(found, report.lead)
    for section in report.sections:
        inside: dict[str, object] = {}
        _add(inside if section.key else found, section.blocks)
        if section.key:
            found[section.key] = inside
    return found


def _add(found: dict[str, object], blocks: tuple[Block, ...]) -> None:
    for block in blocks:
        match block:
            case Note() if block.key:
                known = found.setdefault(block.key, [])
                if isinstance(known, list):
                    known.append(block.text)
            case Rows():
                found |= {
                    row.key: row.text if row.value is None else row.value for row in block.rows if row.key
                }
            case Items() if block.key:
                found[block.key] = [
                    {"text": item.text, "under": list(item.under)} if item.under else item.text
                    for item in block.items
                ]
            case Table() if block.key:
                found[block.key] = [
                    {
                        column.key: _value(cell)
                        for column, cell in zip(block.columns, row, strict=True)
                        if column.key
                    }
                    for row in block.rows
                ]
            case Plot() if block.key:
                found[block.key] = block.value


def _value(cell: Cell) -> object:
    return cell.value if isinstance(cell, Shown) else cell
