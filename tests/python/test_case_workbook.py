"""A case in a workbook: the same assessment as its case file, and what may stand in it."""

import csv
import datetime
import json
import re
import shutil
import subprocess
import sys
import zipfile

import openpyxl
import pytest
import tomllib
from openpyxl.worksheet.formula import ArrayFormula

import aeruca
from aeruca.case_workbook import keys, read, sheets

LABELS_FROM = 4  # first row below the headings


def at(book, sheet, label, column="B", which=0):
    """Cell beside a label."""
    page = book[sheet]
    rows = [row for row in range(LABELS_FROM, page.max_row + 1) if page.cell(row, 1).value == label]
    return page[f"{column}{rows[which]}"]


def put(book, layout, prefix, said, column="B"):
    """Type what a section of a case file says beside its labels."""
    for key, value in said.items():
        line = next(
            one for one in layout.lines if not isinstance(one, str) and one.key == prefix + key
        )
        for which, one in enumerate(value if isinstance(value, list) else [value]):
            at(book, layout.name, line.label, column, which).value = one


def transcribe(book, case, log):
    """Type a case file and its bath log into a new workbook, as a person would."""
    at(book, "object", "invented").value = "yes"
    put(book, sheets.OBJECT, "object.", case["object"])
    for row, seen in enumerate(case["observation"], 5):
        values = [seen["date"], seen["kind"], seen["text"], *seen.get("seen", [])]
        for column, value in enumerate(values, 2):
            book["what was seen"].cell(row, column, value)
    water = case["water"][0]
    ions = {key: value for key, value in water.items() if key.endswith("_mg_per_l")}
    put(book, sheets.WATERS, "water[].", {k: v for k, v in water.items() if k not in ions})
    for key, value in ions.items():
        at(book, "waters", key.removesuffix("_mg_per_l")).value = value
    store = dict(case["store"])
    put(book, sheets.STORE, "store.enclosure.", store.pop("enclosure"))
    put(book, sheets.STORE, "store.", store)
    bath = dict(case["bath"])
    put(book, sheets.WASHING, "bath.solution.", bath.pop("solution"))
    if log:
        del bath["log"]
        heads = {line.key: column for column, line in enumerate(sheets.BATHS.lines, 2)}
        for row, one in enumerate(log, 5):
            for key, value in one.items():
                if key in ("start", "end"):
                    value = datetime.date.fromisoformat(value)
                elif re.fullmatch(r"[0-9.]+", value):
                    value = float(value)
                book["baths"].cell(row, heads[key], value or None)
    put(book, sheets.WASHING, "bath.", bath)


def demo(root):
    """The demo case and the rows of its bath log."""
    case = tomllib.loads((root / "data/demo/case.toml").read_text())
    lines = (root / "data/demo/bath-log.csv").read_text().splitlines()
    return case, list(csv.DictReader(line for line in lines if not line.startswith("#")))


@pytest.mark.parametrize("baths", ["sheet", "file"])
def test_the_demo_case_as_a_workbook_is_the_demo_case(baths, root, blank, tmp_path):
    case, log = demo(root)
    for name in ("case.toml", "store-log.csv", "bath-log.csv"):
        shutil.copy(root / "data/demo" / name, tmp_path)
    book = openpyxl.load_workbook(blank)
    transcribe(book, case, log if baths == "sheet" else None)
    book.save(blank)
    here = aeruca.assess_case(blank, date="2026-06-30")
    there = aeruca.assess_case(tmp_path / "case.toml", date="2026-06-30")
    # Apart from names and hashes of files.
    hashes = re.compile(r"\b[0-9a-f]{16}\b")
    log_here = f"{blank.name}" if baths == "sheet" else "bath-log.csv"
    for a, b in ((here.to_text(), there.to_text()), (here._core.to_json(), there._core.to_json())):
        assert "active" in b
        b = b.replace("case.toml", blank.name).replace("bath-log.csv", log_here)
        assert hashes.sub("HASH", a) == hashes.sub("HASH", b)


