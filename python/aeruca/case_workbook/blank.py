"""A workbook to fill in: the sheets of a case with lists to choose from, units and examples."""

from __future__ import annotations

import io
from typing import Any

from .. import _core, workbook
from .keys import Kind, kinds
from .sheets import (
    BATHS,
    EXAMPLE,
    ION_UNITS,
    LABEL,
    LISTS,
    NOTE,
    NUMBER,
    SHEETS,
    TABLES,
    UNIT,
    Line,
    Sheet,
)

_ROWS_READY = 200  # of a table, with lists to choose from
_WIDTHS = {LABEL: 30, "value": 40, UNIT: 15, EXAMPLE: 24, NOTE: 62, NUMBER: 10}
_FILL_IN, _HEAD, _EXAMPLE_GREY = "FFF6DD", "DDE6E4", "808080"


def blank() -> bytes:
    """Return the bytes of a workbook (.xlsx). Raises ValueError when openpyxl is missing."""
    openpyxl = workbook.imported("the name of a text file to write")
    book = openpyxl.Workbook()
    book.remove(book.active)
    maker = _Maker(book)
    for sheet in SHEETS:
        maker.make(sheet)
    maker.lists.sheet_state = "hidden"
    content = io.BytesIO()
    book.save(content)
    return content.getvalue()


class _Maker:
    """Writes sheets into a workbook; what drop-down lists show goes to a sheet of its own."""

    def __init__(self, book: Any) -> None:
        from openpyxl.styles import Alignment, Font, PatternFill

        self.book = book
        self.kinds = kinds()
        self.choices = _choices()
        self.lists = book.create_sheet(LISTS)
        self.fill_in = PatternFill("solid", fgColor=_FILL_IN)
        self.head = PatternFill("solid", fgColor=_HEAD)
        letters = self.lists["A1"].font.name
        self.bold = Font(name=letters, bold=True)
        self.grey = Font(name=letters, italic=True, color=_EXAMPLE_GREY)
        self.wrapped = Alignment(horizontal="left", vertical="top", wrap_text=True)

    def make(self, sheet: Sheet) -> None:
        page = self.book.create_sheet(sheet.name, len(self.book.sheetnames) - 1)
        page["A1"] = sheet.purpose
        page["A1"].font = self.bold
        page.page_setup.orientation = "landscape"
        page.sheet_properties.pageSetUpPr.fitToPage = True
        page.page_setup.fitToHeight = 0  # as many pages down as it takes
        (self._table if sheet in TABLES else self._labels)(page, sheet)

    def _heads(self, page: Any, names: list[str]) -> int:
        """Write the row of headings, the third, and return its number."""
        for column, name in enumerate(names, 1):
            cell = page.cell(3, column, name)
            cell.font, cell.fill, cell.alignment = self.bold, self.head, self.wrapped
            page.column_dimensions[cell.column_letter].width = _WIDTHS.get(name, 20)
        return 3

    def _labels(self, page: Any, sheet: Sheet) -> None:
        names = [LABEL, *sheet.values, UNIT, EXAMPLE, NOTE]
        row = self._heads(page, names)
        page.freeze_panes = page.cell(row + 1, 2)
        for line in sheet.lines:
            if isinstance(line, str):
                row += 2
                page.cell(row, 1, line).font = self.bold
                continue
            for repeat in range(line.rows):
                row += 1
                shown = (line.example, line.note) if repeat == 0 else ("", "")
                self._line(page, row, names, line, shown)

    def _line(
        self, page: Any, row: int, names: list[str], line: Line, shown: tuple[Any, ...]
    ) -> None:
        said = dict(zip((LABEL, UNIT, EXAMPLE, NOTE), (line.label, line.unit, *shown), strict=True))
        kind = self.kinds.get(line.key, Kind("reading"))
        for column, name in enumerate(names, 1):
            cell = page.cell(row, column)
            cell.alignment = self.wrapped
            if name in said:
                cell.value = said[name] if said[name] != "" else None
                if name in (EXAMPLE, NOTE):
                    cell.font = self.grey
                continue
            cell.fill = self.fill_in
            if line.key == "schema":
                cell.value = 1
            self._help(page, cell.coordinate, line, kind)
        if not line.key:
            self._choose(page, page.cell(row, names.index(UNIT) + 1).coordinate, [*ION_UNITS])

    def _table(self, page: Any, sheet: Sheet) -> None:
        lines = [line for line in sheet.lines if isinstance(line, Line)]
        row = self._heads(page, [NUMBER, *(line.label for line in lines)])
        page.freeze_panes = page.cell(row + 1, 2)
        page.cell(row + 1, 1, EXAMPLE).font = self.grey
        for column, line in enumerate(lines, 2):
            page.cell(row - 1, column, line.note or None).font = self.grey
            page.cell(row - 1, column).alignment = self.wrapped
            page.cell(
                row + 1, column, line.example if line.example != "" else None
            ).font = self.grey
            first = page.cell(row + 2, column)
            last = page.cell(row + 1 + _ROWS_READY, column)
            kind = Kind("reading") if sheet == BATHS else self.kinds[line.key]
            self._help(page, f"{first.coordinate}:{last.coordinate}", line, kind)

    def _help(self, page: Any, cells: str, line: Line, kind: Kind) -> None:
        """Offer a list to choose from, or refuse numbers out of range while they are typed."""
        choices = list(kind.choices) or self.choices.get(line.key, [])
        if kind.word == "flag":
            choices = ["yes", "no"]
        if choices:
            self._choose(page, cells, choices)
        elif kind.low is not None and kind.high is not None:
            from openpyxl.worksheet.datavalidation import DataValidation

            rule = DataValidation("decimal", kind.low, kind.high, allow_blank=True, sqref=cells)
            rule.operator, rule.showErrorMessage = "between", True
            rule.error = f"a number from {kind.low:g} to {kind.high:g} {line.unit}"
            page.add_data_validation(rule)

    def _choose(self, page: Any, cells: str, choices: list[str]) -> None:
        from openpyxl.worksheet.datavalidation import DataValidation

        column = self._listed(choices)
        where = f"{LISTS}!${column}$1:${column}${len(choices)}"
        # Other words may be typed: what they are is told when the workbook is read.
        page.add_data_validation(
            DataValidation("list", where, showErrorMessage=False, allow_blank=True, sqref=cells)
        )

    def _listed(self, choices: list[str]) -> str:
        """Column of the sheet of lists that holds these, written once."""
        for column in self.lists.iter_cols():
            if [cell.value for cell in column if cell.value is not None] == choices:
                return str(column[0].column_letter)
        free = self.lists.max_column + (self.lists["A1"].value is not None)
        for row, word in enumerate(choices, 1):
            self.lists.cell(row, free, word)
        return str(self.lists.cell(1, free).column_letter)


def _choices() -> dict[str, list[str]]:
    """Words of the data set, which no schema knows."""
    dataset = _core.default_dataset()
    salts = _core._bath_salts(dataset)
    forms = [form for salt in salts for form in _core._shelf_forms(dataset, salt)]
    seen = [
        outcome if test.id == "texture" else f"{test.id}={outcome}"
        for test in _core._field_tests(dataset)
        for outcome in test.outcomes
    ]
    return {
        "water[].reference_electrode": _core.reference_electrodes(dataset),
        "store.onset": [band.id for band in dataset.onset_bands],
        "store.enclosure.gel": [gel.id for gel in _core._gel_isotherms()],
        "bath.solution.salt": salts,
        "bath.solution.on_the_shelf": list(dict.fromkeys(forms)),
        "observation[].seen": seen,
    }
