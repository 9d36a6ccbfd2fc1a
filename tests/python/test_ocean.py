"""The sea water of `ocean.csv` asked again of the packages it was asked of.

`gsw` is the international standard of sea water of 2010; `PyCO2SYS` gathers the published
constants of carbonate in sea water. What they say stands in the table, so that the reference test
and the page of checks need neither; here each figure is asked again, and the constants of other
authors set the scale of the tolerances.
"""

import csv
import math
from pathlib import Path

import gsw
import PyCO2SYS
import pytest

TABLE = Path(__file__).resolve().parents[1] / "reference" / "ocean.csv"
MOLAR_MASS_OF_WATER = 18.015268  # g/mol
GAS_CONSTANT = 8.314462618  # J/(mol K)
CARBONATE = {  # the package's number of each set
    "Millero 1979": 8,
    "Lueker and others 2000": 10,
    "Millero 2010": 14,
    "Waters and others 2014": 17,
}
BISULFATE = {"Dickson 1990": 1, "Khoo and others 1977": 2, "Waters and Millero 2013": 3}
CONSTANT = {"pkw": "k_water", "pk1": "k_carbonic_1", "pk2": "k_carbonic_2", "pks": "k_bisulfate"}


def rows(table: Path = TABLE) -> list[dict[str, str]]:
    with table.open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def water_activity(salinity: float, celsius: float) -> float:
    """From the chemical potential of water (J/g) in sea water less that of pure water."""
    salt = salinity * 35.16504 / 35  # g in a kg of sea water
    lowered = gsw.chem_potential_water_t_exact(salt, celsius, 0)
    lowered -= gsw.chem_potential_water_t_exact(0, celsius, 0)
    return math.exp(lowered * MOLAR_MASS_OF_WATER / (GAS_CONSTANT * (celsius + 273.15)))


def constants(
    salinity: float, celsius: float, carbonate: str = "Lueker and others 2000", sulfate: int = 1
) -> dict[str, float]:
    """Total scale (hydrogensulfate: free), mol per kg of sea water; logarithms but the totals."""
    found = PyCO2SYS.sys(
        par1=2300,
        par1_type=1,
        par2=2000,
        par2_type=2,
        salinity=salinity,
        temperature=celsius,
        opt_pH_scale=1,
        opt_k_carbonic=CARBONATE[carbonate],
        opt_k_bisulfate=sulfate,
    )
    figures = {name: -math.log10(float(found[key])) for name, key in CONSTANT.items()}
    bound = float(found["total_sulfate"]) * 1e-6 / 10 ** -figures["pks"]
    return figures | {"free_share": 1 / (1 + bound)}


def theirs(row: dict[str, str]) -> float:
    salinity, celsius = float(row["salinity"]), float(row["temperature_c"])
    if row["quantity"] == "water_activity":
        return water_activity(salinity, celsius)
    source = row["source"].removesuffix(" by PyCO2SYS")
    carbonate = source if source in CARBONATE else "Lueker and others 2000"
    return constants(salinity, celsius, carbonate)[row["quantity"]]


@pytest.mark.parametrize(
    "row",
    rows(),
    ids=lambda row: "-".join(row[key] for key in ("quantity", "salinity", "temperature_c")),
)
def test_the_table_says_what_the_package_says(row: dict[str, str]) -> None:
    # Half the last digit printed; the packages change theirs only with a new source.
    last = 7 if row["quantity"] == "water_activity" else 4
    assert float(row["value"]) == pytest.approx(theirs(row), abs=0.51 * 10**-last)


def test_the_apparent_ionisation_of_water_is_13_22() -> None:
    assert constants(35, 25)["pkw"] == pytest.approx(13.22, abs=0.005)


def test_evaluations_of_hydrogensulfate_differ_by_a_tenth() -> None:
    """What the package says by one author is no better known than by another."""
    found = {name: constants(35, 25, sulfate=k)["pks"] for name, k in BISULFATE.items()}
    assert max(found.values()) - min(found.values()) == pytest.approx(0.096, abs=0.002)
    assert found["Dickson 1990"] == pytest.approx(0.999, abs=0.001)


def test_evaluations_of_the_carbonate_constants_differ_by_a_hundredth() -> None:
    sets = ("Lueker and others 2000", "Millero 2010", "Waters and others 2014")
    first = [constants(35, 25, name)["pk1"] for name in sets]
    second = [constants(35, 25, name)["pk2"] for name in sets]
    assert max(first) - min(first) == pytest.approx(0.004, abs=0.001)
    assert max(second) - min(second) == pytest.approx(0.010, abs=0.001)


def test_the_conductivity_of_sea_water_is_that_of_the_practical_salinity() -> None:
    those = [row for row in rows(TABLE.with_name("analysis.csv")) if row["name"] == "sea water"]
    assert len(those) == 4
    for row in those:
        theirs_ms_per_cm = float(gsw.C_from_SP(float(row["given"]), 25, 0))
        assert float(row["published"]) == pytest.approx(1000 * theirs_ms_per_cm, abs=0.51)
