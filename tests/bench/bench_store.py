"""Reading and judging a million logger rows, against the plain NumPy a user would write."""

import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import numpy as np

import aeruca

ROWS = 1_000_000


def make_log(path: Path) -> None:
    """Write a well-formed log, one reading a minute: nothing for the checks to find."""
    rng = np.random.default_rng(7)
    rh = 41 + 6 * np.sin(np.arange(ROWS) / 90000) + rng.normal(0, 0.3, ROWS)
    t = 20 + rng.normal(0, 1, ROWS)
    times = np.datetime64("2023-01-01T00:00:00") + np.arange(ROWS) * np.timedelta64(1, "m")
    rows = (f"{a},{b:.2f},{c:.2f}" for a, b, c in zip(times.astype(str), t, rh, strict=True))
    path.write_text("time,temperature,RH\n" + "\n".join(rows) + "\n")


def numpy_read(path: Path) -> tuple[Any, Any, Any]:
    """Read with np.loadtxt, the compiled reader of NumPy; times as text, then datetime64."""
    table = np.loadtxt(path, delimiter=",", skiprows=1, dtype="U19,f8,f8", unpack=True)
    return table[0].astype("datetime64[s]").astype(np.int64), table[1], table[2]


def numpy_judge(times: Any, rh: Any) -> dict[str, float]:
    """Share of time and longest spell above each limit, as read and at the sensor's ends."""
    step = np.diff(times)
    median = float(np.median(step))
    kept = np.where(step > 2.5 * median, median, step)
    weight = 0.5 * (np.append(median, kept) + np.append(kept, median))
    total = weight.sum()
    found: dict[str, float] = {}
    for limit in (42.0, 46.0):
        for shift in (-3.0, 0.0, 3.0):
            wet = rh + shift > limit
            found[f"share {limit:g} {shift:g}"] = float(weight[wet].sum() / total)
            change = np.diff(np.concatenate([[0], wet.astype(np.int8), [0]]))
            starts, ends = np.flatnonzero(change == 1), np.flatnonzero(change == -1)
            hours = np.concatenate([[0.0], np.cumsum(weight)]) / 3600
            found[f"spell {limit:g} {shift:g}"] = float(
                np.max(hours[ends] - hours[starts], initial=0)
            )
    found["p5"], found["p50"], found["p95"] = (float(x) for x in np.percentile(rh, [5, 50, 95]))
    return found


def ours_judge(record: aeruca.store.LoggerRecord) -> dict[str, float]:
    """Collect the same figures from the assessment, which also gives probabilities and months."""
    a = aeruca.assess_store(record, aeruca.store.OnsetCurve("band", [42.0], [46.0]))
    found: dict[str, float] = {}
    for limit, above in ((42, a.above_low), (46, a.above_high)):
        ends = ((-3, "if_reads_high"), (0, "as_read"), (3, "if_reads_low"))
        for shift, name in ends:
            found[f"share {limit} {shift}"] = getattr(above.share, name)
            found[f"spell {limit} {shift}"] = getattr(above.longest_h, name)
    found["p5"], found["p50"], found["p95"] = a.rh_percent.p5, a.rh_percent.p50, a.rh_percent.p95
    return found


def agree(ours: dict[str, float], reference: dict[str, float]) -> None:
    """Shares and spells to rounding; percentiles to the step of a reading (NumPy interpolates)."""
    assert ours.keys() == reference.keys()
    for name, value in reference.items():
        tolerance = 0.011 if name.startswith("p") else 1e-6
        assert abs(ours[name] - value) <= tolerance, (name, ours[name], value)


Case = tuple[str, str, Callable[[], Any], Callable[[], Any], Callable[[Any, Any], None]]


def cases() -> Iterator[Case]:
    """Yield reading with judging, and judging alone."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "log.csv"
        make_log(path)

        def ours() -> dict[str, float]:
            return ours_judge(aeruca.read_logger(path))

        def reference() -> dict[str, float]:
            times, _, rh = numpy_read(path)
            return numpy_judge(times, rh)

        yield ("read and judge 10^6 logger rows", "10x", ours, reference, agree)
        record = aeruca.read_logger(path)
        times, rh = record.times_s, record.rh_percent
        yield (
            "judge 10^6 readings in memory",
            "1x",
            lambda: ours_judge(record),
            lambda: numpy_judge(times, rh),
            agree,
        )
