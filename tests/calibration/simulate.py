"""Bath treatments simulated by another method than the one that judges them: finite volumes.

Bodies that are linear: cells graded towards the surface, exact in time by the eigenvalues of the
symmetric matrix of cells and bath. A solid reserve: total content of even cells, pore water at most
at its solubility, explicit steps. Nothing here calls the library.
"""

import math
from dataclasses import dataclass, field

import numpy as np

DIMENSION = {"slab": 1, "cylinder": 2, "sphere": 3}


@dataclass
class Body:
    """Stores side by side: (shape, load share, capacity share, relative rate, biot, at metal)."""

    stores: list[tuple[str, float, float, float, float, bool]]


@dataclass
class Treatment:
    """What was done; volumes in litres, days, blank in mg/L."""

    volumes: np.ndarray
    days: np.ndarray
    blank: float = 0.0


@dataclass
class Truth:
    """What a simulated object was, and what came of it."""

    variant: str
    load: float
    rate: float
    capacity: float
    extras: tuple[float, ...] = ()
    readings: np.ndarray = field(default_factory=lambda: np.zeros(0))  # mg/L, before error
    left: float = math.nan  # mg
    when: int = 0  # bath from which a misfit acts
    size: float = 0.0  # of a misfit


class Lines:
    """All cells of all stores, and the bath as one more."""

    def __init__(self, body: Body, cells: int = 90):
        capacity, start, self.couple = [], [], []
        for shape, load, share, rate, biot, at_metal in body.stores:
            d = DIMENSION[shape]
            faces = 1 - (1 - np.linspace(0, 1, cells + 1)) ** 2.2
            volumes = np.diff(faces**d) * share
            centres = 0.5 * (faces[1:] + faces[:-1])
            first = len(capacity)
            inner = share * rate * d * faces[1:-1] ** (d - 1) / np.diff(centres)
            film = 0 if np.isinf(biot) else 1 / biot
            surface = share * rate * d / ((1 - centres[-1]) + film)
            capacity += list(volumes)
            held = np.zeros(cells)
            if at_metal:
                held[0] = load / volumes[0]
            else:
                held[:] = load / share
            start += list(held)
            self.couple += [(first + i, first + i + 1, inner[i]) for i in range(cells - 1)]
            self.couple.append((first + cells - 1, -1, surface))
        self.capacity = np.array(capacity)
        self.start = np.array(start)
        self.known: dict[float, tuple[np.ndarray, np.ndarray, np.ndarray]] = {}

    def spectrum(self, alpha: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Eigenvalues and vectors of cells and bath, symmetric in the root of the capacities."""
        if alpha not in self.known:
            size = np.append(self.capacity, alpha)
            n = len(size)
            matrix = np.zeros((n, n))
            for i, j, k in self.couple:
                j = n - 1 if j < 0 else j
                matrix[i, i] += k
                matrix[j, j] += k
                matrix[i, j] -= k
                matrix[j, i] -= k
            root = np.sqrt(size)
            values, vectors = np.linalg.eigh(matrix / np.outer(root, root))
            self.known[alpha] = (root, values, vectors)
        return self.known[alpha]

    def run(
        self, alphas: np.ndarray, taus: np.ndarray, fills: np.ndarray
    ) -> tuple[np.ndarray, np.ndarray]:
        """Amount in each bath and in the body at its end; `fills`: in the fresh bath."""
        u, out, left = self.start.copy(), [], []
        for alpha, tau, fill in zip(alphas, taus, fills, strict=True):
            root, values, vectors = self.spectrum(float(alpha))
            state = root * np.append(u, fill / alpha)
            state = vectors @ (np.exp(-np.maximum(values, 0) * tau) * (vectors.T @ state)) / root
            u = state[:-1]
            out.append(state[-1] * alpha)
            left.append(self.capacity @ u)
        return np.array(out), np.array(left)


def reserve(
    solid: float, alphas: np.ndarray, taus: np.ndarray, cells: int = 100
) -> tuple[np.ndarray, np.ndarray]:
    """Amounts as fractions of the load (solid and dissolved), of a slab with a solid reserve."""
    total = np.full(cells, 1.0 + solid)
    dx = 1 / cells
    out, left = [], []
    for alpha, tau in zip(alphas, taus, strict=True):
        steps = max(20, math.ceil(tau / (0.4 * dx * dx)))
        dt = tau / steps
        bath = 0.0
        for _ in range(steps):
            u = np.minimum(total, 1.0)
            flow = np.empty(cells + 1)
            flow[0] = 2 * (u[0] - bath / alpha) / dx
            flow[1:-1] = np.diff(u) / dx
            flow[-1] = 0
            total += dt / dx * np.diff(flow)
            bath += dt * flow[0]
        out.append(bath)
        left.append(total.sum() * dx)
    return np.array(out) / (1 + solid), np.array(left) / (1 + solid)
