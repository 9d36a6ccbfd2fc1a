# ruff: noqa: E501  (messages stand whole, as they are printed)
"""`aeruca case` of a folder, a pattern or several files: one table of objects by risk."""

import csv
import html
import json
import os
import pty
import re
import shutil
import signal
import subprocess

import pytest

DAY = "2026-06-30"


def month(rh: float) -> str:
    """Hourly readings of a February about one humidity."""
    rows = [
        f"2026-02-{1 + i // 24:02}T{i % 24:02}:00,20.0,{rh + i % 7 / 10:.1f}"
        for i in range(28 * 24)
    ]
    return "\n".join(["time,T,RH", *rows]) + "\n"


def case(name: str, log: str, more: str = "") -> str:
    return (
        f'[object]\nname = "{name}"\nsilver_nitrate_test = "positive"\n{more}'
        f'[store]\nlog = "{log}"\nonset = "scott-1990"\n'
    )


@pytest.fixture
def objects(tmp_path):
    """Objects of each kind, some in folders of their own."""
    folder = tmp_path / "objects"
    for name, rh, more in (
        ("dry", 25, ""),
        ("wet", 60, ""),
        ("gilded", 41, 'features = ["gilded"]\n'),
    ):
        (folder / name).mkdir(parents=True)
        (folder / name / "case.toml").write_text(case(f"the {name} one", "log.csv", more))
        (folder / name / "log.csv").write_text(month(rh))
    (folder / "bare.toml").write_text('[object]\nname = "the bare one"\n')
    (folder / "grown.toml").write_text(
        '[object]\nname = "the grown one"\n'
        '[[observation]]\ndate = 2026-03-01\nkind = "new growth"\n'
    )
    return folder


ORDER = ["grown", "wet", "gilded", "bare", "dry"]


def table(path):
    with path.open(newline="") as file:
        return list(csv.DictReader(file))


def test_a_folder_is_a_table_by_risk(run, objects):
    done = run("case", "objects", "--date", DAY, cwd=objects.parent)
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    lines = done.stdout.splitlines()
    assert lines[0].startswith(
        "Objects: 5; active 2, borderline 1, not known 1, dormant 1, could not"
    )
    ranked = [line.split()[:4] for line in lines if re.match(r"\d ", line)]
    assert ranked == [[str(k + 1), "the", name, "one"] for k, name in enumerate(ORDER)]
    assert "   objects/wet/case.toml; record to 2026-02-28\n" in done.stdout
    assert "measure next: " in done.stdout
    # Where no chance stands, the reason does.
    assert re.search(r"the grown one +active +- +- +no bath log +-\n", done.stdout)
    assert "   New growth" in done.stdout
    assert max(map(len, lines)) <= 88
    narrow = run("case", "objects", "--date", DAY, "--width", "60", cwd=objects.parent)
    assert max(map(len, narrow.stdout.splitlines())) <= 60


@pytest.mark.parametrize(
    "names",
    [
        ["objects/*.toml", "objects/*/case.toml"],
        ["objects/**/*.toml", "objects"],
        [
            *(f"objects/{name}/case.toml" for name in ("wet", "gilded", "dry")),
            *("objects/grown.toml", "objects/bare.toml"),
        ],
    ],
)
@pytest.mark.parametrize("threads", ["1", "7"])
def test_patterns_lists_and_threads_give_the_same_bytes(run, objects, names, threads):
    outputs = []
    for given in (["objects"], [*names, "--threads", threads]):
        more = ["--date", DAY, "--table", "out.csv", "--html", "out.html"]
        done = run("case", *given, *more, cwd=objects.parent)
        assert done.returncode == 0, done.stderr
        both = [(objects.parent / f"out.{kind}").read_bytes() for kind in ("csv", "html")]
        outputs.append((done.stdout, *both))
    assert outputs[0] == outputs[1]


