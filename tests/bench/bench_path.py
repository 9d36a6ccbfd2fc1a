"""A two-week path: a coin under salt water, oxygen let in, beside a competent loop of SciPy."""

from collections.abc import Iterator
from typing import Any

import numpy as np
from job import Job, Rival
from scipy.optimize import least_squares

import aeruca
from aeruca import path

COMPONENTS = ["Cu(2+)", "Cl(-)", "Na(+)"]
START = {"copper": 0.1, "halite": 0.6}
SOLIDS = ["copper", "cuprite"]  # those that a coin in plenty of metal has; SciPy is told so
POINTS = 200
FEW = 10  # points of SciPy, scaled up
LN10 = np.log(10.0)


def chemistry() -> Any:
    """Species of the ideal system as (charge, copper, chloride, sodium, electrons), ln K, H."""
    data = aeruca.default_dataset()
    system = aeruca.Equilibrium(components=COMPONENTS, activity="ideal", redox="conserved",
                                acidity="charge_balance")  # fmt: skip
    names = list(system.species) + SOLIDS
    rows = [data[name] for name in names]
    wanted = ["Cu(2+)", "Cl(-)", "Na(+)", "e(-)", "H(+)"]
    place = [data.components.index(name) for name in wanted]
    made_of = np.array([[row.components[j] for j in place] for row in rows])
    charge = np.array([row.charge for row in rows])
    return names, made_of, charge, np.array([row.log10_k for row in rows]) * LN10


def scipy_path(points: int) -> Any:
    """Each point from the last, over ln activities and solids; told which solids there are."""
    names, made_of, charge, ln_k = chemistry()
    n = len(names) - len(SOLIDS)
    solutes, solids = slice(0, n), slice(n, None)
    totals = np.array([0.1, 0.6, 0.6, 0.2])  # copper, chloride, sodium, electrons of the metal

    def residuals(unknown: Any, oxygen: float, there: list[int]) -> Any:
        potentials, amounts = unknown[:5], unknown[5:]
        m = np.exp(np.clip(ln_k[solutes] + made_of[solutes] @ potentials, -300, 5))
        content = m @ made_of[solutes, :4]
        for amount, s in zip(amounts, there, strict=True):
            content = content + amount * made_of[n + s, :4]
        wanted = totals - np.array([0, 0, 0, 4 * oxygen])
        saturated = (ln_k[solids] + made_of[solids] @ potentials)[there]
        return np.concatenate([(content - wanted) / totals, [m @ charge[solutes]], saturated])

    found = []
    guess = np.log([1e-14, 0.6, 0.6, 16.0, 1e-9])  # metal at pH 9
    for oxygen in np.linspace(0.001, 0.0249, points):
        there = [0, 1]
        x0 = np.concatenate([guess, [0.1 - 4 * oxygen, 2 * oxygen]])
        answer = least_squares(residuals, x0, args=(oxygen, there), x_scale="jac", xtol=1e-12)
        guess = answer.x[:5]
        found.append(answer.x[6])
    return np.array(found)


def cases() -> Iterator[Job]:
    """The coin for two weeks, ideal, so that the loop has an afternoon's equations."""

    def ours(to: float = 0.0249) -> Any:
        return path.follow("aerate", START, components=COMPONENTS, activity="ideal",
                           redox="conserved", gas="O2(g)", gas_bar=0.2095, to=to,
                           steps=POINTS, left_out=["tenorite", "spertiniite"])  # fmt: skip

    def agree(mine: Any, theirs: Any) -> None:
        progress = np.linspace(0.001, 0.0249, len(theirs))
        cuprite = np.interp(progress, mine.progress, mine.solid("cuprite"))
        assert np.allclose(cuprite, theirs, atol=2e-5)

    yield Job(
        f"a two-week path, {POINTS} points and its events, ideal",
        ours,
        {"SciPy, told the solids": Rival(lambda: scipy_path(FEW), share=FEW / POINTS)},
        agree,
        aim="20 ms",
    )
    yield Job(
        "the ready coin, both paths, specific-ion, with its words",
        path.coin_in_salt_water,
        {},
        lambda mine, theirs: None,
        aim="50 ms",
    )
