"""The sensor of a store record: checks over salts, drift, two loggers, spikes, worst week."""

import numpy as np
import pytest

import aeruca
from aeruca import store

HOUR = 3600
START = 1_735_689_600  # 2025-01-01


def record(rh, start=START, step=HOUR, **rules):
    times = start + step * np.arange(len(rh))
    return store.record_from_arrays(times, np.full(len(rh), 20.0), np.asarray(rh, float), **rules)


def wavy(days=60, mean=40.0, swing=3.0, seed=1):
    noise = np.random.default_rng(seed).normal(0, 0.2, 24 * days)
    return mean + swing * np.sin(np.arange(24 * days) * 2 * np.pi / 24 / 9) + noise


# Evaluated humidity over sodium chloride, 75.3 % at 25 C: Greenspan, J. Res. NBS 81A (1977) 89.
def test_check_knows_the_humidity_over_its_salt():
    check = store.sensor_check("halite", temperature_c=25, reading_rh_percent=73.0)
    assert check.salt_rh_percent == pytest.approx(75.3, abs=0.15)
    assert check.reading_rh_percent == 73.0


def test_check_near_the_limit_corrects_every_reading():
    magnesium = store.sensor_check("bischofite", temperature_c=25, reading_rh_percent=37.8)
    found = store.assess_store(record(wavy(mean=40)), 42.0, checks=[magnesium])
    plain = store.assess_store(record(wavy(mean=40)), 42.0)
    off = magnesium.salt_rh_percent - 37.8
    assert off == pytest.approx(-5.0, abs=0.2)
    assert found.correction_rh_percent == pytest.approx(off)
    assert found.rh_percent.p50 == pytest.approx(plain.rh_percent.p50 + off)
    assert plain.verdict != "dormant"
    assert found.probability_dormant > 0.5 > plain.probability_dormant
    assert any("have it calibrated" in warning for warning in found.warnings)


def test_set_point_is_what_the_display_shows():
    check = store.sensor_check("bischofite", temperature_c=25, reading_rh_percent=34.8)
    rh = wavy(mean=30)
    found = store.assess_store(record(rh), 42.0, checks=[check])
    lift = found.set_point_rh_percent - rh.max()
    at_set_point = store.assess_store(record(rh + lift), 42.0, checks=[check])
    assert at_set_point.probability_dormant >= 0.95


def test_between_two_checks_the_error_is_interpolated():
    low = store.sensor_check("bischofite", temperature_c=25, reading_rh_percent=31.0)
    high = store.sensor_check("halite", temperature_c=25, reading_rh_percent=79.0)
    found = store.assess_store(record(wavy(mean=50)), 50.0, checks=[high, low])
    part = (50 - low.salt_rh_percent) / (high.salt_rh_percent - low.salt_rh_percent)
    errors = [low.salt_rh_percent - 31.0, high.salt_rh_percent - 79.0]
    assert found.correction_rh_percent == pytest.approx(errors[0] + part * (errors[1] - errors[0]))


def test_check_far_from_the_limit_is_refused():
    check = store.sensor_check("halite", temperature_c=25, reading_rh_percent=75.0)
    with pytest.raises(aeruca.InputError, match="within 20 % RH of the limit of 42 % RH"):
        store.assess_store(record(wavy()), 42.0, checks=[check])


@pytest.mark.parametrize("reading", [-1, 111, float("nan")])
def test_check_with_an_impossible_reading_is_refused(reading):
    with pytest.raises(aeruca.InputError, match="reading_rh_percent"):
        store.sensor_check("halite", temperature_c=25, reading_rh_percent=reading)


def dormant_as_true(truth, limit):
    """Tell whether a true course kept to the rule: no 24 h above, less than 1 % of the time."""
    above = truth > limit
    if above.mean() >= 0.01:
        return False
    longest = run = 0
    for is_above in above:
        run = run + 1 if is_above else 0
        longest = max(longest, run)
    return longest < 24


# Simulated: the truth is the reading, a bias and a drift; the rule is applied to it as it stands.
@pytest.mark.parametrize("meaning", ["uniform", "normal_95"])
@pytest.mark.parametrize("mean", [36.5, 37.5, 38.5])
def test_drift_probability_is_that_of_a_simulation(meaning, mean):
    rh = wavy(days=120, mean=mean, swing=2)
    years = (np.arange(len(rh)) * HOUR + 400 * 24 * HOUR) / (365.25 * 24 * HOUR)
    rng = np.random.default_rng(7)
    draws = 4000
    if meaning == "uniform":
        biases, rates = rng.uniform(-2, 2, draws), rng.uniform(-1.5, 1.5, draws)
    else:
        biases, rates = rng.normal(0, 2 / 1.96, draws), rng.normal(0, 1.5 / 1.96, draws)
    kept = [
        dormant_as_true(rh + bias + rate * years, 40.0)
        for bias, rate in zip(biases, rates, strict=True)
    ]
    calibrated = str(np.datetime64(START - 400 * 24 * HOUR, "s"))[:10]
    found = store.assess_store(
        record(rh),
        40.0,
        accuracy_rh_percent=2,
        accuracy_meaning=meaning,
        drift_rh_percent_per_year=1.5,
        calibrated=calibrated,
    )
    standard_error = 0.5 / np.sqrt(draws)
    assert found.probability_dormant == pytest.approx(np.mean(kept), abs=3 * standard_error + 0.01)


