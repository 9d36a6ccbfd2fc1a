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
