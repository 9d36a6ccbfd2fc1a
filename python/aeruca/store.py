"""Humidity records as NumPy series, and the judgement of a store."""

from __future__ import annotations

import os
from typing import Literal

import numpy as np
import numpy.typing as npt

from . import _core, checks
from ._core import (  # the types of this part
    LoggerFault as LoggerFault,
)
from ._core import (
    LoggerReadOptions as LoggerReadOptions,
)
from ._core import (
    LoggerRecord as LoggerRecord,
)
from ._core import (
    MonthSummary as MonthSummary,
)
from ._core import (
    OnsetCurve as OnsetCurve,
)
from ._core import (
    Percentiles as Percentiles,
)
from ._core import (
    SensorRange as SensorRange,
)
from ._core import (
    Spell as Spell,
)
from ._core import (
    StoreAssessment as StoreAssessment,
)
from ._core import (
    StoreOptions as StoreOptions,
)
from ._core import (
    TimeAbove as TimeAbove,
)

__all__ = ["assess_store", "onset", "read_logger", "record_from_arrays", "record_times"]
__all__ += ["surface_rh_percent"]


_MOST = 1_000_000_000
_READ = LoggerReadOptions()
_JUDGE = StoreOptions()


def _read_options(
    max_bad_share: float,
    rh_over_tolerance_percent: float,
    gap_factor: float,
    stuck_hours: float,
    stuck_readings: int,
    listed_faults: int,
) -> LoggerReadOptions:
    options = LoggerReadOptions()
    options.max_bad_share = checks.number("max_bad_share", max_bad_share)
    options.rh_over_tolerance_percent = checks.number(
        "rh_over_tolerance_percent", rh_over_tolerance_percent
    )
    options.gap_factor = checks.number("gap_factor", gap_factor)
    options.stuck_hours = checks.number("stuck_hours", stuck_hours)
    options.stuck_readings = checks.integer("stuck_readings", stuck_readings, 0, _MOST)
    options.listed_faults = checks.integer("listed_faults", listed_faults, 0, _MOST)
    return options


def read_logger(
    path: str | os.PathLike[str],
    *,
    time_column: str = "",
    temperature_column: str = "",
    rh_column: str = "",
    max_bad_share: float = _READ.max_bad_share,
    rh_over_tolerance_percent: float = _READ.rh_over_tolerance_percent,
    gap_factor: float = _READ.gap_factor,
    stuck_hours: float = _READ.stuck_hours,
    stuck_readings: int = _READ.stuck_readings,
    listed_faults: int = _READ.listed_faults,
) -> LoggerRecord:
    """Read a logger file (CSV): times, temperature (degrees C) and relative humidity (percent).

    Every bad line is a fault with its line number in ``record.faults``. ``time_column``,
    ``temperature_column`` and ``rh_column`` overrule the recognition of the header; the rest is
    described in ``LoggerReadOptions``.

    Raises FileError when the file cannot be read or too many of its lines are bad.
    """
    options = _read_options(
        max_bad_share,
        rh_over_tolerance_percent,
        gap_factor,
        stuck_hours,
        stuck_readings,
        listed_faults,
    )
    options.time_column = checks.text("time_column", time_column)
    options.temperature_column = checks.text("temperature_column", temperature_column)
    options.rh_column = checks.text("rh_column", rh_column)
    return _core.read_logger_csv(checks.path("path", path), options)


def record_from_arrays(
    times: npt.ArrayLike,
    temperature_c: npt.ArrayLike | None,
    rh_percent: npt.ArrayLike,
    *,
    max_bad_share: float = _READ.max_bad_share,
    rh_over_tolerance_percent: float = _READ.rh_over_tolerance_percent,
    gap_factor: float = _READ.gap_factor,
    stuck_hours: float = _READ.stuck_hours,
    stuck_readings: int = _READ.stuck_readings,
    listed_faults: int = _READ.listed_faults,
) -> LoggerRecord:
    """Make a record from arrays of one length, with the checks of ``read_logger``.

    ``times`` is datetime64 (cut to whole seconds) or whole seconds since 1970-01-01;
    ``temperature_c`` in degrees C or None; ``rh_percent`` in percent, NaN where one is missing.
    """
    humidities = _column("rh_percent", rh_percent)
    temperatures = np.empty(0) if temperature_c is None else _column("temperature_c", temperature_c)
    options = _read_options(
        max_bad_share,
        rh_over_tolerance_percent,
        gap_factor,
        stuck_hours,
        stuck_readings,
        listed_faults,
    )
    return LoggerRecord._from_arrays(_seconds(times), temperatures, humidities, options)


def _column(name: str, values: npt.ArrayLike) -> npt.NDArray[np.float64]:
    array = checks.numbers(name, values, "numbers of one dimension")
    if array.ndim != 1:
        raise checks.refusal(name, f"an array of shape {array.shape}", "one dimension")
    return array


# Seconds in a unit of datetime64, near enough to tell a time far outside the years accepted.
_UNIT_S = {"Y": 3.2e7, "M": 2.6e6, "W": 6e5, "D": 86400.0, "h": 3600.0, "m": 60.0}
_UNIT_S |= {"s": 1.0, "ms": 1e-3, "us": 1e-6, "ns": 1e-9, "ps": 1e-12, "fs": 1e-15, "as": 1e-18}
_FAR_S = 1e10


