"""A case in a workbook, as the text of the case file that would say the same.

What a key accepts is checked by the reader of case files; here each cell finds its key, and each
key its cell.
"""

from __future__ import annotations

import csv
import difflib
import io
import os
from typing import Any, NamedTuple

from .. import workbook
from ..toml_text import toml_text
from . import sheets
from .cells import Book, CellError, entry, fault, place_of
from .keys import Kind, kinds
from .sheets import EXAMPLE, LABEL, NOTE, NUMBER, UNIT, Line, Sheet

_AS_NEW = "accepted is the row of headings that aeruca case --new writes"


class CaseInWorkbook(NamedTuple):
    """Text of the case file, CSV text of the baths or none, and the cell of each key in words."""

    text: str
    bath_log: str
    cells: dict[str, str]


def case_of(path: str) -> CaseInWorkbook:
    """Read a workbook. Raises ValueError, one sentence, with the `place` if it is one."""
    book = Book(path)
    found = _Found()
    for sheet in sheets.SHEETS:
        if sheet == sheets.BATHS:
            continue
        if sheet in sheets.TABLES:
            _read_rows(book, sheet, found)
        else:
            _read_labels(book, sheet, found)
    data = found.nested()
    bath_log = _read_baths(book, data, found.cells)
    _settle_sheets(book, data)
    return CaseInWorkbook(toml_text(data), bath_log, found.cells)


class _Found:
    """Values by key and, for sections that may be repeated, by which of them; and their cells."""

    def __init__(self) -> None:
        self._values: dict[tuple[str, int], Any] = {}
        self._cells: dict[tuple[str, int], list[Any]] = {}
        self.cells: dict[str, str] = {}  # place of each key in words, as `nested` numbers them
        self._kinds = kinds()

    def add(self, key: str, member: int, book: Book, cell: Any, unit: str = "") -> None:
        """Take the value of a cell for a key; an empty one only says where the key stands."""
        kind = self._kinds.get(key, Kind("reading"))  # what is not listed is an ion
        value = book.value(cell)
        at = (key, member)
        if value is None:
            self._cells.setdefault(at, [cell])
            return
        said = entry(kind.word, value, cell, unit)
        if at not in self._values:
            self._cells[at] = []
        elif not kind.several:
            raise fault(cell, "stands here a second time; accepted is one of it")
        self._cells[at].append(cell)
        if kind.several:
            self._values.setdefault(at, []).append(said)
        else:
            self._values[at] = said

    def nested(self) -> dict[str, Any]:
        """Return the case as a dictionary of the case file's form; fills `cells`."""
        data: dict[str, Any] = {}
        members = self._members()
        for (key, member), value in self._values.items():
            group, _, name = key.rpartition("[].")
            if not group:
                _section(data, key)[key.rpartition(".")[2]] = value
                continue
            sections = _section(data, group).setdefault(group.rpartition(".")[2], [])
            while len(sections) < len(members[group]):
                sections.append({})
            sections[members[group].index(member)][name] = value
        for (key, member), cells in self._cells.items():
            group, _, name = key.rpartition("[].")
            there = members.get(group, [])
            if group and member not in there:
                continue
            number = f"[{there.index(member) + 1}]" if len(there) > 1 else ""
            self.cells[f"{group}{number}.{name}" if group else key] = place_of(cells)
        return data

    def _members(self) -> dict[str, list[int]]:
        members: dict[str, set[int]] = {}
        for key, member in self._values:
            members.setdefault(key.rpartition("[].")[0], set()).add(member)
        return {group: sorted(numbers) for group, numbers in members.items()}


def _section(data: dict[str, Any], key: str) -> dict[str, Any]:
    for name in key.split(".")[:-1]:
        data = data.setdefault(name, {})
    return data


