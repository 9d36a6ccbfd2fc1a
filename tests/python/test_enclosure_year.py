"""A box through an open weather year, and our own worked case with the isotherms that are cited."""

import math
from pathlib import Path

import numpy as np
import pytest

import aeruca
from aeruca.enclosure import forecast, gel_isotherms, outside, review


@pytest.fixture(scope="module")
def miami():
    """The typical year of Miami (TMY2 station 12839) that pvlib carries: hourly, outdoor air."""
    pvlib = pytest.importorskip("pvlib")
    rows = (Path(pvlib.__file__).parent / "data/12839.tm2").read_text().splitlines()[1:]
    temperature = np.array([int(row[67:71]) / 10 for row in rows])
    rh = np.array([float(row[79:82]) for row in rows])
    assert len(rows) == 8760
    assert (round(temperature.mean(), 1), round(rh.mean(), 1)) == (24.3, 72.5)
    times = np.datetime64("2025-01-01T00:00:00") + np.arange(8760) * np.timedelta64(1, "h")
    return aeruca.store.record_from_arrays(times, temperature, rh)


def saturated(temperature_c):
    pressure = aeruca.water.saturation_pressure_pa(temperature_c)
    return pressure * 0.018015268 / (8.314462618 * (temperature_c + 273.15))


def test_an_empty_box_in_a_room_of_one_temperature_follows_the_year(miami):
    """Nothing in the box: h relaxes to the vapour outside, hour by hour, in closed form."""
    room = outside(miami, inside_temperature_c=32)
    found = forecast(
        room, volume_m3=1, exchange_per_day=0.3, start_rh_percent=40, days=182.5, draws=0
    )
    goal = miami.rh_percent * saturated(miami.temperature_c) / saturated(32.0)
    edges = np.append(0, (np.arange(8760) + 0.5) / 24)
    h, hours = 40.0, iter(range(8760))
    closed = [h]
    for until in found.days[-1:]:
        for i in hours:
            step = min(edges[i + 1], until) - edges[i]
            h = goal[i] + (h - goal[i]) * math.exp(-0.3 * step)
            if edges[i + 1] >= until:
                break
        closed.append(h)
    assert found.rh_percent[-1] == pytest.approx(closed[-1], abs=1e-3)


def test_a_review_date_knows_the_season(miami):
    """From a wet season's beginning a box lasts a shorter time than from a dry one's."""
    room = outside(miami, inside_temperature_c=24)
    box = {
        "volume_m3": 0.05,
        "exchange_per_day": 0.5,
        "gel_kg": 0.4,
        "gel": "thu-2013",
        "start_rh_percent": 8,
        "limit_rh_percent": 40,
        "days": 364,
        "draws": 40,
    }
    dry = review(room, start="2026-12-01", **box)
    wet = review(room, start="2026-06-01", **box)
    assert dry.days_unattended > wet.days_unattended + 5
    assert wet.review_date.startswith("2026-")
    assert np.mean(room_goal(miami, 5, 9)) > np.mean(room_goal(miami, 11, 12)) + 10


def room_goal(record, first, last):
    months = record.times_s.astype("datetime64[s]").astype("datetime64[M]").astype(int) % 12 + 1
    goal = record.rh_percent * saturated(record.temperature_c) / saturated(24.0)
    return goal[(months >= first) & (months <= last)]


RECALLED = {0.5: 0.29, 5.0: 2.9}  # kg, from an isotherm recalled and not seen


def test_our_own_worked_case_with_the_cited_isotherms():
    """0.05 m3, 60 % RH outside at 20 degrees C, 40 % RH inside for a year, from 6 % RH."""
    room = outside(temperature_c=20, rh_percent=60)
    for exchange, recalled in RECALLED.items():
        found = forecast(
            room,
            volume_m3=0.05,
            exchange_per_day=exchange,
            start_rh_percent=6,
            limit_rh_percent=40,
        )
        masses = {one.id: one.gel_for_visit_kg for one in found.by_gel}
        assert set(masses) == {one.id for one in gel_isotherms()}
        # Three of the six ask for more than was recalled, three for less; all within a half of it.
        assert sum(mass > recalled for mass in masses.values()) in (2, 3, 4)
        assert all(0.8 < mass / recalled < 1.5 for mass in masses.values())
        # The recalled figure lies in the range, which the leakage by our own rule widens most.
        figure = found.gel_for_visit_kg
        assert figure.low < recalled < figure.high
        assert figure.high / figure.low > 3
        # Nothing dries on this way: hysteresis is not known, and said not to come in.
        assert any("hysteresis, which is not known, does not" in one for one in found.assumptions)
        print(f"{exchange:g} a day: recalled {recalled} kg,", figure, masses)


def test_where_the_gel_dries_the_range_is_wider():
    """No desorption branch was found: what the box does while drying is told less surely."""
    dry = outside(temperature_c=20, rh_percent=30)
    box = {"volume_m3": 0.05, "exchange_per_day": 2, "gel_kg": 0.4, "gel": "thu-2013"}
    sure = {"exchange_relative_sd": 0, "outside_rh_sd": 0, "start_rh_sd": 0, "temperature_sd": 0}
    drying = forecast(dry, start_rh_percent=50, days=60, **box, **sure)
    wet = forecast(
        outside(temperature_c=20, rh_percent=70), start_rh_percent=50, days=60, **box, **sure
    )
    assert any("its hysteresis is not known" in one for one in drying.assumptions)

    def width(found):
        middle = 100
        return (found.high_rh_percent[middle] - found.low_rh_percent[middle]) / abs(
            found.rh_percent[middle] - 50
        )

    assert width(drying) > 1.5 * width(wet)
