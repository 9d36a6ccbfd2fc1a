#!/usr/bin/env python3
"""Fits Pitzer parameters of single salts, and the constants of their solids, over temperature.

    python tests/reference/fit_brines.py [SET]

prints, for every set that data/activity.toml marks as fitted so, the parameters with their standard
uncertainties and covariance, what they leave of the data used and of the data left out of the fit
(brine_fit.csv), and for each solid ln K, heat and heat capacity of dissolution that follow from its
solubility. tests/python/test_brine_fit.py keeps fit and data together.

The start is a published set (`base`). Its parameters at 25 C stand, unless named in `terms`; fitted
are their changes with temperature, by linear least squares (ln a(w) and ln gamma are linear in all
parameters), with a prior around the base as wide as such figures are spread (PRIOR), to
  - freezing points down to -12 C: the water activity is that of ice (Murphy and Koop 2005, Q. J. R.
    Meteorol. Soc. 131, 1539, vapour pressures of ice and of supercooled water; good to 0.1 %); the
    composition of the solutions is taken to be good to 0.3 %;
  - humidities over saturated solutions, with the solubilities of data/salts.toml, held good to
    0.5 %; for `from_25` as changes from the same source's value at 25 C, for where source and set
    differ there that is no matter of temperature;
  - osmotic and activity coefficients at 25 C within the range of the base, where parameters of
    25 C are fitted;
  - the heat of solution at infinite dilution (`heat`), which ln K from solubilities must give.
The limiting law is the library's, below 0 C by a parabola through its values from 0 to 14 C.
"""

from __future__ import annotations

import csv
import sys
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
import tomllib
from pitzer_solution import Salt, Solution, ln_ice, van_t_hoff
from scipy.interpolate import PchipInterpolator
from scipy.linalg import lstsq

HERE = Path(__file__).parent
DATA = HERE.parent.parent / "data"
COLDEST_C = -12.0
COMPOSITION = 0.003
SOLUBILITY = 0.005
HEAT = 0.5  # kJ/mol, of a published heat of dissolution
BETWEEN_EVALUATIONS = 0.3  # % RH, beside what a source states
DERIVATIVES = ("beta0_per_k", "beta1_per_k", "c_phi_per_k", "beta0_per_k2")
AT_25 = ("beta0", "beta1", "c_phi")
# One standard deviation: of the derivatives, as those of Silvester and Pitzer 1978 in
# data/activity.toml are spread about zero; of the parameters at 25 C, as sets of one salt differ.
PRIOR = {"beta0": 0.02, "beta1": 0.2, "c_phi": 0.003, "beta0_per_k": 2e-3,
         "beta1_per_k": 1.5e-2, "c_phi_per_k": 2e-4, "beta0_per_k2": 3e-5}  # fmt: skip


ONE_ONE, ONE_TWO, TWO_ONE, TWO_TWO = (
    Salt(1, 1, 1, 1), Salt(2, 1, 1, 2), Salt(1, 2, 2, 1), Salt(1, 1, 2, 2))  # fmt: skip


class Set(NamedTuple):
    """A set to fit: the one it starts from, the anhydrous salt and its kind, the fields fitted."""

    base: str
    salt: str
    kind: Salt
    terms: tuple[str, ...] = DERIVATIVES
    from_25: bool = False


