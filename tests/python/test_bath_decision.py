"""What may still be inside, against truths and against another sampler; and what to do."""

import math

import emcee
import numpy as np
import pytest
from iapws import IAPWS97

import aeruca
from aeruca import _core
from aeruca.bath_decision import infer_bath_log, stores_series

COLUMNS = "start,end,volume_l,chloride_mg_per_l,error_mg_per_l,detection_limit_mg_per_l"


def log_text(readings, days=14, volume=1.0, error=0.05, limit=0.5, blank=0.0):
    day, rows = np.datetime64("2026-01-01"), [COLUMNS + ",blank_mg_per_l"]
    for reading in readings:
        text = f"<{limit}" if reading < limit else f"{reading:.5f}"
        stated = "" if reading < limit else f"{max(error * reading, limit / 3.3):.5f}"
        rows.append(f"{day},{day + days},{volume},{text},{stated},{limit},{blank}")
        day = day + days
    return "\n".join(rows) + "\n"


def parse(text):
    return _core._parse_bath_log(text, "test.csv")


def slab_readings(load, rate, capacity, count, days=14):
    series = stores_series(
        [aeruca.bath_decision.ChlorideStore()], [rate * days] * count, 1.0 / capacity
    )
    return load * series.in_bath, load * series.left


def test_an_exact_slab_is_found_and_its_remainder_held():
    readings, left = slab_readings(300, 0.006, 0.04, 9)
    found = infer_bath_log(parse(log_text(readings, error=0.02)))
    assert found.status == "converged"
    assert found.effective > 60
    told = [found.left_mg] if found.one_story else [s.left_mg for s in found.stories]
    assert any(r.low <= left[-1] <= r.high for r in told)
    best = max(found.models, key=lambda m: m.probability)
    assert best.model in {"slab", "film"}


def test_the_same_seed_gives_the_same_answer_and_another_nearly():
    readings, _ = slab_readings(300, 0.006, 0.04, 8)
    log = parse(log_text(readings))
    first, again, other = (infer_bath_log(log, seed=s, models=["slab"]) for s in (1, 1, 2))
    assert first.left_mg.median == again.left_mg.median
    assert other.left_mg.median == pytest.approx(first.left_mg.median, rel=0.05)
    assert other.left_mg.high == pytest.approx(first.left_mg.high, rel=0.12)


def test_an_unread_bath_at_the_end_moves_no_prior_and_hardly_the_load():
    # The prior used to rest on the length of the whole log: an unread bath moved the load by 2.2.
    readings, _ = slab_readings(300, 0.004, 0.04, 6)
    text = log_text(readings)
    longer = text + "2026-03-26,2036-03-23,1.0,,,0.5,0.0\n"
    first = infer_bath_log(parse(text), models=["slab"])
    second = infer_bath_log(parse(longer), models=["slab"])
    assert second.load_mg.median == pytest.approx(first.load_mg.median, rel=0.03)
    assert second.load_mg.high == pytest.approx(first.load_mg.high, rel=0.10)


def test_readings_all_below_the_limit_give_an_upper_bound():
    found = infer_bath_log(parse(log_text([2.0, 0.1, 0.1, 0.1, 0.1, 0.1], limit=1.0)))
    assert found.bound_only
    assert "at most" in found.message
    assert found.left_mg.high > 0


def test_a_history_that_no_model_has_gets_no_range():
    readings, _ = slab_readings(300, 0.006, 0.04, 9)
    readings[6] *= 6
    readings[3] /= 4
    found = infer_bath_log(parse(log_text(readings, error=0.02)))
    assert found.status == "infeasible"
    assert math.isnan(found.left_mg.median)
    assert "none of the models" in found.message


