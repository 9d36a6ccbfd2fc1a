"""Reading and judging a logger file as users write it: with pandas, NumPy, and the fast readers."""

from pathlib import Path
from typing import Any

import numpy as np

LIMITS = (42.0, 46.0)
SHIFTS = (-3.0, 0.0, 3.0)
TIMES = ["%Y-%m-%dT%H:%M:%S", "%Y-%m-%d %H:%M:%S%z"]  # of the plain file and of the other one
SEPARATORS = [",", ";"]
Columns = tuple[Any, Any, Any]  # seconds since 1970, temperature, humidity


def pandas_read(path: Path, shape: int) -> Columns:
    """Its compiled parser, the format of the times told."""
    import pandas as pd

    decimal = ".,"[shape]
    frame = pd.read_csv(path, sep=SEPARATORS[shape], decimal=decimal)
    times = pd.to_datetime(frame["time"], format=TIMES[shape], utc=bool(shape))
    seconds = times.to_numpy("datetime64[s]").astype(np.int64)
    return seconds, frame["temperature"].to_numpy(), frame["RH"].to_numpy()


def arrow_read(path: Path, shape: int) -> Columns:
    """pyarrow, every type told; on one thread."""
    import pyarrow as pa
    from pyarrow import csv

    table = csv.read_csv(
        path,
        read_options=csv.ReadOptions(use_threads=False),
        parse_options=csv.ParseOptions(delimiter=SEPARATORS[shape]),
        convert_options=csv.ConvertOptions(
            decimal_point=".,"[shape],
            column_types={
                "time": pa.timestamp("s", "UTC" if shape else None),
                "temperature": pa.float64(),
                "RH": pa.float64(),
            },
        ),
    )
    seconds = table["time"].cast(pa.int64()).to_numpy()
    return seconds, table["temperature"].to_numpy(), table["RH"].to_numpy()


def polars_read(path: Path, shape: int) -> Columns:
    """polars, times as text, then by their format; processor time of all its threads counts."""
    import polars as pl

    frame = pl.read_csv(
        path,
        separator=SEPARATORS[shape],
        decimal_comma=bool(shape),
        schema={"time": pl.String, "temperature": pl.Float64, "RH": pl.Float64},
    )
    times = frame["time"].str.to_datetime(TIMES[shape], time_unit="ms", time_zone="UTC")
    return times.dt.epoch("s").to_numpy(), frame["temperature"].to_numpy(), frame["RH"].to_numpy()


def weights_of(times: Any) -> Any:
    """Half the interval to each neighbour; half the median beside a gap and at the ends."""
    step = np.diff(times)
    median = float(np.median(step))
    kept = np.where(step > 2.5 * median, median, step)
    return 0.5 * (np.append(median, kept) + np.append(kept, median))


def numpy_judge(columns: Columns) -> dict[str, float]:
    """Share of time and longest spell above each limit, as read and at the sensor's ends."""
    times, _, rh = columns
    weight = weights_of(times)
    total = weight.sum()
    hours = np.concatenate([[0.0], np.cumsum(weight)]) / 3600
    found: dict[str, float] = {}
    for limit in LIMITS:
        for shift in SHIFTS:
            wet = rh + shift > limit
            found[f"share {limit:g} {shift:g}"] = float(weight[wet].sum() / total)
            change = np.diff(np.concatenate([[0], wet.astype(np.int8), [0]]))
            starts, ends = np.flatnonzero(change == 1), np.flatnonzero(change == -1)
            found[f"spell {limit:g} {shift:g}"] = float(
                np.max(hours[ends] - hours[starts], initial=0)
            )
    found["p5"], found["p50"], found["p95"] = (float(x) for x in np.percentile(rh, [5, 50, 95]))
    return found


def pandas_judge(columns: Columns) -> dict[str, float]:
    """Do the same by groups of readings in a row; months too, as ours does."""
    import pandas as pd

    times, temperature, rh = columns
    frame = pd.DataFrame(
        {"T": temperature, "RH": rh, "weight": weights_of(times)},
        index=pd.to_datetime(times, unit="s"),
    )
    weight, total = frame["weight"], frame["weight"].sum()
    found: dict[str, float] = {}
    for limit in LIMITS:
        for shift in SHIFTS:
            wet = frame["RH"] + shift > limit
            found[f"share {limit:g} {shift:g}"] = float(weight[wet].sum() / total)
            run = (wet != wet.shift()).cumsum()
            longest = weight[wet].groupby(run[wet]).sum().max()
            found[f"spell {limit:g} {shift:g}"] = float(np.nan_to_num(longest / 3600))
    for name, value in zip(
        ("p5", "p50", "p95"), frame["RH"].quantile([0.05, 0.5, 0.95]), strict=True
    ):
        found[name] = float(value)
    months = frame.resample("MS")
    found["months"] = float(len(months["RH"].mean()))
    return found