SETS = {
    "NH4-SO4:fit": Set("NH4-SO4:PM73", "(NH4)2SO4", ONE_TWO, AT_25 + DERIVATIVES),
    "K-CO3:fit": Set("K-CO3:HMW84", "K2CO3", ONE_TWO, AT_25 + DERIVATIVES),
    "Na-NO3:fit": Set("Na-NO3:fit-sat", "NaNO3", ONE_ONE),
    "K-NO3:fit-T": Set("K-NO3:fit", "KNO3", ONE_ONE, from_25=True),
    "NH4-Cl:fit": Set("NH4-Cl:PM73+SP78", "NH4Cl", ONE_ONE, from_25=True),
    "Mg-SO4:fit": Set("Mg-SO4:PM74", "MgSO4", TWO_TWO),
    "Mg-Cl:fit": Set("Mg-Cl:HMW84+SP78", "MgCl2", TWO_ONE),
    "Mg-NO3:fit": Set("Mg-NO3:fit-sat", "Mg(NO3)2", TWO_ONE, AT_25 + DERIVATIVES),
    "Ca-NO3:fit": Set("Ca-NO3:fit-sat", "Ca(NO3)2", TWO_ONE, AT_25 + DERIVATIVES),
    "Ca-Cl:fit": Set("Ca-Cl:fit-sat", "CaCl2", TWO_ONE),
    "Cu-Cl:fit": Set("Cu-Cl:fit-sat", "CuCl2", TWO_ONE, from_25=True),
    "K-HCO3:fit": Set("K-HCO3:HMW84", "KHCO3", ONE_ONE, DERIVATIVES[:2]),
    "Cu-SO4:fit": Set("Cu-SO4:PM74", "CuSO4", TWO_TWO, DERIVATIVES[:3]),
    "Na-CH3COO:fit": Set("Na-CH3COO:PM73", "NaCH3COO", ONE_ONE, DERIVATIVES[:3]),
}
# Published sets with derivatives of their own: nothing is fitted, the data say how far they hold.
PUBLISHED = {
    "NH4-Cl:PM73+SP78": Set("NH4-Cl:PM73+SP78", "NH4Cl", ONE_ONE, (), from_25=True),
    "Na-HCO3:HMW84+PP82": Set("Na-HCO3:HMW84+PP82", "NaHCO3", ONE_ONE, ()),
    "Na-CO3:HMW84+PP82": Set("Na-CO3:HMW84+PP82", "Na2CO3", ONE_TWO, ()),
    "Na-SO4:HMW84+SP78": Set("Na-SO4:HMW84+SP78", "Na2SO4", ONE_TWO, ()),
    "K-SO4:HMW84+SP78": Set("K-SO4:HMW84+SP78", "K2SO4", ONE_TWO, ()),
    "Mg-SO4:PM74": Set("Mg-SO4:PM74", "MgSO4", TWO_TWO, ()),
}


def records(file: str, table: str) -> list[dict[str, Any]]:
    """Return the records of a data file."""
    with open(DATA / file, "rb") as opened:
        found: list[dict[str, Any]] = tomllib.load(opened)[table]
    return found


def solids(salt: str) -> list[dict[str, Any]]:
    """Return the salt's solids that have a solubility."""
    return [
        s for s in records("salts.toml", "salt") if s["anhydrous"] == salt and "solubility" in s
    ]


def published_heat(solid: dict[str, Any]) -> float | None:
    """Heat of dissolution at infinite dilution (kJ/mol), if it does not come from here."""
    record = solid.get("dissolution_enthalpy", {})
    heat: float | None = None if record.get("source") == "aeruca" else record.get("value")
    return heat


def waters(solid: dict[str, Any]) -> float:
    """Waters that a solid releases."""
    for term in solid["dissolves_to"].split(" + "):
        if term.endswith("H2O"):
            return float(term.split()[0]) if " " in term else 1.0
    return 0.0


def solubility(solid: dict[str, Any], temperature_c: float) -> float:
    """Molality of the anhydrous salt."""
    t, m = np.array(solid["solubility"]["at"]).T
    curve = PchipInterpolator(t, m, extrapolate=False)
    return float(curve(temperature_c) if len(t) > 3 else np.interp(temperature_c, t, m))


class Rows(NamedTuple):
    """Equations: design row times the fitted changes = value, within uncertainty; what each is."""

    design: Any
    value: Any
    uncertainty: Any
    label: list[str]


