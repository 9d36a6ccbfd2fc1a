"""Faults of a case in a workbook: one sentence each, with sheet and cell."""

import datetime
import sys
import zipfile

import pytest

import aeruca

FAULTS = {
    "text for a number": (
        [("object", "B10", "heavy")],
        "sheet 'object', cell B10: 'heavy' is text; accepted is a number",
    ),
    "a number typed as text": (
        [("object", "B10", "62,4")],
        "sheet 'object', cell B10: '62,4' is text; accepted is a number",
    ),
    "a number out of range": (
        [("object", "B10", -3)],
        "sheet 'object', cell B10: -3 is out of range; accepted is a number from 1e-06 to "
        "100000000",
    ),
    "a date for a number": (
        [("object", "B10", datetime.date(2026, 4, 3))],
        "sheet 'object', cell B10: '2026-04-03' is a date; accepted is a number",
    ),
    "a truth for a number": (
        [("object", "B10", True)],
        "sheet 'object', cell B10: 'True' is text; accepted is a number",
    ),
    "a word that is none of the list": (
        [("object", "B12", "gilt")],
        "sheet 'object', cell B12: 'gilt' is not known; accepted is one of composite, gilded",
    ),
    "neither yes nor no": (
        [("waters", "C10", "maybe")],
        "sheet 'waters', cell C10: 'maybe' is neither yes nor no; accepted is yes or no",
    ),
    "no reading": (
        [("waters", "C17", "plenty")],
        "sheet 'waters', cell C17: 'plenty' is no reading; accepted is a number such as 640",
    ),
    "a reading that became a date": (
        [("waters", "B17", datetime.date(2026, 4, 3))],
        "sheet 'waters', cell B17: '2026-04-03' is a date; accepted is a number, 640 +/- 30, or",
    ),
    "the second water of two": (
        [("waters", "B6", 7), ("waters", "D6", 15)],
        "sheet 'waters', cell D6: 15 is out of range; accepted is a number from 0 to 14",
    ),
    "a key that wants another": (
        [("waters", "B9", 20)],
        "sheet 'waters', cell B9: given without a reading; accepted is an eh_uncertainty_mv "
        "beside eh_mv",
    ),
    "a missing key": (
        [("store", "B25", "halite"), ("store", "B26", 20)],
        "sheet 'store', cell B27: missing; accepted is a check with all three of its keys",
    ),
    "a date as text": (
        [("what was seen", "B5", "12.01.2026")],
        "sheet 'what was seen', cell B5: '12.01.2026' is no date; accepted is year-month-day such "
        "as 2026-03-04",
    ),
    "a number for a date": (
        [("what was seen", "B5", 46034)],
        "sheet 'what was seen', cell B5: '46034' is no date; accepted is year-month-day such",
    ),
    "a label that is none": (
        [("object", "A10", "weight"), ("object", "B10", 60)],
        "sheet 'object', cell A10: 'weight' is not known; accepted is one of form of this workb",
    ),
    "a label twice": (
        [("object", "B9", "bronze"), ("object", "A17", "material"), ("object", "B17", "brass")],
        "sheet 'object', cell B17: stands here a second time; accepted is one of it",
    ),
    "a value without a label": (
        [("object", "B6", 3)],
        "sheet 'object', cell B6: stands beside no label; accepted is a label in its row",
    ),
    "a value outside the table": (
        [("object", "H9", "see over")],
        "sheet 'object', cell H9: stands below no heading; accepted are remarks in 'note'",
    ),
    "another unit": (
        [("object", "B10", 0.06), ("object", "C10", "kg")],
        "sheet 'object', cell C10: the unit is 'kg'; accepted is 'g'",
    ),
    "an ion's unit": (
        [("waters", "E17", "ppm")],
        "sheet 'waters', cell E17: its unit 'ppm' is not known; accepted is one of mg/L, ug/L,",
    ),
    "a heading that is none": (
        [("object", "F3", "who")],
        "sheet 'object', cell F3: 'who' is not known; accepted is one of what, value, unit",
    ),
    "a heading lost": (
        [("object", "B3", None)],
        "sheet 'object', cell A3: the headings beside it lack 'value'; accepted is a row with it",
    ),
    "no headings": ([("object", "A3", None)], "sheet 'object': no row begins with the heading"),
    "no headings of a table": (
        [("what was seen", "B3", None)],
        "sheet 'what was seen': no row has the heading 'date'",
    ),
    "a strange column of a table": (
        [("what was seen", "I3", "who")],
        "sheet 'what was seen', cell I3: 'who' is not known; accepted is one of no., date, kind",
    ),
    "a value beside a table": (
        [("baths", "P7", 3)],
        "sheet 'baths', cell P7: stands below no heading; accepted are values below a heading",
    ),
    "a formula without its value": (
        [("object", "B10", "=60+2.4")],
        "sheet 'object', cell B10: a formula whose value the workbook does not hold; accepted is "
        "the value itself, or the workbook saved by a program that works formulas out",
    ),
    "an error in a cell": (
        [("object", "B10", "#DIV/0!")],
        "sheet 'object', cell B10: the error #DIV/0!; accepted is a value or an empty cell",
    ),
    "two bath logs": (
        [("washing", "B4", "bath-log.csv"), ("baths", "B5", "2026-01-12")],
        "sheet 'washing', cell B4: names a bath log beside the baths of the sheet 'baths'; "
        "accepted is one of them",
    ),
    "another form": (
        [("object", "B4", 2)],
        "sheet 'object', cell B4: a form of case file that this version does not read; accepted i",
    ),
}


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_names_sheet_and_cell(name, typed):
    cells, says = FAULTS[name]
    path = typed(*cells)
    with pytest.raises(aeruca.FileError) as refused:
        aeruca.assess_case(path)
    assert str(refused.value).startswith(f"{path}, {says}")
    assert "\n" not in str(refused.value)