def _read_labels(book: Book, sheet: Sheet, found: _Found) -> None:
    """Labels down, values beside them."""
    groups = {line for line in sheet.lines if isinstance(line, str)}
    lines = {line.label.casefold(): line for line in sheet.lines if isinstance(line, Line)}
    times: dict[str, int] = {}  # how often a label stood above
    heads: dict[str, int] = {}
    for row in book.rows(sheet.name):
        if not heads:
            heads = _heads(book, sheet, row)
            continue
        _refuse_outside(book, row, heads)
        label, unit = (str(book.value(row[heads[name]]) or "") for name in (LABEL, UNIT))
        cells = [row[at] for name, at in heads.items() if name not in (LABEL, UNIT, EXAMPLE, NOTE)]
        if not label or label in groups:
            for cell in cells:
                if book.value(cell) is not None:
                    raise fault(cell, "stands beside no label; accepted is a label in its row")
            continue
        line = lines.get(label.casefold())
        key = line.key if line else ""
        if not key:
            key = _ion_key(sheet, row[heads[LABEL]], row[heads[UNIT]], label, unit, lines)
        elif line and _folded(unit) != line.unit:
            accepted = f"'{line.unit}'" if line.unit else "an empty cell"
            raise fault(row[heads[UNIT]], f"the unit is '{unit}'; accepted is {accepted}")
        times[key] = times.get(key, -1) + 1
        for column, cell in enumerate(cells):
            repeated = column if len(sheet.values) > 1 else times[key]
            found.add(key, repeated if "[]" in key else 0, book, cell, unit)
    if not heads:
        raise CellError(
            f"sheet '{sheet.name}'", f"no row begins with the heading '{LABEL}'; {_AS_NEW}"
        )


def _folded(unit: str) -> str:
    return unit.replace("\N{MICRO SIGN}", "u").replace("\N{GREEK SMALL LETTER MU}", "u")


def _ion_key(
    sheet: Sheet, label_at: Any, unit_at: Any, label: str, unit: str, lines: dict[str, Line]
) -> str:
    if sheet != sheets.WATERS:
        raise fault(label_at, _unknown(label, [line.label for line in lines.values()]))
    listed = lines.get(label.casefold())
    end = sheets.ION_UNITS.get(_folded(unit))
    if end is None:
        said = "" if listed else f"'{label}' is no label, and as an ion "
        accepted = ", ".join(sheets.ION_UNITS)
        raise fault(unit_at, f"{said}its unit '{unit}' is not known; accepted is one of {accepted}")
    return f"water[].{listed.label if listed else label}_{end}"


def _unknown(name: str, known: list[str]) -> str:
    near = difflib.get_close_matches(name, known, 1)
    nearest = f"; nearest is '{near[0]}'" if near else ""
    return f"'{name}' is not known{nearest}; accepted is one of {', '.join(dict.fromkeys(known))}"


def _heads(book: Book, sheet: Sheet, row: tuple[Any, ...]) -> dict[str, int]:
    """Column of each heading, where this is the row of headings; what stands above it is talk."""
    if book.value(row[0]) != LABEL:
        return {}
    heads: dict[str, int] = {}
    several = sheet.values[0].partition(" ")[0] if len(sheet.values) > 1 else ""
    for at, cell in enumerate(row):
        name = book.value(cell)
        if name is None:
            continue
        known = [LABEL, *sheet.values, UNIT, EXAMPLE, NOTE]
        if name not in known and not (several and str(name).startswith(several)):
            raise fault(cell, _unknown(str(name), known))
        if name in heads:
            raise fault(cell, f"a second column '{name}'; accepted is one")
        heads[name] = at
    for name in (LABEL, sheet.values[0], UNIT):
        if name not in heads:
            raise fault(row[0], f"the headings beside it lack '{name}'; accepted is a row with it")
    return heads


def _refuse_outside(book: Book, row: tuple[Any, ...], heads: dict[str, int]) -> None:
    for at, cell in enumerate(row):
        if at not in heads.values() and book.value(cell) is not None:
            raise fault(cell, f"stands below no heading; accepted are remarks in '{NOTE}'")


