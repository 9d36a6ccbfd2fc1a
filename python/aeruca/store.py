"""Humidity records as NumPy series, and the judgement of a store."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

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
    SeasonSummary as SeasonSummary,
)
from ._core import (
    SensorCheck as SensorCheck,
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
from ._core import (
    TwoLoggers as TwoLoggers,
)
from ._core import (
    WeekSummary as WeekSummary,
)
from .store_options import JudgeRules, ReadRules, RecordRules, filled, taking

if TYPE_CHECKING:
    from typing_extensions import Unpack

__all__ = [
    "assess_store",
    "assess_stores",
    "compare_loggers",
    "join_records",
    "onset",
    "read_logger",
    "read_loggers",
]
__all__ += ["record_from_arrays", "record_times", "sensor_check", "surface_rh_percent"]


@dataclass(frozen=True)
class LoggerOutcome:
    """One logger file of many: its record, or what is wrong with the file."""

    path: str
    record: LoggerRecord | None
    problem: str


@dataclass(frozen=True)
class StoreOutcome:
    """One record of many: its assessment, or why there is none."""

    assessment: StoreAssessment | None
    problem: str


Place = str | os.PathLike[str]


@taking(ReadRules, LoggerReadOptions())
def read_logger(path: Place | Iterable[Place], **rules: Unpack[ReadRules]) -> LoggerRecord:
    """Read a logger file (CSV): times, temperature (degrees C) and relative humidity (percent).

    A folder of files, a pattern such as ``logs/*.csv`` or a list of these is the record of one
    logger: files are joined in order of time, identical repeats count once, and overlaps and gaps
    between files stand in ``record.meetings``; a file that cannot be used stands in
    ``record.files`` with its problem.

    Every bad line is a fault with its line number in ``record.faults``. ``time_column``,
    ``temperature_column`` and ``rh_column`` overrule the recognition of the header; the rest is
    described in ``LoggerReadOptions``.

    Raises FileError when the file cannot be read or too many of its lines are bad.
    """
    options = filled(LoggerReadOptions(), ReadRules, rules, "read_logger")
    one = isinstance(path, (str, os.PathLike))
    names = [checks.path("path", path)] if one else checks.paths("path", path)
    return _core.read_logger_files(names, options, 0)


@taking(RecordRules, LoggerReadOptions())
def join_records(records: Iterable[LoggerRecord], **rules: Unpack[RecordRules]) -> LoggerRecord:
    """Join records of one logger into one in order of time, as ``read_logger`` joins files."""
    options = filled(LoggerReadOptions(), RecordRules, rules, "join_records")
    return _core.join_records([_record(one) for one in records], options)


@taking(ReadRules, LoggerReadOptions())
def read_loggers(
    paths: Iterable[str | os.PathLike[str]], *, threads: int = 0, **rules: Unpack[ReadRules]
) -> list[LoggerOutcome]:
    """Read many logger files, in the order of the paths, on `threads` threads.

    `threads`: 0 for as many as the machine has, up to 256; other Python threads go on meanwhile.
    A file that cannot be used costs its own outcome: `record` None and what is wrong in `problem`.
    The rest as in ``read_logger``.
    """
    options = filled(LoggerReadOptions(), ReadRules, rules, "read_loggers")
    names = checks.paths("paths", paths)
    found = _core.read_loggers(names, options, checks.integer("threads", threads, 0, 256))
    return [
        LoggerOutcome(path, record, problem)
        for path, (record, problem) in zip(names, found, strict=True)
    ]


@taking(RecordRules, LoggerReadOptions())
def record_from_arrays(
    times: npt.ArrayLike,
    temperature_c: npt.ArrayLike | None,
    rh_percent: npt.ArrayLike,
    **rules: Unpack[RecordRules],
) -> LoggerRecord:
    """Make a record from arrays of one length, with the checks of ``read_logger``.

    ``times`` is datetime64 (cut to whole seconds) or whole seconds since 1970-01-01;
    ``temperature_c`` in degrees C or None; ``rh_percent`` in percent, NaN where one is missing.
    """
    humidities = _column("rh_percent", rh_percent)
    temperatures = np.empty(0) if temperature_c is None else _column("temperature_c", temperature_c)
    options = filled(LoggerReadOptions(), RecordRules, rules, "record_from_arrays")
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


def sensor_check(salt: str, *, temperature_c: float, reading_rh_percent: float) -> SensorCheck:
    """Return what the sensor read over a saturated salt in a closed jar, for ``checks``.

    ``reading_rh_percent`` (0 to 110) is what it showed when it had settled, ``temperature_c`` (0 to
    50) the temperature of the jar. The humidity over the salt is the measured one of the data set,
    else the computed one.
    """
    return _core.sensor_check(
        checks.text("salt", salt),
        checks.number("temperature_c", temperature_c),
        checks.number("reading_rh_percent", reading_rh_percent),
    )


@taking(JudgeRules, StoreOptions())
def assess_store(
    record: LoggerRecord,
    limit: OnsetCurve | str | float | None = None,
    *,
    salt: str | None = None,
    **rules: Unpack[JudgeRules],
) -> StoreAssessment:
    """Judge a store record against a humidity limit.

    ``limit`` and ``salt`` as in ``onset``. ``accuracy_rh_percent`` is the sensor's plus-minus,
    ``accuracy_meaning`` what its maker means by it, ``random_rh_percent`` the standard deviation of
    each reading's own error (all % RH); ``checks`` what it read over saturated salts
    (``sensor_check``), which replaces its maker's word; ``drift_rh_percent_per_year`` its drift
    since the day ``calibrated`` ("2026-03-01"); ``cooler_c`` how much cooler the object is than
    the air (K); the rest are the rules of the verdict. Shares are 0 to 1, times in hours.
    """
    options = filled(StoreOptions(), JudgeRules, rules, "assess_store")
    options.onset = onset(limit, salt=salt)
    return _core.judge_store(_record(record), options)


@taking(JudgeRules, StoreOptions())
def compare_loggers(
    first: LoggerRecord,
    second: LoggerRecord,
    limit: OnsetCurve | str | float | None = None,
    *,
    salt: str | None = None,
    second_accuracy_rh_percent: float | None = None,
    second_checks: Sequence[SensorCheck] = (),
    place_rh_percent: float = 1.0,
    **rules: Unpack[JudgeRules],
) -> TwoLoggers:
    """Compare two loggers side by side, and judge the store with what both say.

    Rules as in ``assess_store``; accuracy and checks of the second sensor are its own (None: the
    accuracy of the first). ``place_rh_percent`` (0.1 to 10, standard) is how much the air may
    differ between them.
    """
    options = filled(StoreOptions(), JudgeRules, rules, "compare_loggers")
    options.onset = onset(limit, salt=salt)
    other = filled(StoreOptions(), JudgeRules, rules, "compare_loggers")
    other.onset = options.onset
    other.checks = checks.items("second_checks", second_checks, SensorCheck)
    if second_accuracy_rh_percent is not None:
        accuracy = checks.number("second_accuracy_rh_percent", second_accuracy_rh_percent)
        other.accuracy_rh_percent = accuracy
    place = checks.number("place_rh_percent", place_rh_percent)
    return _core.compare_loggers(_record(first), options, _record(second), other, place)


@taking(JudgeRules, StoreOptions())
def assess_stores(
    records: Iterable[LoggerRecord | LoggerOutcome],
    limit: OnsetCurve | str | float | None = None,
    *,
    salt: str | None = None,
    threads: int = 0,
    **rules: Unpack[JudgeRules],
) -> list[StoreOutcome]:
    """Judge many records, or what ``read_loggers`` returned, by the same rules.

    Outcomes stand in the order of the records and do not depend on `threads` (0: as many as the
    machine has, up to 256; other Python threads go on meanwhile). A record that cannot be judged
    costs its own outcome: `assessment` None and why in `problem`; a file that could not be read
    keeps its problem. The rest as in ``assess_store``.
    """
    options = filled(StoreOptions(), JudgeRules, rules, "assess_stores")
    options.onset = onset(limit, salt=salt)
    outcomes = [_outcome(one) for one in records]
    found = _core.judge_stores(
        [one.record for one in outcomes], options, checks.integer("threads", threads, 0, 256)
    )
    return [
        StoreOutcome(assessment, one.problem or problem)
        for one, (assessment, problem) in zip(outcomes, found, strict=True)
    ]


def _outcome(one: LoggerRecord | LoggerOutcome) -> LoggerOutcome:
    if isinstance(one, LoggerOutcome):
        return one
    accepted = "LoggerRecords, or what read_loggers returns"
    checks.instance("records", one, LoggerRecord, accepted)
    return LoggerOutcome(one.file, one, "")


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
