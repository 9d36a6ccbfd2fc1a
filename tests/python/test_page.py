"""The page on one's own machine, without a browser: who is let in, what is kept, what moves."""

import datetime
import html
import io
import itertools
import re
import stat
import tempfile
from html.parser import HTMLParser
from pathlib import Path

import pytest

import aeruca

pytest.importorskip("flask")
pytest.importorskip("jinja2")
pytest.importorskip("matplotlib")
from aeruca.page import work
from aeruca.page.app import Settings, make_app
from aeruca.page.fields import ION_UNITS, parts_of
from aeruca.page.form import case_of, name_of, texts_of
from aeruca.page.guard import MOST_BYTES
from aeruca.page.work import MOST_FILES, safe_name
from aeruca.toml_text import toml_file_text

tomllib = pytest.importorskip("tomllib")  # Python 3.11

DEMO = Path(__file__).parents[2] / "data" / "demo"
TODAY = datetime.date.today().isoformat()
TOKEN = "key" * 14
VOID = {"meta", "input", "link", "img", "br", "wbr", "hr"}
OWN = "http://127.0.0.1:5123"


class Seen(HTMLParser):
    """Elements of a page with their attributes, and its text."""

    def __init__(self, text):
        super().__init__()
        self.open, self.elements, self.words = [], [], []
        self.feed(text)
        assert self.open == []

    def handle_starttag(self, tag, attrs):
        self.elements.append((tag, dict(attrs), tuple(self.open)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        self.words.append(data)

    def all(self, *tags):
        return [attributes for tag, attributes, _ in self.elements if tag in tags]

    @property
    def text(self):
        return " ".join("".join(self.words).split())


class Tab:
    """One tab: its address, and what its form holds, as a browser would send it."""

    def __init__(self, client):
        self.client = client
        self.path = client.get(f"/{TOKEN}/", base_url=OWN).headers["Location"]
        self.answer = client.get(self.path, base_url=OWN)

    @property
    def seen(self):
        return Seen(self.answer.text)

    def do(self, what="assess", files=(), **fields):
        """Fields by name, dots written as two underscores; files as (name, bytes)."""
        data = {name.replace("__", "."): given for name, given in fields.items()}
        data["do"] = what
        data["files"] = [(io.BytesIO(content), name) for name, content in files]
        answer = self.client.post(
            self.path, base_url=OWN, data=data, content_type="multipart/form-data"
        )
        answer.request.input_stream.close()
        if "Content-Disposition" not in answer.headers:  # a file leaves the page where it is
            self.answer = answer
        return answer

    def notice(self):
        text = re.search(r'(?s)<div id="notice".*<div id="outcome">', self.answer.text)[0]
        return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", text)).split())

    def report(self):
        return self.client.get(self.path + "report", base_url=OWN)

    def fields(self):
        """What the form holds, so that it can be sent again."""
        given = {}
        for tag, one, _ in self.seen.elements:
            name = one.get("name")
            if tag == "input" and one["type"] == "checkbox" and "checked" in one:
                given.setdefault(name, []).append(one.get("value", "on"))
            elif tag == "input" and one["type"] in ("text", "date"):
                given.setdefault(name, []).append(one["value"])
        for name, inside in re.findall(
            r'(?s)<select id="[^"]*" name="([^"]*)"[^>]*>(.*?)</select>', self.answer.text
        ):
            chosen = re.findall(r'<option value="([^"]*)" selected>', inside)
            given.setdefault(name, []).extend(html.unescape(one) for one in chosen)
        for name, inside in re.findall(
            r'(?s)<textarea id="[^"]*" name="([^"]*)"[^>]*>\n(.*?)</textarea>', self.answer.text
        ):
            given[name] = [html.unescape(inside)]
        return given

    def again(self, what="assess", files=(), **changed):
        data = self.fields() | {k.replace("__", "."): v for k, v in changed.items()}
        return self.do(what, files, **{k.replace(".", "__"): v for k, v in data.items()})


@pytest.fixture
def folder(tmp_path):
    place = tmp_path / "kept"
    place.mkdir(mode=0o700)
    return place


@pytest.fixture
def client(folder):
    app, _ = make_app(Settings(folder, TOKEN, 5123))
    return app.test_client(use_cookies=False)


@pytest.fixture
def tab(client):
    return Tab(client)


def demo(*names):
    return [(name, (DEMO / name).read_bytes()) for name in names]


WHOLE = ("store-log.csv", "case.toml", "bath-log.csv")


# Who is let in -----------------------------------------------------------------------------------
def addresses(tab):
    return [f"/{TOKEN}/", f"/{TOKEN}/page.css", f"/{TOKEN}/page.js", tab.path, tab.path + "report"]


@pytest.mark.parametrize("key", ["", "wrong", TOKEN[:-1], TOKEN + "x", "clé"])
def test_without_the_key_there_is_one_sentence_and_nothing_else(tab, key):
    tab.do(object__name="Fibula")
    for address in addresses(tab):
        answer = tab.client.get(address.replace(TOKEN, key), base_url=OWN)
        assert answer.status_code == 403
        assert "lacks the key" in answer.text
        assert TOKEN not in answer.text
        assert "Fibula" not in answer.text
    assert tab.client.post(tab.path.replace(TOKEN, key), base_url=OWN).status_code == 403


@pytest.mark.parametrize(
    "host", ["http://elsewhere.example:5123", "http://127.0.0.1:5124", "http://127.0.0.1"]
)
def test_another_name_of_the_machine_is_refused_with_the_key_too(tab, host):
    for address in addresses(tab):
        assert tab.client.get(address, base_url=host).status_code == 403
    assert tab.client.get(tab.path, base_url="http://localhost:5123").status_code == 200


def test_an_address_that_is_none_is_said_to_be_none(tab):
    for path in (
        f"/{TOKEN}/x/",
        f"/{TOKEN}/../etc/",
        f"/{TOKEN}/{'0' * 15}G/",
        tab.path + "report",
    ):
        assert tab.client.get(path, base_url=OWN).status_code == 404


def test_answers_are_shut_in_and_ask_for_nothing_from_elsewhere(tab):
    tab.do(object__name="Fibula")
    for address in addresses(tab):
        answer = tab.client.get(address, base_url=OWN)
        policy = answer.headers["Content-Security-Policy"]
        assert policy.startswith("default-src 'none'")
        assert "script-src 'unsafe" not in policy
        assert answer.headers["Cache-Control"] == "no-store"
        assert answer.headers["Referrer-Policy"] == "same-origin"
        assert "Set-Cookie" not in answer.headers
        assert not re.search(r"""(src|href|url|@import)[=( ]*["']?(https?:)?//""", answer.text)
    assert "script-src" not in tab.report().headers["Content-Security-Policy"]


# The form ----------------------------------------------------------------------------------------
def test_every_key_of_the_schema_is_a_field_with_a_label(tab):
    parts = parts_of(aeruca.case.case_file_schema())
    paths = {field.path for part in parts for field in part.fields}
    named = set()

    def walk(shape, path):
        shape = shape.get("oneOf", [shape])[0]
        if "$ref" in shape and "reading" not in shape["$ref"]:
            shape = aeruca.case.case_file_schema()["$defs"][shape["$ref"].rpartition("/")[2]]
        inner = shape if "properties" in shape else shape.get("items", {})
        for key, below in inner.get("properties", {}).items():
            walk(below, f"{path}.{key}" if path else key)
        if "properties" not in inner:
            named.add(path)

    walk(aeruca.case.case_file_schema(), "")
    assert named - {"schema"} - paths == set()
    english = tomllib.loads(aeruca.words.english_words())
    labels = {key.removeprefix("web.label.") for key in english if key.startswith("web.label.")}
    assert labels == paths
    others = {key for key in english if re.match(r"web\.(part|kind)\.", key)}
    kinds = {"web.kind.bath", "web.kind.store", "web.kind.table"}
    assert others == kinds | {f"web.part.{part.path}" for part in parts if part.path}


def test_units_of_ions_are_those_of_the_schema():
    pattern = next(iter(aeruca.case.case_file_schema()["$defs"]["water"]["patternProperties"]))
    assert set(re.search(r"_\(([a-z0-9_|]+)\)", pattern)[1].split("|")) == set(ION_UNITS.values())


def test_every_input_has_a_label_an_id_of_its_own_and_a_place_in_the_order(tab):
    tab.do("files", demo(*WHOLE))
    seen = tab.seen
    ids = [one["id"] for _, one, _ in seen.elements if "id" in one]
    assert len(ids) == len(set(ids))
    labelled = {one["for"] for one in seen.all("label")}
    for one in seen.all("input", "select", "textarea"):
        assert one["id"] in labelled
        assert "tabindex" not in one
    assert len(seen.all("legend")) == len(seen.all("fieldset"))
    assert {"role": "status", "aria-live": "polite", "id": "notice"} in seen.all("div")


def case_texts():
    rich = tomllib.loads((DEMO / "case.toml").read_text(encoding="utf-8"))
    rich["object"]["features"] = ["old coating", "cracked"]
    rich["water"].append({"ph": 7, "aerated": True, "ammonium_mmol_per_l": "0.1 +/- 0.02"})
    rich["water"][1] |= {"alkalinity_mg_per_l_as_caco3": 12.5, "chloride_mmol_per_l": 3}
    rich["store"]["sensor_check"] = [
        {"salt": "bischofite", "temperature_c": 21, "reading_rh_percent": 34.2}
    ]
    rich["store"]["log"] = ["a.csv", "b.csv"]
    rich["store"]["enclosure"] |= {
        "contents_rh_percent": [20, 40.5],
        "contents_moisture_percent": [6, 9],
    }
    return rich


def test_a_case_goes_through_the_form_and_comes_out_the_same():
    case, parts = case_texts(), parts_of(aeruca.case.case_file_schema())
    again, faults = case_of(texts_of(case, parts), parts)
    assert faults == []
    assert again == case
    assert tomllib.loads(toml_file_text(again)) == case
    aeruca._core.check_case_text(toml_file_text(again), "case.toml")


@pytest.mark.parametrize(
    ("field", "text", "value"),
    [
        ("object__mass_g", "62,4", 62.4),
        ("object__mass_g", "62", 62),
        ("water__0__ph", "7,1 +/- 0,1", "7.1 +/- 0.1"),
        ("water__0__nitrate_mg_per_l", "< 2", "< 2"),
        ("bath__layer_thickness_mm", "0,600", 0.6),
        ("store__object_cooler_by_k", "−1.5", -1.5),
        ("store__salts", "halite, bischofite", ["halite", "bischofite"]),
        ("store__enclosure__contents_rh_percent", "20; 40,5", [20, 40.5]),
    ],
)
def test_what_is_typed_is_understood_as_meant(tab, field, text, value):
    saved = tab.do("case", **{field: text})
    assert saved.status_code == 200, tab.notice()
    *above, last = field.split("__")
    table = tomllib.loads(saved.text)
    for key in above:
        table = table[int(key) if key.isdecimal() else key]
    assert table[last] == value


@pytest.mark.parametrize(
    ("field", "text", "said"),
    [
        (
            "object__mass_g",
            "much",
            "'much' is no number; accepted is a number from 0.000001 to 100000000",
        ),
        ("object__mass_g", "1,234", "'1,234' may mean thousands or a decimal; accepted is a"),
        ("object__mass_g", "nan", "'nan' is no number"),
        ("water__0__temperature_c", "70", "70 is out of range; accepted is a number from 0 to 50"),
        ("water__0__ph", "acid", "'acid' is no reading; accepted is a number such as 640"),
        ("water__0__ph", "15", "Water it lay in, pH, such as 7.1 +/- 0.1 : 15 is out of range"),
        ("water__0__other_ions", "ammonium much", "'ammonium much' is no ion with its amount"),
        ("water__0__other_ions", "unobtainium 3 mg/L", "unobtainium"),
        ("observation__0__date", "12.5.2026", "'12.5.2026' is no date; accepted is year-month-day"),
        ("bath__shape", "cube", "'cube' is not known; accepted is one of slab, cylinder, sphere"),
        ("bath__log", "gone.csv", "'gone.csv' is not among the files here"),
        ("store__onset", "hearsay", "hearsay"),
    ],
)
def test_what_is_not_understood_gets_one_sentence_beside_its_field(tab, field, text, said):
    assert tab.do("assess", **{field: text}).status_code == 400
    assert said in tab.notice()
    assert tab.report().status_code == 404
    name = field.replace("__", ".")
    link = [one for one in tab.seen.all("a") if one.get("href") == f"#{name}"]
    field = [one for one in tab.seen.all("input", "select", "textarea") if one["id"] == name]
    assert len(link) == 1
    assert field[0]["aria-invalid"] == "true"
    assert any(one.get("id") == field[0]["aria-describedby"] for one in tab.seen.all("p"))


def test_a_fault_is_said_of_its_block_though_blocks_before_it_are_empty(tab):
    for blocks in ([1], [1, 3]):
        tab.do(
            "assess",
            **{f"water__{block}__ph": "7" for block in blocks},
            **{f"water__{blocks[-1]}__reference_electrode": "sce"},
        )
        assert tab.answer.status_code == 400
        marked = [one["id"] for one in tab.seen.all("select") if "aria-invalid" in one]
        assert marked == [f"water.{blocks[-1]}.reference_electrode"]


def test_a_folder_that_is_gone_or_full_is_said(tab, folder, tmp_path):
    folder.rename(tmp_path / "away")
    assert tab.do(object__name="pin").status_code == 500
    said = "the folder of this page cannot be used (No such file or directory); accepted is another"
    assert said in tab.notice()


def test_all_faults_are_told_at_once(tab):
    tab.do("case", object__mass_g="x", water__0__ph="y", store__log="gone.csv", bath__next_days="z")
    assert len(re.findall(r"is no (number|reading)", tab.notice())) == 3
    assert tab.notice().count("accepted is") == 3  # files may come later: a case can be saved
    tab.again("assess")
    assert tab.notice().count("accepted is") == 4


def test_blocks_are_added_and_taken_out_by_plain_posts(tab):
    tab.do("add:water", water__0__name="pond", water__0__ph="7")
    tab.again("add:water", water__1__name="sea")
    tab.again("drop:water.0")
    waters = [n for n in tab.fields() if re.fullmatch(r"water\.\d\.name", n)]
    assert [tab.fields()[name] for name in waters] == [["sea"], [""]]
    saved = tab.again("case")
    assert tomllib.loads(saved.text)["water"] == [{"name": "sea"}]


# Files --------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("given", "safe"),
    [
        ("../../etc/passwd", "passwd"),
        ("C:\\logs\\box 3.csv", "box 3.csv"),
        ("/tmp/x/../y.csv", "y.csv"),
        (".hidden.csv", "hidden.csv"),
        ("..", "file"),
        ("", "file"),
        ("logs/*.csv", "_.csv"),
        ("a[1]?.csv", "a_1__.csv"),
        ('"><script>.csv', "___script_.csv"),
        ("Vitrine Süd (2).csv", "Vitrine Süd (2).csv"),
        ("nul\0byte\n.csv", "nul_byte_.csv"),
        ("x" * 300 + ".csv", "x" * 76 + ".csv"),
    ],
)
def test_names_of_files_are_made_safe(given, safe):
    assert safe_name(given) == safe
    assert safe_name(safe) == safe


def tree(place):
    return {
        str(p.relative_to(place)): p.stat().st_mtime_ns for p in place.rglob("*") if p.is_file()
    }


def test_nothing_is_written_outside_the_folder(tab, folder, tmp_path, monkeypatch):
    application = tab.client.application.wsgi_app

    def elsewhere(environ, start):
        with monkeypatch.context() as patched:  # a temporary file elsewhere would fail
            patched.setattr(tempfile, "tempdir", str(tmp_path / "nowhere"))
            return application(environ, start)

    monkeypatch.setattr(tab.client.application, "wsgi_app", elsewhere)
    monkeypatch.chdir(tmp_path)
    before = tree(DEMO)
    large = b"ion,amount\n" + b"chloride,535 mg/kg\n" * 200_000  # more than is held in memory
    tab.do("files", [*demo(*WHOLE), ("../../outside.csv", large), ("/abs/olute.csv", large)])
    tab.again("assess")
    tab.again("case")
    tab.again("report")
    assert {p.name for p in tmp_path.iterdir()} == {"kept"}
    place = next(folder.iterdir())
    kept = {"store-log.csv", "bath-log.csv", "case.toml", "report.html", "outside.csv", "olute.csv"}
    assert {p.name for p in place.iterdir()} == kept
    assert stat.S_IMODE(place.stat().st_mode) == 0o700
    assert tree(DEMO) == before


def test_files_are_known_by_what_they_hold(tab):
    tab.do(
        "files",
        [
            ("b.txt", (DEMO / "bath-log.csv").read_bytes()),
            ("a.dat", (DEMO / "store-log.csv").read_bytes()),
            ("ions.csv", b"ion,amount\nchloride,535 mg/kg\nsodium,230 mg/kg\n"),
        ],
    )
    assert tab.answer.status_code == 200
    for file, kind in (("b.txt", "bath log"), ("a.dat", "logger record"), ("ions.csv", "a table")):
        assert f"Taken in: {file} ({kind}" in tab.notice()
    assert tab.notice().count("The form does not name it yet.") == 1  # the table of ions
    assert tab.fields()["bath.log"] == ["b.txt"]
    assert tab.fields()["store.log"] == ["a.dat"]


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        (
            "photo.png",
            b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 9,
            "photo.png: is nothing that is",
        ),
        ("letter.txt", b"Dear colleague,\nthe pin is green, and wet.\n", "letter.txt: is nothing"),
        ("empty.csv", b"", "empty.csv: is nothing that is read here; accepted is a case file"),
        (
            "bath.csv",
            b"start,end,volume_l,chloride_mg_per_l\n2026-02-02,2026-01-02,1,x\n",
            "bath.csv",
        ),
        ("case.toml", b"[object]\nmass_g = 'x'\n", "case.toml, line 2, object.mass_g: 'x' is no"),
        ("case.toml", b"[object\n", "case.toml, line 1"),
        ("case.toml", b"\xff\xfe\x00", "case.toml: is no text in UTF-8"),
        ("case.toml", b"#" * (1 << 20) + b"\n", "case.toml: is larger than 1 MB"),
        (
            "case.toml",
            b"[[water]]\nph = 7\n" * 1001,
            "case.toml: has more than 1000 days or waters",
        ),
        ("report.html", b"a,1\nb,2\nc,3\n", "report.html: is a name this page writes itself"),
        ("book.xlsx", b"PK\x05\x06" + bytes(18), "book.xlsx: is nothing that is read here"),
    ],
)
def test_a_wrong_file_gets_one_sentence_and_leaves_all_as_it_was(tab, folder, name, content, said):
    tab.do("files", demo("bath-log.csv"), object__name="Fibula")
    before, kept = tab.fields(), tree(folder)
    assert tab.again("files", [(name, content)]).status_code == 400
    assert said in tab.notice()
    assert str(folder) not in tab.answer.text
    assert len(re.findall(r"<li>", tab.answer.text)) == 1
    assert tab.fields() == before
    assert tree(folder) == kept


