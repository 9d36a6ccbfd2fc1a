"""Changes of hydration beside measurement, from Python."""

import csv
import math
from pathlib import Path

import pytest

import aeruca
from aeruca import brine

TABLE = Path(__file__).resolve().parents[1] / "reference" / "hydration.csv"


def rows():
    with TABLE.open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


@pytest.mark.parametrize(
    "row", rows(), ids=lambda row: f"{row['upper']}-{row['lower']} {row['temperature_c']} C"
)
def test_change_of_hydration_stands_as_the_table_says(row):
    (change,) = (
        one
        for one in brine.hydration_changes(row["upper"], float(row["temperature_c"]))
        if one.lower == row["lower"]
    )
    off = change.rh_percent - float(row["rh_percent"])
    if row["standing"] == "agrees":
        assert abs(off) <= float(row["tolerance"])
    else:
        assert float(row["low"]) <= off <= float(row["high"])
        assert abs(off) > float(row["tolerance"])


def test_mirabilite_melts_into_its_water_where_it_was_measured_to():
    """At 32.4 C (Na2SO4.10H2O, a fixed point of thermometry) the change is in the brine itself."""
    # Both stand there with the saturated solution: the hydration humidity is its water activity.
    change = next(
        one for one in brine.hydration_changes("mirabilite", 32.38) if one.lower == "thenardite"
    )
    solution = aeruca.single_salt("thenardite", 3.53, 30.0)  # near saturation, warmest of the set
    assert change.rh_percent == pytest.approx(100 * solution.water_activity, abs=1.5)


def test_solids_without_a_constant_say_so_and_show_what_was_published():
    (change,) = brine.hydration_changes("eriochalcite")
    assert change.lower == "tolbachite"
    assert math.isnan(change.rh_percent)
    assert "tolbachite" in change.not_known_because
    assert change.measured
