"""The same convex problems solved by a general-purpose conic solver, to 1e-8 in log concentration.

Ours minimises over component potentials. Here the Gibbs energy itself is minimised over amounts,
with exponential cones: sum of m (ln m - 1 - c) - sum of g n, subject to the mass balances.
Activity coefficients and water activity are those of our final answer, so that non-ideal models are
covered too.

Scaling. Each molality is a multiple x of its guess, so that every cone has its solution near
(0, 1, 1). Species that carry less than 1e-11 of every balance cannot be seen by the conic solver
and are left out of it; all species, these too, are compared through the multipliers of the
balances, which are the potentials. With exponential cones alone those come out good to
1e-6 or so (printed); three quadratic problems around the conic answer, by the same
solver, bring them to rounding.
"""

from typing import Any

import clarabel
import numpy as np
import pytest
import scipy.sparse as sp

import aeruca

LN10 = np.log(10.0)
NERNST_V = 8.31446261815324 * 298.15 * LN10 / 96485.33212331001


def rows(names: list[str]) -> tuple[Any, Any]:
    """Component coefficients and ln K of species or solids."""
    dataset = aeruca.default_dataset()
    species = [dataset[name] for name in names]
    a = np.array([s.components for s in species]).reshape(len(names), len(dataset.components))
    return a, np.array([s.log10_k for s in species]) * LN10


def precise() -> Any:
    """Settings for the last digits."""
    settings = clarabel.DefaultSettings()
    settings.verbose = False
    settings.tol_gap_abs = settings.tol_gap_rel = settings.tol_feas = 1e-13
    return settings


def refined(lam: Any, a: Any, c: Any, s: Any, g: Any, totals: Any) -> Any:
    """Better potentials: the quadratic model of the dual at `lam`, solids as inequalities."""
    m = np.exp(c + a @ lam)
    lack = a.T @ m - totals
    curvature = a.T @ (m[:, None] * a)
    unit = 1 / np.sqrt(np.diag(curvature))
    room = -(g + s @ lam)
    grow = 1e6  # the step is some 1e-6: ask for it in units of its own size
    solver = clarabel.DefaultSolver(
        sp.csc_matrix(np.triu(curvature * unit[:, None] * unit)),
        lack * unit * grow,
        sp.csc_matrix(s * unit),
        room * grow,
        [clarabel.NonnegativeConeT(len(g))] if len(g) else [],
        precise(),
    )
    answer = solver.solve()
    assert str(answer.status) in ("Solved", "AlmostSolved"), answer.status
    return lam + np.array(answer.x) * unit / grow


def potentials(a: Any, c: Any, s: Any, g: Any, totals: Any, scale: Any) -> Any:
    """Component potentials of: min sum m (ln m - 1 - c) - g . n, a' m + s' n = totals, m, n >= 0.

    `scale` guesses ln m.
    """
    species, columns = a.shape
    solids = s.shape[0]
    # Variables: t (species), x = m / exp(scale), n / largest total.
    weight = np.exp(scale)
    unit = np.max(totals)
    # m ln m - m - c m = weight (x ln x - x + (scale - c) x); t >= x ln x.
    cost = np.concatenate([weight, weight * (scale - c - 1), -g * unit])
    balance = np.hstack([np.zeros((columns, species)), a.T * weight, s.T * unit])
    row_scale = 1 / totals
    matrix = [sp.csc_matrix(balance * row_scale[:, None])]
    right = [totals * row_scale]
    cones: list[Any] = [clarabel.ZeroConeT(columns)]
    if solids:
        matrix.append(sp.hstack([sp.csc_matrix((solids, 2 * species)), -sp.eye(solids)]))
        right.append(np.zeros(solids))
        cones.append(clarabel.NonnegativeConeT(solids))
    # Exponential cone (r, y, z): y exp(r / y) <= z. With r = -t, y = x, z = 1: x ln x <= t.
    for i in range(species):
        block = sp.lil_matrix((3, 2 * species + solids))
        block[0, i] = 1.0
        block[1, species + i] = -1.0
        matrix.append(block)
        right.append(np.array([0.0, 0.0, 1.0]))
        cones.append(clarabel.ExponentialConeT())
    size = 2 * species + solids
    solver = clarabel.DefaultSolver(
        sp.csc_matrix((size, size)),
        cost,
        sp.vstack(matrix).tocsc(),
        np.concatenate(right),
        cones,
        precise(),
    )
    answer = solver.solve()
    assert str(answer.status) in ("Solved", "AlmostSolved", "InsufficientProgress"), answer.status
    return -np.array(answer.z[:columns]) * row_scale


