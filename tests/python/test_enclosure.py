"""A box against SciPy's integrator, and what Python adds: climates, choices, refusals."""

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp

import aeruca
from aeruca.enclosure import (
    fit_decay,
    fit_exchange,
    forecast,
    gel_isotherms,
    gel_water,
    outside,
)

AIR_AND_WATER = 0.018015268 / 8.314462618  # kg K / J


def saturated(temperature_c):
    """Vapour over water, kg/m3."""
    pressure = aeruca.water.saturation_pressure_pa(temperature_c)
    return pressure * AIR_AND_WATER / (temperature_c + 273.15)


def records(hours, seed):
    """A record with days, weather and noise, hourly."""
    rng = np.random.default_rng(seed)
    t = np.arange(hours)
    temperature = 17 + 4 * np.sin(t * 0.26 + seed) + rng.normal(0, 0.5, hours)
    rh = 58 + 8 * np.sin(t / 90) - 5 * np.sin(t * 0.26 + seed) + rng.normal(0, 2, hours)
    times = np.datetime64("2025-01-01T00:00:00") + t * np.timedelta64(1, "h")
    return aeruca.store.record_from_arrays(times, temperature, rh)


def by_scipy(record, days, volume, exchange, start, gel, gel_kg, contents):
    """Water by eq 1 and eq 2, integrated piece by piece; humidity found by bisection.

    The same physics written another way: the state is the water, not the humidity.
    """

    def water(h, c):
        held = h * saturated(c) + contents * 1e-3 * 100 * h / volume
        return held + (gel_kg / volume * gel_water(gel, 100 * h, c) if gel_kg else 0)

    def humidity(w, c):
        low, high = (0.057, 0.952) if gel_kg else (0.0, 1.5)
        for _ in range(50):
            middle = (low + high) / 2
            low, high = (middle, high) if water(middle, c) < w else (low, middle)
        return (low + high) / 2

    hours = np.arange(record.readings)
    edges = np.append(0, hours + 0.5) / 24
    w = water(start / 100, record.temperature_c[0])
    for i in hours:
        c, out = record.temperature_c[i], record.rh_percent[i] / 100
        until = min(edges[i + 1], days)
        step = solve_ivp(
            lambda _, y, c=c, out=out: exchange * saturated(c) * (out - humidity(y[0], c)),
            (edges[i], until),
            [w],
            rtol=1e-9,
            atol=1e-12,
        )
        w = step.y[0, -1]
        if until == days:
            return 100 * humidity(w, c)
    raise AssertionError("the record is too short")


@pytest.mark.parametrize("seed", range(8))
def test_a_random_box_agrees_with_scipy(seed):
    rng = np.random.default_rng(seed)
    record = records(60, seed)
    gel = gel_isotherms()[seed % 6].id
    volume, exchange = 10 ** rng.uniform(-2, 0), 10 ** rng.uniform(-1, 1)
    gel_kg = volume * 10 ** rng.uniform(-2, 0) * (seed % 4 > 0)
    contents, start = volume * rng.uniform(0, 1), rng.uniform(15, 45)
    ours = forecast(
        outside(record),
        volume_m3=volume,
        exchange_per_day=exchange,
        start_rh_percent=start,
        gel_kg=gel_kg,
        gel=gel,
        contents=contents,
        days=2.0,
        draws=0,
    )
    theirs = by_scipy(record, 2.0, volume, exchange, start, gel, gel_kg, contents)
    assert ours.rh_percent[-1] == pytest.approx(theirs, abs=0.005)


def box(**changed):
    given = {
        "volume_m3": 0.05,
        "exchange_per_day": 0.5,
        "start_rh_percent": 6,
        "limit_rh_percent": 40,
        "draws": 60,
    }
    return given | changed


def test_a_visit_and_its_gel():
    room = outside(temperature_c=20, rh_percent=60)
    found = forecast(room, **box())
    assert found.gel_for_visit_kg.low < found.gel_for_visit_kg.value < found.gel_for_visit_kg.high
    again = forecast(room, **box(gel_kg=found.gel_for_visit_kg.value))
    assert again.days_to_limit.value == pytest.approx(365, abs=0.1)
    assert 0.1 < again.probability_reached < 0.9
    assert again.half_time_days == pytest.approx(math.log(2) / 0.5)
    assert "days_to_limit" in again.describe()
    assert any("no desorption branch" in one for one in again.assumptions)


def test_more_uncertain_leakage_widens_the_range():
    room = outside(temperature_c=20, rh_percent=60)
    sure, unsure = (
        forecast(room, **box(gel_kg=0.3, exchange_relative_sd=sd)).days_to_limit for sd in (0, 0.6)
    )
    assert unsure.high - unsure.low > 1.5 * (sure.high - sure.low)


def test_never_is_infinite_and_says_why():
    found = forecast(outside(temperature_c=20, rh_percent=35), **box(draws=0))
    assert math.isinf(found.days_to_limit.value)
    assert found.days_to_limit.never
    assert "never reached" in found.message


def test_exchange_from_records_goes_into_the_forecast():
    out = records(400, 3)
    room = outside(out)
    truth = forecast(
        room, volume_m3=0.1, exchange_per_day=2, start_rh_percent=30, days=200 / 24, draws=0
    )
    times = out.times_s[0] + 3600 * np.arange(201)
    rh = np.asarray(truth.rh_percent) + np.random.default_rng(1).normal(0, 0.3, 201)
    fit = fit_exchange(aeruca.store.record_from_arrays(times, None, rh), out)
    assert fit.low_per_day < 2 < fit.high_per_day
    assert fit.high_per_day / fit.low_per_day < 1.2
    found = forecast(room, **box(exchange_per_day=fit, limit_rh_percent=None, days=10))
    assert found.enclosure.exchange_per_day == fit.exchange_per_day


def test_a_decay_of_carbon_dioxide():
    hours = np.arange(0.0, 48.0)
    noise = np.random.default_rng(2).normal(0, 20, hours.size)
    fit = fit_decay(hours, 420 + 3000 * np.exp(-1.2 * hours / 24) + noise, 420)
    assert fit.low_per_day < 1.2 < fit.high_per_day


def test_wrong_input_is_refused():
    room = outside(temperature_c=20, rh_percent=60)
    with pytest.raises(aeruca.InputError, match="volume_m3 = -1: accepted is above 0"):
        forecast(room, **box(volume_m3=-1))
    with pytest.raises(aeruca.InputError, match="draws"):
        forecast(room, **box(draws=-1))
    with pytest.raises(aeruca.UnknownName, match="nearest is 'thu-2013'"):
        forecast(room, **box(gel="thu-2012"))
    with pytest.raises(TypeError, match="not both"):
        outside(records(10, 1), rh_percent=50)
    with pytest.raises(TypeError, match="both temperature_c and rh_percent"):
        outside(rh_percent=50)
    with pytest.raises(aeruca.InputError, match="climate"):
        forecast(None, **box())
