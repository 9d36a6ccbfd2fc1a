"""Equilibria against the same equations solved with SciPy: one water, and a hundred thousand."""

from collections.abc import Callable, Iterator
from typing import Any

import numpy as np
from scipy.optimize import minimize, root

import aeruca

COMPONENTS = ["Cu(2+)", "Cl(-)", "Na(+)"]
LN10 = np.log(10.0)
SLOPE = 8.31446261815324 * 298.15 * LN10 / 96485.33212331001
MANY = 100_000
FEW = 100  # of the reference, scaled up: it would take minutes


class Reference:
    """Ideal mass balances in ln a of the components, as a user would write them."""

    def __init__(self, dissolved: list[str], solids: list[str]) -> None:
        dataset = aeruca.default_dataset()
        self.names = list(dataset.components)
        self.columns = [self.names.index(name) for name in COMPONENTS]
        self.a, self.g = self._rows(dataset, dissolved)
        self.s, self.h = self._rows(dataset, solids)

    def _rows(self, dataset: Any, names: list[str]) -> tuple[Any, Any]:
        species = [dataset[name] for name in names]
        rows = np.array([entry.components for entry in species]).reshape(-1, len(self.names))
        return rows, np.array([entry.log10_k * LN10 for entry in species])

    def _constants(self, rows: Any, log_k: Any, ph: float, eh: float) -> Any:
        fixed = rows[:, self.names.index("H(+)")] * -ph * LN10
        fixed += rows[:, self.names.index("e(-)")] * -eh / SLOPE * LN10
        return log_k + fixed

    def solve(self, totals: Any, ph: float, eh: float) -> Any:
        """ln molalities, dissolved species alone, by scipy.optimize.root with its Jacobian."""
        a, k = self.a[:, self.columns], self._constants(self.a, self.g, ph, eh)

        def balance(x: Any) -> Any:
            n = np.exp(np.minimum(k + a @ x, 50))
            total = a.T @ n
            return np.log(total / totals), (a.T @ (n[:, None] * a)) / total[:, None]

        # Logarithms of the balances: with the plain ones the solver stops at its start.
        found = root(balance, np.log(totals) - 3, jac=True, method="hybr", tol=1e-12)
        return k + a @ found.x

    def solve_with_solids(self, totals: Any, ph: float, eh: float) -> Any:
        """The same with solids allowed: the convex dual by SLSQP."""
        a, k = self.a[:, self.columns], self._constants(self.a, self.g, ph, eh)
        s, c = self.s[:, self.columns], self._constants(self.s, self.h, ph, eh)

        def value(x: Any) -> Any:
            n = np.exp(np.minimum(k + a @ x, 50))
            return n.sum() - totals @ x, a.T @ n - totals

        bound = {"type": "ineq", "fun": lambda x: -(c + s @ x), "jac": lambda x: -s}
        start = np.log(totals) - 30
        found = minimize(value, start, jac=True, method="SLSQP", constraints=[bound],
                         options={"maxiter": 500, "ftol": 1e-14})  # fmt: skip
        return k + a @ found.x


def waters(count: int) -> tuple[Any, Any, Any]:
    """Totals (count, 3), pH and Eh of dilute waters."""
    rng = np.random.default_rng(11)
    totals = 10.0 ** rng.uniform([-6, -4, -4], [-3, -1, -1], size=(count, 3))
    return totals, rng.uniform(3, 10, count), rng.uniform(0.0, 0.6, count)


def cases() -> Iterator[tuple[str, str, Callable[[], Any], Callable[[], Any], Any]]:
    """Yield (name, aim, ours, reference, agreement)."""
    plain = aeruca.Equilibrium(components=COMPONENTS, activity="ideal")
    solid = aeruca.Equilibrium(components=COMPONENTS, activity="ideal", precipitation="allowed")
    reference = Reference(list(solid.species), list(solid.allowed_solids))
    totals, ph, eh = waters(MANY)
    one = dict(zip(COMPONENTS, totals[0], strict=True))

    def same(mine: Any, theirs: Any) -> None:
        # The reference takes the water activity as 1, ours as exp(-0.018 sum m): up to 0.004 in ln
        # for each of up to four H2O in a species.
        assert np.allclose(np.asarray(mine) * LN10, theirs, rtol=0, atol=2e-2)

    yield (
        "one equilibrium, dissolved species",
        "100x",
        lambda: plain.solve(one, ph=ph[0], eh_v=eh[0]).log10_molality,
        lambda: reference.solve(totals[0], ph[0], eh[0]),
        same,
    )
    yield (
        "one equilibrium, solids allowed",
        "100x",
        lambda: solid.solve(one, ph=ph[0], eh_v=eh[0]).log10_molality,
        lambda: reference.solve_with_solids(totals[0], ph[0], eh[0]),
        lambda mine, theirs: None if np.isnan(theirs).any() else same(mine, theirs),
    )
    columns = dict(zip(COMPONENTS, totals.T, strict=True))
    for name, system, call in (
        ("dissolved species", plain, reference.solve),
        ("solids allowed", solid, reference.solve_with_solids),
    ):
        yield from _broadcast(name, system, call, columns, totals, ph, eh)


def _broadcast(
    name: str, system: Any, call: Any, columns: Any, totals: Any, ph: Any, eh: Any
) -> Iterator[tuple[str, str, Callable[[], Any], Callable[[], Any], Any]]:
    few = slice(0, FEW)

    def loop() -> Any:
        rows = zip(totals[few], ph[few], eh[few], strict=True)
        return np.array([call(*row) for row in rows])

    def agree(mine: Any, theirs: Any) -> None:
        gap = np.abs(np.asarray(mine.log10_molality)[few] * LN10 - theirs).max(axis=1)
        # SciPy's solvers give up on some waters; ours answers all of them, with a certificate.
        assert np.mean(gap < 2e-2) > 0.5
        assert np.all(mine.certified)

    # The reference runs FEW waters; its time is scaled by the runner through `scale`.
    loop.scale = MANY / FEW  # type: ignore[attr-defined]
    yield (
        f"{MANY} equilibria broadcast, {name}",
        "1000x",
        lambda: system.solve_many(columns, ph=ph, eh_v=eh),
        loop,
        agree,
    )
