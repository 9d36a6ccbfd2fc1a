#!/usr/bin/env python3
"""Fits the interaction coefficients marked as derived by this fit in data/activity.toml.

    python tests/reference/fit_interaction.py

prints every fitted value with its residuals; data/README.md holds the table, and
tests/python/test_interaction_fit.py keeps fit and data together. 25 C, molal scale.

1. Specific-ion coefficients of CuCl2(-) and CuCl3(2-) with Na(+) and H(+): least squares on the
   constants in sodium perchlorate, sodium chloride and perchloric acid (interaction_media.csv),
   those at I = 0 (Fritz 1981) held. Dimer and trimer, whose constants in a medium nobody gives
   beside his, and K(+): by the rule that what a complex feels is what the chloride it took up
   felt, epsilon(M, complex) = n epsilon(M, Cl), which the first two bear out within 0.02.
2. Specific-ion coefficients of copper and magnesium sulfate beside their ion pair: on tabulated
   activity coefficients (osmotic.csv), and on those of the chosen Pitzer set.
3. Pitzer parameters of Na(+) with the four complexes: on the same constants, and on the activity
   coefficients of 1 over solutions of NaCl saturated with nantokite up to 6 mol/kg.
"""

from __future__ import annotations

import csv
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
import tomllib
from scipy.optimize import brentq, least_squares

HERE = Path(__file__).parent
DATA = HERE.parent.parent / "data"
LN10 = np.log(10.0)
A = 0.5098  # kg^0.5/mol^0.5 at 25 C
A_PHI = A * LN10 / 3
CHARGE = {"Cl(-)": 1, "ClO4(-)": 1, "CuCl2(-)": 1, "CuCl3(2-)": 2, "Cu2Cl4(2-)": 2, "Cu3Cl6(3-)": 3}
TAKEN_UP = {"CuCl2(-)": 1, "CuCl3(2-)": 2, "Cu2Cl4(2-)": 2, "Cu3Cl6(3-)": 3}  # chloride
COPPER = {"CuCl2(-)": 1, "CuCl3(2-)": 1, "Cu2Cl4(2-)": 2, "Cu3Cl6(3-)": 3}
SATURATION_MOL_PER_KG = [0.1, 0.3, 0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4, 5, 6]  # NaCl


class Figures(NamedTuple):
    """Chosen figures of the data set that the fit starts from."""

    log10_k: dict[str, float]  # nantokite and chloride to a complex
    neutral: float  # nantokite = CuCl(aq)
    pair: dict[str, float]  # ion pairs of sulfate
    sit: dict[tuple[str, str], float]
    pitzer: dict[str, dict[str, float]]


def equation(copper: int, chloride: int, complex_name: str) -> str:
    def number(n: int, name: str) -> str:
        return name if n == 1 else f"{n} {name}"

    return f"{number(copper, 'nantokite')} + {number(chloride, 'Cl(-)')} = {complex_name}"


def read_figures() -> Figures:
    with open(DATA / "reactions.toml", "rb") as file:
        records = tomllib.load(file)["reaction"]
    with open(DATA / "activity.toml", "rb") as file:
        activity = tomllib.load(file)
    chosen = {
        r["equation"]: r["value"]
        for r in records
        if r.get("chosen") and r["quantity"] == "log10_k" and "value" in r
    }
    return Figures(
        {c: chosen[equation(COPPER[c], TAKEN_UP[c], c)] for c in COPPER},
        chosen["nantokite = Cu(+) + Cl(-)"] + chosen["Cu(+) + Cl(-) = CuCl(aq)"],
        {ion: chosen[f"{ion} + SO4(2-) = {ion[:2]}SO4(aq)"] for ion in ("Cu(2+)", "Mg(2+)")},
        {(s["cation"], s["anion"]): s["value"] for s in activity["sit"] if s["chosen"]},
        {p["id"]: p for p in activity["pitzer"]},
    )


def read_rows(name: str) -> list[dict[str, str]]:
    with open(HERE / name) as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


# ---- one cation of charge 1 (Na(+)) and anions -------------------------------------------------

Molalities = dict[str, float]


def strength(molality: Molalities) -> tuple[float, float]:
    cation = sum(CHARGE[a] * m for a, m in molality.items())
    return cation, 0.5 * (cation + sum(CHARGE[a] ** 2 * m for a, m in molality.items()))


def law(ionic_strength: float) -> float:
    root = np.sqrt(ionic_strength)
    return A * root / (1 + 1.5 * root)


