"""A collection of loggers in one table by risk: on this machine, or over the workers of Dask."""

from __future__ import annotations

import io
import os
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

import numpy as np

from . import _core, checks
from ._core import Collection as Collection
from ._core import LoggerReadOptions, ObjectRisk, OnsetCurve, StoreOptions
from .handed_on import Function
from .spread import dask, dealt, gathered
from .store import Place, onset, record_from_arrays
from .store_options import JudgeRules, ReadRules, RecordRules, filled, taking

if TYPE_CHECKING:
    import pandas as pd
    from typing_extensions import Unpack

__all__ = ["judge_collection", "judge_readings", "plot_collection", "spread_collection", "table"]

Limit = OnsetCurve | str | float | None
Objects = Place | Iterable[Place] | Mapping[str, Place | Iterable[Place]]


class CollectionRules(ReadRules, JudgeRules, total=False):
    """How the files are read, and how the stores are judged."""


class ReadingsRules(RecordRules, JudgeRules, total=False):
    """How records are made of readings, and how the stores are judged."""


def _taking(reading: type) -> Callable[[Function], Function]:
    def show(function: Function) -> Function:
        return taking(reading, LoggerReadOptions())(taking(JudgeRules, StoreOptions())(function))

    return show


class _Rules:
    """Limit and rules, checked where they are given and made anew on every worker."""

    def __init__(
        self, limit: OnsetCurve, rules: Mapping[str, object], reading: type, caller: str
    ) -> None:
        self.limit = limit
        self.judging = {k: v for k, v in rules.items() if k in JudgeRules.__annotations__}
        self.reading = {k: v for k, v in rules.items() if k not in self.judging}
        self._reading = reading
        self._caller = caller
        self.options()  # a wrong rule is refused here, not by each worker

    def options(self) -> tuple[LoggerReadOptions, StoreOptions]:
        judge = filled(StoreOptions(), JudgeRules, self.judging, self._caller)
        judge.onset = self.limit
        return filled(LoggerReadOptions(), self._reading, self.reading, self._caller), judge


def _names(names: Place | Iterable[Place]) -> list[str]:
    if isinstance(names, (str, os.PathLike)):
        return [checks.path("names", names)]
    return checks.paths("names", names)


@_taking(ReadRules)
def judge_collection(
    names: Place | Iterable[Place],
    limit: Limit = None,
    *,
    salt: str | None = None,
    threads: int = 0,
    progress: Callable[[int, int], object] | None = None,
    **rules: Unpack[CollectionRules],
) -> Collection:
    """Judge the logger files of a folder, a pattern or a list, each an object, by one limit.

    The objects come out by risk, the most at risk first; a file that cannot be used has its row
    with the reason. ``limit``, ``salt`` and the rules as in ``read_logger`` and ``assess_store``.
    `progress` is called with the number of files done and of all. An interrupt ends the work
    between two files. Memory holds one record a thread and a row a file.
    """
    given = _Rules(onset(limit, salt=salt), rules, ReadRules, "judge_collection")
    count = checks.integer("threads", threads, 0, 256)
    return _core.judge_collection(_names(names), *given.options(), count, progress)


@_taking(ReadRules)
def spread_collection(
    objects: Objects,
    limit: Limit = None,
    *,
    salt: str | None = None,
    partitions: int = 0,
    client: Any = None,
    **rules: Unpack[CollectionRules],
) -> Collection:
    """Judge logger files as ``judge_collection`` does, over the workers of a Dask cluster.

    `objects`: a folder, a pattern or a list, each file an object; or a dictionary of the name of
    each object and its files, folder or pattern, which are joined into its record. Workers read the
    files themselves, under the same names. `client`: a ``distributed.Client``; None for the one in
    use, and without one the threads of this process. `partitions`: tasks that the objects are dealt
    out to; 0 for four a worker. Every object is judged whole by one task, so that the answer is the
    same for any number of partitions and workers, to the last bit.

    Memory of a worker, measured: 70 MB for Python and this library, 50 bytes a reading of the one
    object that each of its threads works on (60 where files are joined), and 1 kB a row. A logger
    of a million readings takes 50 MB while it is judged, a thousand of them no more.
    """
    rule = _Rules(onset(limit, salt=salt), rules, ReadRules, "spread_collection")
    parts = checks.integer("partitions", partitions, 0, 1_000_000)
    dask()
    return _core.ranked(dealt(_judged, _files_of(objects), parts, client, rule), rule.limit)


