"""A table as a file: CSV or a workbook, told apart by how it starts. What every reader of tables begins with."""

import csv
import io

from service.errors import BadInput, BadInputs
from service.intake.table_text import TextTable, decoded, read_table_text, refuse_large
from service.intake.workbook import is_workbook, read_workbook, sheet_lines

__all__ = ["read_table", "text_of_table"]

LOOKED_AT, BLANK = 200, b"\xef\xbb\xbf \t\r\n"  # bytes of a start; what may stand before a tag


def read_table(content: bytes, largest: int, most_rows: int) -> TextTable:
    """Read a table.

    Errors: `BadInputs` where it is larger than `largest` bytes, longer than `most_rows`, empty, or no table.
    """
    if not is_workbook(content):
        if content[:LOOKED_AT].lstrip(BLANK).startswith(b"<"):
            message = "it is a web page or another file of tags, whatever its name ends in"
            raise BadInputs([BadInput("table", None, message, "save it as .xlsx or CSV")])
        return read_table_text(content, largest, most_rows)
    refuse_large(content, largest)
    return read_workbook(content, most_rows)


def text_of_table(content: bytes, largest: int, most_rows: int) -> str:
    """A file as the text that people edit on a page: of a workbook a line a row, so that rows keep their numbers.

    Errors: `BadInputs` for a workbook that cannot be read. Any other file is text as far as it goes.
    """
    if not is_workbook(content):
        try:
            return decoded(content)
        except BadInputs:
            return content.decode("utf-8-sig", "replace")
    refuse_large(content, largest)
    lines, broken = sheet_lines(content, most_rows)
    if broken:
        raise BadInputs(broken)
    rows = {line.number: line.cells for line in lines}
    text = io.StringIO()
    unclear = any(mark in cell for mark in ";\t" for cell in lines[0].cells) if lines else False
    writer = csv.writer(text, lineterminator="\n", quoting=csv.QUOTE_ALL if unclear else csv.QUOTE_MINIMAL)
    for number in range(1, max(rows, default=0) + 1):
        writer.writerow(rows.get(number, ()))
    return text.getvalue()