def sit_ln_gamma(molality: Molalities, epsilon: dict[str, float]) -> Molalities:
    cation, i = strength(molality)
    return {a: LN10 * (-(CHARGE[a] ** 2) * law(i) + epsilon[a] * cation) for a in molality}


def j_function(x: float) -> float:
    """Pitzer 1975, eq 47."""
    return x / (4 + 4.581 * x**-0.7237 * np.exp(-0.0120 * x**0.528))


def e_theta(one: int, other: int, i: float) -> float:
    def j(product: int) -> float:
        return j_function(6 * product * A_PHI * np.sqrt(i))

    return one * other / (4 * i) * (j(one * other) - 0.5 * j(one * one) - 0.5 * j(other * other))


def pitzer_ln_gamma(
    molality: Molalities, sets: dict[str, tuple[float, float, float]]
) -> Molalities:
    cation, i = strength(molality)
    root = np.sqrt(i)
    x = 2 * root
    g = 2 * (1 - (1 + x) * np.exp(-x)) / x**2
    slope = -2 * (1 - (1 + x + x * x / 2) * np.exp(-x)) / x**2 / i
    f = -A_PHI * (root / (1 + 1.2 * root) + 2 / 1.2 * np.log(1 + 1.2 * root))
    common = 0.0
    for anion, m in molality.items():
        f += cation * m * sets[anion][1] * slope
        common += cation * m * sets[anion][2] / (2 * np.sqrt(CHARGE[anion]))
    unequal = [(a, b) for a in molality for b in molality if CHARGE[a] < CHARGE[b]]
    step = 1e-4 * i
    for a, b in unequal:
        up, down = (e_theta(CHARGE[a], CHARGE[b], i + s) for s in (step, -step))
        f += molality[a] * molality[b] * (up - down) / (2 * step)
    out = {}
    for a in molality:
        beta0, beta1, c_phi = sets[a]
        pair = 2 * (beta0 + beta1 * g) + 2 * cation * c_phi / (2 * np.sqrt(CHARGE[a]))
        mixing = sum(
            2 * m * e_theta(CHARGE[a], CHARGE[b], i)
            for b, m in molality.items()
            if CHARGE[a] != CHARGE[b]
        )
        out[a] = CHARGE[a] ** 2 * f + cation * pair + CHARGE[a] * common + mixing
    return out


# ---- 1. constants in a medium ------------------------------------------------------------------


def constant_at_i(row: dict[str, str], figures: Figures, ln_gamma: Molalities) -> float:
    def shifted(name: str) -> float:
        change = TAKEN_UP[name] * ln_gamma["Cl(-)"] - ln_gamma[name]
        return float(figures.log10_k[name] + change / LN10)

    if row["equation"].startswith("CuCl2(-)"):
        return shifted("CuCl3(2-)") - shifted("CuCl2(-)")
    return shifted(row["equation"].split(" = ")[1])


def published(row: dict[str, str]) -> float:
    """On the molal scale: one chloride more on the left than ions on the right is a molality."""
    loses_one = row["equation"].endswith("CuCl3(2-)")
    return float(row["log10_k"]) - loses_one * np.log10(
        float(row["molality"]) / float(row["molarity"])
    )


def trace_in(row: dict[str, str]) -> Molalities:
    traces = {"Cl(-)": 1e-12, "CuCl2(-)": 1e-12, "CuCl3(2-)": 1e-12}
    return traces | {"Cl(-)" if row["medium"] == "NaCl" else "ClO4(-)": float(row["molality"])}


class Fit(NamedTuple):
    values: np.ndarray
    residuals: np.ndarray
    uncertainty: np.ndarray  # standard, from the scatter


def fit(residuals, start: list[float]) -> Fit:  # type: ignore[no-untyped-def]
    found = least_squares(residuals, start)
    spare = max(found.fun.size - found.x.size, 1)
    covariance = np.linalg.inv(found.jac.T @ found.jac) * np.sum(found.fun**2) / spare
    return Fit(found.x, found.fun, np.sqrt(np.diag(covariance)))


def epsilon_with(
    cation: str, figures: Figures, of_complexes: tuple[float, float]
) -> dict[str, float]:
    chloride = figures.sit[cation, "Cl(-)"]
    return {
        "Cl(-)": chloride,
        "ClO4(-)": figures.sit[cation, "ClO4(-)"],
        "CuCl2(-)": of_complexes[0],
        "CuCl3(2-)": of_complexes[1],
        "Cu2Cl4(2-)": 2 * chloride,
        "Cu3Cl6(3-)": 3 * chloride,
    }


