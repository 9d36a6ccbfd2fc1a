# ruff: noqa: E501  (messages stand whole, as they are printed)
"""`aeruca store` of several files: one record joined, or a table of objects by risk."""

import csv
import datetime
import json
import os
import re
import signal
import subprocess

import pytest


def lines(first: int, count: int, rh: float = 38.0) -> str:
    """Hourly readings from an hour of 2024 on."""
    rows = ["time,T,RH"]
    for i in range(first, first + count):
        day, hour = divmod(i, 24)
        rows.append(
            f"2024-{day // 28 + 1:02}-{day % 28 + 1:02}T{hour:02}:00,20.0,{rh + i % 7 / 10:.1f}"
        )
    return "\n".join(rows) + "\n"


@pytest.fixture
def logs(tmp_path):
    """Three files of one logger: the second overlaps the first, the third comes late."""
    folder = tmp_path / "logs"
    folder.mkdir()
    (folder / "1.csv").write_text(lines(0, 200))
    second = lines(190, 200).splitlines()
    second[4] = second[4].rsplit(",", 1)[0] + ",55.5"
    (folder / "2.csv").write_text("\n".join(second) + "\n")
    (folder / "3.csv").write_text(lines(450, 100))
    return folder


def test_a_folder_is_the_record_of_one_logger(run, logs):
    done = run("store", "logs", cwd=logs.parent)
    assert done.returncode == 0, done.stderr
    assert "Store record logs\n  joined from 3 of 3 files\n" in done.stdout
    assert (
        "logs/1.csv and logs/2.csv overlap from 2024-01-08T22:00:00 to 2024-01-09T07:00:00: 9 "
        "readings agree, 1 differ (those of the earlier file are kept), 0 more lie between\n"
        in done.stdout
    )
    assert (
        "no reading between logs/2.csv and logs/3.csv, from 2024-01-17T05:00:00 to "
        "2024-01-19T18:00:00 (61 h)\n" in done.stdout
    )
    assert "490 readings, usually every 1 h" in done.stdout
    assert (
        "logs/2.csv, line 5, RH: 2024-01-09T01:00:00 has 55.5 where 'logs/1.csv' has 38.4 in line 195; that is kept, this line dropped"
        in done.stdout
    )


@pytest.mark.parametrize(
    "names", [["logs/*.csv"], ["logs/2.csv", "logs/3.csv", "logs/1.csv"], ["logs", "logs/1.csv"]]
)
def test_a_pattern_and_a_list_give_the_same_record(run, logs, names):
    whole = json.loads(run("store", "logs", "--json", cwd=logs.parent).stdout)
    done = run("store", *names, "--json", cwd=logs.parent)
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert found["assessment"] == whole["assessment"]
    assert {**found["record"], "file": "logs"} == whole["record"]


def test_one_bad_file_has_its_line_and_the_rest_goes_on(run, logs):
    (logs / "notes.txt").write_text("nothing\n")
    done = run("store", "logs", cwd=logs.parent)
    assert done.returncode == 1
    problem = "logs/notes.txt, header: none of the first 60 lines names a time and a humidity column; accepted is for instance 'time;temperature (C);RH (%)'"
    assert done.stderr == f"aeruca: {problem}\n"
    assert f"joined from 3 of 4 files\n    could not be used: {problem}\n" in done.stdout
    assert "490 readings" in done.stdout


def test_two_loggers_in_one_folder_are_noticed(run, logs):
    (logs / "other.csv").write_text(lines(0, 100, 60))
    done = run("store", "logs", cwd=logs.parent)
    assert (
        "note: logs/1.csv differs from logs/other.csv in 100 of 100 readings at the same times: are both of one logger?"
        in done.stdout
    )


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["none/*.csv"], "aeruca: none/*.csv: fits no file; accepted is a pattern such as logs/*.csv\n"),
        (["empty"], "aeruca: empty: holds no file; accepted is a folder with logger files\n"),
        (["none.csv"], "none.csv"),
        (["logs", "--table", "logs/out.csv"], "aeruca: --table = logs/out.csv: accepted is a file outside the folder that is read\n"),
        (["logs/*", "--table", "logs/1.csv"], "aeruca: --table = logs/1.csv: accepted is a file that is not read: it would be lost\n"),
        (["logs", "--table", "none/out.csv"], "aeruca: none/out.csv: cannot be written; a writable place is wanted\n"),
    ],
)  # fmt: skip
def test_a_name_that_cannot_be_meant_is_one_sentence(run, logs, arguments, says):
    (logs.parent / "empty").mkdir()
    before = (logs / "1.csv").read_text()
    done = run("store", *arguments, cwd=logs.parent)
    assert done.returncode == 1
    assert says in done.stderr
    assert done.stderr.count("\n") == 1
    assert (logs / "1.csv").read_text() == before


