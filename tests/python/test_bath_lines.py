"""The bath model against an independent solution: finite volumes in space, SciPy in time."""

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.special import jn_zeros

import aeruca

DIMENSION = {"slab": 1, "cylinder": 2, "sphere": 3}
CELLS = 400


class Lines:
    """Cells finer towards the surface, where baths put a step; the bath is one more cell."""

    def __init__(self, shape, cells=CELLS, biot=np.inf):
        d = DIMENSION[shape]
        faces = 1 - (1 - np.linspace(0, 1, cells + 1)) ** 2
        self.volumes = np.diff(faces**d)  # they add up to 1
        self.centres = 0.5 * (faces[1:] + faces[:-1])
        # Flow between neighbours per unit difference, times d for the volume measure d x^(d-1) dx.
        self.inner = d * faces[1:-1] ** (d - 1) / np.diff(self.centres)
        self.surface = d / ((1 - self.centres[-1]) + (0 if np.isinf(biot) else 1 / biot))

    def derivative(self, alpha):
        def rhs(_, u):
            c = u[-1]
            flow = np.empty(len(u))
            flow[0] = 0
            flow[1:-1] = self.inner * (u[:-2] - u[1:-1])
            flow[-1] = self.surface * (u[-2] - c)
            change = np.empty_like(u)
            change[:-1] = (flow[:-1] - flow[1:]) / self.volumes
            change[-1] = 0 if np.isinf(alpha) else flow[-1] / alpha
            return change

        return rhs

    def run(self, baths, start):
        """baths: (alpha, tau, fill, carry_over). What is left and in the bath at each end."""
        body, held, before, out = start, 0.0, None, []
        cells = len(self.volumes)
        band = (
            np.diag(np.ones(cells + 1)) + np.diag(np.ones(cells), 1) + np.diag(np.ones(cells), -1)
        )
        for alpha, tau, fill, carry in baths:
            share = 0 if carry == 0 else carry * before / alpha
            held = carry * held + fill * (1 - share)
            state = np.append(body, held / alpha)
            done = solve_ivp(
                self.derivative(alpha),
                (0, tau),
                state,
                method="BDF",
                rtol=1e-8,
                atol=1e-11,
                jac_sparsity=band,
            )
            assert done.success
            body, concentration = done.y[:-1, -1], done.y[-1, -1]
            held = 0.0 if np.isinf(alpha) else concentration * alpha
            before = alpha
            out.append((self.volumes @ body, held))
        return np.array(out)


SEQUENCES = {
    "equal": [(5, 0.15, 0, 0)] * 4,
    "unequal": [(2, 0.05, 0, 0), (6, 0.2, 0, 0), (1, 0.1, 0, 0), (3, 0.3, 0, 0)],
    "fill and carry-over": [(4, 0.1, 0.03, 0), (4, 0.1, 0.02, 0.1), (8, 0.2, 0.06, 0.2)],
    "small": [(0.3, 0.2, 0, 0), (0.3, 0.4, 0.01, 0)],
}
# Finite volumes are of second order; at 400 cells graded to the surface the error of an amount
# is below 2e-5 of the load (half the cells quadruple the difference, as a test below shows).
TOLERANCE = 2e-5


def ours(baths, shape, load="uniform", biot=np.inf):
    alpha, tau, fill, carry = np.array(baths, dtype=float).T
    result = aeruca.bath.bath_series(
        1.0, tau, alpha=alpha, shape=shape, load=load, biot=biot, fill=fill, carry_over=carry
    )
    return np.stack([result.left, result.in_bath], axis=1)


@pytest.mark.parametrize("shape", DIMENSION)
@pytest.mark.parametrize("name", SEQUENCES)
def test_baths_against_lines(shape, name):
    baths = SEQUENCES[name]
    lines = Lines(shape)
    theirs = lines.run(baths, np.ones(CELLS))
    np.testing.assert_allclose(ours(baths, shape), theirs, rtol=0, atol=TOLERANCE)


@pytest.mark.parametrize("shape", DIMENSION)
def test_film_against_lines(shape):
    baths = SEQUENCES["unequal"]
    theirs = Lines(shape, biot=2.0).run(baths, np.ones(CELLS))
    np.testing.assert_allclose(ours(baths, shape, biot=2.0), theirs, rtol=0, atol=TOLERANCE)


def test_perfect_sink_against_lines():
    baths = [(np.inf, 0.1, 0, 0), (np.inf, 0.3, 0, 0)]
    theirs = Lines("cylinder").run(baths, np.ones(CELLS))
    np.testing.assert_allclose(ours(baths, "cylinder")[:, 0], theirs[:, 0], rtol=0, atol=TOLERANCE)


def test_load_at_the_metal_against_lines():
    lines = Lines("slab")
    # All of it in the first cell: a spike half a cell off the metal changes the release by the
    # square of that distance, below the tolerance.
    start = np.zeros(CELLS)
    start[0] = 1 / lines.volumes[0]
    baths = SEQUENCES["unequal"]
    theirs = lines.run(baths, start)
    np.testing.assert_allclose(ours(baths, "slab", "at-metal"), theirs, rtol=0, atol=TOLERANCE)


def test_lines_converge_to_ours_with_second_order():
    baths = SEQUENCES["unequal"]
    exact = ours(baths, "sphere")
    errors = [
        np.abs(Lines("sphere", n).run(baths, np.ones(n)) - exact).max() for n in (50, 100, 200)
    ]
    assert errors[0] / errors[1] == pytest.approx(4, rel=0.3)
    assert errors[1] / errors[2] == pytest.approx(4, rel=0.3)


def test_roots_of_a_perfect_sink_are_the_zeros_of_j0():
    np.testing.assert_allclose(
        aeruca.bath.mode_roots("cylinder", np.inf, 50), jn_zeros(0, 50), rtol=1e-14
    )
    np.testing.assert_allclose(
        aeruca.bath.mode_roots("slab", np.inf, 50), (np.arange(50) + 0.5) * np.pi, rtol=1e-14
    )
    np.testing.assert_allclose(
        aeruca.bath.mode_roots("sphere", np.inf, 50), (np.arange(50) + 1) * np.pi, rtol=1e-14
    )