def test_a_log_that_comes_again_takes_the_place_of_the_older(tab):
    tab.do("files", demo("bath-log.csv"))
    tab.again("assess")
    longer = (DEMO / "bath-log.csv").read_text().replace("37.6", "57.6").encode()
    tab.again("assess", [("bath-log.csv", longer)])
    assert "that is, per gram" not in tab.answer.text
    assert "taken out so far" in tab.answer.text
    tab.again("remove:bath-log.csv")
    assert tab.fields()["bath.log"] == []


def test_paths_of_a_case_file_lead_nowhere_but_to_files_that_were_dropped(tab, tmp_path):
    secret = tmp_path / "secret.csv"
    secret.write_bytes((DEMO / "store-log.csv").read_bytes())
    for path in (str(secret), "../secret.csv", "../../secret.csv"):
        text = f'[store]\nlog = "{path}"\n[bath]\nlog = "sub/bath-log.csv"\n'
        tab.do("files", [("case.toml", text.encode()), *demo("bath-log.csv")])
        assert "'secret.csv' is not among the files here" in tab.notice()
        assert tab.fields()["bath.log"] == ["bath-log.csv"]
    text = '[store]\nlog = "logs/store-*.csv"\n'
    tab.do("files", [("case.toml", text.encode()), *demo("store-log.csv")])
    assert tab.fields()["store.log"] == ["store-log.csv"]
    assert tab.report().status_code == 200


