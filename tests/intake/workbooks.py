"""Workbooks made in memory, as people and as attackers make them."""

import io
import zipfile

import openpyxl


def workbook(*rows, formats=None, sheets=(), macros=False):
    """The bytes of a workbook: rows on the last sheet; `formats` of cells by name; `sheets` of other rows before it."""
    book = openpyxl.Workbook()
    book.remove(book.active)
    for number, (title, state, other) in enumerate(sheets):
        sheet = book.create_sheet(title, number)
        sheet.sheet_state = state
        for row in other:
            sheet.append(row)
    sheet = book.create_sheet("Table")
    for row in rows:
        sheet.append(row)
    for name, number_format in (formats or {}).items():
        sheet[name].number_format = number_format
    book.active = len(sheets)
    held = io.BytesIO()
    book.save(held)
    return changed(held.getvalue(), {"xl/vbaProject.bin": b"\0" * 100}) if macros else held.getvalue()


def changed(content, parts, method=zipfile.ZIP_DEFLATED):
    """The same archive with parts replaced or added."""
    held = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(held, "w", method) as new:
        for name in old.namelist():
            if name not in parts:
                new.writestr(name, old.read(name))
        for name, data in parts.items():
            new.writestr(name, data)
    return held.getvalue()