def test_drift_only_lowers_what_is_sure():
    plain = store.assess_store(record(wavy(mean=33)), 42.0)
    drifting = store.assess_store(
        record(wavy(mean=33)), 42.0, drift_rh_percent_per_year=2, calibrated="2023-01-01"
    )
    assert drifting.set_point_rh_percent < plain.set_point_rh_percent
    assert drifting.above_low.share.as_read == plain.above_low.share.as_read


def test_shifting_a_drifting_record_by_what_it_lacks_makes_it_just_dormant():
    rh = wavy(mean=40)
    options = {"drift_rh_percent_per_year": 1, "calibrated": "2024-01-01"}
    found = store.assess_store(record(rh), 42.0, **options)
    just = store.assess_store(record(rh - found.too_humid_by_rh_percent), 42.0, **options)
    assert just.probability_dormant == pytest.approx(0.95, abs=0.02)


def test_drift_wants_a_day_and_a_day_wants_a_drift():
    with pytest.raises(aeruca.InputError, match="calibrated = not given"):
        store.assess_store(record(wavy()), 42.0, drift_rh_percent_per_year=1)
    with pytest.raises(aeruca.InputError, match="unless a drift"):
        store.assess_store(record(wavy()), 42.0, calibrated="2024-01-01")
    with pytest.raises(aeruca.InputError, match="a day such as 2026-03-01"):
        store.assess_store(record(wavy()), 42.0, drift_rh_percent_per_year=1, calibrated="March")


def test_two_loggers_that_agree_learn_from_each_other():
    rh = wavy(mean=36)
    alone = store.assess_store(record(rh), 42.0)
    two = store.compare_loggers(record(rh), record(rh - 2), 42.0, second_accuracy_rh_percent=1.5)
    assert two.agreement == "agree"
    assert two.difference_rh_percent == pytest.approx(2.0)
    assert two.probability_dormant_together > alone.probability_dormant


def test_two_loggers_posterior_is_that_of_a_simulation():
    rh = wavy(mean=38.5, swing=2)
    two = store.compare_loggers(record(rh), record(rh - 2.5), 42.0)
    rng = np.random.default_rng(11)
    first, second = rng.uniform(-3, 3, (2, 2_000_000))
    seen = np.abs(second - first + rng.normal(0, 1, first.size) - 2.5) < 0.05
    limit = store.assess_store(record(rh), 42.0, accuracy_rh_percent=0).too_humid_by_rh_percent
    expected_first = np.mean(first[seen] <= -limit)
    expected_second = np.mean(second[seen] <= -limit + 2.5)
    expected = min(expected_first, expected_second)
    assert two.probability_dormant_together == pytest.approx(expected, abs=0.02)
    far = np.mean(np.abs(second - first + rng.normal(0, 1, first.size)) >= 2.5)
    assert two.probability_of_difference == pytest.approx(far, abs=0.002)


def test_two_loggers_that_cannot_both_be_right_give_no_common_answer():
    rh = wavy(mean=38)
    two = store.compare_loggers(record(rh), record(rh - 12), 42.0)
    assert two.agreement == "disagree"
    assert two.probability_of_difference < 0.01
    assert np.isnan(two.probability_dormant_together)
    assert "one of them is off" in two.said


def test_two_loggers_without_common_time_are_refused():
    with pytest.raises(aeruca.InputError, match="at least 24"):
        store.compare_loggers(record(wavy()), record(wavy(), start=START + 10**8), 42.0)


def test_second_logger_is_read_between_its_readings():
    rh = np.linspace(30, 40, 200)
    other = store.record_from_arrays(
        START + 1800 + HOUR * np.arange(200), None, rh + 10 / 199 * 0.5
    )
    two = store.compare_loggers(record(rh), other, 42.0)
    assert two.common_readings == 199
    assert two.difference_rh_percent == pytest.approx(0.0, abs=1e-9)


def test_spike_is_flagged_and_kept():
    rh = wavy()
    rh[500] += 25
    rh[700:703] += 25  # a door left open is no spike
    found = record(rh)
    spikes = [fault for fault in found.faults if fault.kind == "spike"]
    assert [(fault.line, fault.action) for fault in spikes] == [(501, "kept")]
    assert found.rh_percent[500] == rh[500]
    assert any("jump away and back" in warning for warning in store.assess_store(found).warnings)
    assert record(rh, spike_rh_percent=40).fault_counts["spike"] == 0


