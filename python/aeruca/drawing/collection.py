"""A collection drawn: the chances of each object by rank, and how much drier the worst must be."""

from __future__ import annotations

from pathlib import PurePath
from typing import TYPE_CHECKING, Any

import numpy as np

from ..words import say
from .fields import require_matplotlib

if TYPE_CHECKING:
    from .._core import Collection, ObjectRisk

_ACTIVE = "#b3541e"
_BORDERLINE = "#c9a227"
_DORMANT = "#2f5d62"
_NAMED = 15


def _ranked(collection: Collection) -> list[ObjectRisk]:
    return [one for one in collection.objects if one.rank is not None]


def _draw_chances(axes: Any, objects: list[ObjectRisk]) -> None:
    ranks = np.arange(1, len(objects) + 1)
    dormant = np.array([one.probability_dormant for one in objects])
    active = np.nan_to_num([one.probability_active for one in objects])
    edges = np.append(ranks - 0.5, len(objects) + 0.5)
    steps = [0 * dormant, active, 1 - dormant, 1 + 0 * dormant]
    names = ("verdict.active", "verdict.borderline", "verdict.dormant")
    for below, above, name, color in zip(
        steps[:-1], steps[1:], names, (_ACTIVE, _BORDERLINE, _DORMANT), strict=True
    ):
        axes.stairs(above, edges, baseline=below, fill=True, color=color, label=say(name))
    axes.set(xlim=(0.5, len(objects) + 0.5), ylim=(0, 1))
    axes.set_xlabel(say("plot.collection.rank"))
    axes.set_ylabel(say("plot.collection.chance"))
    axes.legend(loc="lower right", framealpha=0.9)


def _draw_worst(axes: Any, objects: list[ObjectRisk]) -> None:
    worst = [one for one in objects if not np.isnan(one.too_humid_by_rh_percent)][:_NAMED]
    drier = [max(0.0, one.too_humid_by_rh_percent) for one in worst]
    names = [f"{one.rank}  {PurePath(one.file).stem}" for one in worst]
    axes.barh(names, drier, color=_ACTIVE)
    axes.invert_yaxis()
    axes.set_xlabel(say("plot.collection.drier"))


def draw(collection: Collection, axes: Any = None) -> Any:
    """Draw on two axes, new ones where none are given; returns them."""
    require_matplotlib()
    if axes is None:
        import matplotlib.pyplot as plt

        _, axes = plt.subplots(1, 2, figsize=(12, 4.5), width_ratios=(3, 2), layout="constrained")
    objects = _ranked(collection)
    if objects:
        _draw_chances(axes[0], objects)
        _draw_worst(axes[1], objects)
    unranked = len(collection.objects) - len(objects)
    axes[0].set_title(
        say(
            "plot.collection.title",
            objects=str(len(collection.objects)),
            onset=collection.onset.id,
            unranked=str(unranked),
        )
    )
    return axes
