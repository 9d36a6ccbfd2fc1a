"""Records in workbooks: cells go the way of a text file, and one question is asked at most."""

import builtins
import datetime
import re
import zipfile

import numpy as np
import openpyxl
import pytest

import aeruca
from aeruca.store import read_loggers

START = datetime.datetime(2024, 3, 5)
COUNT = 300
T = [round(18 + i % 40 / 10, 1) for i in range(COUNT)]
RH = [round(35 + i % 77 / 5, 1) for i in range(COUNT)]
TIMES = [START + datetime.timedelta(hours=i) for i in range(COUNT)]
HEAD = ["time", "T (C)", "RH (%)"]


@pytest.fixture
def book(tmp_path):
    """Write sheets, a list of rows each, and return the file."""

    def write(name="log.xlsx", forms=None, **sheets):
        workbook = openpyxl.Workbook()
        workbook.remove(workbook.active)
        for title, rows in sheets.items():
            sheet = workbook.create_sheet(title)
            for row in rows:
                sheet.append(row)
            for column, form in (forms or {}).items():
                for cell in sheet[column][1:]:
                    cell.number_format = form
        workbook.save(tmp_path / name)
        return tmp_path / name

    return write


def rows(times=TIMES, temperature=T, rh=RH, head=HEAD):
    return [head, *zip(times, temperature, rh, strict=True)]


def is_the_record(record):
    wanted = np.array(TIMES, dtype="datetime64[s]").astype(np.int64)
    np.testing.assert_array_equal(record.times_s, wanted)
    np.testing.assert_allclose(record.temperature_c, T, rtol=0, atol=1e-9)
    np.testing.assert_allclose(record.rh_percent, RH, rtol=0, atol=1e-9)
    assert record.dropped == 0


def german(values):
    return [str(value).replace(".", ",") for value in values]


SHEETS = {
    "dates as cells": {"readings": rows()},
    "dates as text": {"readings": rows([f"{t:%d.%m.%Y %H:%M}" for t in TIMES])},
    "text with a decimal comma": {
        "readings": rows([f"{t:%d/%m/%Y %I:%M %p}" for t in TIMES], german(T), german(RH))
    },
    "talk above the header": {"readings": [["Logger", 7], [], ["Place", "store 3"], *rows()]},
    "a sheet of talk beside it": {"about": [["Logger", 7]], "readings": rows()},
    "empty columns and rows": {
        "readings": [[None, *row, None] for row in rows()] + [[None], [None, None]]
    },
    "date and time apart": {
        "readings": [
            ["Datum", "Uhrzeit", "T (C)", "RH (%)"],
            *zip([t.date() for t in TIMES], [t.time() for t in TIMES], T, RH, strict=True),
        ]
    },
    "Fahrenheit": {
        "readings": rows(temperature=[t * 1.8 + 32 for t in T], head=["time", "T (°F)", "RH"])
    },
}


@pytest.mark.parametrize("name", SHEETS)
def test_a_sheet_gives_the_record(name, book):
    is_the_record(aeruca.read_logger(book(**SHEETS[name])))


def test_times_a_workbook_has_rounded_are_whole_seconds(book):
    minutes = [START + datetime.timedelta(minutes=10 * i, microseconds=-5) for i in range(COUNT)]
    record = aeruca.read_logger(book(readings=rows(minutes)))
    assert np.all(record.times_s % 600 == 0)
    assert record.dropped == 0


def test_percent_cells_are_percent_and_bare_fractions_are_asked_about(book):
    parts = [value / 100 for value in RH]
    is_the_record(aeruca.read_logger(book(readings=rows(rh=parts), forms={"C": "0.0%"})))
    bare = book("bare.xlsx", readings=rows(rh=parts))
    with pytest.raises(aeruca.FileError, match="looks like parts of one"):
        aeruca.read_logger(bare)
    is_the_record(aeruca.read_logger(bare, rh_unit="fraction"))


def test_of_two_sheets_with_readings_one_is_asked_for(book):
    path = book(store=rows(), box=rows(rh=[value + 5 for value in RH]), about=[["Logger", 7]])
    with pytest.raises(aeruca.FileError) as asked:
        aeruca.read_logger(path)
    assert str(asked.value) == (
        f"{path}, sheet: 'store' and 'box' both hold readings; accepted is the name of one in "
        "sheet (--sheet)"
    )
    record = aeruca.read_logger(path, sheet="store")
    is_the_record(record)
    assert record.read_as == ["readings are those of the sheet 'store'"]
    with pytest.raises(aeruca.FileError, match="has no sheet 'shop'; accepted is one of store, b"):
        aeruca.read_logger(path, sheet="shop")


