"""The mass balances as a loop for the just-in-time compiler numba, which is optional."""

from typing import Any

import numpy as np
from numba import njit

WATER = 0.018015268  # kg/mol


@njit
def solve_in_place(matrix: Any, right: Any) -> None:
    """Gaussian elimination with row pivots; the answer replaces the right side."""
    n = len(right)
    for k in range(n):
        best = k
        for i in range(k + 1, n):
            if abs(matrix[i, k]) > abs(matrix[best, k]):
                best = i
        if best != k:
            for j in range(k, n):
                matrix[k, j], matrix[best, j] = matrix[best, j], matrix[k, j]
            right[k], right[best] = right[best], right[k]
        for i in range(k + 1, n):
            factor = matrix[i, k] / matrix[k, k]
            for j in range(k + 1, n):
                matrix[i, j] -= factor * matrix[k, j]
            right[i] -= factor * right[k]
    for k in range(n - 1, -1, -1):
        total = right[k]
        for j in range(k + 1, n):
            total -= matrix[k, j] * right[j]
        right[k] = total / matrix[k, k]


@njit
def coefficients(m: Any, square: Any, slope: float, epsilon: Any, ln_gamma: Any) -> float:
    """Fill ln gamma; return ln a(w)."""
    total, twice = 0.0, 0.0
    for i in range(len(m)):
        total += m[i]
        twice += m[i] * square[i]
    if slope == 0:
        return -WATER * total
    root = np.sqrt(0.5 * twice)
    law = slope * root / (1 + 1.5 * root)
    y = 1.5 * root
    excess = slope * 4 / 3.375 * (np.log1p(y) - y + 0.5 * y * y)
    for i in range(len(m)):
        pairs = 0.0
        for j in range(len(m)):
            pairs += epsilon[i, j] * m[j]
        ln_gamma[i] = pairs - law * square[i]
        excess += m[i] * (ln_gamma[i] - 0.5 * pairs)
    return -WATER * (total + excess)


@njit
def newton_loop(
    a: Any, k: Any, w: Any, hydrogen: Any, electron: Any, square: Any, slope: float, epsilon: Any,
    totals: Any, ln_h: Any, ln_e: Any,
) -> Any:  # fmt: skip
    """ln m of every water, (waters, species)."""
    waters, c = totals.shape
    n = len(k)
    out = np.full((waters, n), np.nan)
    u, m, ln_gamma = np.zeros(n), np.zeros(n), np.zeros(n)
    x, total, lack, jacobian = np.zeros(c), np.zeros(c), np.zeros(c), np.zeros((c, c))
    base, shift = np.zeros(n), np.zeros(n)
    for r in range(waters):
        x[:] = np.log(totals[r]) - 3
        shift[:] = 0
        base[:] = k - ln_h[r] * hydrogen - ln_e[r] * electron
        for _ in range(200):
            total[:] = 0
            jacobian[:] = 0
            for i in range(n):
                u[i] = base[i] + shift[i]
                for f in range(c):
                    u[i] += a[i, f] * x[f]
                m[i] = np.exp(min(u[i], 50.0))
                for f in range(c):
                    part = a[i, f] * m[i]
                    if part == 0:
                        continue
                    total[f] += part
                    for g in range(c):
                        jacobian[f, g] += part * a[i, g]
            error = 0.0
            for f in range(c):
                lack[f] = np.log(total[f] / totals[r, f])
                error = max(error, abs(lack[f]))
                for g in range(c):
                    jacobian[f, g] /= total[f]
            ln_water = coefficients(m, square, slope, epsilon, ln_gamma)
            for i in range(n if error < 1 else 0):  # far off they make no sense yet
                new = w[i] * ln_water - ln_gamma[i]
                error = max(error, abs(new - shift[i]))
                shift[i] = new
            if error < 1e-10:
                out[r] = u
                break
            solve_in_place(jacobian, lack)
            for f in range(c):
                x[f] -= max(-5.0, min(5.0, lack[f]))
    return out