def _read_rows(book: Book, sheet: Sheet, found: _Found) -> None:
    """Headings across, a row for each thing."""
    lines = {line.label: line for line in sheet.lines if isinstance(line, Line)}
    heads, rows = _table(book, sheet)
    for cell in heads.values():
        name = str(book.value(cell))
        if name not in lines:
            raise fault(cell, _unknown(name, [NUMBER, *lines]))
    for row in rows:
        for at, cell in heads.items():
            found.add(lines[str(book.value(cell))].key, row[0].row, book, row[at])


def _table(book: Book, sheet: Sheet) -> tuple[dict[int, Any], list[tuple[Any, ...]]]:
    """Headings by column, but for the number, and the rows below that hold something."""
    first = next(line.label for line in sheet.lines if isinstance(line, Line))
    heads: dict[int, Any] = {}
    number: int | None = None
    rows = []
    for row in book.rows(sheet.name):
        shown = [book.value(cell) for cell in row] if not heads else []
        if first in shown:
            heads = {at: row[at] for at, name in enumerate(shown) if name not in (None, NUMBER)}
            number = shown.index(NUMBER) if NUMBER in shown else None
        if shown:
            continue
        if number is not None and book.value(row[number]) == EXAMPLE:
            continue
        for at, cell in enumerate(row):
            if at not in heads and at != number and book.value(cell) is not None:
                raise fault(cell, "stands below no heading; accepted are values below a heading")
        if any(book.value(row[at]) is not None for at in heads):
            rows.append(row)
    if not heads:
        raise CellError(f"sheet '{sheet.name}'", f"no row has the heading '{first}'; {_AS_NEW}")
    return heads, rows


def _read_baths(book: Book, data: dict[str, Any], cells: dict[str, str]) -> str:
    """Baths as the CSV text of a bath log, rows as its lines; empty where there is none."""
    sheet = sheets.BATHS
    columns = {line.label: line.key for line in sheet.lines if isinstance(line, Line)}
    heads, rows = _table(book, sheet)
    if not rows:
        return ""
    if "log" in data.get("bath", {}):
        raise CellError(
            cells["bath.log"],
            f"names a bath log beside the baths of the sheet '{sheet.name}'; accepted is one of "
            "them",
        )
    # A heading that is not of this layout may be a column that the reader of bath logs knows.
    names = [columns.get(name, name) for name in (str(book.value(c)) for c in heads.values())]
    head_row = next(iter(heads.values())).row
    lines = {head_row: names}
    cells["bath.log"] = f"sheet '{sheet.name}'"
    cells[f"bath.log[{head_row}]"] = f"sheet '{sheet.name}', row {head_row}"
    for row in rows:
        place = f"bath.log[{row[0].row}]"
        cells[place] = f"sheet '{sheet.name}', row {row[0].row}"
        fields = []
        for at, name in zip(heads, names, strict=True):
            cells[f"{place}.{name}"] = place_of([row[at]])
            fields.append(workbook.field_of(book.value(row[at]), row[at].number_format or ""))
        lines[row[0].row] = fields
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n", quoting=csv.QUOTE_ALL)
    for number in range(1, max(lines) + 1):
        writer.writerow(lines.get(number, []))
    return text.getvalue()


def _settle_sheets(book: Book, data: dict[str, Any]) -> None:
    """Name this workbook where a sheet of it is the record; refuse any other sheet."""
    store = data.get("store", {})
    own = os.path.basename(book.path)
    if "sheet" in store:
        store.setdefault("log", [own])
    known = [*(sheet.name for sheet in sheets.SHEETS), sheets.LISTS]
    if store.get("log") == [own]:
        known.append(store.get("sheet", ""))
    for name in book.names:
        if name not in known:
            raise CellError(f"sheet '{name}'", _unknown(name, known))
