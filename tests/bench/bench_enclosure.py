"""A box through a year of hours: humidity, days to the limit, mass of gel, with ranges."""

from collections.abc import Iterator
from typing import Any

import numpy as np
from enclosure_rivals import Boxes, numpy_forecast
from job import Job, Rival

import aeruca
from aeruca.enclosure import EnclosureForecast, forecast, outside

HOURS, DRAWS = 8760, 200
LIMIT, START, EXCHANGE, GEL_KG, VOLUME = 40.0, 10.0, 0.5, 0.15, 0.05


def year() -> tuple[Any, Any]:
    """Temperature and humidity outside: a year, days and weather."""
    rng = np.random.default_rng(5)
    t = np.arange(HOURS)
    season, day = np.sin(2 * np.pi * t / HOURS - 1.6), np.sin(2 * np.pi * t / 24)
    c = 17 + 4 * season + 1.5 * day + rng.normal(0, 0.3, HOURS)
    rh = 56 + 6 * season - 4 * day + 5 * np.sin(t / 61) + rng.normal(0, 1, HOURS)
    return c, rh


def drawn() -> Boxes:
    """Draw as ours does; the first is the box as given."""
    z = np.random.default_rng(1).normal(size=(DRAWS, 5))
    z[0] = 0
    return Boxes(
        exchange=EXCHANGE * np.exp(0.25 * z[:, 0]),
        start=np.clip(START + 2 * z[:, 1], 5.6, LIMIT) / 100,
        capacity=np.exp(0.17 * z[:, 2]),
        rh_shift=0.017 * z[:, 3],
        c_shift=z[:, 4],
        volume=VOLUME,
    )


def same(ours: EnclosureForecast, theirs: dict[str, Any]) -> None:
    """Compare the box as given closely, the ranges to what so many draws can tell."""
    assert abs(ours.rh_percent[-1] - theirs["curve"][0]) < 0.3, (ours.rh_percent[-1], theirs)
    assert abs(ours.days_to_limit.value / theirs["days"][0] - 1) < 0.02
    assert abs(ours.gel_for_visit_kg.value / theirs["gel_kg"][0] - 1) < 0.03
    low, high = np.sort(theirs["days"])[[int(0.05 * DRAWS), int(0.95 * DRAWS)]]
    assert abs(ours.days_to_limit.low / low - 1) < 0.15
    assert abs(ours.days_to_limit.high / high - 1) < 0.15


def cases() -> Iterator[Job]:
    """One box, one year."""
    c, rh = year()
    times = np.datetime64("2025-01-01T00:00:00") + np.arange(HOURS) * np.timedelta64(1, "h")
    climate = outside(aeruca.store.record_from_arrays(times, c, rh))
    boxes = drawn()

    def ours(threads: int) -> EnclosureForecast:
        return forecast(
            climate,
            volume_m3=VOLUME,
            exchange_per_day=EXCHANGE,
            start_rh_percent=START,
            gel_kg=GEL_KG,
            gel="thu-2013",
            limit_rh_percent=LIMIT,
            days=364,
            draws=DRAWS,
            threads=threads,
        )

    yield Job(
        "a box through a year of hours, 200 draws, gel mass of 100",
        lambda: ours(1),
        {"NumPy": Rival(lambda: numpy_forecast(c, rh / 100, boxes, GEL_KG, LIMIT / 100))},
        same,
        all_threads=lambda: ours(0),
    )