def test_too_many_files_and_too_much_at_once_are_refused(tab):
    table = b"ion,amount\nchloride,535 mg/kg\n"
    tab.do("files", [(f"{i}.csv", table) for i in range(MOST_FILES + 1)])
    assert f"is one too many; accepted are {MOST_FILES} files" in tab.notice()
    huge = tab.do("files", [("huge.csv", bytes(MOST_BYTES + 1))])
    assert huge.status_code == 413
    assert "larger than 64 MB" in huge.text
    assert tab.client.get(tab.path, base_url=OWN).status_code == 200


def test_a_small_workbook_that_unpacks_without_end_is_refused(tab):
    import zipfile

    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as book:
        book.writestr("xl/workbook.xml", "<workbook/>")
        with book.open("xl/worksheets/sheet1.xml", "w", force_zip64=True) as sheet:
            for _ in range(33):
                sheet.write(bytes(1 << 24))
    assert len(packed.getvalue()) < 1 << 20
    tab.do("files", [("book.xlsx", packed.getvalue())])
    assert "book.xlsx: unpacks to more than 512 MB" in tab.notice()


# What comes of it --------------------------------------------------------------------------------
def figures(assessed):
    return [[(f["key"], f["text"]) for f in part["findings"]] for part in assessed["sections"]]


