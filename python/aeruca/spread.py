"""Work dealt out to the workers of Dask, each task whole."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from importlib import import_module
from typing import Any


def dask(part: str = "") -> Any:
    """Return the engine, or one of its parts, whose types are not known here."""
    try:
        import_module("dask.dataframe")
        import_module("distributed")
    except ImportError:
        raise ModuleNotFoundError(
            'a spread collection needs Dask: pip install "aeruca[collection]"'
        ) from None
    return import_module(part or "dask")


def dealt(
    work: Callable[..., list[Any]],
    things: Sequence[Any],
    partitions: int,
    client: Any,
    *more: Any,
) -> list[Any]:
    """Deal the things out to `partitions` tasks (0: four a worker) and return what they gave.

    Each task is ``work(some, *more)`` and gives a list. `client` as in ``gathered``.
    """
    task = dask().delayed(work, pure=False)
    parts = min(partitions or 4 * _workers(client), len(things))
    return gathered([task(things[k::parts], *more) for k in range(parts)], client)


def gathered(tasks: Sequence[Any], client: Any) -> list[Any]:
    """Return what the tasks gave, one list; `client`: None for the one in use, or this process."""
    found = client.gather(client.compute(tasks)) if client else dask().compute(*tasks)
    return [one for part in found for one in part]


def _workers(client: Any) -> int:
    if client is None:
        try:
            client = dask("distributed").default_client()
        except ValueError:
            return 1
    return max(1, int(sum(client.nthreads().values())))
