"""Copper away from 25 C: constants beside those measured there, and what must follow from them."""

import itertools
import math

import pytest

import aeruca


def log10_k(equation: str, temperature_c: float) -> float:
    """log10 of the constant of `A + 2 B = C` from the data set."""
    data = aeruca.default_dataset()
    total = 0.0
    for side, sign in zip(equation.split(" = "), (-1, 1), strict=True):
        for term in side.split(" + "):
            count, _, name = term.partition(" ") if term[0].isdigit() else ("1", "", term)
            total += sign * float(count) * float(data.log10_k(name, temperature_c))
    return total


def test_the_cell_of_nantokite_falls_with_temperature_as_measured() -> None:
    # Noyes and Chow 1918: 0.1263, 0.1200, 0.1132 V at 15, 25, 35 C.
    cell = {
        celsius: log10_k("nantokite + e(-) = copper + Cl(-)", celsius)
        * 8.314462618
        * (celsius + 273.15)
        * math.log(10)
        / 96485.332
        for celsius in (15, 35)
    }
    assert (cell[35] - cell[15]) / 20 == pytest.approx(-0.000655, abs=0.00002)


def test_copper_over_tenorite_in_sodium_hydroxide_rises_with_temperature() -> None:
    # It fell while formations from Cu(2+) were frozen against a moving ionisation of water.
    dissolved = []
    for celsius in (0, 10, 25, 40, 50):
        system = aeruca.Equilibrium(
            components=["Cu(2+)", "Na(+)"],
            temperature_c=celsius,
            precipitation="allowed",
            allowed_solids=["tenorite"],
            acidity="charge_balance",
        )
        answer = system.solve({"Na(+)": 0.1, "OH(-)": 0.1, "tenorite": 1e-3}, eh_v=0.4)
        assert answer.certificate.holds
        dissolved.append(1e-3 - answer.formed["tenorite"])
    assert all(one < next_ for one, next_ in itertools.pairwise(dissolved))
    assert 2 < dissolved[-1] / dissolved[0] < 10


def test_the_cell_of_nantokite_bends_with_temperature_as_measured() -> None:
    # Second difference over 10 K of Noyes and Chow 1918: -0.5 mV, each figure good to 0.1 mV.
    cell = [
        log10_k("nantokite + e(-) = copper + Cl(-)", celsius) * (celsius + 273.15)
        for celsius in (15, 25, 35)
    ]
    bend = (cell[0] - 2 * cell[1] + cell[2]) * 8.314462618 * math.log(10) / 96485.332
    assert bend == pytest.approx(-0.0005, abs=0.00035)


@pytest.mark.parametrize(
    ("solid", "measured"),
    [
        # At 75 C, beyond the range of the library: the formula alone, with our figures.
        # Barton and Bethke 1960 and a solubility product of the oxychloride, as listed.
        ("copper trihydroxychloride", -32.85),
        ("brochantite", -60.6),
    ],
)
def test_the_formula_carried_to_75_c_stands_near_what_was_found_there(
    solid: str, measured: float
) -> None:
    equation = {
        "copper trihydroxychloride": "clinoatacamite = 2 Cu(2+) + 3 OH(-) + Cl(-)",
        "brochantite": "brochantite = 4 Cu(2+) + 6 OH(-) + SO4(2-)",
    }[solid]
    constant = log10_k(equation, 25)
    half = {celsius: log10_k(equation, celsius) - constant for celsius in (0, 50)}
    # Two temperatures give heat and heat capacity back; the third follows by the same formula.
    by = {t: (per_kj(t), per_j_per_k(t)) for t in (0, 50, 75)}
    det = by[0][0] * by[50][1] - by[50][0] * by[0][1]
    heat = (half[0] * by[50][1] - half[50] * by[0][1]) / det
    capacity = (by[0][0] * half[50] - by[50][0] * half[0]) / det
    found = constant + heat * by[75][0] + capacity * by[75][1]
    if solid == "brochantite":
        # Printed -15.15 a quarter formula, out of line with 25 and 50 C: ours stays 4 to 5 below.
        assert -5 < found - measured < -4
    else:
        assert found == pytest.approx(measured, abs=0.6)


def per_kj(celsius: float) -> float:
    return 1000 * (1 / 298.15 - 1 / (celsius + 273.15)) / (8.314462618 * math.log(10))


def per_j_per_k(celsius: float) -> float:
    ratio = (celsius + 273.15) / 298.15
    return (math.log(ratio) + 1 / ratio - 1) / (8.314462618 * math.log(10))


def test_every_dissolved_form_of_copper_has_a_heat_of_formation() -> None:
    data = aeruca.default_dataset()
    copper = data.components.index("Cu(2+)")
    unknown = [
        one.name
        for one in data.species
        if one.components[copper] and math.isnan(one.enthalpy_kj_per_mol)
    ]
    assert unknown == []
