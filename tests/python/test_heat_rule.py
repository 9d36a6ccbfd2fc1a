"""The isocoulombic rule, put to the reactions whose heat or heat capacity was found."""

import math
import re

import pytest

import aeruca

R = 8.314462618e-3  # kJ/(mol K)
T0 = 298.15
WATER = (-13.995, 55.815, -223.8)  # log10 K, kJ/mol, J/(mol K) of H2O = H(+) + OH(-)
# Missed by more than twice the uncertainty: crystals of seven to ten waters, tin(IV).
MISSED = {
    "natron = 2 Na(+) + CO3(2-) + 10 H2O",
    "sodium carbonate heptahydrate = 2 Na(+) + CO3(2-) + 7 H2O",
    "Sn(2+) + 2 H(+) = Sn(4+) + H2(g)",
    "cassiterite + 4 H(+) = Sn(4+) + 2 H2O",
}


def terms(equation: str) -> dict[str, float]:
    found: dict[str, float] = {}
    for side, sign in zip(equation.split(" = "), (-1, 1), strict=True):
        for term in side.split(" + "):
            count, _, name = term.partition(" ") if term[0].isdigit() else ("1", "", term)
            found[name] = found.get(name, 0) + sign * float(count)
    return found


def charge(name: str) -> int:
    end = re.search(r"\((\d*)([+-])\)$", name)
    return 0 if end is None else int(end[1] or 1) * (1 if end[2] == "+" else -1)


def charges_and_gas(equation: str) -> tuple[float, float]:
    found = terms(equation)
    charges = sum(count * charge(name) for name, count in found.items() if charge(name) > 0)
    gas = sum(count for name, count in found.items() if name.endswith("(g)"))
    return charges - found.get("e(-)", 0), gas


def heats_found() -> dict[str, tuple[float, float, float]]:
    """Equation of each reaction with a constant and a heat that was found: the heat, that of the
    rule, and what the rule says of itself."""
    figures = [f for f in aeruca.default_dataset().figures if f.chosen]
    constants = {f.subject: f.value for f in figures if f.quantity == "log10_k"}
    found = {}
    for f in figures:
        if f.quantity != "enthalpy" or f.basis == "estimated" or f.subject not in constants:
            continue
        if "e(-)" in terms(f.subject) or f.subject == "H2O = H(+) + OH(-)":
            continue
        charges, gas = charges_and_gas(f.subject)
        neutral = constants[f.subject] - charges * WATER[0]
        rule = -R * T0 * math.log(10) * neutral + charges * WATER[1] + gas * T0 * 0.095
        found[f.subject] = (f.value, rule, 20 + 10 * abs(charges))
    return found


def test_the_rule_meets_the_heats_that_were_found_as_often_as_it_says() -> None:
    found = heats_found()
    off = {e: abs(rule - heat) / doubt for e, (heat, rule, doubt) in found.items()}
    assert len(off) >= 85
    assert sum(each < 1 for each in off.values()) / len(off) > 0.8
    assert {equation for equation, each in off.items() if each > 2} <= MISSED


def test_the_rule_meets_every_heat_of_copper_that_was_found_within_twice_its_uncertainty() -> None:
    copper = {e: v for e, v in heats_found().items() if "Cu(" in e}
    assert len(copper) >= 25
    assert all(abs(rule - heat) < 2 * doubt for heat, rule, doubt in copper.values())


@pytest.mark.parametrize(
    ("equation", "found"),
    [
        ("CO2(g) = CO2(aq)", 178.6),
        ("CO2(aq) + H2O = HCO3(-) + H(+)", -366.7),
        ("HCO3(-) = CO3(2-) + H(+)", -290.5),
        ("CH3COOH(aq) = CH3COO(-) + H(+)", -150.0),
        ("HCOOH(aq) = HCOO(-) + H(+)", -170.0),
        # The second difference of the cell, 0.1263, 0.1200, 0.1132 V at 15, 25, 35 C.
        ("nantokite + e(-) = copper + Cl(-)", 96485.332 * T0 * (0.1132 + 0.1263 - 0.24) / 100),
    ],
)
def test_the_rule_meets_heat_capacities_that_were_found(equation: str, found: float) -> None:
    charges, gas = charges_and_gas(equation)
    doubt = 90 * max(1, abs(charges), 2 * abs(gas))
    assert abs(charges * WATER[2] - found) < 2 * doubt


def test_what_the_library_estimates_is_this_rule() -> None:
    data = aeruca.default_dataset()
    estimates = [f for f in data.figures if f.id.endswith(".rule")]
    assert all(f.basis == "estimated" and f.chosen for f in estimates)
    capacities = [f for f in estimates if f.quantity == "heat_capacity" and " = " in f.subject]
    assert len(capacities) > 100
    for f in capacities:
        charges, gas = charges_and_gas(f.subject)
        assert f.value == pytest.approx(charges * WATER[2], abs=1e-9)
        assert f.uncertainty == 90 * max(1, abs(charges), 2 * abs(gas))
    brucite = next(f for f in estimates if f.id == "brucite.ln_k.enthalpy.rule")
    neutral = -25.062 / math.log(10) - 2 * WATER[0]
    rule = -R * T0 * math.log(10) * neutral + 2 * WATER[1]
    assert brucite.value == pytest.approx(rule, abs=1e-6)
    assert brucite.uncertainty == 40
