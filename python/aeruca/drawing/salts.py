"""A mixture of salts drawn: which solids and how much brine at every humidity."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING, Any

import numpy as np

from ..display import species_mathtext
from ..words import say
from .fields import require_matplotlib

if TYPE_CHECKING:
    from .._core import MixtureSweep

_SOLID = "#c9a227"
_BRINE = "#3c6e8f"
_INK = "#2b2b2b"
_UNKNOWN = "#b8b8b8"


def plot_mixture(sweep: MixtureSweep, axes: Any = None) -> Any:
    """Draw the phases of a mixture against humidity, a bar each, with every onset marked.

    A solid's bar is as thick as its share of the most there ever is of it; that of the brine is
    drawn through. Grey: no answer. Returns the matplotlib axes. Needs matplotlib.
    """
    require_matplotlib()
    import matplotlib.pyplot as plt

    names = _names(sweep)
    if axes is None:
        height = 1.6 + 0.42 * (len(names) + 1)
        _, axes = plt.subplots(figsize=(9, height), layout="constrained")
    rh = np.array([state.rh_percent for state in sweep.states])
    answered = np.array([state.status == "converged" for state in sweep.states])
    for row, name in enumerate(names):
        amount = np.array([state.solids.get(name, 0.0) for state in sweep.states])
        _bar(axes, row, *_stepped(sweep, rh, amount, name), _SOLID)
    brine = np.array([float(state.brine) for state in sweep.states])
    _bar(axes, len(names), *_stepped(sweep, rh, brine, None), _BRINE)
    _shade_unanswered(axes, rh, answered)
    _mark_onsets(axes, sweep, len(names))
    axes.set_yticks(
        range(len(names) + 1), [*map(species_mathtext, names), say("plot.mixture.brine")]
    )
    axes.set_ylim(len(names) + 0.6, -0.9)
    axes.set_xlim(rh[0], rh[-1])
    axes.tick_params(axis="y", length=0)
    for side in ("top", "right", "left"):
        axes.spines[side].set_visible(False)
    axes.set_xlabel(say("plot.store.axis"))
    title = say("plot.mixture.title", temperature_c=f"{sweep.temperature_c:g}")
    axes.set_title(title, loc="left", fontsize="medium")
    return axes


def _names(sweep: MixtureSweep) -> list[str]:
    """Solids in order of the humidity at which they are last seen, so that bars make steps."""
    last: dict[str, float] = {}
    for state in sweep.states:
        last.update(dict.fromkeys(state.solids, state.rh_percent))
    return sorted(last, key=lambda name: last[name])


def _stepped(sweep: MixtureSweep, rh: Any, amount: Any, name: str | None) -> tuple[Any, Any]:
    """Amounts with the onsets put between the states: a phase ends there, not a state off."""
    x, y = list(rh), list(amount)
    for onset in sweep.onsets:
        before = onset.brine_when_drier if name is None else name in onset.drier
        after = onset.brine_when_moister if name is None else name in onset.moister
        left = int(np.searchsorted(rh, onset.rh_percent)) - 1
        if left < 0 or left + 1 >= len(rh):
            continue
        x += [onset.rh_percent, onset.rh_percent + 1e-6]
        y += [amount[left] if before else 0.0, amount[left + 1] if after else 0.0]
    order = np.argsort(x, kind="stable")
    return np.array(x)[order], np.array(y)[order]


def _bar(axes: Any, row: int, x: Any, amount: Any, colour: str) -> None:
    most = amount.max()
    if most <= 0:
        return
    half = 0.36 * amount / most
    there = amount > 0
    axes.fill_between(x, row - half, row + half, where=there, color=colour, linewidth=0)
    axes.plot(x, np.where(there, row, np.nan), color=colour, linewidth=1.2)


def _shade_unanswered(axes: Any, rh: Any, answered: Any) -> None:
    edges = np.flatnonzero(np.diff(answered.astype(int))) + 1
    label = say("plot.mixture.no_answer")
    for first, end in itertools.pairwise([0, *edges.tolist(), len(rh)]):
        if answered[first]:
            continue
        axes.axvspan(rh[first], rh[end - 1], color=_UNKNOWN, alpha=0.6, linewidth=0, label=label)
        label = "_nolegend_"
    if label == "_nolegend_":
        axes.legend(loc="lower left", fontsize="small", frameon=False)


def _mark_onsets(axes: Any, sweep: MixtureSweep, rows: int) -> None:
    free = -np.inf
    for onset in sweep.onsets:
        first = onset.brine_when_moister and not onset.brine_when_drier
        style = "solid" if first else (0, (3, 3))
        axes.vlines(
            onset.rh_percent, -0.45, rows + 0.45, color=_INK, linewidth=0.9, linestyle=style
        )
        if onset.rh_percent - free < 3:  # no room for another figure
            continue
        free = onset.rh_percent
        axes.text(
            onset.rh_percent, -0.5, f"{onset.rh_percent:.1f}", ha="center", va="bottom", fontsize=8
        )