def test_the_demo_case_is_assessed_as_by_the_tool_and_saved_whole(tab, folder, tmp_path):
    from aeruca.report import render_report

    tab.do("files", demo(*WHOLE))
    assert "The form now says what case.toml says." in tab.notice()
    assert "Assessed: conditions active." in tab.notice()
    saved = tab.again("case")
    assert saved.headers["Content-Disposition"].endswith('.toml"')
    for name in WHOLE:
        (tmp_path / name).write_bytes((DEMO / name).read_bytes())
    (tmp_path / "case.toml").write_text(saved.text, encoding="utf-8")
    mine = aeruca.assess_case(tmp_path / "case.toml", date=TODAY)
    theirs = aeruca.assess_case(DEMO / "case.toml", date=TODAY)
    assert figures(mine.to_dict()) == figures(theirs.to_dict())
    tab.again("files")
    report = tab.again("report")
    assert report.headers["Content-Type"].startswith("text/html")
    assert 'attachment; filename="Bird-head mount' in report.headers["Content-Disposition"]
    expected = render_report(mine).replace(f"{tmp_path}/", "")
    unlike = re.compile(r"data:image/svg\+xml;base64,[A-Za-z0-9+/=]*")  # ids within are random
    assert unlike.sub("", report.text) == unlike.sub("", expected)
    assert str(folder) not in report.text