class Equations:
    """The data of one set as linear equations in its fitted fields."""

    def __init__(self, one: Set) -> None:
        self.one = one
        (self.base,) = [r for r in records("activity.toml", "pitzer") if r["id"] == one.base]
        for field, value in [(f, self.base.get(f, 0.0)) for f in one.terms]:
            self.base[field] = value
        self.rows: list[tuple[Any, float, float, str]] = []

    def solution(self, molality: Any, temperature_c: Any) -> Solution:
        """Return the salt's solution with the base set."""
        return Solution(self.one.kind, self.base, molality, temperature_c)

    def at(self, molality: float, temperature_c: float) -> tuple[Any, Any, float, float]:
        """Design rows and base values of ln a(w) and ln gamma."""
        s = self.solution(molality, temperature_c)
        osmotic, gamma = s.value({})
        pairs = [s.weights(field) for field in self.one.terms]
        to_water = float(s.ln_water(1.0))
        return (np.array([to_water * float(a) for a, _ in pairs]),
                np.array([float(b) for _, b in pairs]),
                float(s.ln_water(osmotic)), float(gamma))  # fmt: skip

    def add(self, design: Any, value: float, uncertainty: float, label: str) -> None:
        """Add one equation."""
        self.rows.append((design, value, uncertainty, label))

    def freezing(self, row: dict[str, str]) -> None:
        """Add a freezing point, unless it is too cold."""
        t, m = -float(row["value"]), float(row["molality"])
        if t < COLDEST_C:
            return
        design, _, base, _ = self.at(m, t)
        ice = float(ln_ice(t))
        spread = float(np.hypot(0.0097 * float(row["uncertainty"]), COMPOSITION * abs(ice)))
        self.add(design, ice - base, spread, f"freezing {m:g} mol/kg")

    def humidity(self, row: dict[str, str], reference: dict[str, float]) -> None:
        """Add a humidity over a saturated solution."""
        name, t, rh = (
            row["quantity"].split(" ", 1)[1],
            float(row["temperature_c"]),
            float(row["value"]),
        )
        (solid,) = [s for s in solids(self.one.salt) if s["solid"] == name]
        m = solubility(solid, t)
        design, _, base, _ = self.at(m, t)
        value = np.log(rh / 100) - base
        if self.one.from_25:
            if t == 25 or row["source"] not in reference:
                return
            at_25 = self.at(solubility(solid, 25.0), 25.0)
            design, value = (
                design - at_25[0],
                value - np.log(reference[row["source"]] / 100) + at_25[2],
            )
        near = self.at(m * 1.01, t)[2]
        of_solubility = abs(near - base) / 0.01 * SOLUBILITY
        stated = np.hypot(float(row["uncertainty"]), BETWEEN_EVALUATIONS) / rh
        self.add(design, float(value), float(np.hypot(stated, of_solubility)),
                 f"{name} {t:g} C, {row['source']}")  # fmt: skip

    def coefficient(self, row: dict[str, str]) -> None:
        """Add an osmotic or activity coefficient at 25 C."""
        if not set(self.one.terms) & set(AT_25):
            return
        m, value, spread = (float(row[k]) for k in ("molality", "value", "uncertainty"))
        if m > self.base["molality_max"]:
            return
        in_water, in_gamma, base_water, base_gamma = self.at(m, 25.0)
        if row["quantity"] == "gamma":
            self.add(in_gamma, float(np.log(value)) - base_gamma, spread, f"gamma {m:g} mol/kg")
        else:
            per_phi = float(self.solution(m, 25.0).ln_water(1.0))
            self.add(in_water / per_phi, value - base_water / per_phi, spread, f"phi {m:g} mol/kg")

    def heat(self) -> None:
        """Add that ln K of each solid follows its published heat of dissolution."""
        for solid in solids(self.one.salt):
            heat = published_heat(solid)
            if heat is None or len(solid["solubility"]["at"]) < 4:
                continue
            t, design, base = self.products(solid)
            share = np.linalg.pinv(van_t_hoff(t))[1]
            of_solubility = (
                (self.one.kind.cations + self.one.kind.anions)
                * SOLUBILITY
                * float(np.linalg.norm(share))
            )
            spread = float(np.hypot(HEAT, of_solubility))
            self.add(
                share @ design, float(heat - share @ base), spread, f"heat of {solid['solid']}"
            )

    def products(self, solid: dict[str, Any]) -> tuple[Any, Any, Any]:
        """Temperatures of a solid's table, and ln of its ion product with its design rows."""
        t, m = np.array(solid["solubility"]["at"]).T
        s, n = self.solution(m, t), waters(solid)
        osmotic, gamma = s.value({})
        pairs = [s.weights(field) for field in self.one.terms]
        columns = [s.ions * b + n * s.ln_water(a) for a, b in pairs]
        design = np.array(columns).reshape(len(pairs), len(t)).T
        return t, design, s.ln_product(osmotic, gamma, n)

    def taken(self) -> Rows:
        """Return the equations so far and begin anew."""
        design = np.array([r[0] for r in self.rows]).reshape(len(self.rows), len(self.one.terms))
        value, uncertainty = np.array([r[1:3] for r in self.rows], float).reshape(-1, 2).T
        label = [r[3] for r in self.rows]
        self.rows = []
        return Rows(design, value, uncertainty, label)


