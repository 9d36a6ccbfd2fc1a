"""Write store-log.csv: a year of hourly readings of an invented store box.

The box, its air and every fault in the file are made up for demonstration; nothing was measured.
A gel keeps the box near 38 % RH, a humid summer spell lifts it through 42 to 46 %, and the file
has the faults of real loggers: a gap, repeated lines, an hour left out and one written twice at the
clock changes, impossible readings, unreadable cells and a sensor that stood still.

Run: python make_store_log.py [FILE]
"""

import datetime as dt
import math
import random
import sys
from pathlib import Path

SEED = 20250101
START = dt.datetime(2025, 1, 1)
HOURS = 365 * 24


def humidity(hour: int, noise: float) -> float:
    """Humidity of the invented box: season, a humid spell in summer, a door left open, noise."""
    day = hour / 24
    season = 1.6 * math.sin(2 * math.pi * (day - 110) / 365)
    spell = 10.4 * math.exp(-(((day - 203) / 9.0) ** 2))
    door = 9.0 * math.exp(-(hour - 2900) / 18) if hour >= 2900 else 0.0
    return 36.2 + season + spell + door + 0.4 * math.sin(2 * math.pi * day) + noise


def temperature(hour: int, noise: float) -> float:
    """Temperature of the invented room: season, day and noise."""
    day = hour / 24
    return (
        18.5
        - 3.0 * math.cos(2 * math.pi * (day - 20) / 365)
        + 0.6 * math.sin(2 * math.pi * (day - 0.4))
        + noise
    )


def decimal(value: float) -> str:
    """One decimal, with a comma."""
    return f"{value:.1f}".replace(".", ",")


def readings() -> list[tuple[dt.datetime, str, str]]:
    """Make readings by the civil clock of central Europe, without offsets, as loggers do."""
    random.seed(SEED)
    rows = []
    drift = 0.0
    for hour in range(HOURS):
        drift = 0.97 * drift + random.gauss(0, 0.12)
        summer_time = 24 * 88 + 2 <= hour < 24 * 298 + 2  # 30 March to 26 October
        clock = START + dt.timedelta(hours=hour + (1 if summer_time else 0))
        still = 24 * 320 <= hour < 24 * 323 + 5  # the sensor stood still for three days
        t, rh = (
            temperature(hour, random.gauss(0, 0.1)),
            humidity(hour, drift + random.gauss(0, 0.15)),
        )
        rows.append((clock, "16,8" if still else decimal(t), "36,9" if still else decimal(rh)))
    return rows


def with_faults(rows: list[tuple[dt.datetime, str, str]]) -> list[str]:
    """Lines of the file with its faults."""
    broken = {
        1200: ("---", "---"),
        1201: ("---", "---"),
        4415: ("19,9", "127,6"),
        4416: ("20,0", "-3,1"),
        5003: ("20,4", "Err 3"),
        6120: ("-273,1", "40,2"),
    }
    lines = []
    for index, (clock, t, rh) in enumerate(rows):
        if 24 * 140 <= index < 24 * 142 + 9:  # battery changed late
            continue
        t, rh = broken.get(index, (t, rh))
        lines.append(f"{clock:%Y-%m-%d %H:%M};{t};{rh}")
        if index in (700, 701, 702):  # sent twice by the reader
            lines.append(lines[-1])
    lines.insert(5603, lines.pop(5600))  # one line out of place
    return lines


def main() -> None:
    """Write the file beside this script, or where the first argument says."""
    target = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).with_name("store-log.csv")
    head = [
        "# Invented data for demonstration: no such store box exists, nothing was measured.",
        "# Written by make_store_log.py",
        "Datum/Zeit;Temperatur [°C];rel. Feuchte [%]",
    ]
    target.write_text("\r\n".join(head + with_faults(readings())) + "\r\n", encoding="utf-8")


if __name__ == "__main__":
    main()