def test_every_key_has_its_cell():
    written = {
        line.key
        for sheet in sheets.SHEETS
        if sheet != sheets.BATHS
        for line in sheet.lines
        if not isinstance(line, str) and line.key
    }
    assert written == set(keys.kinds())
    for sheet in sheets.SHEETS:
        labels = [line.label for line in sheet.lines if not isinstance(line, str)]
        assert sheet == sheets.SEEN or len(set(labels)) == len(labels)


def test_the_value_of_a_formula_is_read(typed, tmp_path):
    path = typed(("object", "B10", "=60+2.4"), ("object", "B9", ArrayFormula("B9", '="br"&"ass"')))
    whole = tmp_path / "computed.xlsx"
    with zipfile.ZipFile(path) as before, zipfile.ZipFile(whole, "w") as after:
        for name in before.namelist():
            text = before.read(name)
            if name == "xl/worksheets/sheet1.xml":
                text, found = re.subn(rb"(<f>60\+2\.4</f>)<v ?/>", rb"\1<v>62.4</v>", text)
                assert found == 1
                text, found = re.subn(
                    rb'<c r="B9"([^>]*)>(.*?</f>)<v ?/>',
                    rb'<c r="B9"\1 t="str">\2<v>brass</v>',
                    text,
                )
                assert found == 1
            after.writestr(name, text)
    case = aeruca.assess_case(whole)
    assert case.to_dict()["object"]["mass_g"] == 62.4
    assert case.to_dict()["object"]["material"] == "brass"


def test_a_column_that_the_bath_log_knows_may_be_added(typed):
    cells = [("baths", "N3", "lot"), ("baths", "N5", "7b")]
    row = zip("BCEF", ("2026-01-12", "2026-01-19", 1, 30), strict=True)
    case = aeruca.assess_case(typed(*cells, *(("baths", f"{c}5", v) for c, v in row)))
    assert len(case.bath_log.baths) == 1
    assert any("lot" in warning for warning in case.bath_log.warnings)


def test_another_ion_and_another_unit(typed):
    path = typed(
        ("waters", "A28", "lead"),
        ("waters", "B28", 0.2),
        ("waters", "E28", "mg/L"),
        ("waters", "A17", "Chloride"),
        ("waters", "B17", 18),
        ("waters", "E17", "mmol/L"),
        ("waters", "B26", 3),
        ("waters", "E26", "µg/L"),
    )
    assert read.case_of(str(path)).text == (
        '"schema" = 1\n"water" = [{"chloride_mmol_per_l" = 18, "copper_ug_per_l" = 3, '
        '"lead_mg_per_l" = 0.2}]\n'
    )


def test_waters_and_checks_keep_their_order_past_empty_ones(typed):
    path = typed(
        ("waters", "D4", "sea"),
        ("waters", "B4", "soil"),
        ("store", "A61", "salt in the jar"),
        ("store", "B61", "halite"),
        ("store", "A62", "temperature of the jar"),
        ("store", "B62", 20),
        ("store", "C62", "°C"),
        ("store", "A63", "reading in the jar"),
        ("store", "B63", 75),
        ("store", "C63", "% RH"),
    )
    found = read.case_of(str(path))
    assert tomllib.loads(found.text)["water"] == [{"name": "soil"}, {"name": "sea"}]
    assert tomllib.loads(found.text)["store"]["sensor_check"] == [
        {"salt": "halite", "temperature_c": 20, "reading_rh_percent": 75}
    ]
    assert found.cells["water[2].name"] == "sheet 'waters', cell D4"
    assert found.cells["water[2].ph"] == "sheet 'waters', cell D6"
    assert found.cells["store.sensor_check.salt"] == "sheet 'store', cell B61"


