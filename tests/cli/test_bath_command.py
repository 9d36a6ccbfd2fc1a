"""aeruca bath log, forecast, plan and weigh-out as a user runs them."""

import json

import pytest

LOG = """start,end,volume_l,chloride_mg_per_l,detection_limit_mg_per_l,blank_mg_per_l
2025-01-06,2025-01-13,2,63.1,2,1
2025-01-13,2025-01-20,2,27.4,2,1
2025-01-20,2025-01-27,2,19.0,2,1
2025-01-27,2025-02-03,2,13.6,2,1
2025-02-03,2025-02-10,2,9.2,2,1
2025-02-10,2025-02-17,2,,2,1
2025-02-17,2025-02-24,2,5.4,2,1
2025-02-24,2025-03-03,2,<2,2,1
"""


@pytest.fixture
def log(tmp_path):
    path = tmp_path / "log.csv"
    path.write_text(LOG)
    return path


def test_log_prints_sums_ranges_and_cautions(run, log):
    done = run("bath", "log", str(log), "--object-mass-g", "180", "--stop-mg-per-l", "2")
    assert done.returncode == 0, done.stderr
    for words in [
        "Extracted        263.4 +/- 8.4 mg chloride, 1.463 +/- 0.047 mg per g of object",
        "One bath hides   up to 4 mg, 0.022 mg per g of object",
        "extractable still inside",
        "5-95 %",
        "p = 0.7",
        "A low bath reading is not an empty object",
        "! baths not measured: 1; the total is a lower bound",
        "Data set ",
    ]:
        assert words in done.stdout
    assert "complete" not in done.stdout.lower()
    readings = [line.split()[4:6] for line in done.stdout.splitlines() if " 2025-0" in line]
    assert readings[0][0] == "63.1"
    assert readings[5][0] == "-"
    assert readings[7] == ["<", "2"]


def test_log_as_json(run, log):
    done = run("bath", "log", str(log), "--json", "--stop-mg-per-l", "2")
    assert done.returncode == 0
    answer = json.loads(done.stdout)
    assert answer["summary"]["total_mg"] == pytest.approx(263.4)
    assert answer["summary"]["baths"][7]["kind"] == "below detection"
    assert answer["fit"]["status"] == "converged"
    assert answer["fit"]["left_mg"]["low"] < answer["fit"]["left_mg"]["high"]
    assert answer["fit"]["forecast"]["kind"] == "given"
    assert len(answer["data_set"]["content_hash"]) == 16


def test_an_early_log_gets_no_end_date_and_exit_3(run, tmp_path):
    path = tmp_path / "early.csv"
    early = (
        LOG.replace("63.1", "41")
        .replace("27.4", "17.6")
        .replace("19.0", "13.7")
        .replace("13.6", "11.7")
    )
    path.write_text("\n".join(early.splitlines()[:5]) + "\n")
    done = run("bath", "log", str(path), "--stop-mg-per-l", "2")
    assert done.returncode == 3
    assert "Forecast: no end date: " in done.stdout


def test_a_log_with_two_readings_gets_its_sums_and_exit_3(run, tmp_path):
    path = tmp_path / "two.csv"
    path.write_text("\n".join(LOG.splitlines()[:3]) + "\n")
    done = run("bath", "log", str(path))
    assert done.returncode == 3
    assert "Extracted        177" in done.stdout
    assert (
        "none: a fit needs three measured baths above the detection limit; the log has 2"
        in done.stdout
    )


def test_forecast_and_its_json(run):
    arguments = ["bath", "forecast", "--rate-per-day", "0.01", "--volumes-l", "2", "2", "4",
                 "--days", "14", "--capacity-l", "0.2"]  # fmt: skip
    text = run(*arguments)
    assert text.returncode == 0
    assert "left inside mg" in text.stdout
    answer = json.loads(run(*arguments, "--json").stdout)
    assert len(answer["baths"]) == 3
    assert sum(bath["in_bath_mg"] for bath in answer["baths"]) + answer["baths"][2][
        "left_mg"
    ] == pytest.approx(1000)
    same = [
        "bath",
        "forecast",
        "--d-m2-per-s",
        "1.1574074074e-13",
        "--thickness-mm",
        "1",
        *arguments[4:],
    ]
    other = json.loads(run(*same, "--json").stdout)
    assert other["baths"][2]["left_mg"] == pytest.approx(answer["baths"][2]["left_mg"], rel=1e-9)