def table(one: Set, use: str, equations: Equations) -> Rows:
    """Equations of the rows of brine_fit.csv that are used so."""
    with open(HERE / "brine_fit.csv", encoding="utf-8", newline="") as lines:
        rows = list(csv.DictReader(line for line in lines if not line.startswith("#")))
    rows = [row for row in rows if row["salt"] == one.salt]
    reference = {
        row["source"]: float(row["value"])
        for row in rows
        if row["quantity"].startswith("humidity") and float(row["temperature_c"]) == 25
    }
    for row in rows:
        if row["use"] != use:
            continue
        if row["quantity"] == "freezing":
            equations.freezing(row)
        elif row["quantity"].startswith("humidity"):
            equations.humidity(row, reference)
        else:
            equations.coefficient(row)
    if use == "fit":
        equations.heat()
    return equations.taken()


class Result(NamedTuple):
    """Fitted fields (whole values), covariance, and misfits with their labels."""

    fields: dict[str, float]
    covariance: Any
    used: list[tuple[str, float]]
    left_out: list[tuple[str, float]]
    solids: dict[str, dict[str, float]]


def fit(name: str) -> Result:
    """Fit one set."""
    one = {**SETS, **PUBLISHED}[name]
    equations = Equations(one)
    rows = table(one, "fit", equations)
    left_out = table(one, "held out", equations)
    prior = np.array([PRIOR[term] for term in one.terms])
    scaled = rows.design * prior / rows.uncertainty[:, None]
    whole = np.vstack([scaled, np.eye(len(prior))])
    found = lstsq(whole, np.append(rows.value / rows.uncertainty, np.zeros(len(prior))))[0]
    change = found * prior
    missed = rows.design @ change - rows.value
    # What the data scatter more than they are said to widens the covariance.
    chi = float(np.sum((missed / rows.uncertainty) ** 2)) / max(1, len(missed) - len(prior))
    covariance = np.linalg.inv(whole.T @ whole) * np.outer(prior, prior) * max(1.0, chi)
    held = left_out.design @ change - left_out.value
    fields = {t: float(equations.base[t] + c) for t, c in zip(one.terms, change, strict=True)}
    return Result(
        fields,
        covariance,
        list(zip(rows.label, missed.tolist(), strict=True)),
        list(zip(left_out.label, held.tolist(), strict=True)),
        {s["solid"]: constants(equations, s, change) for s in solids(one.salt)},
    )


def constants(equations: Equations, solid: dict[str, Any], change: Any) -> dict[str, float]:
    """Ln K at 25 C, heat (kJ/mol), heat capacity (J/(mol K)) from a solid's solubility."""
    t, design, base = equations.products(solid)
    if len(t) < 4:
        return {}
    known = published_heat(solid)
    columns, values = van_t_hoff(t), base + design @ change
    spread = np.full(len(t), 0.01)
    if known is not None:
        columns, values = np.vstack([columns, [0, 1, 0]]), np.append(values, known)
        spread = np.append(spread, 0.5)
    scaled = columns / spread[:, None]
    found = lstsq(scaled, values / spread)[0]
    error = np.sqrt(np.diag(np.linalg.inv(scaled.T @ scaled)))
    missed = van_t_hoff(t) @ found - base - design @ change
    return {
        "ln_k": float(found[0]),
        "dissolution_enthalpy": float(found[1]),
        "dissolution_heat_capacity": 1000 * float(found[2]),
        "heat_capacity_uncertainty": 1000 * float(error[2]),
        "worst": float(np.abs(missed).max()),
    }


def main() -> None:
    """Print every fit, or the one asked for."""
    for name in sys.argv[1:] or [*SETS, *PUBLISHED]:
        result = fit(name)
        print(name)
        spread = np.sqrt(np.diag(result.covariance))
        for (term, value), one in zip(result.fields.items(), spread, strict=True):
            print(f"  {term:<14}{value:>12.4g} +/- {one:.1e}")
        for title, missed in (("used", result.used), ("left out of the fit", result.left_out)):
            print(f"  {title}, 100 times (computed less given):")
            print("    " + "; ".join(f"{label} {100 * m:+.2f}" for label, m in missed))
        for solid, figures in result.solids.items():
            print(f"  {solid}: " + ", ".join(f"{k} {v:.4g}" for k, v in figures.items()))


if __name__ == "__main__":
    main()
