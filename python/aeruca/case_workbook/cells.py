"""Cells of a workbook that holds a case: what they show, and what is wrong with them."""

from __future__ import annotations

import datetime
import zipfile
from collections.abc import Iterator
from typing import Any

from .. import workbook
from . import sheets

# A case is small; more is a mistake or a trap.
_MOST_BYTES = 1 << 25
_MOST_ROWS, _MOST_COLUMNS = 5_000, 60
_INSTEAD = "a case file as text (TOML)"


class CellError(ValueError):
    """One sentence of what is wrong, and the `place` where it is."""

    def __init__(self, place: str, problem: str) -> None:
        super().__init__(problem)
        self.place = place


class Book:
    """The sheets of a workbook, cell by cell."""

    def __init__(self, path: str) -> None:
        self.path = path
        self._refuse_huge()
        self._book = workbook.opened(path, _INSTEAD, f".xlsx, or {_INSTEAD}")
        self._computed: Any = None  # the same with the values of formulas, where it has any
        self.names = [sheet.title for sheet in self._book.worksheets]
        for sheet in sheets.SHEETS:
            self._check(sheet.name)

    def _refuse_huge(self) -> None:
        try:
            with zipfile.ZipFile(self.path) as packed:
                size = sum(part.file_size for part in packed.infolist())
        except (zipfile.BadZipFile, OSError):
            return  # what is wrong is said when it is opened
        if size > _MOST_BYTES:
            raise ValueError(
                f"unpacks to {size >> 20} MB; accepted is a workbook of at most "
                f"{_MOST_BYTES >> 20} MB, with long records in files beside it"
            )

    def _check(self, name: str) -> None:
        if name not in self.names:
            wanted = ", ".join(sheet.name for sheet in sheets.SHEETS)
            raise ValueError(
                f"has no sheet '{name}'; accepted is a workbook with the sheets {wanted}, left "
                "empty where nothing is known"
            )
        sheet = self._book[name]
        for merged in sheet.merged_cells.ranges:
            raise CellError(
                f"sheet '{name}', cells {merged.coord}",
                "merged cells; accepted are single ones: take the merging off",
            )
        if sheet.max_row > _MOST_ROWS or sheet.max_column > _MOST_COLUMNS:
            last = sheet.cell(sheet.max_row, sheet.max_column).coordinate
            raise CellError(
                f"sheet '{name}'",
                f"reaches to cell {last}; accepted are {_MOST_ROWS} rows and {_MOST_COLUMNS} "
                "columns: delete what stands far below or to the right",
            )

    def rows(self, name: str) -> Iterator[tuple[Any, ...]]:
        """Rows of cells, the first row first."""
        yield from self._book[name].iter_rows()

    def value(self, cell: Any) -> Any:
        """Value of a cell, None if it shows nothing; of a formula, what it came to."""
        value = cell.value
        if cell.data_type == "f":
            if self._computed is None:
                self._computed = workbook.opened(self.path, _INSTEAD, _INSTEAD, data_only=True)
            computed = self._computed[cell.parent.title][cell.coordinate]
            value, kind = computed.value, computed.data_type
            if value is None:
                raise fault(
                    cell,
                    "a formula whose value the workbook does not hold; accepted is the value "
                    "itself, or the workbook saved by a program that works formulas out",
                )
        else:
            kind = cell.data_type
        if kind == "e":
            raise fault(cell, f"the error {value}; accepted is a value or an empty cell")
        if isinstance(value, str):
            return " ".join(value.split()) or None
        return value


def fault(cell: Any, problem: str) -> CellError:
    """Return what is wrong with a cell, to be raised."""
    return CellError(place_of([cell]), problem)


def place_of(cells: list[Any]) -> str:
    """Name sheet and cells."""
    names = ", ".join(cell.coordinate for cell in cells)
    return f"sheet '{cells[0].parent.title}', cell{'s' if len(cells) > 1 else ''} {names}"


def entry(kind: str, value: Any, cell: Any, unit: str) -> Any:
    """Return a cell's value as the case file would have it; what it may be is checked there."""
    written = workbook.field_of(value, cell.number_format or "")
    if kind == "flag":
        if isinstance(value, bool):
            return value
        if written.casefold() not in ("yes", "no"):
            raise fault(cell, f"'{written}' is neither yes nor no; accepted is yes or no")
        return written.casefold() == "yes"
    if kind == "date" or (kind == "reading" and isinstance(value, str)):
        return written
    if kind == "text":
        return written
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        what = "a date" if isinstance(value, (datetime.date, datetime.time)) else "text"
        accepted = "a number" if kind == "number" else "a number, 640 +/- 30, or < 5"
        raise fault(cell, f"'{written}' is {what}; accepted is {accepted}")
    if "%" not in (cell.number_format or ""):
        return value
    if not unit.startswith("%"):
        raise fault(cell, f"'{written}' is shown in percent; accepted is a number in {unit or 1}")
    return float(f"{value * 100:.12g}")