def fit_sit(cation: str, rows: list[dict[str, str]], figures: Figures) -> Fit:
    def residuals(p: np.ndarray) -> list[float]:
        epsilon = epsilon_with(cation, figures, (p[0], p[1]))
        return [
            constant_at_i(row, figures, sit_ln_gamma(trace_in(row), epsilon)) - published(row)
            for row in rows
        ]

    return fit(residuals, [0.05, 0.05])


# ---- nantokite in a solution of NaCl -----------------------------------------------------------


def free_chloride(nacl: float, k: dict[str, float]) -> float:
    """From the charge: Na(+) against chloride and complexes of constants k."""

    def charge(x: float) -> float:
        return x + sum(CHARGE[c] * k[c] * x ** TAKEN_UP[c] for c in k) - nacl

    return float(brentq(charge, 1e-9 * nacl, nacl, xtol=1e-14))


def saturate(nacl: float, figures: Figures, ln_gamma_of) -> tuple[float, Molalities]:  # type: ignore[no-untyped-def]
    """Copper in solution over nantokite, and the anions."""
    molality = {"Cl(-)": 0.7 * nacl} | dict.fromkeys(COPPER, 1e-3 * nacl)
    while True:
        ln_gamma = ln_gamma_of(molality)
        k = {
            c: 10 ** figures.log10_k[c] * np.exp(TAKEN_UP[c] * ln_gamma["Cl(-)"] - ln_gamma[c])
            for c in COPPER
        }
        free = free_chloride(nacl, k)
        new = {"Cl(-)": free} | {c: k[c] * free ** TAKEN_UP[c] for c in COPPER}
        if max(abs(new[a] - molality[a]) for a in new) < 1e-11:
            return 10**figures.neutral + sum(COPPER[c] * new[c] for c in COPPER), new
        molality = {a: 0.6 * molality[a] + 0.4 * new[a] for a in new}


# ---- 2. sulfates -------------------------------------------------------------------------------


def gamma_of_sulfate(molality: float, log10_k: float, epsilon: float) -> float:
    """Mean activity coefficient over all of the salt, the ion pair being a species."""
    low, high = 0.0, molality
    for _ in range(80):  # free ions; those bound rise with them
        free = 0.5 * (low + high)
        log10_gamma = -4 * law(4 * free) + epsilon * free
        total = free + 10 ** (log10_k + 2 * log10_gamma) * free**2
        low, high = (free, high) if total < molality else (low, free)
    return float(free * 10**log10_gamma / molality)


def fit_sulfate(ion: str, table: dict[float, float], figures: Figures) -> Fit:
    return fit(
        lambda p: [
            np.log(gamma_of_sulfate(m, figures.pair[ion], p[0]) / g) for m, g in table.items()
        ],
        [-0.3],
    )


def pitzer_gamma_two_two(molality: float, p: dict[str, float]) -> float:
    i = 4 * molality
    root = np.sqrt(i)

    def g(x: float) -> tuple[float, float]:
        e = np.exp(-x)
        return 2 * (1 - (1 + x) * e) / x**2, -2 * (1 - (1 + x + x * x / 2) * e) / x**2

    (g1, h1), (g2, h2) = g(1.4 * root), g(12 * root)
    b = p["beta0"] + p["beta1"] * g1 + p["beta2"] * g2
    slope = (p["beta1"] * h1 + p["beta2"] * h2) / i
    f = -A_PHI * (root / (1 + 1.2 * root) + 2 / 1.2 * np.log(1 + 1.2 * root))
    c = p["c_phi"] / 4
    return float(
        np.exp(
            4 * (f + molality**2 * slope)
            + molality * (2 * b + 4 * molality * c)
            + 2 * molality**2 * c
        )
    )


# ---- 3. Pitzer ---------------------------------------------------------------------------------


