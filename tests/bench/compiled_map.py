"""A map of solids at fixed totals of two components as a loop for numba: an active set by hand."""

from typing import Any

import numpy as np
from compiled import solve_in_place as solved_elsewhere
from numba import njit

solve_in_place = njit(error_model="numpy")(solved_elsewhere.py_func)


@njit(error_model="numpy")
def dissolved(base: Any, a: Any, x: Any, m: Any, sums: Any, jacobian: Any) -> None:
    """Fill molalities, sums of both components and their derivatives by both potentials."""
    sums[:] = 0
    jacobian[:] = 0
    for i in range(len(base)):
        m[i] = np.exp(min(base[i] + a[i, 0] * x[0] + a[i, 1] * x[1], 300.0))
        for f in range(2):
            sums[f] += a[i, f] * m[i]
            for g in range(2):
                jacobian[f, g] += a[i, f] * a[i, g] * m[i]


@njit(error_model="numpy")
def all_dissolved(base: Any, a: Any, totals: Any, x: Any, m: Any, sums: Any, jacobian: Any) -> bool:
    """Newton on the logarithms of both balances."""
    step = np.zeros(2)
    for f in range(2):
        x[f] = np.log(totals[f]) - 0.1
    for _ in range(20):  # the metal first: from above, both balances hang on one complex
        dissolved(base, a, x, m, sums, jacobian)
        x[0] -= np.log(sums[0] / totals[0])
    for _ in range(200):
        dissolved(base, a, x, m, sums, jacobian)
        error = 0.0
        for f in range(2):
            step[f] = np.log(sums[f] / totals[f])
            error = max(error, abs(step[f]))
            for g in range(2):
                jacobian[f, g] /= sums[f]
        if error < 1e-10:
            return True
        solve_in_place(jacobian, step)
        for f in range(2):
            x[f] -= max(-5.0, min(5.0, step[f]))
    return False


@njit(error_model="numpy")
def beside_one(
    base: Any, a: Any, totals: Any, solid: Any, c: float, x: Any, m: Any, sums: Any, jacobian: Any
) -> float:
    """Newton on the second potential, the first tied by a solid; its amount, NaN without answer."""
    slope = -solid[1] / solid[0]
    for _ in range(200):
        x[0] = -(c + solid[1] * x[1]) / solid[0]
        dissolved(base, a, x, m, sums, jacobian)
        amount = (totals[0] - sums[0]) / solid[0]
        lack = sums[1] + solid[1] * amount - totals[1]
        if abs(lack) < 1e-10 * totals[1]:
            return amount
        change = jacobian[1, 1] + jacobian[1, 0] * slope
        change -= solid[1] / solid[0] * (jacobian[0, 1] + jacobian[0, 0] * slope)
        x[1] -= max(-1.0, min(1.0, lack / change))
    return np.nan


@njit(error_model="numpy")
def map_solids(
    a: Any, k: Any, hydrogen: Any, electron: Any, s: Any, c: Any, s_hydrogen: Any, s_electron: Any,
    totals: Any, ln_h: Any, ln_e: Any,
) -> Any:  # fmt: skip
    """Bits of the solids that are there, by water; -1 without an answer."""
    n, solids = len(k), len(c)
    out = np.full(len(ln_h), -1, np.int64)
    base, m, index = np.zeros(n), np.zeros(n), np.zeros(solids)
    x, sums, jacobian, pair = np.zeros(2), np.zeros(2), np.zeros((2, 2)), np.zeros((2, 2))
    right = np.zeros(2)
    for r in range(len(ln_h)):
        for i in range(n):
            base[i] = k[i] - ln_h[r] * hydrogen[i] - ln_e[r] * electron[i]
        for j in range(solids):
            index[j] = c[j] - ln_h[r] * s_hydrogen[j] - ln_e[r] * s_electron[j]
        if not all_dissolved(base, a, totals, x, m, sums, jacobian):
            continue
        first, second = -1, -1
        for _ in range(20):
            worst, most = -1, 1e-9
            for j in range(solids):
                over = index[j] + s[j, 0] * x[0] + s[j, 1] * x[1]
                if j not in (first, second) and over > most:
                    worst, most = j, over
            if worst < 0:
                out[r] = 0
                for j in (first, second):
                    if j >= 0:
                        out[r] |= 1 << j
                break
            if first >= 0 and second >= 0:
                break
            if first < 0:
                first = worst
            else:
                second = worst
                for row, j in enumerate((first, second)):
                    right[row] = -index[j]
                    for f in range(2):
                        pair[row, f] = s[j, f]
                if abs(pair[0, 0] * pair[1, 1] - pair[0, 1] * pair[1, 0]) < 1e-12:
                    first, second = worst, -1  # the same make-up: the less soluble stays
                else:
                    solve_in_place(pair, right)
                    x[:] = right
                    dissolved(base, a, x, m, sums, jacobian)
                    for f in range(2):
                        right[f] = totals[f] - sums[f]
                        pair[f, 0], pair[f, 1] = s[first, f], s[second, f]
                    solve_in_place(pair, right)
                    if right[0] < 0:
                        first, second = second, -1
                    elif right[1] < 0:
                        second = -1
            if second < 0:
                amount = beside_one(base, a, totals, s[first], index[first], x, m, sums, jacobian)
                if not amount >= 0:
                    break
    return out
