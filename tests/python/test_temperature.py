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


def test_every_dissolved_form_of_copper_has_a_heat_of_formation() -> None:
    data = aeruca.default_dataset()
    copper = data.components.index("Cu(2+)")
    unknown = [
        one.name
        for one in data.species
        if one.components[copper] and math.isnan(one.enthalpy_kj_per_mol)
    ]
    assert unknown == []
