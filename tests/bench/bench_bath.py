"""Fitting a bath log, against finite volumes and least squares with SciPy."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import numpy as np
from scipy.linalg import expm
from scipy.optimize import least_squares

import aeruca

LOG = Path(__file__).parents[2] / "data" / "demo" / "bath-log.csv"
CELLS = 60
ALPHA = 30.0


def baths() -> tuple[Any, Any, Any]:
    """Days, litres and readings less blank (NaN: none or below detection) of the demo log."""
    rows = [r.split(",") for r in LOG.read_text().splitlines() if r and not r.startswith("#")][1:]
    days = [(np.datetime64(r[1]) - np.datetime64(r[0])).astype(float) for r in rows]
    readings = [float(r[3]) - 0.35 if r[3] and "<" not in r[3] else np.nan for r in rows]
    return np.array(days), np.array([float(r[2]) for r in rows]), np.array(readings)


def finite_volumes(rate: float, days: Any, litres: Any) -> Any:
    """Share of the load in each bath: slab of CELLS cells and a stirred bath, by expm."""
    h = 1 / CELLS
    left, shares = np.full(CELLS, h), []
    for length, litre in zip(days, litres, strict=True):
        alpha = ALPHA * litre / litres.mean()
        m = np.zeros((CELLS + 1, CELLS + 1))
        for i in range(CELLS):
            right = 2 / h**2 if i == CELLS - 1 else 1 / h**2
            over = h / alpha if i == CELLS - 1 else 1.0
            m[i, i] -= right
            m[i, i + 1] += right * over
            m[i + 1, i] += right
            m[i + 1, i + 1] -= right * over
        after = expm(m * rate * length) @ np.append(left, 0.0)
        left, inside = after[:CELLS], after[CELLS]
        shares.append(inside)
    return np.array(shares)


def reference() -> Any:
    """Load (mg) and rate (1/day) by least squares, one partition value, no ranges."""
    days, litres, readings = baths()
    known = np.isfinite(readings)

    def misfit(p: Any) -> Any:
        model = np.exp(p[0]) * finite_volumes(np.exp(p[1]), days, litres) / litres
        return (model[known] - readings[known]) / (0.05 * readings[known])

    return np.exp(least_squares(misfit, [np.log(150), np.log(0.005)]).x)


def cases() -> Iterator[tuple[str, str, Callable[[], Any], Callable[[], Any], Any]]:
    """Yield (name, aim, ours, reference, agreement)."""

    def agree(fit: Any, found: Any) -> None:
        # Ours is a posterior over three partition values; the point estimate must lie in its range.
        assert fit.load_mg.low <= found[0] <= fit.load_mg.high

    log = aeruca.read_bath_log(str(LOG))
    name = "fit of a bath log of 9 (ours: whole posterior)"
    yield name, "100x", lambda: aeruca.fit_bath_log(log), reference, agree
