"""The shapes a logger file comes in: one record written in many ways, all of our own making.

Each shape gives that record, or the one question that it leaves open; what settles the question
gives the record.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import aeruca

HOUR = np.timedelta64(1, "h")
PLACES = range(600)
# From 5 March 2024, 25 days: days above 12, two months.
TIMES = np.datetime64("2024-03-05T00:00:00") + np.arange(600) * HOUR
T = np.array([round(18 + i % 40 / 10, 1) for i in PLACES])
RH = np.array([round(35 + i % 77 / 5, 1) for i in PLACES])
ENGLISH = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"]


def written(times: np.ndarray, form: str, months: list[str] = ENGLISH) -> list[str]:
    """Write times by a form of Python, with %q for the name of a month."""
    found = []
    for time in times.astype("datetime64[s]").tolist():
        text = time.strftime(form.replace("%q", months[time.month - 1]))
        found.append(text)
    return found


def table(
    *columns: list[str], head: str, separator: str = ",", end: str = "\n", tail: str = ""
) -> str:
    """Join columns into rows below a header."""
    rows = (separator.join(row) + tail for row in zip(*columns, strict=True))
    return head + end + end.join(rows) + end


def texts(values: np.ndarray, form: str = "{:.1f}", comma: bool = False) -> list[str]:
    """Write numbers."""
    found = [form.format(value) for value in values]
    return [text.replace(".", ",") for text in found] if comma else found


def dated(form: str, months: list[str] = ENGLISH, times: np.ndarray = TIMES, **how: Any) -> str:
    """Write the record with its times in a form."""
    comma = how.pop("comma", False)
    head = how.pop("head", "time;T (C);RH (%)")
    return table(
        written(times, form, months),
        texts(T, comma=comma),
        texts(RH, comma=comma),
        head=head,
        separator=how.pop("separator", ";"),
        **how,
    )


@dataclass
class Shape:
    """One way to write the record; a question and what settles it, where it leaves one open."""

    text: str | bytes
    asks: str = ""
    settled: dict[str, Any] = field(default_factory=dict)
    proof: str = ""
    times: np.ndarray = field(default_factory=lambda: TIMES)
    temperature: np.ndarray = field(default_factory=lambda: T)
    rh: np.ndarray = field(default_factory=lambda: RH)
    rh_error: float = 1e-9


def months_of(text: str) -> list[str]:
    """Split the names of months; - for one that the record does not reach."""
    return text.split()


EARLY = np.datetime64("2024-03-01T00:00:00") + np.arange(600) * np.timedelta64(60, "s")
ACROSS = np.concatenate(
    [
        np.datetime64("2024-03-12T00:00:00") + np.arange(20) * HOUR,
        np.datetime64("2024-04-01T00:00:00") + np.arange(580) * np.timedelta64(60, "s"),
    ]
)
DAYS = np.datetime64("2023-01-01T00:00:00") + np.arange(600) * 24 * HOUR
NOONS = DAYS + 12 * HOUR
VAPOUR = np.array([aeruca.water.saturation_pressure_pa(t) for t in T])
GRAMS = RH / 100 * VAPOUR / (461.5228 * (T + 273.15)) * 1000


def dew_points() -> np.ndarray:
    """Solve for the temperature whose saturation pressure the vapour has."""
    grid = np.linspace(0, 40, 40001)
    pressures = np.array([aeruca.water.saturation_pressure_pa(t) for t in grid])
    return np.interp(RH / 100 * VAPOUR, pressures, grid)


F = T * 1.8 + 32
METADATA = "Logger: 7\nPlace: store 3\nRange: -20 to 60\n\nserial;A17\n"
GERMAN = months_of("Jan Feb März Apr Mai Jun Jul Aug Sep Okt Nov Dez")
FRENCH = months_of("janv. févr. mars avr. mai juin juil. août sept. oct. nov. déc.")
ITALIAN = months_of("gen feb mar apr mag giu lug ago set ott nov dic")
SPANISH = months_of("ene feb mar abr may jun jul ago sep oct nov dic")

SHAPES: dict[str, Shape] = {
    "comma": Shape(dated("%Y-%m-%dT%H:%M", separator=",", head="time,T,RH")),
    "semicolon and decimal comma": Shape(dated("%Y-%m-%d %H:%M", comma=True)),
    "tab": Shape(dated("%Y-%m-%d %H:%M:%S", separator="\t", head="time\tT\tRH")),
    "metadata above the header": Shape(METADATA + dated("%Y-%m-%d %H:%M")),
    "UTF-8 with its mark": Shape(
        dated("%Y-%m-%d %H:%M", head="time;T (°C);RH (%)").encode("utf-8-sig")
    ),
    "UTF-16, low byte first": Shape(
        b"\xff\xfe" + dated("%Y-%m-%d %H:%M", head="time;T (°C);RH (%)").encode("utf-16-le")
    ),
    "UTF-16, high byte first": Shape(
        b"\xfe\xff" + dated("%d.%m.%Y %H:%M", head="Zeit;T (°C);rF (%)").encode("utf-16-be")
    ),
    "Windows code page": Shape(
        dated("%d-%q-%Y %H:%M", GERMAN, head="Zeit;T (°C);Luftfeuchte (%)").encode("cp1252")
    ),
    "days and months by points": Shape(dated("%d.%m.%Y %H:%M", comma=True)),
    "short year by points": Shape(dated("%d.%m.%y %H:%M:%S", comma=True)),
    "day first by slashes": Shape(dated("%d/%m/%Y %H:%M"), proof="day before month"),
    "month first with AM and PM": Shape(
        dated("%m/%d/%Y %I:%M:%S %p", separator=",", head="time,T,RH"), proof="month before day"
    ),
    "month first, one digit where one is enough": Shape(
        dated("%-m/%-d/%Y %-I:%M %p"), proof="month before day"
    ),
    "day first by dashes": Shape(dated("%d-%m-%Y %H:%M"), proof="day before month"),
    "year first by slashes": Shape(dated("%Y/%m/%d %H:%M")),
    "English months": Shape(dated("%d-%q-%Y %H:%M")),
    "English months first": Shape(dated("%q %d %Y %H:%M")),
    "German months": Shape(dated("%d. %q %Y %H:%M", GERMAN)),
    "French months": Shape(dated("%d %q %Y %H:%M", FRENCH)),
    "Italian months": Shape(dated("%d-%q-%Y %H:%M", ITALIAN)),
    "Spanish months": Shape(dated("%d/%q/%Y %H:%M", SPANISH)),
    "seconds since 1970": Shape(
        table(
            [str(t) for t in TIMES.astype("datetime64[s]").astype(np.int64)],
            texts(T),
            texts(RH),
            head="epoch,temperature,humidity",
        )
    ),
    "milliseconds since 1970": Shape(
        table(
            [f"{t}000" for t in TIMES.astype("datetime64[s]").astype(np.int64)],
            texts(T),
            texts(RH),
            head="timestamp,temperature,humidity",
        )
    ),
    "date and time in two columns": Shape(
        table(
            written(TIMES, "%d.%m.%Y"),
            written(TIMES, "%H:%M"),
            texts(T, comma=True),
            texts(RH, comma=True),
            head="Datum;Uhrzeit;Temperatur;Feuchte",
            separator=";",
        )
    ),
    "units in the cells": Shape(
        table(
            written(TIMES, "%Y-%m-%d %H:%M"),
            texts(T, "{:.1f} °C"),
            texts(RH, "{:.1f} %RH"),
            head="time,temperature,humidity",
        )
    ),
    "units in a line of their own": Shape(
        dated("%Y-%m-%d %H:%M", head="time;T;RH\n;°C;%"),
    ),
    "Fahrenheit in the header": Shape(
        table(
            written(TIMES, "%Y-%m-%d %H:%M"), texts(F, "{:.2f}"), texts(RH), head="time,T (°F),RH"
        )
    ),
    "Fahrenheit in the cells": Shape(
        table(written(TIMES, "%Y-%m-%d %H:%M"), texts(F, "{:.2f} °F"), texts(RH), head="time,T,RH")
    ),
    "Fahrenheit without a word": Shape(
        table(written(TIMES, "%Y-%m-%d %H:%M"), texts(F, "{:.2f}"), texts(RH), head="time,T,RH"),
        asks="temperature_unit (--temperature-unit)",
        settled={"temperature_unit": "fahrenheit"},
    ),
    "parts of one": Shape(
        table(
            written(TIMES, "%Y-%m-%d %H:%M"), texts(T), texts(RH / 100, "{:.3f}"), head="time,T,RH"
        ),
        asks="rh_unit (--rh-unit)",
        settled={"rh_unit": "fraction"},
    ),
    "dew point in place of humidity": Shape(
        table(
            written(TIMES, "%Y-%m-%d %H:%M"),
            texts(T),
            texts(dew_points(), "{:.4f}"),
            head="time,T (C),dew point (C)",
        ),
        proof="computed from 'dew point (C)'",
        rh_error=0.002,
    ),
    "absolute humidity in place of relative": Shape(
        table(
            written(TIMES, "%Y-%m-%d %H:%M"),
            texts(T),
            texts(GRAMS, "{:.6f}"),
            head="time,T (C),abs. humidity (g/m3)",
        ),
        proof="computed from 'abs. humidity (g/m3)'",
        rh_error=0.001,
    ),
    "exchanged columns": Shape(
        table(
            written(TIMES, "%Y-%m-%d %H:%M"),
            texts(RH + 20),
            texts(T),
            head="time,T (C),RH",
        ),
        asks="temperature_column (--temperature-column)",
        settled={"temperature_column": "RH", "rh_column": "T (C)"},
        rh=RH + 20,
    ),
    "several channels": Shape(
        table(
            written(TIMES, "%Y-%m-%d %H:%M"),
            texts(T + 3),
            texts(RH + 9),
            texts(T),
            texts(RH),
            head="time,T1,RH1 (%),temp 2,RH box",
        ),
        settled={"rh_column": "RH box", "temperature_column": "temp 2"},
    ),
    "two channels and no choice": Shape(
        table(
            written(TIMES, "%Y-%m-%d %H:%M"),
            texts(T),
            texts(RH),
            texts(RH + 9),
            head="time,T,RH box,RH room",
        ),
        asks="rh_column (--rh-column)",
        settled={"rh_column": "RH box"},
    ),
    "trailing empty columns": Shape(dated("%Y-%m-%d %H:%M", tail=";;;")),
    "names of our own": Shape(
        table(
            written(TIMES, "%Y-%m-%d"),
            written(TIMES, "%H:%M"),
            texts(T),
            texts(RH),
            head="tag,stunde,a,b",
        ),
        asks="names a time and a humidity column",
        settled={
            "time_column": "tag",
            "clock_column": "stunde",
            "temperature_column": "a",
            "rh_column": "b",
        },
    ),
    "no day above 12, within one day": Shape(
        dated("%d/%m/%Y %H:%M", times=EARLY),
        asks="date_order (--date-order)",
        settled={"date_order": "day_first"},
        times=EARLY,
    ),
    "no day above 12, the clock runs on over midnight": Shape(
        dated("%d/%m/%Y %H:%M", times=EARLY + np.timedelta64(20, "h")),
        proof="the clock runs on in this order",
        times=EARLY + np.timedelta64(20, "h"),
    ),
    "no day above 12, one order falls back": Shape(
        dated("%d/%m/%Y %H:%M", times=ACROSS), proof="the clock would fall back", times=ACROSS
    ),
    "the other order, no day above 12": Shape(
        dated("%m/%d/%Y %I:%M %p", times=EARLY + np.timedelta64(20, "h")),
        proof="month before day",
        times=EARLY + np.timedelta64(20, "h"),
    ),
    "a date a day": Shape(
        dated("%d/%m/%Y", times=DAYS), proof="one reading a day, taken at noon", times=NOONS
    ),
    "a date for every hour": Shape(
        table(
            written(TIMES, "%Y-%m-%d"),
            written(TIMES, "%H:%M"),
            texts(T),
            texts(RH),
            head="date,hours,T,RH",
        ).replace("hours", "h."),
        asks="clock_column (--clock-column)",
        settled={"clock_column": "h."},
    ),
    "no header, and no unit": Shape(
        dated("%Y-%m-%d %H:%M").split("\n", 1)[1],
        asks="in rh_column (--rh-column), and of the temperature in temperature_column",
        settled={"rh_column": "3", "temperature_column": "2"},
        proof="column 3 the humidity, column 2 the temperature, as was said",
    ),
    "no header, units in the cells": Shape(
        table(
            written(TIMES, "%d/%m/%Y"),
            written(TIMES, "%H:%M"),
            texts(RH, "{:.1f} %"),
            texts(T, "{:.1f} °C"),
            head="",
        )[1:],
        proof="column 3 the humidity, column 4 the temperature, by the units in the cells",
    ),
    "times in the future": Shape(
        dated("%Y-%m-%d %H:%M", times=TIMES + np.timedelta64(365 * 60, "D")),
        asks="future_times (--future-times)",
        settled={"future_times": "accept"},
        times=TIMES + np.timedelta64(365 * 60, "D"),
    ),
}


@pytest.fixture
def written_file(tmp_path: Path) -> Callable[[Shape], Path]:
    """Write a shape to a file."""

    def write(shape: Shape) -> Path:
        path = tmp_path / "log.csv"
        path.write_bytes(shape.text if isinstance(shape.text, bytes) else shape.text.encode())
        return path

    return write


def is_the_record(record: aeruca.LoggerRecord, shape: Shape) -> None:
    """Check every time and every reading."""
    np.testing.assert_array_equal(
        record.times_s, shape.times.astype("datetime64[s]").astype(np.int64)
    )
    np.testing.assert_allclose(record.temperature_c, shape.temperature, rtol=0, atol=1e-9)
    np.testing.assert_allclose(record.rh_percent, shape.rh, rtol=0, atol=shape.rh_error)
    assert record.dropped == 0


@pytest.mark.parametrize("name", SHAPES)
def test_a_shape_gives_the_record_or_its_one_question(
    name: str, written_file: Callable[[Shape], Path]
) -> None:
    shape = SHAPES[name]
    path = written_file(shape)
    if shape.asks:
        with pytest.raises(aeruca.FileError) as asked:
            aeruca.read_logger(path)
        assert shape.asks in str(asked.value)
        assert "\n" not in str(asked.value)
    record = aeruca.read_logger(path, **shape.settled)
    is_the_record(record, shape)
    if shape.proof:
        assert any(shape.proof in line for line in record.read_as), record.read_as
    else:
        assert record.read_as == []


def test_there_are_at_least_25_shapes() -> None:
    assert len(SHAPES) >= 25


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "names a time and a humidity column"),
        ("time,RH\n", "has a header and no reading"),
        ("time,RH\n2024-01-01T00:00,wet\n", "'wet' is no number"),
        ("time,RH\n31/31/2024 10:00,40\n", "'31/31/2024 10:00' is no time that is read"),
        (
            "time,RH\n2024-01-01T00:00Z,40\n2024-01-01T01:00,41\n",
            "has no offset from UTC, unlike the lines before",
        ),
        (
            "time,RH\n13/01/2024 10:00,40\n01/14/2024 10:00,40\n",
            "is no date with the day before month, as the lines before",
        ),
        (
            "2024-01-01T00:00,20,40\n2024-01-01T01:00,20,41\n",
            "there is no header, and nothing tells which column is the humidity; accepted is the "
            "number of one, 1 to 3, in rh_column (--rh-column)",
        ),
        (
            "date,RH\n2024-01-01,40\n2024-01-01,41\n",
            "dates have no time of day, and this day has more than one reading; accepted is the "
            "column with the time of day in clock_column (--clock-column)",
        ),
        (
            "date,RH\n2024-01-01,40\n2024-01-02 10:00,41\n",
            "'2024-01-02 10:00' has a time of day, unlike the dates before",
        ),
        ("time,T,dew point\n2024-01-01T00:00,-5,-9\n", "gives no humidity"),
    ],
)
def test_a_bad_file_is_one_sentence(text: str, says: str, tmp_path: Path) -> None:
    path = tmp_path / "log.csv"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(aeruca.FileError) as refused:
        aeruca.read_logger(path)
    assert says in str(refused.value)
    assert "\n" not in str(refused.value)


def test_a_number_that_is_no_column_of_a_bare_file_is_said(tmp_path: Path) -> None:
    path = tmp_path / "log.csv"
    path.write_text("2024-01-01T00:00,20,40\n2024-01-01T01:00,20,41\n", encoding="utf-8")
    for name in ("4", "RH"):
        with pytest.raises(aeruca.FileError, match=f"no column of the number '{name}'; accepted"):
            aeruca.read_logger(path, rh_column=name)
    record = aeruca.read_logger(path, rh_column="3")
    assert not record.has_temperature()
    assert record.read_as == [
        "there is no header: column 1 is the time, column 3 the humidity, as was said"
    ]


def test_names_in_a_code_page_are_readable_and_can_be_given(tmp_path: Path) -> None:
    rows = "".join(
        f"2024-01-{d:02}T{h:02}:00;20;4{h % 7}\n" for d in range(1, 9) for h in range(24)
    )
    text = "Zeit;Wärme;Größe (%)\n" + rows + "2024-02-01T00:00;20;größer\n"
    (tmp_path / "log.csv").write_bytes(text.encode("cp1252"))
    record = aeruca.read_logger(
        tmp_path / "log.csv", rh_column="Größe (%)", temperature_column="Wärme"
    )
    assert record.faults[0].field == "Größe (%)"
    assert record.faults[0].reason.startswith("'größer' is no number")
    assert "größer" in record.describe()


def test_an_order_that_was_given_and_does_not_fit_is_said(tmp_path: Path) -> None:
    path = tmp_path / "log.csv"
    path.write_text("time,RH\n13/01/2024 10:00,40\n", encoding="utf-8")
    with pytest.raises(aeruca.FileError, match="month before day, as date_order says"):
        aeruca.read_logger(path, date_order="month_first")
    with pytest.raises(
        aeruca.InputError, match="date_order = us: accepted is from_file, day_first or month_first"
    ):
        aeruca.read_logger(path, date_order="us")