def test_early_readings_tell_two_stories_side_by_side():
    # A slab with most still inside, and a solid held at its solubility, read alike early on.
    reserve = aeruca.bath_decision.reserve_series(12.0, [0.08] * 6, 30.0)
    found = infer_bath_log(parse(log_text(400 * reserve.in_bath)))
    assert len(found.stories) >= 2
    assert sum(story.probability for story in found.stories) == pytest.approx(1, abs=0.1)
    truth = 400 * reserve.left[-1]
    own = next(story for story in found.stories if story.story == "reserve")
    assert own.left_mg.low <= truth <= own.left_mg.high


def test_the_posterior_is_that_of_a_general_purpose_sampler():
    readings, _ = slab_readings(300, 0.006, 0.04, 7)
    errors = np.maximum(0.05 * readings, 0.5 / 3.3)
    ours = infer_bath_log(parse(log_text(readings)), models=["slab"], draws=8000)

    def log_density(z):
        load, rate = 100 * 8 ** z[0], 0.01 * 6 ** z[1]
        alpha = 30 * 3 ** z[2]
        if not 1e-6 < rate < 1e2:
            return -math.inf
        mean = (
            load * stores_series([aeruca.bath_decision.ChlorideStore()], [rate * 14] * 7, alpha)[0]
        )
        sigma = np.hypot(errors, 0.02 * mean)
        square = ((np.round(readings, 5) - mean) / sigma) ** 2
        parts = 0.97 * np.exp(-0.5 * square) + 0.03 / 4 * np.exp(-square / 32)
        return float(np.sum(np.log(np.maximum(parts / sigma, 1e-300))) - 0.5 * np.sum(z**2))

    random = np.random.default_rng(1)
    start = np.array([math.log(3) / math.log(8), math.log(0.6) / math.log(6), 0.0])
    sampler = emcee.EnsembleSampler(24, 3, log_density)
    sampler.run_mcmc(start + 0.05 * random.standard_normal((24, 3)), 900)
    chain = sampler.get_chain(discard=250, flat=True)
    loads = 100 * 8 ** chain[:, 0]
    low, median, high = np.quantile(loads, [0.05, 0.5, 0.95])
    assert ours.load_mg.median == pytest.approx(median, rel=0.03)
    assert ours.load_mg.low == pytest.approx(low, rel=0.05)
    assert ours.load_mg.high == pytest.approx(high, rel=0.08)


def test_a_low_reading_of_a_short_large_bath_meets_the_rule_and_empties_nothing():
    log = aeruca.read_bath_log("data/demo/bath-log.csv")
    found = aeruca.decide_bath(log, object_mass_g=180, target_left_mg=9)
    rule = next(v for v in found.endpoints if v.figure == "endpoint.reading-5")
    assert rule.probability > 0.99
    assert found.target_probability < 0.05
    assert found.forecast == "refused"
    assert found.hidden_mg > 20
    unseen = next(v for v in found.endpoints if v.figure == "endpoint.tap-then-1")
    assert not unseen.seen
    assert "cannot see" in unseen.sentence


def test_a_full_small_bath_is_worth_changing_and_an_endless_one_is_not():
    # Two published studies quarrel over this; both are right, each in its own D t / L^2.
    small, _ = slab_readings(400, 0.03, 1.0, 4, days=30)
    log = parse(log_text(small, days=30, error=0.01))
    change = aeruca.decide_bath(log, models=["slab"], next_days=30)
    assert change.advice == "change"
    assert change.choices[1].gain_mg.low > 0
    large, _ = slab_readings(400, 0.002, 0.01, 4, days=10)
    leave = aeruca.decide_bath(parse(log_text(large, days=10)), models=["slab"], next_days=10)
    assert leave.advice == "leave"


def test_a_plan_spends_time_and_water_where_they_tell():
    readings, _ = slab_readings(400, 0.02, 0.3, 5)
    log = parse(log_text(readings))
    plan = aeruca.plan_baths(log, 42, target_left_mg=4.0, models=["slab"])
    left = [scheme.left_mg.median for scheme in plan.equal]
    assert left == sorted(left, reverse=True)
    assert plan.best.left_mg.median <= 1.001 * plan.equal[len(plan.best.days) - 1].left_mg.median
    assert sum(plan.best.days) == pytest.approx(42)
    assert plan.least_time.below_target >= 0.95
    assert plan.least_water.total_days == pytest.approx(42)


