#!/usr/bin/env python3
"""Works out unsymmetric.csv: Pitzer's J(x) and x J'(x) with 40 digits, straight from eq 46.

    python tests/reference/unsymmetric.py

by hand only; needs mpmath. J(x) = x/4 - 1 + (1/x) int_0^inf [1 - exp(-(x/y) e^-y)] y^2 dy (Pitzer
1975, J. Solution Chem. 4, 249, eq 46), over ln y by tanh-sinh quadrature; no transformation that
the library uses, the cancellation is left to the digits.
"""

from pathlib import Path

import mpmath as mp

mp.mp.dps = 40


def j_of(x: mp.mpf) -> mp.mpf:
    """J by eq 46."""

    def inside(t: mp.mpf) -> mp.mpf:
        y = mp.exp(t)
        return -mp.expm1(-(x / y) * mp.exp(-y)) * y**3

    pieces = [-60, -30, -15, -8, -4, -2, -1, 0, 1, 2, 3, 4, 5, 6]
    return x / 4 - 1 + mp.quad(inside, pieces) / x


def slope(x: mp.mpf) -> mp.mpf:
    """X J' by the derivative of eq 46 under the integral."""

    def by_x(t: mp.mpf) -> mp.mpf:
        y = mp.exp(t)
        return mp.exp(-(x / y) * mp.exp(-y) - y) * y**2

    def inside(t: mp.mpf) -> mp.mpf:
        y = mp.exp(t)
        return -mp.expm1(-(x / y) * mp.exp(-y)) * y**3

    pieces = [-60, -30, -15, -8, -4, -2, -1, 0, 1, 2, 3, 4, 5, 6]
    return x / 4 - mp.quad(inside, pieces) / x + mp.quad(by_x, pieces)


def main() -> None:
    """Write the table."""
    lines = [
        "# Pitzer's J(x) and x J'(x) by quadrature of eq 46 with 40 digits (unsymmetric.py).",
        "x,j,x_j_prime",
    ]
    for exponent in range(-10, 10):
        for lead in ("1", "3"):
            x = mp.mpf(lead) * mp.mpf(10) ** (mp.mpf(exponent) / 2)
            lines.append(f"{mp.nstr(x, 18)},{mp.nstr(j_of(x), 18)},{mp.nstr(slope(x), 18)}")
    (Path(__file__).parent / "unsymmetric.csv").write_text("\n".join(lines) + "\n", "utf-8")


if __name__ == "__main__":
    main()
