"""Stores and solid reserve against SciPy's method of lines, on random treatments."""

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.special import erf

from aeruca.bath_decision import ChlorideStore, reserve_series, spread_stores, stores_series

DIMENSION = {"slab": 1, "cylinder": 2, "sphere": 3}


def stores_by_lines(stores, tau, alpha, cells):
    """Finite volumes graded to the surface, in each store; SciPy's BDF in time."""
    volumes, start, links = [], [], []
    for store in stores:
        d = DIMENSION[store.shape]
        faces = 1 - (1 - np.linspace(0, 1, cells + 1)) ** 2.5
        centres = 0.5 * (faces[1:] + faces[:-1])
        first = len(volumes)
        size = np.diff(faces**d) * store.capacity_share
        volumes += list(size)
        start += [store.load_share / store.capacity_share] * cells
        inner = d * faces[1:-1] ** (d - 1) / np.diff(centres) * store.capacity_share * store.rate
        links += [(first + i, first + i + 1, k) for i, k in enumerate(inner)]
        film = 0 if math.isinf(store.biot) else 1 / store.biot
        at_surface = d / ((1 - centres[-1]) + film) * store.capacity_share * store.rate
        links.append((first + cells - 1, -1, at_surface))
    volumes = np.array(volumes)
    n = len(volumes)
    a, b, k = (np.array(x) for x in zip(*links, strict=True))
    b = np.where(b < 0, n, b)
    u, out = np.array(start), []
    for length, size in zip(tau, alpha, strict=True):
        capacity = np.append(volumes, size)
        matrix = np.zeros((n + 1, n + 1))
        np.add.at(matrix, (a, a), -k)
        np.add.at(matrix, (b, b), -k)
        np.add.at(matrix, (a, b), k)
        np.add.at(matrix, (b, a), k)
        matrix /= capacity[:, None]
        done = solve_ivp(
            lambda _, y, m=matrix: m @ y,
            (0, length),
            np.append(u, 0.0),
            method="BDF",
            jac=matrix,
            rtol=1e-9,
            atol=1e-12,
        )
        u = done.y[:-1, -1]
        out.append((done.y[-1, -1] * size, volumes @ u))
    return np.array(out)


def random_stores(kind, random):
    if kind == "two stores":
        slow = random.uniform(0.1, 0.7)
        return [
            ChlorideStore(load_share=1 - slow, capacity_share=0.6),
            ChlorideStore(load_share=slow, capacity_share=0.4, rate=1 / random.uniform(5, 60)),
        ]
    if kind == "spread":
        return spread_stores(random.uniform(0.4, 1.5), 4)
    if kind == "film":
        return [ChlorideStore(shape="cylinder", biot=math.exp(random.uniform(0, 4)))]
    return [
        ChlorideStore("sphere", load_share=0.5, capacity_share=0.3),
        ChlorideStore("slab", load_share=0.5, capacity_share=0.7, rate=0.2, biot=5.0),
    ]


@pytest.mark.parametrize("kind", ["two stores", "spread", "film", "sphere beside a slab"])
def test_stores_are_the_method_of_lines_to_a_millionth(kind):
    random = np.random.default_rng(3)
    for _ in range(2):
        stores = random_stores(kind, random)
        count = random.integers(2, 5)
        tau = np.exp(random.uniform(math.log(0.02), math.log(0.5), count))
        alpha = np.exp(random.uniform(0, math.log(40), count))
        ours = np.column_stack(stores_series(stores, tau, alpha))
        coarse = stores_by_lines(stores, tau, alpha, 60)
        fine = stores_by_lines(stores, tau, alpha, 120)
        # Second order in the cells: a third of what halving them changes is left in the fine.
        limit = fine + (fine - coarse) / 3
        np.testing.assert_allclose(ours, limit, rtol=0, atol=1e-6)


def reserve_by_lines(solid, tau, alpha, cells):
    """The front held at 1 in a moving frame, even cells, BDF; the bath as one more unknown."""
    h = 1 / cells
    middle = (np.arange(cells) + 0.5) * h
    wanted = 1 / solid
    k = 0.1
    for _ in range(200):  # sqrt(pi) k exp(k^2) erf(k) = wanted
        value = math.sqrt(math.pi) * k * math.exp(k * k) * math.erf(k) - wanted
        slope = math.sqrt(math.pi) * math.exp(k * k) * math.erf(k) * (1 + 2 * k * k) + 2 * k
        k -= value / slope
    depth = 1e-4
    u = erf(k * middle) / erf(k)
    state = np.concatenate([u, [depth**2, depth * (1 + solid - u.mean())]])
    begun = (depth / (2 * k)) ** 2
    left, out = 1 + solid, []
    for length, size in zip(tau, alpha, strict=True):

        def slope_of(_, y, size=size):
            u, square, drawn = y[:cells], y[cells], y[cells + 1]
            rise = 2 * (1 - u[-1]) / h
            move = rise / solid
            entering = 2 * (u[0] - drawn / size) / h
            flow = np.concatenate([[entering], np.diff(u) / h, [rise]])
            face = np.concatenate([[0], 0.5 * (u[1:] + u[:-1]), [1]]) * np.linspace(0, 1, cells + 1)
            change = (np.diff(flow) / h + move * (np.diff(face) / h - u)) / square
            return np.concatenate([change, [2 * move, entering / math.sqrt(square)]])

        done = solve_ivp(slope_of, (begun, length), state, method="BDF", rtol=1e-8, atol=1e-10)
        state = done.y[:, -1].copy()
        left -= state[-1]
        out.append((state[-1], left, math.sqrt(state[cells])))
        state[-1] = 0
        begun = 0
    return np.array(out) / [1 + solid, 1 + solid, 1]


@pytest.mark.parametrize("solid", [2.0, 10.0, 40.0])
def test_a_reserve_is_the_method_of_lines_to_a_ten_thousandth(solid):
    # As long as the front has not reached the metal: after that it is diffusion, tested elsewhere.
    tau, alpha = np.array([0.1, 0.3, 0.2]) * min(1, solid / 5), [8.0, 3.0, 20.0]
    ours = np.column_stack(reserve_series(solid, tau, alpha))
    coarse = reserve_by_lines(solid, tau, alpha, 60)
    fine = reserve_by_lines(solid, tau, alpha, 120)
    assert fine[-1, 2] < 1
    np.testing.assert_allclose(ours, fine + (fine - coarse) / 3, rtol=0, atol=1e-4)


def test_a_reserve_that_is_gone_leaves_by_diffusion():
    # Long after the solid is gone the slowest mode alone is left: pi^2/4 for a sink.
    result = reserve_series(2.0, [1.7, 0.3, 0.3], math.inf)
    assert result.front[0] == 1
    assert result.left[2] / result.left[1] == pytest.approx(
        math.exp(-(math.pi**2) / 4 * 0.3), rel=5e-3
    )


def test_chloride_is_neither_made_nor_lost():
    tau, alpha = [0.1, 0.2, 0.3], [5.0, 9.0, 2.0]
    for result in (
        stores_series(spread_stores(1.2), tau, alpha),
        reserve_series(10.0, tau, alpha),
    ):
        np.testing.assert_allclose(np.cumsum(result.in_bath) + result.left, 1, atol=1e-9)