def test_a_row_says_what_the_case_alone_says(run, objects):
    run("case", "objects", "--date", DAY, "--table", "out.csv", cwd=objects.parent)
    rows = table(objects.parent / "out.csv")
    assert [row["name"] for row in rows] == [f"the {name} one" for name in ORDER]
    assert [row["rank"] for row in rows] == ["1", "2", "3", "4", "5"]
    wet = rows[1]
    alone = json.loads(run("case", wet["file"], "--date", DAY, "--json", cwd=objects.parent).stdout)
    assert wet["verdict"] == alone["verdict"]
    assert float(wet["probability_active"]) == alone["odds"]["active"]
    assert float(wet["probability_dormant"]) == alone["odds"]["dormant"]
    assert wet["reason"] == alone["reason"]
    assert wet["measure_next"] == alone["next"][0]["what"]
    findings = {
        one["key"]: one["value"]
        for part in alone["sections"]
        if part["id"] == "dry"
        for one in part["findings"]
    }
    assert float(wet["set_point_rh_percent"]) == findings["set_point_rh_percent"]
    assert rows[0]["probability_active"] == rows[0]["set_point_rh_percent"] == ""
    assert [row["washing"] for row in rows] == ["no log"] * 2 + ["ask a conservator"] + [
        "no log"
    ] * 2
    assert [row["ask_a_conservator"] for row in rows] == ["no", "no", "yes", "no", "no"]


def test_the_demo_case_has_its_bath_and_its_review(run, root, tmp_path):
    done = run("case", str(root / "data/demo"), "--date", "2027-03-04", "--json")
    assert done.returncode == 0, done.stderr
    (row,) = json.loads(done.stdout)["collection"]["objects"]
    alone = run("case", str(root / "data/demo/case.toml"), "--date", "2027-03-04", "--json")
    said = json.loads(alone.stdout)
    assert row["invented"] is True
    assert row["washing"] in ("leave", "change", "cannot tell")
    assert row["look_again_by"] == said["box"]["review"]["review_date"] == "2027-03-03"
    assert row["overdue"] is True
    text = run("case", str(root / "data/demo"), "--date", "2027-03-04").stdout
    assert "Invented for teaching: 1. No such object" in " ".join(text.split())
    assert "(past)" in text


def test_one_bad_file_has_its_row_and_the_rest_goes_on(run, objects):
    (objects / "broken.toml").write_text("[object]\nmas_g = 3\n")
    (objects / "lost.toml").write_text(case("the lost one", "dry/log.csv") + '[bath]\nlog = "no"\n')
    done = run(
        "case", "objects", "--date", DAY, "--table", "out.csv", "--html", "out.html",
        cwd=objects.parent,
    )  # fmt: skip
    assert done.returncode == 1
    assert done.stderr == (
        "aeruca: 1 of 7 cases have a log that cannot be used\n"
        "aeruca: 1 of 7 case files could not be used; the table says why\n"
    )
    problem = "objects/broken.toml, line 2, object.mas_g: no key named 'mas_g'; nearest is 'mass_g'"
    assert f"could not be used: {problem}" in " ".join(done.stdout.split())
    rows = table(objects.parent / "out.csv")
    assert rows[-1]["file"] == "objects/broken.toml"
    assert rows[-1]["problem"].startswith(problem)
    assert rows[-1]["rank"] == ""
    lost = next(row for row in rows if row["name"] == "the lost one")
    assert lost["washing"] == "bad log"
    assert "'no' is no file that can be read" in lost["not_worked_out"]
    page = html.unescape((objects.parent / "out.html").read_text())
    assert f"could not be used: {problem}" in page
    assert "not worked out: " in page
    assert sorted(path.name for path in objects.parent.iterdir()) == [
        "objects",
        "out.csv",
        "out.html",
    ]