def _seconds(times: npt.ArrayLike) -> npt.NDArray[np.int64]:
    """Return whole seconds since 1970; a time that would overflow is refused, not wrapped."""
    if isinstance(times, np.ma.MaskedArray):
        raise checks.refusal("times", "a masked array", "times without a hole")
    moments = np.asarray(times)
    if moments.ndim != 1:
        raise checks.refusal("times", f"an array of shape {moments.shape}", "one dimension")
    if moments.size == 0:
        raise checks.refusal("times", "no values", "at least one time")
    if np.issubdtype(moments.dtype, np.datetime64):
        if np.isnat(moments).any():
            raise checks.refusal("times", "NaT", "times without a hole")
        unit, count = np.datetime_data(moments.dtype)
        far = np.abs(moments.astype(np.int64).astype(np.float64)) * _UNIT_S[unit] * count
    elif np.issubdtype(moments.dtype, np.integer):
        far = np.abs(moments.astype(np.float64))
    else:
        raise checks.refusal(
            "times", f"an array of {moments.dtype}", "datetime64 or whole seconds since 1970-01-01"
        )
    if far.max() > _FAR_S:
        given = checks.shown(moments[int(far.argmax())].item())
        raise checks.refusal("times", given, "times of the years 1900 to 2100")
    if np.issubdtype(moments.dtype, np.datetime64):
        moments = moments.astype("datetime64[s]")
    return moments.astype(np.int64)


def record_times(record: LoggerRecord) -> npt.NDArray[np.datetime64]:
    """Return the times as datetime64[s]: UTC when ``record.utc``, else as the file wrote them."""
    return _record(record).times_s.astype("datetime64[s]")


def _record(record: LoggerRecord) -> LoggerRecord:
    checks.instance("record", record, LoggerRecord, "a LoggerRecord, as read_logger returns it")
    return record


def onset(limit: OnsetCurve | str | float | None = None, *, salt: str | None = None) -> OnsetCurve:
    """Return a limit: the chosen published band, one by its id, a number (% RH) or a salt's."""
    if salt is not None:
        if limit is not None:
            raise TypeError("give a limit or a salt, not both")
        return _core.salt_onset(checks.text("salt", salt))
    if isinstance(limit, OnsetCurve):
        return limit
    if limit is None or isinstance(limit, str):
        return _core.published_onset(limit or "")
    return _core.limit_onset(checks.number("limit", limit))


def assess_store(
    record: LoggerRecord,
    limit: OnsetCurve | str | float | None = None,
    *,
    salt: str | None = None,
    accuracy_rh_percent: float = _JUDGE.accuracy_rh_percent,
    accuracy_meaning: Literal["uniform", "normal_95"] = "uniform",
    random_rh_percent: float = _JUDGE.random_rh_percent,
    cooler_c: float = _JUDGE.cooler_c,
    hysteresis_rh_percent: float = _JUDGE.hysteresis_rh_percent,
    active_spell_h: float = _JUDGE.active_spell_h,
    active_share: float = _JUDGE.active_share,
    dormant_share: float = _JUDGE.dormant_share,
    dormant_probability: float = _JUDGE.dormant_probability,
    minimum_coverage: float = _JUDGE.minimum_coverage,
    minimum_days: float = _JUDGE.minimum_days,
    minimum_readings: int = _JUDGE.minimum_readings,
) -> StoreAssessment:
    """Judge a store record against a humidity limit.

    ``limit`` and ``salt`` as in ``onset``. ``accuracy_rh_percent`` is the sensor's plus-minus,
    ``accuracy_meaning`` what its maker means by it, ``random_rh_percent`` the standard deviation of
    each reading's own error (all % RH); ``cooler_c`` how much cooler the object is than the air
    (K); the rest are the rules of the verdict. Shares are 0 to 1, times in hours.
    """
    options = StoreOptions()
    options.onset = onset(limit, salt=salt)
    options.accuracy_rh_percent = checks.number("accuracy_rh_percent", accuracy_rh_percent)
    options.accuracy_meaning = checks.text("accuracy_meaning", accuracy_meaning)
    options.random_rh_percent = checks.number("random_rh_percent", random_rh_percent)
    options.cooler_c = checks.number("cooler_c", cooler_c)
    options.hysteresis_rh_percent = checks.number("hysteresis_rh_percent", hysteresis_rh_percent)
    options.active_spell_h = checks.number("active_spell_h", active_spell_h)
    options.active_share = checks.number("active_share", active_share)
    options.dormant_share = checks.number("dormant_share", dormant_share)
    options.dormant_probability = checks.number("dormant_probability", dormant_probability)
    options.minimum_coverage = checks.number("minimum_coverage", minimum_coverage)
    options.minimum_days = checks.number("minimum_days", minimum_days)
    options.minimum_readings = checks.integer("minimum_readings", minimum_readings, 0, _MOST)
    return _core.judge_store(_record(record), options)


def surface_rh_percent(
    rh_percent: npt.ArrayLike, temperature_c: npt.ArrayLike, cooler_c: npt.ArrayLike
) -> npt.NDArray[np.float64] | float:
    """Humidity (% RH) at a surface cooler than the air by ``cooler_c`` (K); broadcasts.

    Air and surface 0 to 60 degrees C. NaN in, NaN out.
    """
    return _core.surface_rh_percent(
        *checks.broadcast(
            rh_percent=checks.numbers("rh_percent", rh_percent),
            temperature_c=checks.numbers("temperature_c", temperature_c),
            cooler_c=checks.numbers("cooler_c", cooler_c),
        )
    )
