"""Workbooks (.xlsx) as the text that a logger file would be: cells become fields, rows lines."""

from __future__ import annotations

import csv
import datetime
import io
import threading
import warnings
from typing import Any

# A workbook keeps times as parts of a day in binary: this much (s) is rounding.
_ROUNDING_S = 0.005
_ONE_AT_A_TIME = threading.Lock()  # filters of warnings are those of the whole process


def sheets_of(path: str) -> list[tuple[str, str]]:
    """Return name and text of each sheet: rows as lines, so that row numbers are line numbers.

    Raises ValueError, one sentence, when the file cannot be read or openpyxl is missing.
    """
    book = opened(path, "the sheet saved as CSV", ".xlsx or CSV", read_only=True, data_only=True)
    try:
        return [(sheet.title, _text(sheet)) for sheet in book.worksheets]
    finally:
        book.close()


def opened(path: str, instead: str, accepted: str, **ways: bool) -> Any:
    """Return a workbook as openpyxl reads it; `ways` are those of its load_workbook.

    Raises ValueError, one sentence, with what is accepted `instead` of openpyxl or of the file.
    """
    openpyxl = imported(instead)
    try:
        # It warns of what it does not keep, such as some drop-down lists; they are not read.
        with _ONE_AT_A_TIME, warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return openpyxl.load_workbook(path, keep_links=False, **ways)
    except Exception as problem:  # openpyxl has no error of its own for a broken file
        reason = str(problem).split("\n")[0] or type(problem).__name__
        raise ValueError(
            f"is no workbook that can be read ({reason}); accepted is {accepted}"
        ) from None


def imported(instead: str) -> Any:
    """Return openpyxl. Raises ValueError, one sentence with what is accepted `instead`."""
    try:
        import openpyxl
    except ImportError:
        raise ValueError(
            "a workbook is read and written by openpyxl, which is not installed; accepted is "
            f'pip install "aeruca[spreadsheet]", or {instead}'
        ) from None
    return openpyxl


def _text(sheet: Any) -> str:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    sheet.reset_dimensions()  # instruments write that of their first page: rows would be lost
    for row in sheet.iter_rows():
        fields = [field(cell) for cell in row]
        while fields and not fields[-1]:
            fields.pop()
        writer.writerow(fields)
    return text.getvalue()


def field(cell: Any) -> str:
    """Write what a cell holds as a logger would; what no logger file holds stays as text."""
    return field_of(cell.value, cell.number_format or "")


def field_of(value: Any, form: str) -> str:
    """Write a value that a cell shows in this number format."""
    if value is None:
        return ""
    if isinstance(value, datetime.datetime):
        return _moment(value, form)
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, datetime.time):
        return value.isoformat("seconds")
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return f"{value * 100:.12g}%" if "%" in form else f"{value:.15g}"
    return " ".join(str(value).split())


def _moment(value: datetime.datetime, form: str) -> str:
    second = value.replace(microsecond=0)
    if (value - second).total_seconds() > 1 - _ROUNDING_S:
        value = second + datetime.timedelta(seconds=1)
    elif (value - second).total_seconds() < _ROUNDING_S:
        value = second
    shows_time = "h" in form.lower() or value.time() != datetime.time()
    return value.isoformat(sep=" ") if shows_time else value.date().isoformat()
