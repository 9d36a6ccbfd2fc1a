"""Workbooks (.xlsx) as the text that a logger file would be: cells become fields, rows lines."""

from __future__ import annotations

import csv
import datetime
import io
from typing import Any

# A workbook keeps times as parts of a day in binary: this much (s) is rounding.
_ROUNDING_S = 0.005


def sheets_of(path: str) -> list[tuple[str, str]]:
    """Return name and text of each sheet: rows as lines, so that row numbers are line numbers.

    Raises ValueError, one sentence, when the file cannot be read or openpyxl is missing.
    """
    try:
        import openpyxl
    except ImportError:
        raise ValueError(
            "a workbook is read by openpyxl, which is not installed; accepted is "
            'pip install "aeruca[spreadsheet]", or the sheet saved as CSV'
        ) from None
    try:
        book = openpyxl.load_workbook(path, read_only=True, data_only=True)
    except Exception as problem:  # openpyxl has no error of its own for a broken file
        reason = str(problem).split("\n")[0] or type(problem).__name__
        raise ValueError(
            f"is no workbook that can be read ({reason}); accepted is .xlsx or CSV"
        ) from None
    try:
        return [(sheet.title, _text(sheet)) for sheet in book.worksheets]
    finally:
        book.close()


def _text(sheet: Any) -> str:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    sheet.reset_dimensions()  # instruments write that of their first page: rows would be lost
    for row in sheet.iter_rows():
        fields = [_field(cell) for cell in row]
        while fields and not fields[-1]:
            fields.pop()
        writer.writerow(fields)
    return text.getvalue()


def _field(cell: Any) -> str:
    """Write what a cell holds as a logger would; what no logger file holds stays as text."""
    value = cell.value
    if value is None:
        return ""
    if isinstance(value, datetime.datetime):
        return _moment(value, cell.number_format or "")
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, datetime.time):
        return value.isoformat("seconds")
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        percent = "%" in (cell.number_format or "")
        return f"{value * 100:.12g}%" if percent else f"{value:.15g}"
    return " ".join(str(value).split())


def _moment(value: datetime.datetime, form: str) -> str:
    second = value.replace(microsecond=0)
    if (value - second).total_seconds() > 1 - _ROUNDING_S:
        value = second + datetime.timedelta(seconds=1)
    elif (value - second).total_seconds() < _ROUNDING_S:
        value = second
    shows_time = "h" in form.lower() or value.time() != datetime.time()
    return value.isoformat(sep=" ") if shows_time else value.date().isoformat()