def test_plan_reproduces_the_published_reading(run):
    # Left after D t / L^2 = 1, 2 with alpha 10: .141, .076 and .094, .0092 for 1 and 4 baths.
    for tau, one, four in [("1", 14.1, 7.6), ("2", 9.4, 0.92)]:
        done = run("bath", "compare", "--alpha", "10", "--tau", tau, "--json")
        plans = json.loads(done.stdout)["plans"]
        assert 100 * plans[0]["left_fraction"] == pytest.approx(one, abs=0.06)
        assert 100 * plans[2]["left_fraction"] == pytest.approx(four, abs=0.06)
    assert (
        "changing hardly gains anything"
        in run("bath", "compare", "--alpha", "100", "--tau", "0.3").stdout
    )


def test_weigh_out(run):
    done = run(
        "bath",
        "weigh-out",
        "--percent",
        "5",
        "--form",
        "decahydrate",
        "--reagent-chloride-percent",
        "0.002",
    )
    assert done.returncode == 0
    for words in ["63.3 g", "18.58 g", "1.64 mg/L", "x 2.7", "safety data sheet", "aluminium"]:
        assert words in done.stdout
    answer = json.loads(
        run("bath", "weigh-out", "--mol-per-l", "0.1", "--form", "dihydrate", "--json").stdout
    )
    assert answer["reagents"][0]["grams"] == pytest.approx(22.60, abs=0.005)


def test_weigh_out_lists_every_form_when_none_is_named(run):
    out = run("bath", "weigh-out", "--salt", "sesquicarbonate", "--percent", "5").stdout
    assert "sodium sesquicarbonate" in out
    grams = {line.split()[0]: line.split()[-1] for line in out.splitlines() if line.strip()}
    assert [grams[form] for form in ("dihydrate", "anhydrous", "decahydrate")] == [
        "50",
        "23.45",
        "63.3",
    ]
    only = run("bath", "weigh-out", "--salt", "hydroxide", "--percent", "2")
    assert only.returncode == 0
    assert "20 g" in only.stdout
    assert "not checked" in only.stdout
    assert "Mistakes" not in only.stdout
    answer = run("bath", "weigh-out", "--salt", "carbonate", "--mol-per-l", "1", "--json").stdout
    assert set(json.loads(answer)["forms"]) == {"anhydrous", "monohydrate", "decahydrate"}


# At 20 C: natron 2.029 mol Na2CO3 per kg (21.5 g per 100 g), nahcolite 9.6 g per 100 g.
def test_weigh_out_warns_of_more_than_dissolves(run):
    def words(salt, percent):
        return run("bath", "weigh-out", "--salt", salt, "--percent", percent).stdout

    assert "WARNING: stronger than dissolves" in words("carbonate", "22")
    assert "It dissolves: water at 20 degrees C holds about 21.5 %" in words("carbonate", "21")
    assert "WARNING: stronger than dissolves" in words("bicarbonate", "10")
    assert "It dissolves" in words("bicarbonate", "9")
    # Trona: 130 g/L at 0 C is the only figure.
    assert "It dissolves: water at 0 degrees C holds about 13 %" in words("sesquicarbonate", "5")
    assert "WARNING" in words("sesquicarbonate", "14")


