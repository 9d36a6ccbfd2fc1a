"""The cases of a collection in one table by risk: on this machine, or over the workers of Dask."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any

from . import _core, checks
from ._core import CaseCollection as CaseCollection
from ._core import ObjectCase as ObjectCase
from .spread import dealt

if TYPE_CHECKING:
    from ._core import Dataset

__all__ = ["CaseCollection", "ObjectCase", "assess_folder"]

Place = str | os.PathLike[str]


def assess_folder(
    names: Place | Iterable[Place],
    *,
    date: str = "",
    dataset: Dataset | None = None,
    threads: int = 0,
    progress: Callable[[int, int], object] | None = None,
    client: Any = None,
    partitions: int = 0,
) -> CaseCollection:
    """Assess the case files of a folder (and below), a pattern or a list, each an object.

    The objects come out by risk: active first, then borderline, not known, dormant; a case file
    that cannot be used comes last, with the reason in ``problem``. ``to_csv()``, ``to_html()``,
    ``to_text(width)``, ``to_json()`` and ``to_rows()`` (a dictionary each) give the table.

    `date` (YYYY-MM-DD) is written into the assessments; by it a review is overdue. `threads`: 0 for
    as many as the machine has, up to 256. `progress` is called with the number of cases done and of
    all; an interrupt ends the work between two cases. Memory holds one assessment a thread and a
    row of 1 kB a case.

    `client`: a ``distributed.Client``, whose workers do the work and read the files themselves,
    under the same names and with the data set aeruca was built with; then `threads`, `progress` and
    `dataset` are not accepted, and `partitions` is the number of tasks (0: four a worker). The
    table is the same for any number of threads, tasks and workers, to the last bit. Raises
    FileError for a name that no file answers to, InputError for the rest.
    """
    given = (
        [checks.path("names", names)]
        if isinstance(names, (str, os.PathLike))
        else checks.paths("names", names)
    )
    day = checks.text("date", date)
    count = checks.integer("threads", threads, 0, 256)
    parts = checks.integer("partitions", partitions, 0, 1_000_000)
    if client is None:
        if parts:
            raise checks.refusal("partitions", str(parts), "a number beside a client only")
        return _core.assess_collection(given, day, checks.dataset(dataset), count, progress)
    for name, value in (("threads", threads or None), ("progress", progress), ("dataset", dataset)):
        if value is not None:
            raise checks.refusal(name, checks.shown(value), "nothing beside a client")
    _core.assess_cases([], day, None, 1)  # a wrong date is refused here, not by each worker
    paths = _core.find_case_files(given)
    return _core.ranked_cases(dealt(_assessed, paths, parts, client, day), day, None)


def _assessed(paths: list[str], date: str) -> list[ObjectCase]:
    """Assess some cases, on a worker."""
    return _core.assess_collection(paths, date, None, 1, None).objects