def test_a_date_is_given_where_the_readings_carry_it():
    readings, left = slab_readings(300, 0.012, 0.02, 12)
    found = aeruca.decide_bath(
        parse(log_text(readings, error=0.02, limit=0.02)),
        models=["slab"],
        target_left_mg=0.3 * left[-1],
    )
    assert found.forecast == "given"
    assert found.more_baths.low >= 1
    assert found.more_days.high >= found.more_days.low


@pytest.mark.parametrize(
    ("options", "sentence"),
    [
        ({"target_left_mg": -1}, "target_left_mg"),
        ({"models": ["cube"]}, "cube"),
        ({"draws": 10}, "draws"),
        ({"priors": {"rate": (1, 2)}}, "rate_per_day"),
    ],
)
def test_what_is_out_of_range_is_refused_by_name(options, sentence):
    log = parse(log_text([10, 5, 3]))
    with pytest.raises((aeruca.Error, ValueError), match=sentence):
        aeruca.decide_bath(log, **options)


def test_a_log_of_strips_alone_gets_a_range():
    # Truth: a slab; the strip has marks at 30, 60, 120 and 300 mg/L and sees nothing below 30.
    readings, left = slab_readings(700, 0.006, 0.04, 7)
    marks = [0, 30, 60, 120, 300, np.inf]
    rows = ["start,end,volume_l,chloride_mg_per_l,detection_limit_mg_per_l,blank_mg_per_l"]
    day = np.datetime64("2026-01-01")
    for reading in readings:
        at = int(np.searchsorted(marks, reading))
        text = "n.d." if at == 1 else f">{marks[-2]}" if at == 5 else f"{marks[at - 1]}-{marks[at]}"
        rows.append(f"{day},{day + 14},1,{text},30,0")
        day = day + 14
    found = infer_bath_log(parse("\n".join(rows) + "\n"))
    assert found.status == "converged"
    assert not found.bound_only
    told = [found.left_mg] if found.one_story else [s.left_mg for s in found.stories]
    assert any(r.low <= left[-1] <= r.high for r in told)
    assert max(r.high for r in told) > 2 * min(r.low for r in told)  # strips tell little


def test_a_warmer_bath_counts_for_more_days():
    # The same readings, the later baths 5 degrees warmer: the rate at the first temperature falls.
    readings, _ = slab_readings(300, 0.004, 0.04, 6)
    text = log_text(readings)
    rows = text.strip().split("\n")
    warm = [rows[0] + ",temperature_c"] + [
        row + (",15" if i < 1 else ",20") for i, row in enumerate(rows[1:])
    ]
    cool = infer_bath_log(parse(text), models=["slab"])
    warmed = infer_bath_log(parse("\n".join(warm) + "\n"), models=["slab"])
    rate = np.median([draw.rate_per_day for draw in cool.draws])
    slower = np.median([draw.rate_per_day for draw in warmed.draws])
    assert slower < rate


def test_a_record_that_breaks_half_way_is_doubted_though_the_models_fit():
    # From the sixth bath on half as much again comes out: another chemistry, or a layer lost.
    readings, _ = slab_readings(300, 0.005, 0.04, 11)
    readings[5:] *= 1.5
    log = parse(log_text(readings, error=0.08))
    decided = aeruca.decide_bath(log, target_left_mg=5)
    found = decided.posterior
    assert max(model.p_value for model in found.models) > 0.3
    assert any("something changed from bath 6" in warning for warning in found.warnings)
    assert decided.forecast == "refused"
    assert "something changed" in decided.forecast_reason


def test_a_record_that_breaks_badly_gets_no_range():
    readings, _ = slab_readings(300, 0.005, 0.04, 11)
    readings[5:] *= 2.5
    found = infer_bath_log(parse(log_text(readings, error=0.05)))
    assert found.status == "infeasible"
    assert "none of the models" in found.message


