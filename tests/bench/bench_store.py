"""Logger files: read, judged, both, and those of a whole house."""

import tempfile
import time
from collections.abc import Callable, Iterator
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import numpy as np
from job import Job, Rival
from store_rivals import (
    TIMES,
    Columns,
    arrow_read,
    numpy_judge,
    pandas_judge,
    pandas_read,
    polars_read,
)

import aeruca
from aeruca.store import LoggerRecord, OnsetCurve, StoreAssessment

ROWS = 1_000_000
HOUSE = 100  # loggers
BAND = OnsetCurve("band", [42.0], [46.0])


def make_log(path: Path, rows: int, shape: int) -> None:
    """Write a well-formed log, one reading a minute: nothing for the checks to find.

    Shape 0 is plain; 1 has semicolons, decimal commas and an offset from UTC.
    """
    rng = np.random.default_rng(7)
    rh = 41 + 6 * np.sin(np.arange(rows) / 90000) + rng.normal(0, 0.3, rows)
    t = 20 + rng.normal(0, 1, rows)
    times = np.datetime64("2023-01-01T00:00:00") + np.arange(rows) * np.timedelta64(1, "m")
    lines = [f"{a},{b:.2f},{c:.2f}" for a, b, c in zip(times.astype(str), t, rh, strict=True)]
    if shape == 1:
        lines = [one.replace(",", ";").replace(".", ",").replace("T", " ") for one in lines]
        lines = [one.replace(";", "+01:00;", 1) for one in lines]
    separator = ",;"[shape]
    path.write_text(f"time{separator}temperature{separator}RH\n" + "\n".join(lines) + "\n")


def ours_judge(record: LoggerRecord) -> dict[str, float]:
    """Judge against the band; ours also gives probabilities, months and cycles."""
    return figures(aeruca.assess_store(record, BAND))


def figures(a: StoreAssessment) -> dict[str, float]:
    """Those that the others work out too."""
    found: dict[str, float] = {}
    for limit, above in ((42, a.above_low), (46, a.above_high)):
        ends = ((-3, "if_reads_high"), (0, "as_read"), (3, "if_reads_low"))
        for shift, name in ends:
            found[f"share {limit} {shift}"] = getattr(above.share, name)
            found[f"spell {limit} {shift}"] = getattr(above.longest_h, name)
    found["p5"], found["p50"], found["p95"] = a.rh_percent.p5, a.rh_percent.p50, a.rh_percent.p95
    return found


def same_figures(ours: dict[str, float], theirs: dict[str, float]) -> None:
    """Shares and spells to rounding; percentiles to the step of a reading (NumPy interpolates)."""
    assert ours.keys() <= theirs.keys()
    for name, value in ours.items():
        tolerance = 0.011 if name.startswith("p") else 1e-6
        assert abs(theirs[name] - value) <= tolerance, (name, value, theirs[name])


def same_columns(ours: LoggerRecord, theirs: Columns) -> None:
    """Every reading, to the last bit."""
    assert (ours.times_s == theirs[0]).all()
    assert (ours.temperature_c == theirs[1]).all()
    assert (ours.rh_percent == theirs[2]).all()


def readers() -> dict[str, Callable[[Path, int], Columns]]:
    """Those that are installed."""
    known = {"pandas": pandas_read, "pyarrow": arrow_read, "polars": polars_read}
    return {name: read for name, read in known.items() if find_spec(name)}


def copied(*arrays: Any) -> Callable[[], float]:
    """Seconds a row for copying arrays: nobody can read or judge without touching them."""
    to = [np.empty_like(array) for array in arrays]

    def limit() -> float:
        start = time.process_time()
        for _ in range(10):
            for target, array in zip(to, arrays, strict=True):
                np.copyto(target, array)
        return (time.process_time() - start) / 10 / ROWS

    return limit


def one_file(path: Path, shape: int, name: str) -> Iterator[Job]:
    """Read it; read and judge it."""
    text = np.frombuffer(path.read_bytes(), np.uint8)
    record = aeruca.read_logger(path)
    columns = (record.times_s, record.temperature_c, record.rh_percent)
    limit = copied(text, *columns)
    yield Job(
        f"read a logger file, {name}",
        lambda: aeruca.read_logger(path),
        {n: Rival(lambda read=read: read(path, shape)) for n, read in readers().items()},
        same_columns,
        items=ROWS,
        aim="twice the fastest other",
        limit=limit,
    )
    if shape == 1:
        return
    yield Job(
        "read and judge it",
        lambda: ours_judge(aeruca.read_logger(path)),
        {
            n: Rival(lambda read=read: pandas_judge(read(path, shape)))
            for n, read in readers().items()
        },
        same_figures,
        items=ROWS,
        aim="10 times pandas",
        limit=limit,
    )
    yield Job(
        "judge the readings in memory",
        lambda: ours_judge(record),
        {
            "pandas": Rival(lambda: pandas_judge(columns)),
            "NumPy": Rival(lambda: numpy_judge(columns)),
        },
        same_figures,
        items=ROWS,
        aim="5 times pandas",
        limit=copied(*columns),
    )


def house(folder: Path) -> Job:
    """Read and judge many files; on one thread and on all."""
    paths = [folder / f"house-{k}.csv" for k in range(HOUSE)]
    make_log(paths[0], ROWS // HOUSE, 0)
    for path in paths[1:]:
        path.write_bytes(paths[0].read_bytes())

    def run(threads: int) -> list[dict[str, float]]:
        loggers = aeruca.store.read_loggers(paths, threads=threads)
        stores = aeruca.store.assess_stores(loggers, BAND, threads=threads)
        return [figures(one.assessment) for one in stores if one.assessment]

    def same(ours: Any, theirs: Any) -> None:
        assert ours == theirs

    return Job(
        f"read and judge {HOUSE} loggers",
        lambda: run(1),
        {"one by one": Rival(lambda: [ours_judge(aeruca.read_logger(path)) for path in paths])},
        same,
        items=ROWS,
        all_threads=lambda: run(0),
    )


def read_out_monthly(folder: Path) -> Job:
    """Twelve files of one logger, each beginning a thousand readings before the last one ended."""
    make_log(folder / "year.csv", ROWS, 0)
    head, *lines = (folder / "year.csv").read_text().splitlines(keepends=True)
    paths = [folder / f"month-{k:02}.csv" for k in range(12)]
    for k, path in enumerate(paths):
        part = lines[max(0, k * ROWS // 12 - 1000) : (k + 1) * ROWS // 12]
        path.write_text(head + "".join(part))

    def with_pandas() -> Columns:
        import pandas as pd

        frame = pd.concat([pd.read_csv(path) for path in paths])
        frame["time"] = pd.to_datetime(frame["time"], format=TIMES[0])
        frame = frame.drop_duplicates("time").sort_values("time")
        seconds = frame["time"].to_numpy("datetime64[s]").astype(np.int64)
        return seconds, frame["temperature"].to_numpy(), frame["RH"].to_numpy()

    return Job(
        "join 12 files that overlap",
        lambda: aeruca.read_logger(paths),
        {"pandas": Rival(with_pandas)},
        same_columns,
        items=ROWS,
    )


def cases() -> Iterator[Job]:
    """Two shapes of file, the files of one logger, and a house of loggers."""
    with tempfile.TemporaryDirectory() as folder:
        for shape, name in enumerate(("plain", "semicolons, decimal commas, offsets")):
            path = Path(folder) / f"log-{shape}.csv"
            make_log(path, ROWS, shape)
            yield from one_file(path, shape, name)
        yield read_out_monthly(Path(folder))
        yield house(Path(folder))
