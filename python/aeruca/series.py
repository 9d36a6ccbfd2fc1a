"""Humidity records as NumPy series, and the judgement of a store."""

from __future__ import annotations

import os
from typing import Any

import numpy as np
import numpy.typing as npt

from . import _core, checks
from ._core import LoggerReadOptions, LoggerRecord, OnsetCurve, StoreAssessment, StoreOptions

__all__ = ["assess_store", "onset", "read_logger", "record_from_arrays", "record_times"]
__all__ += ["surface_rh_percent"]


def _set(options: LoggerReadOptions | StoreOptions, settings: dict[str, Any]) -> None:
    """Set the fields that are named, each checked against the kind of its default."""
    for name, value in settings.items():
        if name == "onset" or name.startswith("_") or not hasattr(options, name):
            raise TypeError(f"'{name}' is no setting of {type(options).__name__}")
        default = getattr(options, name)
        if isinstance(default, str):
            setattr(options, name, checks.text(name, value))
        elif isinstance(default, int):
            setattr(options, name, checks.integer(name, value, 0, 1_000_000_000))
        else:
            setattr(options, name, checks.number(name, value))


def _read_options(settings: dict[str, Any]) -> LoggerReadOptions:
    options = LoggerReadOptions()
    _set(options, settings)
    return options


def read_logger(path: str | os.PathLike[str], **settings: Any) -> LoggerRecord:
    """Read a logger file (CSV): times, temperature (degrees C) and relative humidity (percent).

    Every bad line is a fault with its line number in ``record.faults``. ``settings`` are the
    fields of ``LoggerReadOptions``: max_bad_share, rh_over_tolerance_percent, gap_factor,
    stuck_hours, stuck_readings, listed_faults, time_column, temperature_column, rh_column.

    Raises FileError when the file cannot be read or too many of its lines are bad.
    """
    return _core.read_logger_csv(checks.path("path", path), _read_options(settings))


def record_from_arrays(
    times: npt.ArrayLike,
    temperature_c: npt.ArrayLike | None,
    rh_percent: npt.ArrayLike,
    **settings: Any,
) -> LoggerRecord:
    """Make a record from arrays of one length, with the checks of ``read_logger``.

    ``times`` is datetime64 (cut to whole seconds) or whole seconds since 1970-01-01;
    ``temperature_c`` in degrees C or None; ``rh_percent`` in percent, NaN where one is missing.
    """
    humidities = _column("rh_percent", rh_percent)
    temperatures = np.empty(0) if temperature_c is None else _column("temperature_c", temperature_c)
    options = _read_options(settings)
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
    **settings: Any,
) -> StoreAssessment:
    """Judge a store record against a humidity limit.

    ``limit`` and ``salt`` as in ``onset``. ``settings`` are the fields of ``StoreOptions``:
    accuracy_rh_percent (the sensor's plus-minus, % RH, default 3), accuracy_meaning ("uniform" or
    "normal_95"), random_rh_percent, cooler_c (K by which the object is cooler than the air),
    hysteresis_rh_percent, active_spell_h, active_share, dormant_share, dormant_probability,
    minimum_coverage, minimum_days, minimum_readings. Shares are 0 to 1, times in hours.
    """
    options = StoreOptions()
    options.onset = onset(limit, salt=salt)
    _set(options, settings)
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
