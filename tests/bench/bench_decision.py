"""Baths: one treatment forward, the posterior over all ways of release, a decision, a plan."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import emcee
import numpy as np
from job import Job, Rival
from scipy.integrate import solve_ivp

import aeruca
from aeruca.bath_decision import ChlorideStore, infer_bath_log, stores_series

LOG = Path(__file__).parents[2] / "data" / "demo" / "bath-log.csv"
STORES = [
    ChlorideStore(load_share=0.6, capacity_share=0.6),
    ChlorideStore(load_share=0.4, capacity_share=0.4, rate=1 / 30),
]
TAU = np.full(10, 0.05)
ALPHA = np.array([30.0, 20, 30, 40, 30, 25, 30, 35, 30, 30])
CELLS = 60
EFFECTIVE = 200  # draws of the slab that ours holds effective on this log


def lines() -> Any:
    """Two slabs of cells and the bath, by SciPy's BDF to 1e-6."""
    faces = 1 - (1 - np.linspace(0, 1, CELLS + 1)) ** 2.5
    centres = 0.5 * (faces[1:] + faces[:-1])
    n = 2 * CELLS + 1
    rates, sizes = np.zeros((n, n)), []
    for j, store in enumerate(STORES):
        at = j * CELLS
        sizes += list(np.diff(faces) * store.capacity_share)
        inner = store.capacity_share * store.rate / np.diff(centres)
        for i, k in enumerate(inner):
            rates[at + i, at + i + 1] = rates[at + i + 1, at + i] = k
        surface = store.capacity_share * store.rate / (1 - centres[-1])
        rates[at + CELLS - 1, -1] = rates[-1, at + CELLS - 1] = surface
    u, out = np.ones(n - 1), []
    for tau, alpha in zip(TAU, ALPHA, strict=True):
        capacity = np.append(sizes, alpha)
        matrix = (rates - np.diag(rates.sum(axis=1))) / capacity[:, None]
        done = solve_ivp(
            lambda _, y, m=matrix: m @ y, (0, tau), np.append(u, 0.0), method="BDF", jac=matrix,
            rtol=1e-6, atol=1e-9,
        )  # fmt: skip
        u = done.y[:-1, -1]
        out.append(done.y[-1, -1] * alpha)
    return np.array(out)


def slab_series() -> Any:
    """What a bath log's numbers are for a slab: days, litres, readings, errors."""
    log = aeruca.read_bath_log(str(LOG))
    read = [b for b in log.baths if b.kind == "measured"]
    return log, read


def ensemble() -> Any:
    """Posterior of the slab by an ensemble sampler, as many effective draws as ours holds."""
    log, read = slab_series()
    days = np.array([b.end_day - b.start_day for b in log.baths])
    litres = np.array([b.volume_l for b in log.baths])
    where = [i for i, b in enumerate(log.baths) if b.kind == "measured"]
    seen = np.array([b.chloride_mg_per_l - b.blank_mg_per_l for b in read])
    errors = np.array([b.error_mg_per_l for b in read])
    one = [ChlorideStore()]

    def log_density(z: Any) -> float:
        load, rate, alpha = 100 * 8 ** z[0], 0.01 * 6 ** z[1], 30 * 3 ** z[2]
        if not 1e-6 < rate < 1e2:
            return -np.inf
        mean = load * stores_series(one, rate * days, alpha * litres).in_bath / litres
        sigma = np.hypot(errors, 0.02 * mean[where])
        square = ((seen - mean[where]) / sigma) ** 2
        parts = 0.97 * np.exp(-0.5 * square) + 0.0075 * np.exp(-square / 32)
        return float(np.sum(np.log(np.maximum(parts / sigma, 1e-300))) - 0.5 * np.sum(z**2))

    start = np.array([0.25, -0.3, 0.0]) + 0.05 * np.random.default_rng(1).standard_normal((12, 3))
    sampler = emcee.EnsembleSampler(12, 3, log_density)
    sampler.run_mcmc(start, 60)
    return 100 * 8 ** np.median(sampler.get_chain(discard=20, flat=True)[:, 0])


def cases() -> Iterator[Job]:
    """Forward, posterior of one model and of all, decision, plan."""

    def near(ours: Any, theirs: Any) -> None:
        np.testing.assert_allclose(ours.in_bath, theirs, rtol=0, atol=2e-4)

    yield Job(
        "two stores through ten baths",
        lambda: stores_series(STORES, TAU, ALPHA),
        {"SciPy lines": Rival(lines)},
        near,
    )
    log = aeruca.read_bath_log(str(LOG))

    def alike(ours: Any, theirs: Any) -> None:
        assert 0.5 < ours.load_mg.median / theirs < 2

    # About 35 steps make one effective draw: 60 steps of 12 walkers are a part of the job.
    share = (60 * 12 / 35) / EFFECTIVE
    yield Job(
        "posterior of a slab, 200 effective draws",
        lambda: infer_bath_log(log, models=["slab"]),
        {"emcee on our forward": Rival(ensemble, share)},
        alike,
    )

    def nothing(ours: Any, theirs: Any) -> None:
        assert ours.status == "converged"

    yield Job("posterior over all ways of release", lambda: infer_bath_log(log), {}, nothing)
    yield Job("decision", lambda: aeruca.decide_bath(log, object_mass_g=180), {}, nothing)
    plan = lambda: aeruca.plan_baths(log, 60, target_left_mg=20)  # noqa: E731
    yield Job("plan: times, water, target", plan, {}, nothing)
