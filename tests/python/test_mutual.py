"""Mutual deliquescence beside measurement: what agrees, and what is known not to."""

import csv
import math
from pathlib import Path

import pytest

from aeruca import brine

TABLE = Path(__file__).resolve().parents[1] / "reference" / "mutual.csv"
IONS = {
    "NaCl": {"Na(+)": 1, "Cl(-)": 1},
    "KCl": {"K(+)": 1, "Cl(-)": 1},
    "NaNO3": {"Na(+)": 1, "NO3(-)": 1},
    "KNO3": {"K(+)": 1, "NO3(-)": 1},
    "Na2SO4": {"Na(+)": 2, "SO4(2-)": 1},
    "(NH4)2SO4": {"NH4(+)": 2, "SO4(2-)": 1},
    "NH4Cl": {"NH4(+)": 1, "Cl(-)": 1},
    "NH4NO3": {"NH4(+)": 1, "NO3(-)": 1},
    "Ca(NO3)2": {"Ca(2+)": 1, "NO3(-)": 2},
}
TOLERANCE = 2.0  # % RH, as asked of published mutual humidities


def rows():
    with TABLE.open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


@pytest.mark.parametrize("row", rows(), ids=lambda row: f"{row['salts']} {row['temperature_c']} C")
def test_mutual_humidity_stands_as_the_table_says(row):
    sweep = swept(row)
    off = sweep.mutual_deliquescence_rh_percent - float(row["rh_percent"])
    if row["standing"] == "not known":
        assert math.isnan(off)
    elif row["standing"] == "agrees":
        assert abs(off) <= TOLERANCE
    else:
        assert float(row["low"]) <= off <= float(row["high"])
        assert abs(off) > TOLERANCE  # else it agrees by now, and the table should say so


# One standard uncertainty is told with every onset; of what was measured all but one lie within two
# of it and the measurement together.
def test_the_uncertainty_covers_what_was_measured():
    outside = []
    for row in rows():
        if row["standing"] == "not known":
            continue
        sweep = swept(row)
        off = abs(sweep.mutual_deliquescence_rh_percent - float(row["rh_percent"]))
        measured = 0.5  # % RH, as most of the measurements state
        if off > 2 * math.hypot(sweep.mutual_deliquescence_uncertainty_percent, measured):
            outside.append(row["salts"])
    assert outside == ["Ca(NO3)2+KNO3"]


def swept(row):
    """Return the mixture of a row at every humidity."""
    ions = {}
    for salt in split(row["salts"]):
        for ion, count in IONS[salt].items():
            ions[ion] = ions.get(ion, 0) + count
    return brine.mixture(ions, temperature_c=float(row["temperature_c"]))


def split(salts):
    """Split a pair of names that may hold no plus sign of their own."""
    first, _, second = salts.partition("+")
    assert first in IONS
    assert second in IONS
    return first, second


def test_the_table_counts_as_it_says():
    standings = [row["standing"] for row in rows()]
    assert standings.count("agrees") >= 10
    assert standings.count("disagrees") == 5
