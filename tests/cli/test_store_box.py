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
        ", look again by 202",
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


def test_a_file_to_judge_is_still_asked_for(run: Run) -> None:
    done = run("store")
    assert done.returncode == 2
    assert "a logger file is required" in done.stderr