WITH_CARBONATE = {
    "Cu(2+)": 0.02,
    "Cl(-)": 0.05,
    "Na(+)": 0.3,
    "CO3(2-)": 0.1,
    "SO4(2-)": 0.02,
    "Ca(2+)": 0.01,
}
CASES: list[tuple[str, dict[str, float], dict[str, Any], dict[str, float]]] = [
    (
        "chloride complexes of copper(II)",
        {"Cu(2+)": 1e-3, "Cl(-)": 0.5, "Na(+)": 0.5},
        {"activity": "ideal"},
        {"ph": 5.0, "eh_v": 0.6},
    ),
    (
        "both valences",
        {"Cu(2+)": 2e-3, "Cl(-)": 1.0, "Na(+)": 1.0},
        {"activity": "ideal"},
        {"ph": 3.0, "eh_v": 0.35},
    ),
    (
        "hydroxides, polynuclear",
        {"Cu(2+)": 0.05, "NO3(-)": 0.1},
        {"activity": "ideal"},
        {"ph": 5.2, "eh_v": 0.7},
    ),
    (
        "tenorite or a trihydroxychloride",
        {"Cu(2+)": 0.01, "Cl(-)": 0.1, "Na(+)": 0.1},
        {"activity": "ideal", "precipitation": "allowed"},
        {"ph": 7.0, "eh_v": 0.5},
    ),
    (
        "nantokite beside cuprite",
        {"Cu(2+)": 0.05, "Cl(-)": 0.02, "Na(+)": 0.01},
        {"activity": "ideal", "precipitation": "allowed"},
        {"ph": 4.5, "eh_v": 0.1},
    ),
    (
        "carbonate and sulfate with solids",
        WITH_CARBONATE,
        {"activity": "ideal", "precipitation": "allowed"},
        {"ph": 8.5, "eh_v": 0.5},
    ),
    (
        "the same with SIT coefficients",
        WITH_CARBONATE,
        {"activity": "sit", "precipitation": "allowed"},
        {"ph": 8.5, "eh_v": 0.5},
    ),
]


@pytest.mark.parametrize("case", CASES, ids=[case[0] for case in CASES])
def test_potentials_agree_with_a_conic_solver(
    case: tuple[str, dict[str, float], dict[str, Any], dict[str, float]],
) -> None:
    name, totals, options, held = case
    columns = list(totals)
    system = aeruca.Equilibrium(components=columns, **options)
    ours = system.solve(totals, **held)
    ours.raise_if_failed()

    components = list(aeruca.default_dataset().components)
    free = [components.index(column) for column in columns]
    ln_a = np.zeros(len(components))
    ln_a[components.index("H2O")] = np.log(ours.water_activity)
    ln_a[components.index("H(+)")] = -held["ph"] * LN10
    ln_a[components.index("e(-)")] = -held["eh_v"] / NERNST_V * LN10
    ln_gamma = (ours.log10_activity - ours.log10_molality) * LN10

    a, k = rows(system.species)
    constant = k + a @ ln_a - ln_gamma
    s, g = rows(system.allowed_solids)
    ln_m0 = ours.log10_molality * LN10
    amounts = np.array(list(totals.values()))
    # H(+), OH(-) hold none of the balanced components and follow from the pH alone.
    balanced = np.any(a[:, free] != 0, axis=1)
    carries = np.max(a[:, free] * np.exp(ln_m0)[:, None] / amounts, axis=1) > 1e-11
    used = balanced & carries
    # A guess some per cent beside our answer, so that it does not carry the answer in.
    guess = ln_m0[used] + np.random.default_rng(3).uniform(-0.05, 0.05, int(used.sum()))
    theirs = potentials(a[used][:, free], constant[used], s[:, free], g + s @ ln_a, amounts, guess)

    conic = np.max(np.abs(constant + a[:, free] @ theirs - ln_m0)[balanced]) / LN10
    for _ in range(3):
        theirs = refined(
            theirs, a[balanced][:, free], constant[balanced], s[:, free], g + s @ ln_a, amounts
        )
    ln_m = constant + a[:, free] @ theirs
    gap = np.abs(ln_m / LN10 - ours.log10_molality)[balanced]
    print(
        f"{name}: log10 of {gap.size} concentrations agree to {gap.max():.1e} (cones {conic:.1e})"
    )
    assert conic < 1e-4
    assert gap.max() < 1e-8