def test_a_changed_number_shows_what_moved_before_and_after(tab):
    tab.do("files", demo(*WHOLE))
    tab.again("assess")
    assert "The verdict stays. Figures that moved: 0." in tab.notice()
    assert not [one for one in tab.seen.all("table") if one.get("id") == "moved"]
    tab.again("assess", object__mass_g="124.8")
    assert "Figures that moved: 3." in tab.notice()
    row = re.search(r'(?s)<table id="moved">.*?</table>', tab.answer.text)[0]
    cells = [re.sub(r"<[^>]*>", "", c) for c in re.findall(r"(?s)<t[hd].*?</t[hd]>", row)]
    assert cells[3:7] == [
        "How long to wash",
        "that is, per gram of object",
        "1.92 (1.84 to 2.00) mg/g",
        "0.96 (0.92 to 1.00) mg/g",
    ]
    # The shares of the object that one filling may carry off.
    assert cells[7] == "What the bath is and does"
    assert sum("that one filling may carry off" in cell for cell in cells[8:]) == 2
    tab.again("assess", store__log=[], store__object_cooler_by_k="")
    assert "The verdict went from active to not known." in tab.notice()
    assert "not there" in tab.answer.text


def test_a_log_that_cannot_be_used_costs_its_section_only(tab):
    log = b"time;a;b\n2026-01-01 00:00;1;2\n2026-01-01 01:00;1;2\n"
    tab.do("assess", [("odd.csv", log)], store__log="odd.csv", object__name="Fibula")
    assert tab.answer.status_code == 200
    assert "odd.csv" in html.unescape(tab.report().text)