@pytest.mark.parametrize("said", ["A1:B9", "A1:C9", "A1"])
def test_a_workbook_that_is_wrong_about_its_size_is_read_whole(said, book, tmp_path):
    # Instruments write what their first page held.
    wrong = tmp_path / "wrong.xlsx"
    with zipfile.ZipFile(book(readings=rows())) as right, zipfile.ZipFile(wrong, "w") as copy:
        for name in right.namelist():
            content = right.read(name)
            if name.endswith("sheet1.xml"):
                content, found = re.subn(
                    b'dimension ref="[^"]*"', f'dimension ref="{said}"'.encode(), content
                )
                assert found == 1
            copy.writestr(name, content)
    is_the_record(aeruca.read_logger(wrong))


def test_rows_that_a_sheet_leaves_out_count(book, tmp_path):
    workbook = openpyxl.Workbook()
    for line, row in ((4, HEAD), (9, (TIMES[0], 20.0, "wet")), (10, (TIMES[1], 20.0, 40.0))):
        for column, value in enumerate(row, 1):
            workbook.active.cell(line, column, value)
    workbook.save(tmp_path / "log.xlsx")
    record = aeruca.read_logger(tmp_path / "log.xlsx", max_bad_share=0.9)
    assert [fault.line for fault in record.faults] == [9]


def test_a_fault_names_the_row(book):
    made = rows()
    made[7] = (made[7][0], 20.0, "wet")
    record = aeruca.read_logger(book(readings=[[], *made]))
    assert [fault.line for fault in record.faults] == [9]
    assert "'wet' is no number" in record.faults[0].reason


def test_a_sheet_for_a_text_file_is_refused(tmp_path):
    (tmp_path / "log.csv").write_text("time,RH\n2024-01-01T00:00,40\n")
    with pytest.raises(aeruca.FileError, match="is no workbook and has no sheet 'store'"):
        aeruca.read_logger(tmp_path / "log.csv", sheet="store")


def test_a_folder_may_hold_workbooks_beside_text(book, tmp_path):
    path = book(readings=rows()[:151])
    text = [f"{t.isoformat()},{a},{b}" for t, a, b in zip(TIMES, T, RH, strict=True)][100:]
    (tmp_path / "rest.csv").write_text("time,T,RH\n" + "\n".join(text) + "\n")
    record = aeruca.read_logger(path.parent)
    is_the_record_times = np.array(TIMES, dtype="datetime64[s]").astype(np.int64)
    np.testing.assert_array_equal(record.times_s, is_the_record_times)
    assert record.meetings[0].agreeing == 50
    assert [bool(one.record) for one in read_loggers([path, tmp_path / "rest.csv"])] == [True, True]


def test_a_case_takes_a_workbook(book, tmp_path):
    path = book(readings=rows(), other=rows())
    text = f'[store]\nlog = "{path.name}"\nsheet = "readings"\nsensor_accuracy_rh_percent = 3\n'
    (tmp_path / "case.toml").write_text(text)
    case = aeruca.assess_case(tmp_path / "case.toml")
    assert len(case.record) == COUNT
    outcomes = aeruca.case.assess_cases([tmp_path / "case.toml"])
    assert outcomes[0].assessment.reason == case.reason


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"PK\x03\x04 broken", "is no workbook that can be read"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "is a workbook of an old kind; accepted is .xlsx or"),
    ],
)
def test_a_broken_workbook_is_one_sentence(content, says, tmp_path):
    (tmp_path / "log.xlsx").write_bytes(content)
    with pytest.raises(aeruca.FileError) as refused:
        aeruca.read_logger(tmp_path / "log.xlsx")
    assert says in str(refused.value)
    assert "\n" not in str(refused.value)


def test_without_openpyxl_one_sentence_says_what_to_install(book, monkeypatch):
    path = book(readings=rows())
    whole = builtins.__import__

    def without(name, *rest, **more):
        if name == "openpyxl":
            raise ImportError(name)
        return whole(name, *rest, **more)

    monkeypatch.setattr(builtins, "__import__", without)
    with pytest.raises(aeruca.FileError) as refused:
        aeruca.read_logger(path)
    assert str(refused.value) == (
        f"{path}: a workbook is read and written by openpyxl, which is not installed; accepted is "
        'pip install "aeruca[spreadsheet]", or the sheet saved as CSV'
    )


def test_the_tool_alone_says_where_workbooks_are_read(book, run):
    path = book(readings=rows())
    done = run("store", str(path))
    assert done.returncode == 1
    assert "is a workbook, which this program does not read; accepted is the sheet" in done.stderr
    code, out, err = aeruca._core.run_tool(["store", str(path)])
    assert code == 0, err
    assert "300 readings" in out
