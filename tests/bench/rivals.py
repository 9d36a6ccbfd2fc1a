"""The mass balances of many waters as a user would write them: SciPy, NumPy, and a compiled loop.

Unknowns are the ln activities x of the components; ln m = k + a x - ln gamma + w ln a(w), Newton on
the logarithms of the balances, activity coefficients by substitution from round to round once the
balances are near.
"""

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from scipy.optimize import minimize, root

import aeruca
from aeruca.activity import activity_coefficients

LN10 = np.log(10.0)
SLOPE = 8.31446261815324 * 298.15 * LN10 / 96485.33212331001
WATER = 0.018015268  # kg/mol
ROUNDS = 200
DONE = 1e-10


@dataclass(frozen=True)
class Balances:
    """A system as a user takes it from the data set: rows and constants over its components."""

    components: list[str]
    dissolved: list[str]
    solids: list[str]
    activity: str = "ideal"

    def _rows(self, names: list[str]) -> tuple[Any, Any]:
        dataset = aeruca.default_dataset()
        species = [dataset[name] for name in names]
        rows = np.array([entry.components for entry in species])
        return rows.reshape(-1, len(dataset.components)), np.array(
            [entry.log10_k * LN10 for entry in species]
        )

    def _column(self, name: str) -> int:
        return aeruca.default_dataset().components.index(name)

    def of(self, names: list[str]) -> tuple[Any, Any, Any, Any, Any]:
        """Rows over the components, ln k, and coefficients of H2O, H(+) and e(-)."""
        rows, k = self._rows(names)
        chosen = rows[:, [self._column(name) for name in self.components]]
        held = (rows[:, self._column(name)] for name in ("H2O", "H(+)", "e(-)"))
        return (np.ascontiguousarray(chosen), k, *held)

    @cached_property
    def species(self) -> tuple[Any, Any, Any, Any, Any]:
        return self.of(self.dissolved)

    @cached_property
    def charge(self) -> Any:
        dataset = aeruca.default_dataset()
        return np.array([float(dataset[name].charge) for name in self.dissolved])

    @cached_property
    def interaction(self) -> tuple[float, Any]:
        """A (natural logarithm) and epsilon of the specific-ion model, from one ion at a time."""
        n = len(self.dissolved)
        if self.activity == "ideal":
            return 0.0, np.zeros((n, n))
        found = activity_coefficients(self.activity, self.dissolved, np.eye(n))
        ln_gamma, square = np.log(found.gamma), self.charge**2
        law = np.array([0.0 if z == 0 else ln_gamma[j, j] / z for j, z in enumerate(square)])
        ion = int(np.flatnonzero(square == 1)[0])  # alone at 1 mol/kg: I = 1/2
        root_i = np.sqrt(0.5)
        a = -law[ion] * (1 + 1.5 * root_i) / root_i
        epsilon = ln_gamma.T - np.outer(square, law)  # [i, j] for j alone at 1 mol/kg
        return float(a), np.ascontiguousarray(epsilon)

    def constants(self, names: list[str], ph: Any, eh: Any) -> Any:
        """Ln k with pH and Eh folded in, (waters, species)."""
        _, k, _, hydrogen, electron = self.of(names)
        ph, eh = np.atleast_1d(ph), np.atleast_1d(eh)
        return k - np.outer(ph * LN10, hydrogen) - np.outer(eh / SLOPE * LN10, electron)


def scipy_one(balances: Balances, totals: Any, ph: float, eh: float) -> Any:
    """ln m by scipy.optimize.root with its Jacobian, coefficients in an outer loop."""
    a, _, w, _, _ = balances.species
    base = balances.constants(balances.dissolved, ph, eh)[0]
    names, model = balances.dissolved, balances.activity
    # Logarithms of the balances: with the plain ones the solver stops at its start.
    x, shift = np.log(totals) - 3, np.zeros(len(base))
    for _ in range(ROUNDS if model != "ideal" else 1):

        def balance(x: Any, k: Any = base + shift) -> Any:
            n = np.exp(np.minimum(k + a @ x, 50))
            total = a.T @ n
            return np.log(total / totals), (a.T @ (n[:, None] * a)) / total[:, None]

        x = root(balance, x, jac=True, method="hybr", tol=1e-12).x
        if model == "ideal":
            break
        found = activity_coefficients(model, names, np.exp(base + shift + a @ x))
        new = w * np.log(found.water_activity) - np.log(found.gamma)
        change, shift = np.abs(new - shift).max(), new
        if change < DONE:
            break
    return base + shift + a @ x