def test_so_many_objects_and_no_more(client, monkeypatch):
    monkeypatch.setattr(work, "MOST_WORKS", 1)
    first, second = Tab(client), Tab(client)
    assert first.do(object__name="pin").status_code == 200
    assert second.do(object__name="ring").status_code == 400
    assert "1 objects are open; accepted is one of them, or a new start" in second.notice()
    assert first.again().status_code == 200


def test_two_tabs_do_not_mix(client, folder):
    one, other = Tab(client), Tab(client)
    assert one.path != other.path
    one.do("files", demo("bath-log.csv"), object__name="First pin")
    other.do("assess", object__name="Second pin")
    one.again("assess", object__mass_g="10")
    assert "First pin" in one.report().text
    assert "Second pin" in other.report().text
    assert "bath-log.csv" not in other.answer.text
    assert other.client.get(other.path, base_url=OWN).text.count("First pin") == 0
    assert len(list(folder.iterdir())) == 2


SCRIPT = '<script>document.title="caught"</script><img src=x onerror=alert(1)>'


def test_a_script_in_a_name_or_a_note_is_text(tab):
    tab.do("files", [('"><script>x</script>.csv', (DEMO / "bath-log.csv").read_bytes())])
    fields = {"object__name": SCRIPT, "object__notes": "</textarea>" + SCRIPT}
    tab.again(
        "assess", water__0__name=SCRIPT, water__0__ph="7", observation__0__text=SCRIPT, **fields
    )
    assert tab.answer.status_code == 200
    assert [one["src"] for one in tab.seen.all("script")] == [f"/{TOKEN}/page.js"]
    assert tab.seen.all("img") == []
    assert tab.fields()["object.name"] == [SCRIPT]
    report = Seen(tab.report().text)
    assert report.all("script") == []
    assert all(one["src"].startswith("data:") for one in report.all("img"))
    saved = tab.again("case")
    assert tomllib.loads(saved.text)["object"]["name"] == SCRIPT
    name = saved.headers["Content-Disposition"]
    assert "<" not in name
    assert "\n" not in name


