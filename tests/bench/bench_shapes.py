"""Logger files in the shapes they come in, beside pandas told how each is written."""

import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np
from bench_store import ours_judge, same_figures
from job import Job, Rival
from store_rivals import pandas_judge

import aeruca
from aeruca.store import LoggerRecord

ROWS = 500_000
START = np.datetime64("2023-01-01T00:00:00")

Columns = tuple[Any, Any, Any]  # seconds since 1970, degrees C, % RH


@dataclass(frozen=True)
class Shape:
    """How a file is written, and how pandas is told to read it."""

    head: str
    row: Callable[[Any, float, float], str]
    read: dict[str, Any]  # for read_csv
    times: Callable[[Any], Any]  # of the frame
    encoding: str = "utf-8"
    columns: Callable[[Any], tuple[Any, Any]] = field(
        default=lambda frame: (frame.iloc[:, -2].to_numpy(), frame.iloc[:, -1].to_numpy())
    )
    error: float = 1e-9


def magnus_pa(t: Any) -> Any:
    """Vapour pressure over water by a formula of one exponential, good to 0.3 %."""
    return 611.2 * np.exp(17.62 * t / (243.12 + t))


def from_dew_point(frame: Any) -> tuple[Any, Any]:
    """Temperature and humidity of what is written in degrees F."""
    t = (frame["T (F)"].to_numpy() - 32) / 1.8
    dew = (frame["dew point (F)"].to_numpy() - 32) / 1.8
    return t, 100 * magnus_pa(dew) / magnus_pa(t)


def dew_point_f(t: float, rh: float) -> float:
    """Invert `magnus_pa`."""
    x = np.log(rh / 100) + 17.62 * t / (243.12 + t)
    return float(243.12 * x / (17.62 - x) * 1.8 + 32)


def told(form: str, column: str = "time") -> Callable[[Any], Any]:
    """Times by their format."""
    import pandas as pd

    return lambda frame: pd.to_datetime(frame[column], format=form)


def joined(frame: Any) -> Any:
    """Date and time of two columns."""
    import pandas as pd

    return pd.to_datetime(frame["date"] + " " + frame["clock"], format="%d.%m.%Y %H:%M")


def since_1970(frame: Any) -> Any:
    """Times from seconds."""
    import pandas as pd

    return pd.to_datetime(frame["epoch"], unit="s")


def decimal_comma(value: float) -> str:
    """Two decimals."""
    return f"{value:.2f}".replace(".", ",")


def shapes() -> dict[str, Shape]:
    """Each main shape."""
    german = {"sep": ";", "decimal": ","}
    return {
        "ISO, comma": Shape(
            "time,T (C),RH",
            lambda at, t, rh: f"{at:%Y-%m-%dT%H:%M:%S},{t:.2f},{rh:.2f}",
            {},
            told("%Y-%m-%dT%H:%M:%S"),
        ),
        "31.12.2024, semicolon, decimal comma": Shape(
            "time;T (C);RH",
            lambda at, t, rh: f"{at:%d.%m.%Y %H:%M};{decimal_comma(t)};{decimal_comma(rh)}",
            german,
            told("%d.%m.%Y %H:%M"),
        ),
        "12/31/2024, AM and PM": Shape(
            "time,T (C),RH",
            lambda at, t, rh: f"{at:%m/%d/%Y %I:%M:%S %p},{t:.2f},{rh:.2f}",
            {},
            told("%m/%d/%Y %I:%M:%S %p"),
        ),
        "UTF-16": Shape(
            "time\tT (°C)\tRH",
            lambda at, t, rh: f"{at:%Y-%m-%d %H:%M:%S}\t{t:.2f}\t{rh:.2f}",
            {"sep": "\t", "encoding": "utf-16"},
            told("%Y-%m-%d %H:%M:%S"),
            encoding="utf-16",
        ),
        "seconds since 1970": Shape(
            "epoch,T (C),RH",
            lambda at, t, rh: (
                f"{int((at - START.item()).total_seconds()) + 1672531200},{t:.2f},{rh:.2f}"
            ),
            {},
            since_1970,
        ),
        "date and time in two columns": Shape(
            "date;clock;T (C);RH",
            lambda at, t, rh: f"{at:%d.%m.%Y};{at:%H:%M};{decimal_comma(t)};{decimal_comma(rh)}",
            german,
            joined,
        ),
        "Fahrenheit and dew point": Shape(
            "time,T (F),dew point (F)",
            lambda at, t, rh: f"{at:%Y-%m-%d %H:%M},{t * 1.8 + 32:.2f},{dew_point_f(t, rh):.2f}",
            {},
            told("%Y-%m-%d %H:%M"),
            columns=from_dew_point,
            error=0.2,
        ),
    }


def pandas_read(path: Path, shape: Shape) -> Columns:
    """Its compiled parser, everything told."""
    import pandas as pd

    frame = pd.read_csv(path, **shape.read)
    t, rh = shape.columns(frame)
    return shape.times(frame).to_numpy("datetime64[s]").astype(np.int64), t, rh


def write(path: Path, shape: Shape) -> None:
    """A reading a minute."""
    rng = np.random.default_rng(7)
    rh = 41 + 6 * np.sin(np.arange(ROWS) / 90000) + rng.normal(0, 0.3, ROWS)
    t = 20 + rng.normal(0, 1, ROWS)
    times = (START + np.arange(ROWS) * np.timedelta64(1, "m")).tolist()
    rows = [shape.row(*each) for each in zip(times, t.tolist(), rh.tolist(), strict=True)]
    path.write_text(shape.head + "\n" + "\n".join(rows) + "\n", encoding=shape.encoding)


def jobs(path: Path, name: str, shape: Shape) -> Iterator[Job]:
    """Read one file; read and judge it."""

    def same(ours: LoggerRecord, theirs: Columns) -> None:
        np.testing.assert_array_equal(ours.times_s, theirs[0])
        np.testing.assert_allclose(ours.temperature_c, theirs[1], rtol=0, atol=1e-9)
        np.testing.assert_allclose(ours.rh_percent, theirs[2], rtol=0, atol=shape.error)

    def close(ours: dict[str, float], theirs: dict[str, float]) -> None:
        if shape.error < 1e-6:
            same_figures(ours, theirs)

    yield Job(
        f"read, {name}",
        lambda: aeruca.read_logger(path),
        {"pandas": Rival(lambda: pandas_read(path, shape))},
        same,
        items=ROWS,
    )
    yield Job(
        f"read and judge, {name}",
        lambda: ours_judge(aeruca.read_logger(path)),
        {"pandas": Rival(lambda: pandas_judge(pandas_read(path, shape)))},
        close,
        items=ROWS,
        aim="10 times pandas",
    )


def cases() -> Iterator[Job]:
    """A file of each shape."""
    with tempfile.TemporaryDirectory() as folder:
        for name, shape in shapes().items():
            path = Path(folder) / "log.csv"
            write(path, shape)
            yield from jobs(path, name, shape)