def scipy_solids(balances: Balances, totals: Any, ph: float, eh: float) -> Any:
    """ln m with solids allowed, ideal, water activity 1: the convex dual by SLSQP."""
    a = balances.species[0]
    k = balances.constants(balances.dissolved, ph, eh)[0]
    s = balances.of(balances.solids)[0]
    c = balances.constants(balances.solids, ph, eh)[0]

    def value(x: Any) -> Any:
        n = np.exp(np.minimum(k + a @ x, 50))
        return n.sum() - totals @ x, a.T @ n - totals

    bound = {"type": "ineq", "fun": lambda x: -(c + s @ x), "jac": lambda x: -s}
    found = minimize(value, np.log(totals) - 30, jac=True, method="SLSQP", constraints=[bound],
                     options={"maxiter": 500, "ftol": 1e-14})  # fmt: skip
    return k + a @ found.x


def numpy_many(balances: Balances, totals: Any, ph: Any, eh: Any) -> Any:
    """ln m of all waters at once; those that are done leave the arrays."""
    a, _, w, _, _ = balances.species
    slope, epsilon = balances.interaction
    square = balances.charge**2
    base = balances.constants(balances.dissolved, ph, eh)
    out = np.full_like(base, np.nan)
    todo, x = np.arange(len(base)), np.log(totals) - 3
    shift = np.zeros_like(base)
    for _ in range(ROUNDS):
        u = base[todo] + x @ a.T + shift
        m = np.exp(np.minimum(u, 50))
        total = m @ a
        lack = np.log(total / totals[todo])
        jacobian = ((m[:, None, :] * a.T) @ a) / total[:, :, None]
        step = np.linalg.solve(jacobian, lack[:, :, None])[:, :, 0]
        # Far from balance the coefficients make no sense yet.
        near = np.abs(lack).max(axis=1, keepdims=True) < 1
        new = np.where(near, water_and_gamma(m, w, square, slope, epsilon), shift)
        done = np.maximum(np.abs(lack).max(axis=1), np.abs(new - shift).max(axis=1)) < DONE
        out[todo[done]] = u[done]
        rest = ~done
        todo, x, shift = todo[rest], (x - np.clip(step, -5, 5))[rest], new[rest]
        if not len(todo):
            break
    return out


def water_and_gamma(m: Any, w: Any, square: Any, slope: float, epsilon: Any) -> Any:
    """W ln a(w) - ln gamma."""
    total = m.sum(axis=1)
    if slope == 0:
        return np.outer(-WATER * total, w)
    strength = 0.5 * m @ square
    root_i = np.sqrt(strength)
    law = slope * root_i / (1 + 1.5 * root_i)
    pairs = m @ epsilon
    y = 1.5 * root_i
    f = slope * 4 / 1.5**3 * (np.log1p(y) - y + 0.5 * y * y)
    ln_gamma = pairs - law[:, None] * square
    excess = (m * ln_gamma).sum(axis=1) - 0.5 * (m * pairs).sum(axis=1) + f
    return np.outer(-WATER * (total + excess), w) - ln_gamma


def compiled_many(balances: Balances, totals: Any, ph: Any, eh: Any) -> Any:
    """The same water by water, compiled; one thread."""
    from compiled import newton_loop

    a, k, w, hydrogen, electron = balances.species
    slope, epsilon = balances.interaction
    return newton_loop(a, k, w, hydrogen, electron, balances.charge**2, slope, epsilon, totals,
                       ph * LN10, eh / SLOPE * LN10)  # fmt: skip