@_taking(RecordRules)
def judge_readings(
    readings: Any,
    limit: Limit = None,
    *,
    salt: str | None = None,
    columns: Mapping[str, str] | None = None,
    client: Any = None,
    **rules: Unpack[ReadingsRules],
) -> Collection:
    """Judge a table of the readings of many loggers (a Dask or pandas frame), in any partitions.

    `columns` names those of the table: ``object`` (whose reading it is), ``time`` (datetime64),
    ``rh_percent`` and, where there is one, ``temperature_c``; None where they are called so. The
    readings of each object are brought together on one worker and put in order of time; of two of
    one time and different values the more humid is kept. So the answer is the same for any
    partitions, to the last bit. A worker holds the partitions that it works on, and Dask writes to
    disk what does not fit. Readings without the name of an object are one more object, "(no name)".
    """
    rule = _Rules(onset(limit, salt=salt), rules, RecordRules, "judge_readings")
    engine = dask()
    called = _called(readings, columns or {})
    if not hasattr(readings, "to_delayed"):
        readings = dask("dask.dataframe").from_pandas(readings, npartitions=1)
    brought = readings[list(called.values())].shuffle(on=called["object"])
    judged = engine.delayed(_judged_readings, pure=False)
    tasks = [judged(part, called, rule) for part in brought.to_delayed()]
    return _core.ranked(gathered(tasks, client), rule.limit)


def _called(readings: Any, columns: Mapping[str, str]) -> dict[str, str]:
    """Return what each column is called, those that are there."""
    known = ("object", "time", "rh_percent", "temperature_c")
    for name in columns:
        if name not in known:
            raise checks.refusal("columns", name, "object, time, rh_percent and temperature_c")
    called = {name: columns.get(name, name) for name in known}
    for name, given in called.items():
        if given not in readings.columns and (name != "temperature_c" or name in columns):
            raise checks.refusal("columns", given, "names of columns that the readings have")
    called = {name: given for name, given in called.items() if given in readings.columns}
    kinds = {"time": ("M", "times as datetime64"), "rh_percent": ("fiu", "numbers, % RH")}
    kinds["temperature_c"] = ("fiu", "numbers, degrees C")
    for name, (kind, accepted) in kinds.items():
        if name in called and readings.dtypes[called[name]].kind not in kind:
            raise checks.refusal(called[name], str(readings.dtypes[called[name]]), accepted)
    return called


def _files_of(objects: Objects) -> list[tuple[str, list[str]]]:
    """Name and files of each object, in the order of the names."""
    if isinstance(objects, Mapping):
        given = {checks.text("objects", name): _names(files) for name, files in objects.items()}
        return sorted(given.items())
    return [(file, [file]) for file in _core.find_logger_files(_names(objects))]


def _judged(objects: Sequence[tuple[str, list[str]]], rule: _Rules) -> list[ObjectRisk]:
    """Judge some objects, on a worker."""
    read, judge = rule.options()
    return [
        _row(name, partial(_core.read_logger_files, files, read, 1), judge)
        for name, files in objects
    ]


def _judged_readings(part: pd.DataFrame, called: dict[str, str], rule: _Rules) -> list[ObjectRisk]:
    """Judge the objects whose readings are in this part, on a worker."""
    import pandas as pd

    _, judge = rule.options()
    groups = part.groupby(called["object"], sort=True, observed=True, dropna=False)
    return [
        _row(
            "(no name)" if pd.isna(name) else str(name),
            partial(_record_of, group, called, rule.reading),
            judge,
        )
        for name, group in groups
    ]


def _record_of(
    group: pd.DataFrame, called: dict[str, str], rules: Mapping[str, object]
) -> _core.LoggerRecord:
    """Bring the readings of one object into an order that no partition has a part in."""
    times = group[called["time"]].to_numpy("datetime64[s]")
    rh = group[called["rh_percent"]].to_numpy(np.float64)
    warm = "temperature_c" in called
    t = group[called["temperature_c"]].to_numpy(np.float64) if warm else np.zeros(len(rh))
    order = np.lexsort((t, -rh, times))
    making: Any = rules
    return record_from_arrays(times[order], t[order] if warm else None, rh[order], **making)


def _row(name: str, record: Callable[[], _core.LoggerRecord], judge: StoreOptions) -> ObjectRisk:
    try:
        found = record()
        return _core.object_risk(found, _core.judge_store(found, judge), name)
    except _core.Error as problem:
        return _core.refused_object(name, str(problem))


def table(collection: Collection) -> pd.DataFrame:
    """Return the objects as a pandas frame, the most at risk first."""
    import pandas as pd

    moments = ["worst_spell_from", "worst_spell_to", "from", "to"]
    text = io.StringIO(collection.to_csv("objects"))
    return pd.read_csv(text, parse_dates=moments, dtype={"rank": "Int64", "problem": "str"})


def plot_collection(collection: Collection, axes: Any = None) -> Any:
    """Draw the chances of each object, by rank, and the drying that those most at risk need."""
    from .drawing.collection import draw

    checks.instance("collection", collection, Collection, "a Collection")
    return draw(collection, axes)
