# ruff: noqa: E501  (messages stand whole, as they are printed)
"""Runs of `aeruca store`: what it prints, and one sentence for every bad input."""

import json
import re

import pytest

HEAD = "time,temperature,RH\n"
GOOD = "".join(
    f"2024-01-{d:02}T{h:02}:00,{20 + h % 5 / 10},{38 + h % 7 / 10}\n"
    for d in range(1, 11)
    for h in range(24)
)


@pytest.fixture
def log(tmp_path):
    """Write a logger file and return its name, as given on the command line."""

    def write(text: str) -> str:
        path = tmp_path / "log.csv"
        path.write_text(text, encoding="utf-8")
        return str(path)

    return write


def test_the_demo_record_is_judged(run, root):
    done = run("store", str(root / "data" / "demo" / "store-log.csv"), "--accuracy", "2")
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    for part in (
        "Limit: 42 to 46 % RH (",
        "Sensor: +/-2 % RH taken as one bias of the whole record",
        "Verdict: active",
        "probability that the record was dormant / borderline / active by this rule: ",
        "not a bronze-disease criterion",
        "Faults in the file: 17; ",
        "... the first 10 are shown",
        "worst month: 2025-07",
        "Data set ",
    ):
        assert part in done.stdout


def test_json_carries_the_same_figures(run, log):
    done = run("store", log(HEAD + GOOD), "--limit-rh", "42", "--cooler", "0.5", "--json")
    assert done.returncode == 0, done.stderr
    result = json.loads(done.stdout)
    assert result["record"]["readings"] == 240
    assert result["assessment"]["coverage"] == 1
    assert result["assessment"]["options"]["cooler_c"] == 0.5
    assert result["assessment"]["options"]["onset"]["low_rh_percent"] == [42]
    assert result["data_set"]["content_hash"]
    p = [
        result["assessment"][f"probability_{name}"] for name in ("dormant", "borderline", "active")
    ]
    assert sum(p) == pytest.approx(1)


def test_shares_are_printed_in_percent_and_months_with_two_digits(run, log):
    rows = "".join(
        f"2024-10-{d:02}T{h:02}:00,{20 + h % 5 / 10},{45 if d > 28 else 38 + h % 7 / 10}\n"
        for d in range(1, 32)
        for h in range(24)
    )
    path = log(HEAD + rows)
    text = run("store", path, "--limit-rh", "42", "--accuracy", "1").stdout
    done = run("store", path, "--limit-rh", "42", "--accuracy", "1", "--json")
    above = json.loads(done.stdout)["assessment"]["above_low"]["share"]
    assert re.search(rf"time above 42 % RH +{100 * above['as_read']:.3g} %", text)
    assert "worst month: 2024-10, mean" in text


def test_a_cooler_object_and_a_poorer_sensor_make_it_less_sure(run, log):
    path = log(HEAD + GOOD)
    sure = json.loads(run("store", path, "--json", "--accuracy", "2").stdout)["assessment"]
    poor = json.loads(run("store", path, "--json", "--accuracy", "6").stdout)["assessment"]
    cool = json.loads(run("store", path, "--json", "--accuracy", "2", "--cooler", "3").stdout)[
        "assessment"
    ]
    assert sure["verdict"] == "dormant"
    assert poor["probability_dormant"] < sure["probability_dormant"]
    assert cool["probability_dormant"] < sure["probability_dormant"]


def test_a_salt_can_be_the_limit(run, log):
    done = run("store", log(HEAD + GOOD), "--salt", "halite")
    assert done.returncode == 0, done.stderr
    assert "(halite: deliquescence of NaCl" in done.stdout


def test_too_short_a_record_is_not_known_and_says_so(run, log):
    done = run("store", log(HEAD + GOOD[:500]))
    assert done.returncode == 3
    assert "Verdict: not known\n  the known time is 0.7" in done.stdout
    assert "days; at least 7 are asked" in done.stdout
    assert "not worked out from so little" in done.stdout
    assert "or more.\n    Our own working rule, from no source.\n" in done.stdout
    assert "probability that no reading" not in done.stdout


def test_no_probability_is_certain_and_the_rule_is_told_once(run, log):
    done = run("store", log(HEAD + GOOD))
    assert "/ below 0.01 / below 0.01\n" in done.stdout
    assert done.stdout.count("Our own working rule") == 1


