"""One stability diagram, exact, against the raster a user would compute with NumPy."""

from collections.abc import Callable, Iterator
from typing import Any

import numpy as np

import aeruca

SIDE = 500  # cells a side of the raster: a line 1/500 of the frame wide is still a stair
SLOPE = 8.31446261815324 * 298.15 * np.log(10) / 96485.33212331001


def raster(dataset: Any) -> Any:
    """Name of the most stable candidate in every cell, a(Cl-) = 0.01, dissolved copper 1e-6."""
    ph = (np.arange(SIDE) + 0.5) / SIDE * 14
    eh = -1 + (np.arange(SIDE) + 0.5) / SIDE * 2.4
    x, y = np.meshgrid(ph, eh)
    names = dataset.components
    given = {"H2O": 0.0, "H(+)": -x, "e(-)": -y / SLOPE, "Cl(-)": -2.0}
    best, owner = np.full(x.shape, -np.inf), np.full(x.shape, "", dtype=object)
    for species in dataset.species:
        parts = dict(zip(names, species.components, strict=True))
        copper = parts.pop("Cu(2+)")
        needed = {name: value for name, value in parts.items() if value}
        if copper <= 0 or not needed.keys() <= given.keys():
            continue
        held = 0.0 if species.kind == "solid" else -6.0
        total = sum(value * given[name] for name, value in needed.items())
        steady = (species.log10_k + total - held) / copper
        won = steady > best
        best, owner = np.where(won, steady, best), np.where(won, species.name, owner)
    return owner


DRAWS, DRAWN_BY_RIVAL = 10_000, 500
POINTS = 400


def drawn_points() -> tuple[Any, Any]:
    """Points over pH and Eh."""
    rng = np.random.default_rng(3)
    return rng.uniform(0, 14, POINTS), rng.uniform(-1, 1.4, POINTS)


def drawn(dataset: Any) -> Any:
    """Share of draws in which each candidate is the most stable, vectorised over the points."""
    x, y = drawn_points()
    names = dataset.components
    given = {"H2O": 0.0 * x, "H(+)": -x, "e(-)": -y / SLOPE, "Cl(-)": -2.0 + 0.0 * x}
    rng = np.random.default_rng(4)
    figures = {figure.id: figure for figure in dataset.figures}
    kept, steady, shifts = [], [], []
    for species in dataset.species:
        parts = dict(zip(names, species.components, strict=True))
        copper = parts.pop("Cu(2+)")
        needed = {name: value for name, value in parts.items() if value}
        if copper <= 0 or not needed.keys() <= given.keys():
            continue
        held = 0.0 if species.kind == "solid" else -6.0
        total = sum(value * given[name] for name, value in needed.items())
        kept.append(species.name)
        steady.append((species.log10_k + total - held) / copper + 0.0 * x)
        shifts.append({i: c / copper for i, c in species.constant_terms})
    ids = sorted({i for each in shifts for i in each})
    weights = np.array([[each.get(i, 0.0) for i in ids] for each in shifts])
    sigma = np.nan_to_num(np.array([figures[i].uncertainty for i in ids], float))
    count = np.zeros((len(kept), POINTS))
    place = np.arange(POINTS)
    base = np.array(steady)
    for _ in range(DRAWN_BY_RIVAL):
        moved = base + (weights @ (sigma * rng.standard_normal(len(ids))))[:, None]
        count[moved.argmax(axis=0), place] += 1
    return dict(zip(kept, count / DRAWN_BY_RIVAL, strict=True))


def ours() -> Any:
    """The same diagram as exact polygons, with reactions, lines and corners."""
    return aeruca.field_diagram(log10_activity={"Cl(-)": -2.0})


def agree(diagram: Any, owner: Any) -> None:
    """Compare areas: the raster's are right to about a cell along each edge."""
    for field in diagram.fields:
        share = float(np.mean(owner == field.species))
        assert abs(share - field.area_fraction) < 0.01, field.species


def cases() -> Iterator[tuple[str, str, Callable[[], Any], Callable[[], Any], Any]]:
    """Yield (name, aim, ours, reference, agreement)."""
    dataset = aeruca.default_dataset()
    yield (
        f"one Eh-pH diagram, exact (raster {SIDE} x {SIDE})",
        "100x",
        ours,
        lambda: raster(dataset),
        agree,
    )
    model = aeruca.FieldModel(log10_activity={"Cl(-)": -2.0})
    x, y = drawn_points()

    def alike(shares: Any, found: Any) -> None:
        for name, theirs in found.items():
            mine = shares[:, model.candidates.index(name)]
            # Five standard errors of the rival's few draws.
            assert np.abs(mine - theirs).max() < 5 * 0.5 / DRAWN_BY_RIVAL**0.5, name

    def reference() -> Any:
        return drawn(dataset)

    reference.scale = DRAWS / DRAWN_BY_RIVAL  # type: ignore[attr-defined]
    yield (
        f"{DRAWS} draws of the constants at {POINTS} points of a diagram",
        "",
        lambda: model.probabilities(x, y, samples=DRAWS),
        reference,
        alike,
    )
