"""A mixture of salts at every humidity, against minimising the same Gibbs energy with SciPy."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
from scipy.optimize import linprog, minimize

import aeruca
from aeruca import brine
from aeruca.activity import activity_coefficients

IONS = {"Na(+)": 2.0, "K(+)": 0.6, "Cl(-)": 1.4, "NO3(-)": 0.8, "SO4(2-)": 0.2}
HUMIDITIES = np.linspace(5.0, 98.0, 200)
WATER = 0.018015268  # kg/mol
LEAST = 1e-9


@dataclass
class State:
    """One humidity: moles of solids, kilograms of water in the brine."""

    solids: Any
    water_kg: float


class Mixture:
    """The Gibbs energy over solids, ions and water, with the water of the air at hand."""

    def __init__(self) -> None:
        dataset = aeruca.default_dataset()
        self.ions = list(IONS)
        self.totals = np.array(list(IONS.values()))
        columns = [dataset.components.index(name) for name in self.ions]
        water = dataset.components.index("H2O")
        allowed = {*columns, water}
        solids = [
            entry
            for entry in dataset.species
            if entry.kind == "solid"
            and {j for j, count in enumerate(entry.components) if count} <= allowed
        ]
        self.rows = np.array([[entry.components[j] for j in columns] for entry in solids], float)
        self.water = np.array([entry.components[water] for entry in solids], float)
        self.energy = -np.array([entry.log10_k for entry in solids]) * np.log(10.0)
        self.names = [entry.name for entry in solids]

    def dry(self, ln_held: float) -> State:
        """Solids of lowest energy where there is no brine."""
        found = linprog(self.energy - self.water * ln_held, A_eq=self.rows.T, b_eq=self.totals)
        return State(found.x, 0.0)

    def wet(self, start: Any, ln_held: float) -> State:
        """Lowest energy with a brine, by SLSQP with the exact gradient."""
        k, n = len(self.names), len(self.ions)
        price = self.energy - self.water * ln_held

        def value(x: Any) -> Any:
            solids, ions, water = x[:k], np.maximum(x[k : k + n], LEAST), max(x[-1], 1e-4)
            m = np.minimum(ions / water, 100)
            found = activity_coefficients("pitzer", self.ions, m[None])
            ln_a = np.log(m * found.gamma[0])
            ln_w = np.log(found.water_activity[0]) - ln_held
            energy = price @ solids + ions @ ln_a + water / WATER * ln_w
            return energy, np.concatenate([price, ln_a, [ln_w / WATER]])

        rows = np.hstack([self.rows.T, np.eye(n), np.zeros((n, 1))])
        balance = {"type": "eq", "fun": lambda x: rows @ x - self.totals, "jac": lambda x: rows}
        bounds = [(0, None)] * k + [(LEAST, None)] * n + [(1e-4, None)]
        with np.errstate(all="ignore"):  # on its way it tries what no brine can be
            found = minimize(value, start, jac=True, method="SLSQP", constraints=[balance],
                             bounds=bounds, options={"maxiter": 300, "ftol": 1e-12})  # fmt: skip
        self.last = found.x
        return State(found.x[:k], found.x[-1])


def reference() -> list[State]:
    """Every fourth humidity, each from the one moister: from the wet end down, then dry."""
    mixture, states = Mixture(), []
    x = np.concatenate([np.zeros(len(mixture.names)), mixture.totals, [10.0]])
    wet = True
    for rh in HUMIDITIES[::-4]:
        ln_held = np.log(rh / 100)
        if wet:
            state = mixture.wet(x, ln_held)
            x = mixture.last
            wet = state.water_kg > 1e-3
        states.append(state if wet else mixture.dry(ln_held))
    return states[::-1]


reference.scale = 4  # type: ignore[attr-defined]


def cases() -> Iterator[tuple[str, str, Callable[[], Any], Callable[[], Any], Any]]:
    """Yield (name, aim, ours, reference, agreement)."""

    def agree(sweep: Any, states: list[State]) -> None:
        names = Mixture().names
        for ours, theirs in zip(sweep.states[3::4], states, strict=True):
            assert ours.brine == (theirs.water_kg > 1e-3), ours.rh_percent
            if not ours.brine:
                continue
            # SLSQP stops near the lowest energy, not at it.
            assert abs(theirs.water_kg - ours.water_kg) < 0.02 * ours.water_kg, ours.rh_percent
            found = {n: x for n, x in zip(names, theirs.solids, strict=True) if x > 0.01}
            assert found.keys() <= ours.solids.keys(), (ours.rh_percent, found, ours.solids)

    name = "five ions at 200 humidities, solids, brine and onsets"
    yield name, "200x", lambda: brine.mixture(IONS, rh_percent=HUMIDITIES), reference, agree