def test_worst_week_and_seasons_are_those_of_plain_counting():
    rh = wavy(days=400, mean=41, swing=4)
    found = store.assess_store(record(rh), 42.0)
    known = np.full(len(rh), 1.0)  # hours; the ends stand for half an interval to each side
    days = np.arange(len(rh)) // 24
    above = np.bincount(days, known * (rh > 42.0))
    humid = np.bincount(days, known * rh)
    weeks = [
        (above[day : day + 7].sum(), humid[day : day + 7].mean(), -day) for day in range(len(above))
    ]
    worst = -max(weeks)[2]
    assert found.worst_week.start_s == START + 24 * HOUR * worst
    assert found.worst_week.share_above_low == pytest.approx(
        above[worst : worst + 7].sum() / (24 * min(7, len(above) - worst))
    )
    months = (START + HOUR * np.arange(len(rh))).astype("datetime64[s]").astype("datetime64[M]")
    season = (months.astype(int) % 12 + 1) % 12 // 3
    for summary in found.seasons:
        here = season == summary.first_month % 12 // 3
        assert summary.mean_rh_percent == pytest.approx(rh[here].mean())
        assert summary.known_hours == pytest.approx(here.sum())
    assert [summary.first_month for summary in found.seasons] == [12, 3, 6, 9]


def test_season_that_was_hardly_seen_is_named():
    times = START + HOUR * np.arange(24 * 365)
    months = times.astype("datetime64[s]").astype("datetime64[M]").astype(int) % 12 + 1
    seen = ~np.isin(months, [6, 7, 8])
    found = store.assess_store(
        store.record_from_arrays(times[seen], None, wavy(days=365, mean=35)[seen]), 42.0
    )
    (named,) = [warning for warning in found.warnings if "fewer than 10 days" in warning]
    assert named.startswith("of June to August fewer")


CASE = """
[store]
log = "log.csv"
sensor_accuracy_rh_percent = 3
"""


@pytest.fixture
def two_logs(tmp_path):
    for name, lift in (("log", 0.0), ("other", -1.5)):
        times = (START + HOUR * np.arange(24 * 60)).astype("datetime64[s]")
        lines = [f"{t},20,{rh + lift:.2f}" for t, rh in zip(times, wavy(mean=36), strict=True)]
        (tmp_path / f"{name}.csv").write_text("time,T [C],RH [%]\n" + "\n".join(lines) + "\n")
    return tmp_path


def assessed(folder, more):
    (folder / "case.toml").write_text(CASE + more)
    return aeruca.assess_case(folder / "case.toml").to_dict()


def dry_findings(told):
    (section,) = [section for section in told["sections"] if section["id"] == "dry"]
    return section, {finding["key"]: finding for finding in section["findings"]}


def test_case_compares_a_second_logger(two_logs):
    _, findings = dry_findings(assessed(two_logs, 'beside = "other.csv"\n'))
    assert findings["two_loggers_difference_rh_percent"]["value"] == pytest.approx(1.5)


def test_case_takes_checks_and_drift(two_logs):
    check = (
        '[[store.sensor_check]]\nsalt = "bischofite"\ntemperature_c = 21\n'
        "reading_rh_percent = 35.1\n"
    )
    section, _ = dry_findings(assessed(two_logs, check))
    assert any("corrected by -2" in warning for warning in section["warnings"])
    drift = 'sensor_drift_rh_percent_per_year = 1\nsensor_calibrated = "2024-01-01"\n'
    section, _ = dry_findings(assessed(two_logs, drift))
    assert any("drift of up to 1 % RH a year" in warning for warning in section["warnings"])


def check_over(salt):
    return f'[[store.sensor_check]]\nsalt = "{salt}"\ntemperature_c = 20\nreading_rh_percent = 75\n'


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ("sensor_drift_rh_percent_per_year = 1\n", "line 5, store.sensor_drift"),
        ('sensor_calibrated = "2024-01-01"\n', "line 5, store.sensor_calibrated"),
        ("beside_accuracy_rh_percent = 2\n", "line 5, store.beside_accuracy_rh_percent"),
        ('[[store.sensor_check]]\nsalt = "halite"\n', "store.sensor_check.temperature_c"),
        (
            check_over("halide"),
            "nearest is 'halite'",
        ),
        (
            check_over("halite"),
            "within 20 % RH of the limit",
        ),
    ],
)
def test_case_refuses_what_says_nothing_of_the_sensor(two_logs, more, said):
    with pytest.raises(aeruca.FileError, match=r"case\.toml") as refused:
        assessed(two_logs, more)
    assert said in str(refused.value)
