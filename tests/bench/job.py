"""A job of the bench: ours, those who do the same another way, and how their times are taken."""

import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

Clock = Callable[[], float]
Call = Callable[[], Any]


@dataclass(frozen=True)
class Rival:
    """The same job done another way."""

    call: Call
    share: float = 1.0
    """Of the job that `call` does: the rest would take minutes."""


@dataclass(frozen=True)
class Job:
    """What is measured. The times printed are those of one of `items`."""

    name: str
    ours: Call
    """With one thread, where it has a choice."""
    rivals: dict[str, Rival]
    agree: Callable[[Any, Any], None]
    """Asserts that two results, ours first, are the same; called for every rival."""
    items: int = 1
    aim: str = ""
    all_threads: Call | None = None
    limit: Callable[[], float] | None = None
    """Seconds an item of what nobody can leave out."""


@dataclass
class Timing:
    """Seconds an item."""

    samples: list[float] = field(default_factory=list)

    @property
    def median(self) -> float:
        return statistics.median(self.samples)

    @property
    def noise(self) -> float:
        """Half the distance of the quartiles over the median."""
        if len(self.samples) < 2:
            return 0.0
        low, _, high = statistics.quantiles(self.samples, n=4, method="inclusive")
        return (high - low) / 2 / self.median


def seconds(call: Call, clock: Clock) -> float:
    """Time per call, repeating short ones until they can be timed."""
    start = clock()
    call()
    once = clock() - start
    if once > 0.02:
        return once
    repeats = max(1, int(0.02 / max(once, 1e-7)))
    start = clock()
    for _ in range(repeats):
        call()
    return (clock() - start) / repeats


def measure(job: Job, repeats: int) -> dict[str, Timing]:
    """Everyone in turn, several times; ours is "aeruca", then "all threads", rivals and "limit".

    Processor time, which a busy machine leaves alone; with all threads, time by the clock.
    """
    result = job.ours()
    for rival in job.rivals.values():
        job.agree(result, rival.call())
    timings: dict[str, Timing] = {}

    def take(label: str, value: float) -> None:
        timings.setdefault(label, Timing()).samples.append(value)

    for _ in range(repeats):
        take("aeruca", seconds(job.ours, time.process_time) / job.items)
        if job.all_threads is not None:
            take("all threads", seconds(job.all_threads, time.perf_counter) / job.items)
        for label, rival in job.rivals.items():
            take(label, seconds(rival.call, time.process_time) / rival.share / job.items)
        if job.limit is not None:
            take("limit", job.limit())
    return timings