@pytest.mark.parametrize(
    ("name", "left", "rule"),
    [
        ("strip-log", 62, "reading-5"),
        ("two-store-log", 74, "plateau"),
        ("reserve-log", 150, "undetected"),
    ],
)
def test_three_invented_logs_are_read_as_far_as_they_go(name, left, rule):
    found = aeruca.decide_bath(aeruca.read_bath_log(f"data/demo/{name}.csv"), target_left_mg=1)
    posterior = found.posterior
    assert any(s.left_mg.low <= left <= s.left_mg.high for s in posterior.stories)
    verdict = next(v for v in found.endpoints if v.figure == f"endpoint.{rule}")
    if name == "strip-log":
        assert not verdict.seen
    elif name == "two-store-log":
        assert verdict.probability > 0.9  # a plateau, and a third of the chloride still inside
        assert posterior.stories[0].story == "slow part"
    else:
        assert verdict.probability < 0.1
        assert any(s.story == "reserve" and s.probability > 0.2 for s in posterior.stories)
    assert found.forecast == "refused" or name == "two-store-log"
    assert found.target_probability < 0.2


def test_warmer_baths_are_faster_by_temperature_over_viscosity():
    readings, _ = slab_readings(400, 0.005, 0.3, 5)
    log = parse(log_text(readings))
    asked = {"models": ["slab"], "baths_most": 2}
    same = aeruca.plan_baths(log, 42, **asked)
    warm = aeruca.plan_baths(log, 42, temperature_c=40, log_temperature_c=20, **asked)
    # Another package's formulation of the same release: its pressure and region differ a little.
    mobility = [kelvin / IAPWS97(T=kelvin, P=0.101325).mu for kelvin in (313.15, 293.15)]
    assert warm.diffusion_speed == pytest.approx(mobility[0] / mobility[1], rel=1e-3)
    # Warmer for a time is colder for as many times longer.
    longer = aeruca.plan_baths(log, 42 * warm.diffusion_speed, **asked)
    for one, other in zip(warm.equal, longer.equal, strict=True):
        assert one.left_mg.median == pytest.approx(other.left_mg.median, rel=1e-9)
    assert warm.equal[0].left_mg.median < same.equal[0].left_mg.median
    assert "what warmth does to metal" in " ".join(warm.remarks)


@pytest.mark.parametrize(
    ("more", "sentence"),
    [
        ({"temperature_c": 35}, "no bath of the log states its own"),
        ({"log_temperature_c": 20}, "beside temperature_c"),
        ({"temperature_c": 80, "log_temperature_c": 20}, "0 to 50 degrees C"),
    ],
)
def test_a_temperature_of_baths_to_come_needs_that_of_the_log(more, sentence):
    readings, _ = slab_readings(400, 0.02, 0.3, 5)
    with pytest.raises(aeruca.InputError, match=sentence):
        aeruca.plan_baths(parse(log_text(readings)), 42, models=["slab"], **more)


def test_a_relative_error_is_the_usual_scatter_of_readings_without_one():
    readings, _ = slab_readings(400, 0.01, 0.3, 5)
    text = "\n".join(
        ",".join(field for i, field in enumerate(row.split(",")) if i != 4)
        for row in log_text(readings).splitlines()
    )
    log = parse(text)
    asked = {"models": ["slab"], "draws": 400}
    by_error = infer_bath_log(log, errors=aeruca.bath.ReadingErrors(relative=0.2), **asked)
    by_prior = infer_bath_log(log, priors={"scatter": (0.2, 1.6)}, **asked)
    usual = infer_bath_log(log, **asked)
    assert by_error.left_mg.median == by_prior.left_mg.median
    assert by_error.left_mg.high > 1.2 * usual.left_mg.high
    with pytest.raises(aeruca.InputError, match=r"errors\.relative = 0\.2"):
        infer_bath_log(
            log,
            errors=aeruca.bath.ReadingErrors(relative=0.2),
            priors={"scatter": (0.1, 1.6)},
            **asked,
        )
