"""Humidity records as NumPy series, and the judgement of a store."""

from __future__ import annotations

import os
from typing import Any

import numpy as np
import numpy.typing as npt

from . import _core
from ._core import LoggerReadOptions, LoggerRecord, OnsetCurve, StoreAssessment, StoreOptions

__all__ = ["assess_store", "onset", "read_logger", "record_from_arrays", "record_times"]


def _read_options(settings: dict[str, Any]) -> LoggerReadOptions:
    options = LoggerReadOptions()
    for name, value in settings.items():
        if not hasattr(options, name):
            raise TypeError(f"'{name}' is no setting of LoggerReadOptions")
        setattr(options, name, value)
    return options


def read_logger(path: str | os.PathLike[str], **settings: Any) -> LoggerRecord:
    """Read a logger file (CSV): times, temperature (degrees C) and relative humidity (percent).

    Every bad line is a fault with its line number in ``record.faults``. ``settings`` are the
    fields of ``LoggerReadOptions``: max_bad_share, rh_over_tolerance_percent, gap_factor,
    stuck_hours, stuck_readings, listed_faults, time_column, temperature_column, rh_column.

    Raises FileError when the file cannot be read or too many of its lines are bad.
    """
    return _core.read_logger_csv(os.fspath(path), _read_options(settings))


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
    moments = np.asarray(times)
    if moments.ndim != 1:
        raise _core.InputError(
            f"times = an array of shape {moments.shape}: accepted is one dimension"
        )
    if np.issubdtype(moments.dtype, np.datetime64):
        if np.isnat(moments).any():
            raise _core.InputError("times = NaT: accepted are times without a hole")
        seconds = moments.astype("datetime64[s]").astype(np.int64)
    elif np.issubdtype(moments.dtype, np.integer):
        seconds = moments.astype(np.int64)
    else:
        raise _core.InputError(
            f"times = an array of {moments.dtype}: accepted is datetime64 or whole seconds"
        )
    temperatures = (
        np.empty(0) if temperature_c is None else np.asarray(temperature_c, dtype=np.float64)
    )
    humidities = np.asarray(rh_percent, dtype=np.float64)
    return LoggerRecord._from_arrays(seconds, temperatures, humidities, _read_options(settings))


def record_times(record: LoggerRecord) -> npt.NDArray[np.datetime64]:
    """Return the times as datetime64[s]: UTC when ``record.utc``, else as the file wrote them."""
    return record.times_s.astype("datetime64[s]")


def onset(limit: OnsetCurve | str | float | None = None, *, salt: str | None = None) -> OnsetCurve:
    """Return a limit: the chosen published band, one by its id, a number (% RH) or a salt's."""
    if salt is not None:
        if limit is not None:
            raise TypeError("give a limit or a salt, not both")
        return _core.salt_onset(salt)
    if isinstance(limit, OnsetCurve):
        return limit
    if limit is None or isinstance(limit, str):
        return _core.published_onset(limit or "")
    return _core.limit_onset(float(limit))


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
    minimum_coverage, minimum_days. Shares are 0 to 1, times in hours; NaN: not known.
    """
    options = StoreOptions()
    options.onset = onset(limit, salt=salt)
    for name, value in settings.items():
        if name == "onset" or not hasattr(options, name):
            raise TypeError(f"'{name}' is no setting of StoreOptions")
        setattr(options, name, value)
    return _core.judge_store(record, options)
