"""A path drawn: amounts of solids, and the pH, against progress, with its events."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from .. import _core, checks
from ..words import say
from .fields import require_matplotlib

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_OTHER = "#6f6f6f"
_PH = "#1b1b1b"
_EVENT = "#b9b9b9"


def _colour(dataset: _core.Dataset, solid: str) -> str:
    """Return the mineral's own, muted colour of the data set."""
    colour = dataset[solid].colour[-7:]
    return colour if colour.startswith("#") else _OTHER


def plot_path(
    path: _core.PathResult,
    ax: Axes | None = None,
    *,
    least_mol_per_kg: float = 1e-9,
    dataset: _core.Dataset | None = None,
) -> Axes:
    """Draw the solids of a path in their own colours, the pH beside them, events as grey lines.

    Solids that never come above ``least_mol_per_kg`` are left out. Returns the axes.
    """
    require_matplotlib()
    import matplotlib.pyplot as plt

    checks.instance("path", path, _core.PathResult, "a path, as aeruca.path.follow returns it")
    least = checks.number("least_mol_per_kg", least_mol_per_kg)
    used = checks.dataset(dataset) or _core.default_dataset()
    axes: Axes = plt.figure(figsize=(7, 4.5)).add_subplot() if ax is None else ax
    progress = np.asarray(path.progress)
    for event in path.events:
        axes.axvline(event.progress, color=_EVENT, linewidth=0.6, zorder=0)
    for amount in path.solids:
        moles = np.asarray(amount.mol_per_kg)
        if moles.max(initial=0) > least:
            axes.plot(progress, moles, color=_colour(used, amount.name), linewidth=2.2,
                      label=amount.name)  # fmt: skip
    if progress.size > 1 and progress[-1] < progress[0]:
        axes.invert_xaxis()  # a path is read from the left
    unit = f" ({path.unit})" if path.unit else ""
    axes.set(xlabel=say("plot.path.progress", unit=unit), ylabel=say("plot.path.solids"))
    beside = axes.twinx()
    beside.plot(progress, path.ph, color=_PH, linewidth=1, linestyle=":", label="pH")
    beside.set_ylabel("pH")
    handles = [*axes.get_legend_handles_labels()[0], *beside.get_legend_handles_labels()[0]]
    axes.legend(handles=handles, fontsize="small")
    return axes
