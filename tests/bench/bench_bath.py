"""Fitting a bath log: the same posterior by finite volumes and matrix exponentials with SciPy."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import numpy as np
from scipy.linalg import expm

import aeruca

LOG = Path(__file__).parents[2] / "data" / "demo" / "bath-log.csv"
CELLS = 60
ALPHAS = (10.0, 30.0, 100.0)
GRID = 96


def baths() -> tuple[Any, Any, Any]:
    """Days, litres and readings less blank (NaN: none or below detection) of the demo log."""
    rows = [r.split(",") for r in LOG.read_text().splitlines() if r and not r.startswith("#")][1:]
    days = [(np.datetime64(r[1]) - np.datetime64(r[0])).astype(float) for r in rows]
    readings = [float(r[3]) - 0.35 if r[3] and "<" not in r[3] else np.nan for r in rows]
    return np.array(days), np.array([float(r[2]) for r in rows]), np.array(readings)


def finite_volumes(rate: float, mean_alpha: float, days: Any, litres: Any) -> Any:
    """Share of the load in each bath: slab of CELLS cells and a stirred bath, by expm."""
    h = 1 / CELLS
    left, shares = np.full(CELLS, h), []
    for length, litre in zip(days, litres, strict=True):
        alpha = mean_alpha * litre / litres.mean()
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
    """5, 50 and 95 % of the load (mg): posterior over load, rate and partition on a grid."""
    days, litres, readings = baths()
    known = np.isfinite(readings)
    rates, loads = np.geomspace(1e-4, 30, GRID) / days.sum(), np.geomspace(1, 100, GRID) * 120
    weights = np.zeros((len(ALPHAS), GRID, GRID))
    for i, alpha in enumerate(ALPHAS):
        table = np.array([finite_volumes(rate, alpha, days, litres) for rate in rates])
        out = table.sum(axis=1)
        model = table[:, None, :] * loads[None, :, None] / litres
        misfit = ((model - readings) / (0.06 * readings))[..., known]
        # Every share already out is equally likely beforehand, as in ours.
        weights[i] = np.exp(-0.5 * (misfit**2).sum(axis=-1)) * np.gradient(out)[:, None]
    cumulative = np.cumsum(weights.sum(axis=(0, 1)))
    return np.interp([0.05, 0.5, 0.95], cumulative / cumulative[-1], loads)


def cases() -> Iterator[tuple[str, str, Callable[[], Any], Callable[[], Any], Any]]:
    """Yield (name, aim, ours, reference, agreement)."""

    def agree(fit: Any, found: Any) -> None:
        # Readings below detection and errors are treated apart: medians lie in the other's range.
        assert fit.load_mg.low <= found[1] <= fit.load_mg.high
        assert found[0] <= fit.load_mg.median <= found[2]

    log = aeruca.read_bath_log(str(LOG))
    name = "fit of a bath log of 9, posterior on 3 x 96 x 96"
    yield name, "100x", lambda: aeruca.fit_bath_log(log), reference, agree