def test_what_is_of_one_logger_goes_with_no_table(run, logs):
    for more in (["--beside", "logs/1.csv"], ["--check", "halite=74", "--check-temperature", "20"]):
        done = run("store", "logs", "--table", "out.csv", *more, cwd=logs.parent)
        assert done.returncode == 2
        assert "--table: goes neither with --beside nor with --check" in done.stderr
        assert not (logs.parent / "out.csv").exists()


def test_a_table_takes_each_file_for_an_object(run, tmp_path):
    folder = tmp_path / "store"
    folder.mkdir()
    for name, rh in (("dry", 30), ("wet", 60), ("between", 42)):
        (folder / f"{name}.csv").write_text(lines(0, 400, rh))
    (folder / "bad.csv").write_text("time,RH\n2024-01-01T00:00,wet\n")
    (tmp_path / "out.csv").write_text("what was there before\n")
    done = run("store", "store", "--table", "out.csv", "--onset", "scott-1990", cwd=tmp_path)
    assert done.returncode == 1
    assert done.stderr == "aeruca: 1 of 4 files could not be used; out.csv says why\n"
    assert done.stdout.startswith(
        "4 objects against scott-1990: 1 active, 1 borderline, 1 dormant, 0 not known, 1 that could not be used."
    )
    with (tmp_path / "out.csv").open(newline="") as file:
        rows = list(csv.DictReader(file))
    assert [row["file"] for row in rows] == [
        f"store/{n}.csv" for n in ("wet", "between", "dry", "bad")
    ]
    assert [row["rank"] for row in rows] == ["1", "2", "3", ""]
    assert [row["verdict"] for row in rows] == ["active", "borderline", "dormant", "not known"]
    assert rows[0]["from"] == "2024-01-01T00:00:00"
    assert rows[0]["to"] == "2024-01-17T15:00:00"
    assert float(rows[0]["share_too_humid"]) == 1
    assert float(rows[0]["worst_spell_h"]) == 400
    assert rows[0]["worst_spell_from"] == "2024-01-01T00:00:00"
    assert rows[3]["problem"].startswith("store/bad.csv, line 2, RH: first of 1 lines of 1")
    single = json.loads(
        run("store", "store/between.csv", "--onset", "scott-1990", "--json", cwd=tmp_path).stdout
    )
    assert float(rows[1]["probability_dormant"]) == single["assessment"]["probability_dormant"]
    assert float(rows[1]["set_point_rh_percent"]) == single["assessment"]["set_point_rh_percent"]
    assert sorted(path.name for path in tmp_path.iterdir()) == ["out.csv", "store"]


def test_long_work_tells_its_progress_and_an_interrupt_leaves_no_half_of_a_table(tool, tmp_path):
    folder = tmp_path / "store"
    folder.mkdir()
    start = datetime.datetime(2000, 1, 1)
    times = ((start + datetime.timedelta(hours=i)).isoformat() for i in range(40_000))
    (folder / "0000.csv").write_text("time,RH\n" + "".join(f"{at},40.5\n" for at in times))
    for k in range(1, 4000):
        os.link(folder / "0000.csv", folder / f"{k:04}.csv")
    # On one processor, so that it takes long enough on any machine.
    one = {min(os.sched_getaffinity(0))}
    with subprocess.Popen(
        [str(tool), "store", str(folder), "--table", str(tmp_path / "out.csv")],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        preexec_fn=lambda: os.sched_setaffinity(0, one),
    ) as work:
        told = work.stderr.readline()
        work.send_signal(signal.SIGINT)
        work.communicate(timeout=30)
    assert re.fullmatch(r"aeruca: \d+ of 4000 files\n", told)
    assert work.returncode == -signal.SIGINT
    assert [path.name for path in tmp_path.iterdir()] == ["store"]
