"""Ratios of aeruca against the same job written with NumPy and SciPy, measured in one run.

Each bench_*.py beside this file has `cases()`, yielding (name, aim, ours, reference, agree): two
callables doing the same job, the aimed ratio, and a function of both results that asserts that
they agree. Ours and the reference run in turn; the ratio of the medians is printed. A reference
with an attribute `scale` did only a part of the job: its time is multiplied. Nothing here gates a
test: it is a table to read.
"""

import importlib.util
import statistics
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

Case = tuple[str, str, Callable[[], Any], Callable[[], Any], Callable[[Any, Any], None]]


def load_cases(wanted: list[str]) -> Iterator[Case]:
    """Cases of every module here whose name contains one of the wanted words (all if none)."""
    for path in sorted(Path(__file__).parent.glob("bench_*.py")):
        if wanted and not any(word in path.stem for word in wanted):
            continue
        spec = importlib.util.spec_from_file_location(path.stem, path)
        assert spec is not None
        assert spec.loader is not None
        module = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(module)
        yield from module.cases()


def seconds(job: Callable[[], Any]) -> float:
    """Time per call, repeating short jobs until they can be timed."""
    start = time.perf_counter()
    job()
    once = time.perf_counter() - start
    repeats = max(1, int(0.02 / max(once, 1e-7)))
    start = time.perf_counter()
    for _ in range(repeats):
        job()
    return (time.perf_counter() - start) / repeats


def human(value: float) -> str:
    """Seconds with a fitting unit."""
    for unit, scale in (("s", 1.0), ("ms", 1e-3), ("us", 1e-6)):
        if value >= scale:
            return f"{value / scale:.3g} {unit}"
    return f"{value * 1e9:.3g} ns"


def main(wanted: list[str]) -> int:
    """Print the table."""
    print(f"{'job':<52} {'aeruca':>10} {'NumPy/SciPy':>12} {'ratio':>9}  aim")
    for name, aim, ours, reference, agree in load_cases(wanted):
        agree(ours(), reference())
        pairs = [(seconds(ours), seconds(reference)) for _ in range(5)]
        mine = statistics.median(pair[0] for pair in pairs)
        theirs = statistics.median(pair[1] for pair in pairs) * getattr(reference, "scale", 1.0)
        print(
            f"{name:<52} {human(mine):>10} {human(theirs):>12} {theirs / mine:>8.0f}x  {aim}",
            flush=True,
        )
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