BAD_FILES = {
    "empty": (
        "",
        "header: none of the first 60 lines names a time and a humidity column; accepted is for instance 'time;temperature (C);RH (%)'",
    ),
    "no header": ("2024-01-01T00:00,20,40\n", "header: there is no header, and nothing tells"),
    "no humidity": (
        "time,temperature\n2024-01-01T00:00,20\n",
        "header: none of the first 60 lines",
    ),
    "only absolute humidity": (
        "time,absolute humidity (g/m3)\n2024-01-01T00:00,9\n",
        "header: none of the first 60 lines",
    ),
    "two humidities": (
        "time,RH 1,RH 2\n2024-01-01T00:00,40,41\n",
        "line 1, header: 'RH 1' and 'RH 2' both look like the humidity; accepted is one column, or its name in rh_column (--rh-column)",
    ),
    "two times": (
        "timestamp 1,datetime,RH\nx,y,40\n",
        "line 1, header: 'timestamp 1' and 'datetime' both look like the time; accepted is one column, or its name in time_column (--time-column)",
    ),
    "kelvin": (
        "time,T (K),RH\n2024-01-01T00:00,293,40\n",
        "line 1, T (K): temperature in kelvin; accepted is C or F",
    ),
    "no rows": (
        HEAD,
        "has a header and no reading; accepted is at least one line with a time and a humidity",
    ),
    "dates with slashes": (
        HEAD + "01/02/2024 00:00,20,40\n",
        "line 2, time: '01/02/2024 00:00' may have its day first or its month, and nothing in the file tells which; accepted is day_first or month_first in date_order (--date-order)",
    ),
    "no such day": (
        HEAD + "2023-02-29T00:00,20,40\n",
        "'2023-02-29T00:00' is no time that is read",
    ),
    "words for numbers": (
        HEAD + "2024-01-01T00:00,20,wet\n",
        "line 2, RH: first of 1 lines of 1 that cannot be used (accepted is at most 20 %): 'wet' is no number; accepted is a humidity in percent; line dropped",
    ),
    "decimal comma between commas": (
        HEAD + "2024-01-01T00:00,20,5,40,2\n",
        "more fields than the 3 of the header (a decimal comma needs quotes or another separator); line dropped",
    ),
    "thousands": (
        "time;RH\n2024-01-01T00:00;1.040,5\n",
        "'1.040,5' is no number; accepted is a humidity in percent",
    ),
    "short line": (
        HEAD + "2024-01-01T00:00\n",
        "line 2, line: first of 1 lines of 1 that cannot be used (accepted is at most 20 %): 1 field where the header has 3; line dropped",
    ),
    "impossible humidity": (
        HEAD + "2024-01-01T00:00,20,140\n",
        "line 2, RH: first of 1 lines of 1 that cannot be used (accepted is at most 20 %): 140 % RH cannot be; accepted is 0 to 103; line dropped",
    ),
    "impossible temperature": (
        HEAD + "2024-01-01T00:00,20,40\n2024-01-01T01:00,21,41\n2024-01-01T02:00,200,40\n",
        "200 degrees C cannot be in a store; accepted is -40 to 80; line dropped",
    ),
    "open quote": (
        HEAD + '"2024-01-01T00:00,20,40\n',
        "line 2, line: first of 1 lines of 1 that cannot be used (accepted is at most 20 %): a quote is not closed; line dropped",
    ),
    "no values": (
        HEAD + "2024-01-01T00:00,20,\n",
        "line 2, RH: first of 1 lines of 1 that cannot be used (accepted is at most 20 %): no humidity; line dropped",
    ),
    "mostly bad": (
        HEAD + GOOD[:100] + "x,20,40\n" * 9,
        "that cannot be used (accepted is at most 20 %): ",
    ),
}


@pytest.mark.parametrize("name", BAD_FILES)
def test_bad_files_are_refused_in_one_sentence(run, log, name):
    text, message = BAD_FILES[name]
    path = log(text)
    done = run("store", path)
    assert done.returncode == 1
    assert done.stdout == ""
    assert done.stderr.startswith(f"aeruca: {path}")
    assert message in done.stderr
    assert done.stderr.count("\n") == 1


BAD_ARGUMENTS = {
    "unknown band": (
        ["--onset", "scott-1991"],
        1,
        "no onset band named 'scott-1991'; nearest is 'scott-1990'",
    ),
    "limit too high": (
        ["--limit-rh", "140"],
        1,
        "limit_rh_percent = 140: accepted is 0 to 100 % RH",
    ),
    "unknown salt": (["--salt", "halit"], 1, "named 'halit'"),
    "accuracy": (["--accuracy", "50"], 1, "accuracy_rh_percent = 50: accepted is 0 to 30 % RH"),
    "cooler": (["--cooler", "25"], 1, "cooler_c = 25: accepted is -20 to 20 degrees C"),
    "bad share": (["--max-bad-share", "2"], 1, "max_bad_share = 2: accepted is 0 to 1"),
    "gap factor": (["--gap-factor", "1"], 1, "gap_factor = 1: accepted is 1.5 or more"),
    "column": (
        ["--rh-column", "humid"],
        1,
        "header: none of the first 60 lines names a time and a humidity column (asked for: 'humid')",
    ),
    "meaning": (["--accuracy-means", "sigma"], 2, "sigma"),
    "two limits": (
        ["--limit-rh", "40", "--onset", "scott-1990"],
        2,
        "only one of them can be given",
    ),
    "no number": (["--accuracy", "good"], 2, "good"),
}


@pytest.mark.parametrize("name", BAD_ARGUMENTS)
def test_bad_arguments_are_refused(run, log, name):
    arguments, code, message = BAD_ARGUMENTS[name]
    done = run("store", log(HEAD + GOOD), *arguments)
    assert done.returncode == code
    assert done.stdout == ""
    assert message in done.stderr


def test_no_file_is_a_usage_error(run):
    done = run("store")
    assert done.returncode == 2
    assert "a logger file is required" in done.stderr


def test_a_missing_file_and_a_directory_are_said(run, tmp_path):
    assert (
        "cannot be opened; a readable file is wanted"
        in run("store", str(tmp_path / "no.csv")).stderr
    )
    assert "holds no file; accepted is a folder" in run("store", str(tmp_path)).stderr