def fit_pitzer(rows: list[dict[str, str]], figures: Figures, epsilon: dict[str, float]) -> Fit:
    states = {
        m: saturate(m, figures, lambda x: sit_ln_gamma(x, epsilon))[1]
        for m in SATURATION_MOL_PER_KG
    }

    def residuals(p: np.ndarray) -> list[float]:
        sets = pitzer_sets(figures, p)
        out = [
            (constant_at_i(row, figures, pitzer_ln_gamma(trace_in(row), sets)) - published(row))
            / 0.15  # their scatter among each other
            for row in rows
        ]
        for m, state in states.items():
            ours, theirs = pitzer_ln_gamma(state, sets), sit_ln_gamma(state, epsilon)
            for c, n in TAKEN_UP.items():
                change = (ours[c] - n * ours["Cl(-)"]) - (theirs[c] - n * theirs["Cl(-)"])
                out.append(change / LN10 / (0.04 if m <= 3.5 else 0.1))
        return out

    return fit(residuals, [0.1, 0.25, 0.2, 0.5, 0.3, 1.5, 1.5, 5])


def pitzer_sets(figures: Figures, p: np.ndarray) -> dict[str, tuple[float, float, float]]:
    salt = figures.pitzer["Na-Cl:HMW84+SP78"]
    return {
        "Cl(-)": (salt["beta0"], salt["beta1"], salt["c_phi"]),
        "ClO4(-)": (0.0554, 0.2755, -0.00118),  # Pitzer & Mayorga 1973, recalled
        **{c: (p[k], p[4 + k], 0.0) for k, c in enumerate(COPPER)},
    }


def fit_all() -> dict[str, Any]:
    figures = read_figures()
    rows = read_rows("interaction_media.csv")
    in_sodium = [row for row in rows if row["medium"].startswith("Na")]
    in_acid = [row for row in rows if row["medium"] == "HClO4"]
    sodium = fit_sit("Na(+)", in_sodium, figures)
    epsilon = epsilon_with("Na(+)", figures, tuple(np.round(sodium.values, 3)))
    pitzer = fit_pitzer(in_sodium, figures, epsilon)
    sets = pitzer_sets(figures, np.round(pitzer.values, 4))
    table = {
        float(r["molality"]): float(r["gamma"])
        for r in read_rows("osmotic.csv")
        if r["salt"] == "CuSO4"
    }
    of_set = {
        m: pitzer_gamma_two_two(m, figures.pitzer["Mg-SO4:PM74"])
        for m in (0.1, 0.2, 0.3, 0.5, 0.7, 1, 1.3, 1.6)
    }
    saturated = {
        m: (
            saturate(m, figures, lambda x: sit_ln_gamma(x, epsilon))[0],
            saturate(m, figures, lambda x: pitzer_ln_gamma(x, sets))[0],
        )
        for m in SATURATION_MOL_PER_KG
    }
    return {
        "sit Na": sodium,
        "sit H": fit_sit("H(+)", in_acid, figures),
        "sit Cu SO4": fit_sulfate("Cu(2+)", table, figures),
        "sit Mg SO4": fit_sulfate("Mg(2+)", of_set, figures),
        "pitzer Na": pitzer,
        "saturated": saturated,
    }


def print_media(cation: str, medium: str, one: Fit) -> None:
    print(
        f"epsilon({cation}(+), CuCl2(-)) and ({cation}(+), CuCl3(2-)):",
        one.values.round(3),
        "+/-",
        one.uncertainty.round(3),
    )
    rows = [r for r in read_rows("interaction_media.csv") if r["medium"].startswith(medium)]
    for row, difference in zip(rows, one.residuals, strict=True):
        where = f"{row['molarity']:>4} M {row['medium']:6}"
        print(
            f"  {row['equation']:30} {where} published {published(row):6.3f}, "
            f"fitted less published {difference:6.3f}  {row['source']}"
        )


def main() -> None:
    fits = fit_all()
    print_media("Na", "Na", fits["sit Na"])
    print_media("H", "HClO4", fits["sit H"])
    for ion in ("Cu", "Mg"):
        one = fits[f"sit {ion} SO4"]
        print(f"epsilon({ion}(2+), SO4(2-)) beside {ion}SO4(aq):", one.values.round(3))
        print("  ln gamma, fitted less table:", one.residuals.round(3))
    one = fits["pitzer Na"]
    print("Pitzer, Na(+) with", ", ".join(COPPER))
    print("  beta0", one.values[:4].round(4), "+/-", one.uncertainty[:4].round(3))
    print("  beta1", one.values[4:].round(4), "+/-", one.uncertainty[4:].round(3))
    print("nantokite in NaCl, mol/kg of copper: NaCl, specific ion, Pitzer, ratio")
    for m, (sit, pitzer) in fits["saturated"].items():
        print(f"  {m:4} {sit:8.4f} {pitzer:8.4f} {pitzer / sit:6.3f}")


if __name__ == "__main__":
    main()
