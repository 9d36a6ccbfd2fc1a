"""`aeruca store box`: days, gel, date of the visit; the exchange from a decay test or records."""

import json
import math
from collections.abc import Callable
from pathlib import Path
from subprocess import CompletedProcess

import pytest

Run = Callable[..., CompletedProcess[str]]

BOX = ("store", "box", "--volume", "0.05", "--start", "6")
ROOM = ("--outside-rh", "60", "--temperature", "20")
LIMIT = ("--limit", "40", "--draws", "50")


def test_days_gel_and_the_date_of_the_visit(run: Run) -> None:
    done = run(*BOX, *ROOM, *LIMIT, "--exchange", "0.5", "--gel-kg", "0.4", "--from", "2026-01-01")
    assert done.returncode == 0, done.stderr
    for words in (
        "Limit 40 % RH",
        "may be left alone for",
        "Look at the box by 2026-",
        "half of them by 202",
        "is our own rule: a decay test would say better",
        "schawe-af25",
        "dry gel that lasts 365 days:",
        "with half the exchange:",
        "no desorption branch and no gel of intermediate density",
        "Half-time of the air alone 1.39 days",
    ):
        assert words in " ".join(done.stdout.split()), words


def test_the_same_as_json(run: Run) -> None:
    ask = (*BOX, *ROOM, *LIMIT, "--exchange", "0.5", "--gel", "thu-2013", "--json")
    first, second = (json.loads(run(*ask, "--seed", seed).stdout) for seed in "12")
    found = first["forecast"]
    assert found["gel_for_visit_kg"]["low"] < found["gel_for_visit_kg"]["value"]
    assert found["gel_for_visit_kg"]["value"] == second["forecast"]["gel_for_visit_kg"]["value"]
    assert found["gel_for_visit_kg"]["low"] != second["forecast"]["gel_for_visit_kg"]["low"]
    assert found["enclosure"]["gel"] == "thu-2013"
    assert first["exchange"] is None


def test_never_is_an_answer(run: Run) -> None:
    done = run(*BOX, "--outside-rh", "35", "--temperature", "20", *LIMIT, "--exchange", "1")
    assert done.returncode == 0
    assert "reached after never" in done.stdout
    assert "is never reached: the air outside brings no more than 35 % RH inside" in done.stdout


def test_the_exchange_from_a_decay_test(run: Run, tmp_path: Path) -> None:
    rows = [f"{h};{420 + 2000 * math.exp(-h / 24):.1f}" for h in range(30)]
    decay = tmp_path / "decay.csv"
    decay.write_text("hours;CO2\n" + "\n".join(rows) + "\n")
    ask = (*BOX, *ROOM, *LIMIT, "--decay", str(decay), "--background", "420")
    done = run(*ask, "--json")
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout)["exchange"]["exchange_per_day"] == pytest.approx(1, abs=1e-3)
    decay.write_text("hours;CO2\n1;420\nx;410\n")
    assert run(*ask).stderr.endswith(
        "decay.csv, line 3, hours, value: is no number, accepted is two numbers a line: "
        "hours, value\n"
    )
    decay.write_text("hours,CO2\n" + "".join(f"{h},{430 - h % 3}\n" for h in range(9)))
    done = run(*ask)
    assert done.returncode == 3
    assert done.stderr.startswith("these readings cannot tell the exchange of air")


@pytest.mark.parametrize(
    ("more", "code", "message"),
    [
        ((*ROOM, "--exchange", "-1"), 1, "exchange_per_day = -1: accepted is 0 to 1000"),
        (("--exchange", "1"), 2, "both are needed, or --outside with the record of a logger"),
        (ROOM, 2, "--exchange, --decay, --inside: one of them is needed"),
        ((*ROOM, "--exchange", "1", "--from", "1.2.2026"), 1, "a date such as 2024-03-31"),
        ((*ROOM, "--exchange", "1", "--gel", "thu"), 1, "nearest is 'thu-2013'"),
        ((*ROOM, "--exchange", "1", "--background", "4"), 2, "one goes with the other"),
        ((*ROOM, "--inside", "a.csv"), 2, "--inside: needs --outside over the same time"),
    ],
)
def test_bad_input(run: Run, more: tuple[str, ...], code: int, message: str) -> None:
    done = run(*BOX, *more)
    assert done.returncode == code
    assert message in done.stderr
    assert len(done.stderr.splitlines()) <= 2


def test_a_record_is_joined_to_its_box(run: Run, root: Path) -> None:
    log = ("store", str(root / "data/demo/store-log.csv"), "--accuracy", "2.5")
    box = ("--volume", "0.05", "--exchange", "0.2", "--gel-kg", "1", "--draws", "40")
    done = run(*log, *box, "--outside-rh", "60", "--temperature", "18")
    assert done.returncode == 0, done.stderr
    lines = done.stdout.splitlines()
    place = next(i for i, line in enumerate(lines) if line.startswith("Set-point: keep"))
    assert lines[place + 1].startswith("Look at the box by 2026-")
    assert "39 % RH (the set-point of this logger)" in lines[place + 1]
    found = json.loads(
        run(*log, *box, "--outside-rh", "60", "--temperature", "18", "--json").stdout
    )
    review = found["box"]["review"]
    assert review["limit_from"] == "set_point"
    assert review["limit_rh_percent"] == math.floor(found["assessment"]["set_point_rh_percent"])
    assert review["start_from_record"] is True
    assert review["start"].startswith("2025-12-31")
    assert review["review_date"] in lines[place + 1]
    plain = json.loads(run(*log, "--json").stdout)
    assert "box" not in plain


def test_the_leakage_of_a_box_from_its_own_record(run: Run, root: Path) -> None:
    log = root / "data/demo/store-log.csv"
    done = run("store", str(log), "--volume", "0.05", "--outside", str(log), "--draws", "20")
    assert done.returncode in (0, 3)  # the room itself: as leaky as can be told
    assert "exchange" in (done.stdout + done.stderr).lower()


def test_contents_by_their_moisture(run: Run, tmp_path: Path) -> None:
    points = tmp_path / "moisture.csv"
    points.write_text("RH;moisture\n5;2,5\n30;6\n60;11\n90;20\n")
    ask = (*BOX, *ROOM, *LIMIT, "--exchange", "1", "--contents-kg", "2")
    done = run(*ask, "--moisture", str(points))
    assert done.returncode == 0, done.stderr
    assert "the moisture of the contents is taken as given" in done.stdout
    days = json.loads(run(*ask, "--moisture", str(points), "--json").stdout)["forecast"]
    assert 50 < days["days_to_limit"]["value"] < 500
    points.write_text("5,2\n30,x\n")
    assert run(*ask, "--moisture", str(points)).stderr.endswith(
        "line 2, % RH, moisture: is no number, accepted is two numbers a line: % RH, moisture\n"
    )
    assert "contents_kg = 2: accepted is a dry mass above 0 beside" in run(*ask).stderr


def test_an_option_of_a_box_without_one_is_refused(run: Run, root: Path) -> None:
    log = str(root / "data/demo/store-log.csv")
    for option in (("--gel-kg", "1"), ("--days", "30"), ("--seed", "2")):
        done = run("store", log, *option)
        assert done.returncode == 2
        assert "--volume: is needed beside the other options of a box" in done.stderr


def test_a_file_to_judge_is_still_asked_for(run: Run) -> None:
    done = run("store")
    assert done.returncode == 2
    assert "a logger file is required" in done.stderr