def test_the_page_holds_every_row_and_no_script(run, objects):
    (objects / "odd.toml").write_text('[object]\nname = "<script>alert(1)</script>"\n')
    done = run("case", "objects", "--date", DAY, "--html", "out.html", cwd=objects.parent)
    assert done.returncode == 0, done.stderr
    page = (objects.parent / "out.html").read_text()
    assert "<script" not in page
    assert "&lt;script&gt;alert(1)&lt;/script&gt;" in page
    assert "http" not in page
    assert page.count("<tr class=") == 6
    assert [word for word in re.findall(r'<tr class="([a-z-]+)"', page)] == [
        "active", "active", "borderline", "not-known", "not-known", "dormant"
    ]  # fmt: skip
    assert f"Assessed {DAY}." in page
    for tag in ("table", "thead", "tbody", "tr", "td", "th", "span", "p", "div", "html", "body"):
        opened = len(re.findall(rf"<{tag}[ >]", page))
        assert opened == page.count(f"</{tag}>"), tag


@pytest.mark.parametrize(
    ("arguments", "code", "says"),
    [
        (["none/*.toml"], 1, "none/*.toml: fits no file; accepted is a pattern such as objects/*/case.toml\n"),
        (["empty"], 1, "empty: holds no case file; accepted is a folder with files that end in .toml, in it or in folders below\n"),
        (["objects", "--table", "objects/wet/log.csv"], 1, "--table = objects/wet/log.csv: accepted is a file that is not read: it would be lost\n"),
        (["objects", "--html", "objects/bare.toml"], 1, "--html = objects/bare.toml: accepted is a file whose name does not end in .toml, as case files do\n"),
        (["objects", "--table", "none/out.csv"], 1, "none/out.csv: cannot be written; a writable place is wanted\n"),
        (["objects", "--table", "out", "--html", "./out"], 2, "--table, --html: cannot be the same file\n"),
        (["objects/bare.toml", "--threads", "2"], 2, "--threads: goes with a folder, a pattern or several case files\n"),
        (["objects", "--threads", "300"], 2, "--threads"),
        (["--new", "x.toml", "--table", "out.csv"], 2, "--table, --html: go with case files, a folder or a pattern of them\n"),
        (["objects", "--date", "soon"], 1, "date = soon: accepted is year-month-day such as 2026-03-04\n"),
    ],
)  # fmt: skip
def test_what_cannot_be_meant_is_one_sentence_and_nothing_is_written(
    run, objects, arguments, code, says
):
    (objects.parent / "empty").mkdir()
    before = {path: path.read_bytes() for path in objects.parent.rglob("*") if path.is_file()}
    done = run("case", *arguments, cwd=objects.parent)
    assert done.returncode == code
    assert done.stderr.startswith(f"aeruca: {says}")
    assert done.stdout == ""
    after = {path: path.read_bytes() for path in objects.parent.rglob("*") if path.is_file()}
    assert after == before


def test_long_work_is_told_at_a_terminal_and_an_interrupt_leaves_no_half_of_a_table(
    tool, root, tmp_path
):
    demo = root / "data/demo"
    for k in range(40):
        (tmp_path / "cases" / f"{k:02}").mkdir(parents=True)
        for name in ("case.toml", "store-log.csv", "bath-log.csv"):
            shutil.copy(demo / name, tmp_path / "cases" / f"{k:02}")
    command = [str(tool), "case", "cases", "--threads", "1", "--table", "out.csv"]
    ours, theirs = pty.openpty()
    with subprocess.Popen(command, cwd=tmp_path, stdout=subprocess.PIPE, stderr=theirs) as work:
        os.close(theirs)
        told = ""
        while not told.endswith("\n"):
            told += os.read(ours, 200).decode()
        work.send_signal(signal.SIGINT)
        work.communicate(timeout=30)
    os.close(ours)
    assert re.fullmatch(r"aeruca: \d+ of 40 cases\r\n", told)
    assert work.returncode == -signal.SIGINT
    assert [path.name for path in tmp_path.iterdir()] == ["cases"]