def test_a_page_in_another_language(folder, tmp_path):
    words = tmp_path / "other.toml"
    text = aeruca.words.english_words()
    words.write_text(text.replace('"Save the report"', '"Bericht sichern"'), encoding="utf-8")
    app, _ = make_app(Settings(folder, TOKEN, 5123, words=str(words)))
    assert "Bericht sichern" in Tab(app.test_client()).answer.text
    assert "Bericht sichern" not in aeruca.words.say("web.do.report")


def test_added_data_are_used(folder, tmp_path):
    dataset = aeruca.default_dataset()
    app, _ = make_app(Settings(folder, TOKEN, 5123, dataset=dataset))
    tab = Tab(app.test_client())
    tab.do("assess", object__name="pin")
    assert dataset.content_hash in tab.report().text


ODD = [
    "\0",
    "\x1b[31m",
    "\x7f",
    "💥",
    "1e999",
    "-",
    "9" * 400,
    "1,2,3",
    "= [",
    "'''",
    "a\r\nb",
    "٣",
]
ODD += ["\\", '"', "#", " x ", "a\tb", "\u2028", "\ufeff", "</textarea>"]


def refused_field(text):
    """The field that the reader of case files refuses; None when it takes the text."""
    try:
        return aeruca._core.check_case_text(text, "case.toml")
    except aeruca.Error as problem:
        return problem.field


def test_whatever_is_typed_is_kept_to_the_letter_or_refused_by_its_field():
    parts = parts_of(aeruca.case.case_file_schema())
    names = [name_of(part, 0, field) for part in parts for field in part.fields]
    kept = refused = 0
    for name, text in itertools.product(names, ODD):
        case, faults = case_of({name: [text]}, parts)
        assert [fault.name for fault in faults] in ([], [name])
        written = toml_file_text(case)
        assert tomllib.loads(written) == case
        field = refused_field(written)
        assert field != ""
        kept += field is None and not faults
        refused += bool(faults)
    assert kept > 300
    assert refused > 300
