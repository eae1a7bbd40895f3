"""Tables as they leave for a spreadsheet: the one writer of workbooks (.xlsx), in which no text is a formula.

Scope    numbers as numbers, texts as texts whatever they begin with; the names of the columns stay in sight.
Source   ECMA-376, part 1, 18.3.1.4: a cell is a formula only if it is written as one; openpyxl.
"""

import io
import re
from collections.abc import Iterable, Mapping, Sequence

__all__ = ["workbook_bytes"]

LONGEST_TITLE = 31  # characters of a sheet's name
LONGEST_TEXT = 32_767  # characters of a cell
NARROWEST, ROOM = 12, 2  # characters: of a column, and beside its name
NOT_IN_XML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]")  # XML 1.0, production 2


def workbook_bytes(title: str, columns: Sequence[str], rows: Iterable[Mapping[str, object]]) -> bytes:
    """One sheet: a row of names that does not scroll away, and a row each; a column that a row does not have is empty.

    Raises: ValueError if a row has a column that is not in the header.
    """
    from openpyxl import Workbook  # takes a third of a second, and only downloads need it
    from openpyxl.cell import WriteOnlyCell
    from openpyxl.styles import Font
    from openpyxl.utils import get_column_letter

    rows, known = list(rows), set(columns)
    if unknown := {name for row in rows for name in row if name not in known}:
        raise ValueError(f"no such column: {', '.join(sorted(unknown))}")
    book = Workbook(write_only=True)
    sheet = book.create_sheet(title[:LONGEST_TITLE])
    sheet.freeze_panes = "A2"
    for number, name in enumerate(columns, start=1):
        sheet.column_dimensions[get_column_letter(number)].width = max(len(name) + ROOM, NARROWEST)
    bold = Font(bold=True)

    def written(value: object, font: Font | None = None) -> object:
        """A cell: text that is never taken for a formula or an error, or the value as it is."""
        if not isinstance(value, str):
            return value
        cell = WriteOnlyCell(sheet, NOT_IN_XML.sub(" ", value)[:LONGEST_TEXT])
        cell.data_type = "s"
        if font:
            cell.font = font
        return cell

    sheet.append([written(name, bold) for name in columns])
    for row in rows:
        sheet.append([written(row.get(name)) for name in columns])
    held = io.BytesIO()
    book.save(held)
    return held.getvalue()