def test_percent_cells_are_percent(typed):
    def show(book):
        at(book, "washing", "purity").value = 0.995
        at(book, "washing", "purity").number_format = "0.0%"

    text = read.case_of(str(typed(then=show))).text
    assert tomllib.loads(text)["bath"]["solution"] == {"purity_percent": 99.5}

    def wrong(book):
        at(book, "object", "mass").value = 0.995
        at(book, "object", "mass").number_format = "0.0%"

    with pytest.raises(aeruca.FileError, match=r"cell B10: .* is shown in percent"):
        aeruca.assess_case(typed(then=wrong))


def test_the_record_may_be_a_sheet_of_the_workbook(typed):
    start = datetime.datetime(2024, 3, 5)

    def with_record(book):
        page = book.create_sheet("record")
        page.append(["time", "T (C)", "RH (%)"])
        for hour in range(300):
            page.append([start + datetime.timedelta(hours=hour), 20.0, 35 + hour % 7])
        at(book, "store", "sheet").value = "record"
        at(book, "store", "accuracy").value = 3

    path = typed(then=with_record)
    case = aeruca.assess_case(path)
    assert len(case.record) == 300
    outcome = aeruca.case.assess_cases([path, path])[1]
    assert outcome.assessment.reason == case.reason


def test_examples_titles_and_remarks_say_nothing(typed):
    path = typed(
        ("object", "A1", "bowl 17, all I know"),
        ("object", "E10", "weighed on the old balance"),
        ("what was seen", "A6", "example"),
        ("what was seen", "B6", "2026-03-04"),
        ("baths", "A5", "first"),
    )
    assert read.case_of(str(path)).text == '"schema" = 1\n'


def test_a_new_workbook_offers_words_and_limits(blank):
    book = openpyxl.load_workbook(blank)
    assert book["lists"].sheet_state == "hidden"
    rules = {str(rule.sqref): rule for rule in book["object"].data_validations.dataValidation}
    mass = rules["B10"]
    assert (mass.type, float(mass.formula1), float(mass.formula2)) == ("decimal", 1e-6, 1e8)
    assert mass.showErrorMessage
    assert not rules["B12"].showErrorMessage
    column, last = re.fullmatch(r"lists!\$([A-Z]+)\$1:\$\1\$(\d+)", rules["B12"].formula1).groups()
    offered = [book["lists"][f"{column}{row}"].value for row in range(1, int(last) + 1)]
    features = aeruca.case.case_file_schema()["properties"]["object"]["properties"]["features"]
    assert offered == features["items"]["enum"]


def test_the_tool_reads_and_writes_workbooks(tmp_path, run):
    path = tmp_path / "bowl.xlsx"
    code, out, err = aeruca._core.run_tool(["case", "--new", str(path)])
    assert (code, err) == (0, "")
    assert out == f"wrote {path}; fill it in and run: aeruca case {path}\n"
    code, out, err = aeruca._core.run_tool(["case", str(path), "--json", "--date", "2026-06-30"])
    assert code == 0, err
    assert json.loads(out)["verdict"] == "not known"
    for arguments in (("case", str(path)), ("case", "--new", str(tmp_path / "other.xlsx"))):
        done = run(*arguments)
        assert done.returncode == 1
        assert "is a workbook, which this program neither reads nor writes" in done.stderr
    assert not (tmp_path / "other.xlsx").exists()


def test_a_report_of_a_workbook(typed, tmp_path):
    path = typed(("object", "B8", "bowl 17"))
    aeruca.report.write_report(path, tmp_path / "report.html", date="2026-06-30")
    assert "bowl 17" in (tmp_path / "report.html").read_text()


def test_help_and_text_cases_import_no_reader_of_workbooks(root):
    done = subprocess.run(
        [
            sys.executable,
            "-c",
            "import sys; from aeruca.tool import main; main(['--help']); "
            f"main(['case', {str(root / 'data/demo/case.toml')!r}]); "
            "print([m for m in sys.modules if 'openpyxl' in m or 'workbook' in m])",
        ],
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.endswith("[]\n")