BAD = [
    (["log", "/no/such.csv"], 1, "/no/such.csv: cannot be opened"),
    (["log"], 2, "file is required"),
    (["log", "{log}", "--object-mass-g", "-5"], 1, "object_mass_g = -5: accepted is above 0"),
    (["log", "{log}", "--shape", "spere"], 1, "no shape named 'spere'; nearest is 'sphere'"),
    (["log", "{log}", "--stop-mg-per-l", "0"], 1, "stop_mg_per_l = 0: accepted is above 0"),
    (["log", "{log}", "--alpha", "0"], 1, "alphas = 0: accepted is above 0"),
    (["forecast", "--volumes-l", "2", "--days", "3"], 2, "--rate-per-day, or --d-m2-per-s with"),
    (["forecast", "--rate-per-day", "0.1", "--volumes-l", "2", "2", "2", "--days", "3", "4"], 1,
     "--days = 2 values: accepted is one value, or as many as --volumes-l (3)"),
    (["forecast", "--rate-per-day", "-1", "--volumes-l", "2", "--days", "3"], 1,
     "D/L^2 = -1: accepted is above 0 per day"),
    (["forecast", "--rate-per-day", "1", "--volumes-l", "0", "--days", "3"], 1,
     "--volumes-l = 0: accepted is above 0"),
    (["compare", "--alpha", "10"], 2, "--tau, or --rate-per-day with --total-days, is required"),
    (["compare", "--alpha", "10", "--tau", "-1"], 1, "--tau = -1: accepted is above 0"),
    (["weigh-out", "--form", "dihydrate"], 2, "--percent or --mol-per-l is required"),
    (["weigh-out", "--percent", "5", "--form", "hexahydrate"], 1,
     "--form = hexahydrate: accepted is dihydrate, anhydrous, monohydrate, decahydrate"),
    (["weigh-out", "--percent", "500", "--form", "dihydrate"], 1,
     "--percent = 500: accepted is above 0 to 50 % w/v"),
    ([], 2, "subcommand is required"),
]  # fmt: skip


@pytest.mark.parametrize(("arguments", "code", "message"), BAD)
def test_bad_input_gets_one_sentence(run, log, arguments, code, message):
    done = run("bath", *[argument.format(log=log) for argument in arguments])
    assert done.returncode == code
    assert message in done.stderr
    assert done.stdout == ""


def test_a_bath_without_end_is_a_perfect_sink(run):
    done = run("bath", "compare", "--tau", "1", "--alpha", "inf", "--baths", "1", "2", "--json")
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout)["data_set"]["version"]


def test_a_rejected_model_prints_no_range_and_exits_3(run, tmp_path):
    path = tmp_path / "steady.csv"
    rows = [
        f"2025-{month:02d}-01,2025-{month:02d}-15,2,{reading},0.5,0"
        for month, reading in enumerate([90, 40, 25, 17, 12, 12, 12, 12, 12, 12, 12, 12], 1)
    ]
    path.write_text("\n".join([LOG.splitlines()[0], *rows]) + "\n")
    done = run("bath", "log", str(path), "--stop-mg-per-l", "5")
    assert done.returncode == 3
    assert "none: the diffusion model does not fit these baths (p = " in done.stdout
    assert "extractable still inside" not in done.stdout
    answer = json.loads(run("bath", "log", str(path), "--json").stdout)["fit"]
    assert answer["p_value"] < 0.01
    assert answer["left_mg"] == {"low": None, "median": None, "high": None}


def test_a_strip_cannot_see_the_stop_level(run, tmp_path):
    path = tmp_path / "strip.csv"
    path.write_text(LOG.replace("<2,2,1", "<30,30,1"))
    done = run("bath", "log", str(path), "--stop-mg-per-l", "5")
    assert done.returncode == 3
    assert "sees nothing below 30 mg/L, so it cannot tell a stop level of 5 mg/L" in done.stdout


def test_a_one_day_bath_does_not_reach_the_stop_level(run, log):
    done = run("bath", "log", str(log), "--stop-mg-per-l", "2", "--next-days", "1")
    assert done.returncode == 3
    assert "a bath of 1 days reads low whatever is inside" in done.stdout


def test_alpha_infinity_takes_a_log_with_a_blank(run, log):
    done = run("bath", "log", str(log), "--alpha", "inf")
    assert done.returncode == 0, done.stderr
    assert "alpha inf (weight 1)" in done.stdout


def test_a_blank_for_baths_that_state_none(run, tmp_path):
    path = tmp_path / "plain.csv"
    path.write_text("start,end,volume_l,chloride_mg_per_l\n2025-01-06,2025-01-13,2,108\n")
    assert "Extracted        216 +/-" in run("bath", "log", str(path)).stdout
    done = run("bath", "log", str(path), "--blank-mg-per-l", "54")
    assert "Extracted        108 +/-" in done.stdout