def remove(book):
    del book["waters"]


def add(book):
    book.create_sheet("lab notes")["A1"] = "pH meter broken"


def merge(book):
    book["object"].merge_cells("B9:C10")


def reach(book):
    book["store"]["A30000"] = "lost"


WHOLE = {
    "a sheet missing": (remove, ": has no sheet 'waters'; accepted is a workbook with the sheets"),
    "a sheet too many": (add, ", sheet 'lab notes': 'lab notes' is not known; accepted is one of"),
    "merged cells": (
        merge,
        ", sheet 'object', cells B9:C10: merged cells; accepted are single ones: take the merging",
    ),
    "cells far away": (reach, ", sheet 'store': reaches to cell E30000; accepted are 5000 rows"),
}


@pytest.mark.parametrize("name", WHOLE)
def test_a_workbook_of_another_form_is_one_sentence(name, typed):
    change, says = WHOLE[name]
    path = typed(then=change)
    with pytest.raises(aeruca.FileError) as refused:
        aeruca.assess_case(path)
    assert str(refused.value).startswith(f"{path}{says}")


@pytest.mark.parametrize(
    ("name", "content", "says"),
    [
        ("case.xlsx", b"[object]\n", "is no workbook that can be read (File is not a zip file)"),
        ("case.xlsx", b"", "is no workbook that can be read"),
        ("case.xlsx", b"PK\x03\x04 broken", "is no workbook that can be read"),
        ("case.txt", b"PK\x03\x04 broken", "is no workbook that can be read"),
        ("case.ods", b"PK\x03\x04", "is a workbook of another kind (.ods); accepted is one saved "),
        ("case.XLS", b"\xd0\xcf\x11\xe0", "is a workbook of another kind (.xls); accepted is one"),
        ("case.xlsx", b"\xd0\xcf\x11\xe0", "is a workbook of another kind (.xls, or with a passw"),
    ],
)
def test_what_is_no_workbook_is_one_sentence(name, content, says, tmp_path):
    (tmp_path / name).write_bytes(content)
    with pytest.raises(aeruca.FileError) as refused:
        aeruca.assess_case(tmp_path / name)
    assert str(refused.value).startswith(f"{tmp_path / name}: {says}")
    assert "\n" not in str(refused.value)


def test_a_workbook_that_unpacks_to_far_more_is_refused(tmp_path):
    with zipfile.ZipFile(tmp_path / "case.xlsx", "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/worksheets/sheet1.xml", bytes(40 << 20))
    with pytest.raises(aeruca.FileError, match="unpacks to 40 MB; accepted is a workbook"):
        aeruca.assess_case(tmp_path / "case.xlsx")


