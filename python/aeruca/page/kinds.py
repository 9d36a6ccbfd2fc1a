"""What a dropped file is: found by reading it, never by its name."""

from __future__ import annotations

import zipfile
from pathlib import Path

from .. import _core
from ..bath import read_bath_log
from ..store import read_logger

ACCEPTED = "a case file (.toml), a logger file (CSV or .xlsx), a bath log (CSV) or a table (CSV)"
_LARGEST_UNPACKED = 1 << 29  # bytes; a small workbook can unpack to more than a machine holds


def kind_of(path: Path) -> str:
    """Return "bath", "store" or, for a table that is neither as it stands, "table".

    A table may be of ions or of a tracer, or a logger file of which the form must say which column
    is which. Raises ValueError, one sentence, for what is none of these.
    """
    if zipfile.is_zipfile(path):
        return _workbook(path)
    text = _text(path)
    if text is None or not _is_table(text):
        raise ValueError(f"{path}: is nothing that is read here; accepted is {ACCEPTED}")
    if _is_bath(text):
        read_bath_log(path)
        return "bath"
    try:
        read_logger(path)
    except _core.Error:
        return "table"
    return "store"


def _workbook(path: Path) -> str:
    with zipfile.ZipFile(path) as packed:
        names = packed.namelist()
        size = sum(part.file_size for part in packed.infolist())
    if "xl/workbook.xml" not in names:
        raise ValueError(f"{path}: is nothing that is read here; accepted is {ACCEPTED}")
    if size > _LARGEST_UNPACKED:
        raise ValueError(f"{path}: unpacks to more than 512 MB; accepted is a smaller workbook")
    try:
        read_logger(path)
    except _core.FileError as problem:
        if "openpyxl" in str(problem) or "is no workbook" in str(problem):
            raise
        return "table"
    return "store"


def _text(path: Path) -> str | None:
    with path.open("rb") as stream:
        start = stream.read(1 << 16)
    code = "utf-16" if start[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig"
    text = start[: len(start) // 2 * 2].decode(code, errors="replace")
    return None if "\0" in text else text


def _rows(text: str) -> list[str]:
    lines = [line.strip() for line in text.splitlines()]
    return [line for line in lines if line and not line.startswith("#")]


def _is_table(text: str) -> bool:
    """Whether most lines are cut by one mark and hold a figure."""
    rows = _rows(text)[:200]
    marks = ((sum(mark in row for row in rows), mark) for mark in ";,\t")
    count, mark = max(marks)
    figures = sum(mark in row and any(c.isdigit() for c in row) for row in rows)
    return count > len(rows) / 2 and figures >= max(1, (len(rows) - 1) / 2)


def _is_bath(text: str) -> bool:
    """Whether the header is of a bath log: a volume, or the chloride of a litre."""
    header = _rows(text)[0].lower()
    return "volume" in header or "chloride_mg" in header
