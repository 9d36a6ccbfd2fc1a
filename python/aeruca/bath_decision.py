"""What may still be inside an object in its baths, and what to do: over several ways of release."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from . import _core, checks
from ._core import (  # the types of this part
    BathDecision as BathDecision,
)
from ._core import (
    BathPosterior as BathPosterior,
)
from ._core import (
    BathSchedule as BathSchedule,
)
from .dataset import default_dataset

Priors = Mapping[str, tuple[float, float]]
Column = Sequence[float] | float  # one value for each bath, or one for all
SEED = 20_260_112


class ChlorideStore(NamedTuple):
    """One place that holds chloride; shares of all stores add up to 1.

    shape: slab, cylinder or sphere. load: uniform or at-metal (slab only). rate: D/L^2 over that by
    which tau is counted. biot: film conductance x L / D; infinity: no film.
    """

    shape: str = "slab"
    load: str = "uniform"
    load_share: float = 1.0
    capacity_share: float = 1.0
    rate: float = 1.0
    biot: float = math.inf


class StoresSeries(NamedTuple):
    """What each bath holds at its end and what is left, fractions of the load."""

    in_bath: NDArray[np.float64]
    left: NDArray[np.float64]


class ReserveSeries(NamedTuple):
    """The same for a body with a solid reserve; front: depth to which the solid is gone, 0 to 1."""

    in_bath: NDArray[np.float64]
    left: NDArray[np.float64]
    front: NDArray[np.float64]


def _baths(
    tau: Column, alpha: Column, fill: Column, carry_over: Column
) -> list[NDArray[np.float64]]:
    columns = np.broadcast_arrays(
        *(
            np.asarray(column, dtype=float)
            for column in (np.atleast_1d(tau), alpha, fill, carry_over)
        )
    )
    return [np.ascontiguousarray(column) for column in columns]


def stores_series(
    stores: Sequence[ChlorideStore],
    tau: Column,
    alpha: Column,
    *,
    fill: Column = 0.0,
    carry_over: Column = 0.0,
) -> StoresSeries:
    """Take several stores of chloride through baths; within 1e-6 of the load.

    tau: length of each bath, D t / L^2. alpha: volume over the capacity of all stores. fill:
    chloride of the fresh bath (fraction of the load). carry_over: part of the old liquid kept.
    """
    return StoresSeries(*_core._stores_series(list(stores), *_baths(tau, alpha, fill, carry_over)))


def spread_stores(spread: float, count: int = 7) -> list[ChlorideStore]:
    """Return stores whose rates are spread log-normally about 1; `spread`: of ln rate, to 3."""
    checked = checks.integer("count", count, 2, 16)
    return [
        ChlorideStore(*s) for s in _core._spread_stores(checks.number("spread", spread), checked)
    ]


def reserve_series(
    solid_over_dissolved: float,
    tau: Column,
    alpha: Column,
    *,
    fill: Column = 0.0,
    carry_over: Column = 0.0,
) -> ReserveSeries:
    """Take a slab with a solid reserve through baths; within 1e-4 of the load.

    solid_over_dissolved: 0.3 to 1000. alpha: volume over the capacity for dissolved chloride.
    """
    solid = checks.number("solid_over_dissolved", solid_over_dissolved)
    return ReserveSeries(*_core._reserve_series(solid, *_baths(tau, alpha, fill, carry_over)))


def _given(name: str, value: float | None) -> float:
    return math.nan if value is None else checks.number(name, value)


def _log(log: _core.BathLog) -> _core.BathLog:
    checks.instance("log", log, _core.BathLog, "a BathLog, as read_bath_log returns it")
    return log


def _shared(
    models: Sequence[str], priors: Priors | None, errors: _core.ReadingErrors | None
) -> tuple[list[str], dict[str, tuple[float, float]], _core.ReadingErrors]:
    return list(models), dict(priors or {}), errors or _core.ReadingErrors()


def infer_bath_log(
    log: _core.BathLog,
    *,
    models: Sequence[str] = (),
    priors: Priors | None = None,
    errors: _core.ReadingErrors | None = None,
    object_mass_g: float | None = None,
    object_area_cm2: float | None = None,
    draws: int = 2000,
    seed: int = SEED,
) -> BathPosterior:
    """Tell what may still be inside, with the probability of each story; refuse what no model fits.

    models: names such as "slab", "two stores", "reserve"; none: all eight. priors: name ->
    (median, factor) in place of the stated ones, e.g. {"rate_per_day": (0.01, 6)}. The same seed
    gives the same answer. Runs without the GIL.
    """
    return _core._infer_bath_log(
        _log(log),
        *_shared(models, priors, errors),
        _given("object_mass_g", object_mass_g),
        _given("object_area_cm2", object_area_cm2),
        checks.integer("draws", draws, 200, 20_000),
        seed,
    )


def decide_bath(
    log: _core.BathLog,
    *,
    target_left_mg: float | None = None,
    stop_mg_per_l: float | None = None,
    next_volume_l: float | None = None,
    next_days: float | None = None,
    blank_mg_per_l: float | None = None,
    models: Sequence[str] = (),
    priors: Priors | None = None,
    errors: _core.ReadingErrors | None = None,
    object_mass_g: float | None = None,
    object_area_cm2: float | None = None,
    dataset: _core.Dataset | None = None,
    draws: int = 2000,
    seed: int = SEED,
) -> BathDecision:
    """Change, leave or stop: gains, chances of published rules, a date only if it can be carried.

    target_left_mg: stop when less is left. stop_mg_per_l: a rule of your own for the last bath,
    above its blank, judged beside the published ones. next_*: the bath considered; none: the last.
    """
    return _core._decide_bath(
        _log(log),
        dataset or default_dataset(),
        *_shared(models, priors, errors),
        _given("object_mass_g", object_mass_g),
        _given("object_area_cm2", object_area_cm2),
        checks.integer("draws", draws, 200, 20_000),
        seed,
        _given("next_volume_l", next_volume_l),
        _given("next_days", next_days),
        _given("target_left_mg", target_left_mg),
        _given("blank_mg_per_l", blank_mg_per_l),
        _given("stop_mg_per_l", stop_mg_per_l),
    )


def plan_baths(
    log: _core.BathLog,
    total_days: float,
    *,
    bath_l: float | None = None,
    water_l: float | None = None,
    baths_most: int = 6,
    temperature_c: float | None = None,
    log_temperature_c: float | None = None,
    target_left_mg: float | None = None,
    blank_mg_per_l: float | None = None,
    models: Sequence[str] = (),
    priors: Priors | None = None,
    errors: _core.ReadingErrors | None = None,
    draws: int = 2000,
    seed: int = SEED,
) -> BathSchedule:
    """How many more baths, changed when, leave least; least time and water to reach a target.

    bath_l: volume of each bath; water_l instead: all the water there is. temperature_c: of the
    baths to come (0 to 50), which moves diffusion alone; log_temperature_c: of the baths so far,
    where the log states none.
    """
    return _core._schedule_baths(
        _log(log),
        *_shared(models, priors, errors),
        checks.integer("draws", draws, 200, 20_000),
        seed,
        checks.number("total_days", total_days),
        _given("bath_l", bath_l),
        _given("water_l", water_l),
        checks.integer("baths_most", baths_most, 1, 12),
        _given("target_left_mg", target_left_mg),
        _given("blank_mg_per_l", blank_mg_per_l),
        _given("temperature_c", temperature_c),
        _given("log_temperature_c", log_temperature_c),
    )


def bath_course(
    log: _core.BathLog,
    posterior: BathPosterior,
    *,
    points: int = 8,
    baths_to_come: int = 0,
    errors: _core.ReadingErrors | None = None,
) -> list[_core.BathCoursePoint]:
    """Follow concentration, extract and remainder moment by moment, with further baths if asked.

    points: moments in each bath, 1 to 100. baths_to_come: like the last one, 0 to 60.
    """
    return _core._bath_course(
        _log(log),
        posterior,
        checks.integer("points", points, 1, 100),
        checks.integer("baths_to_come", baths_to_come, 0, 60),
        errors or _core.ReadingErrors(),
    )


def chloride_by_meter(
    conductivity_us_per_cm: float | None = None,
    *,
    tds_mg_per_l: float | None = None,
    temperature_c: float = 25.0,
    blank_us_per_cm: float | None = None,
    error_us_per_cm: float | None = None,
    error_percent: float | None = None,
    salt: str | None = None,
    mol_per_l: float | None = None,
    chloride_sought_mg_per_l: float | None = None,
    dataset: _core.Dataset | None = None,
) -> _core.MeterAnswer:
    """Tell what a conductivity or TDS says of chloride in deionised water; with `salt`: nothing.

    temperature_c: of a meter or pen that does not correct to 25. error_us_per_cm, error_percent:
    plus or minus of the meter, which add up. The answer is an upper bound with its range: a meter
    counts every ion. With `salt` and `mol_per_l` it is the sentence why a meter says nothing of
    `chloride_sought_mg_per_l` (None: 10) there. Raises InputError for what goes without effect.
    """
    if salt is None:
        for name, given in (
            ("mol_per_l", mol_per_l),
            ("chloride_sought_mg_per_l", chloride_sought_mg_per_l),
        ):
            if given is not None:
                raise checks.refusal(name, checks.shown(given), "nothing without salt")
    elif not checks.text("salt", salt):
        raise checks.refusal("salt", "''", "a bath salt, or None for deionised water")
    elif mol_per_l is None:
        raise checks.refusal("mol_per_l", "None", "the strength of the salt, above 0 to 10 mol/L")
    sought = 10.0 if chloride_sought_mg_per_l is None else chloride_sought_mg_per_l
    return _core._chloride_by_meter(
        dataset or default_dataset(),
        _given("conductivity_us_per_cm", conductivity_us_per_cm),
        _given("tds_mg_per_l", tds_mg_per_l),
        checks.number("temperature_c", temperature_c),
        _given("blank_us_per_cm", blank_us_per_cm),
        checks.number("chloride_sought_mg_per_l", sought),
        _given("error_us_per_cm", error_us_per_cm),
        _given("error_percent", error_percent),
        salt or "",
        _given("mol_per_l", mol_per_l),
    )