def test_no_file_and_no_right_to_read(tmp_path):
    with pytest.raises(aeruca.FileError, match="cannot be opened; a readable file is wanted"):
        aeruca.assess_case(tmp_path / "case.xlsx")
    (tmp_path / "folder.xlsx").mkdir()
    with pytest.raises(aeruca.FileError, match="is a directory; a file is wanted"):
        aeruca.assess_case(tmp_path / "folder.xlsx")


def test_faults_of_baths_name_row_and_cell(typed):
    rows = [
        ("2026-01-12", "2026-01-19", None, 1.0, 37.6),
        ("2026-01-19", "26.1.2026", None, 1.0, 16.2),
        ("2026-01-26", "2026-02-02", None, "one", 15.1),
        ("2026-02-02", None, None, 0.8, 23.0),
        ("2026-02-03", "2026-02-16", None, 0.8, 23.0),
    ]
    path = typed(
        *(
            ("baths", f"{column}{row}", value)
            for row, values in enumerate(rows, 6)
            for column, value in zip("BCDEF", values, strict=True)
        )
    )
    case = aeruca.assess_case(path)
    wash = case.section("wash")
    assert wash.status == "bad input"
    said = wash.warnings[-1]
    assert said.startswith(
        f"{path}, sheet 'baths', cell C7: '26.1.2026' is no date; accepted is YYYY-MM-DD or "
    )
    assert "; sheet 'baths', cell E8: 'one' is no number" in said
    assert "; sheet 'baths', cell C9: nothing stands here" in said
    assert "line" not in said


def test_baths_without_a_column_name_the_row_of_headings(typed):
    path = typed(("baths", "E3", "litres"), ("baths", "B5", "2026-01-12"))
    wash = aeruca.assess_case(path).section("wash")
    assert wash.warnings[-1].startswith(
        f"{path}, sheet 'baths', row 3: no column is called 'litres'"
    )


def test_a_fault_after_reading_names_its_cell(typed):
    path = typed(("waters", "A17", "chlorine"), ("waters", "B17", 12), ("waters", "B6", 7))
    with pytest.raises(aeruca.FileError) as refused:
        aeruca.assess_case(path)
    said = str(refused.value)
    assert said.startswith(f"{path}, sheet 'waters', cell B17: 'chlorine' is not known")


def test_new_never_overwrites_and_never_writes_over_an_open_workbook(tmp_path):
    path = tmp_path / "bowl.xlsx"
    for lock in ("~$bowl.xlsx", ".~lock.bowl.xlsx#"):
        (tmp_path / lock).write_text("")
        with pytest.raises(aeruca.FileError) as refused:
            aeruca.case.new_case(path)
        assert str(refused.value) == (
            f"{path}: is open in another program, for '{lock}' lies beside it; accepted is a name "
            "that is open nowhere"
        )
        (tmp_path / lock).unlink()
    path.write_text("mine")
    with pytest.raises(aeruca.FileError, match="exists already and is never overwritten"):
        aeruca.case.new_case(path)
    assert path.read_text() == "mine"
    for other in ("bowl.ods", "bowl.xls", "bowl.xlsm"):
        with pytest.raises(aeruca.FileError, match="is a workbook of another kind"):
            aeruca.case.new_case(tmp_path / other)
    with pytest.raises(aeruca.FileError, match="cannot be written; a writable place is wanted"):
        aeruca.case.new_case(tmp_path / "none" / "bowl.xlsx")
    assert [file.name for file in tmp_path.iterdir()] == ["bowl.xlsx"]


def test_without_openpyxl_one_sentence_says_what_to_install(blank, tmp_path, monkeypatch):
    monkeypatch.setitem(sys.modules, "openpyxl", None)
    with pytest.raises(aeruca.FileError) as refused:
        aeruca.assess_case(blank)
    assert str(refused.value) == (
        f"{blank}: a workbook is read and written by openpyxl, which is not installed; accepted "
        'is pip install "aeruca[spreadsheet]", or a case file as text (TOML)'
    )
    with pytest.raises(aeruca.FileError, match="which is not installed; accepted is pip install"):
        aeruca.case.new_case(tmp_path / "new.xlsx")
    assert not (tmp_path / "new.xlsx").exists()
