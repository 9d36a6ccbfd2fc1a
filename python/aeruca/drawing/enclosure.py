"""A box drawn: humidity inside over time, its range, its limit and its dates."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np

from .. import _core
from ..words import say
from .fields import require_matplotlib

if TYPE_CHECKING:
    from .._core import EnclosureForecast, Review

_LINE = "#2f5d62"
_LIMIT = "#b3541e"
_INK = "#2b2b2b"


def plot_enclosure(forecast: EnclosureForecast | Review, axes: Any = None) -> Any:
    """Draw the humidity inside (percent) over days, its range, the limit and when it is passed.

    ``forecast`` is what ``forecast`` or ``review`` returned. Returns the matplotlib axes. Needs
    matplotlib (``pip install aeruca[report]``).
    """
    require_matplotlib()
    import matplotlib.pyplot as plt

    told = forecast.forecast if isinstance(forecast, _core.Review) else forecast
    limit = forecast.limit_rh_percent
    if axes is None:
        _, axes = plt.subplots(figsize=(9, 4), layout="constrained")
    days = np.asarray(told.days)
    if len(told.low_rh_percent):
        low, high = np.asarray(told.low_rh_percent), np.asarray(told.high_rh_percent)
        name = say("plot.enclosure.range")
        axes.fill_between(days, low, high, color=_LINE, alpha=0.18, linewidth=0, label=name)
    rh = np.asarray(told.rh_percent)
    axes.plot(days, rh, color=_LINE, linewidth=1.6, label=say("plot.enclosure.inside"))
    if not math.isnan(limit):
        name = say("plot.enclosure.limit", rh_percent=f"{limit:.4g}")
        axes.axhline(limit, color=_LIMIT, linewidth=1.4, label=name)
        _mark_days(axes, told, days[-1], limit)
    axes.set_xlim(days[0], days[-1])
    top = np.nanmax([*rh, *told.high_rh_percent, 0 if math.isnan(limit) else limit])
    axes.set_ylim(0, min(100.0, 10 * math.ceil(top / 10 + 0.5)))
    axes.set_xlabel(say("plot.enclosure.days"))
    axes.set_ylabel(say("plot.store.axis"))
    axes.set_title(say("plot.enclosure.title"), loc="left", fontsize="medium")
    axes.legend(
        loc="upper center", bbox_to_anchor=(0.5, -0.16), ncols=3, fontsize="small", frameon=False
    )
    return axes


def _mark_days(axes: Any, told: EnclosureForecast, last: float, limit: float) -> None:
    """Mark when 5 % and 50 % of the draws have passed the limit, where that is in the picture."""
    marks = (
        (told.days_unattended, "o", say("plot.enclosure.unattended")),
        (told.days_half_passed, "D", say("plot.enclosure.half")),
    )
    for days, marker, name in marks:
        if not days <= last:  # not known, never, or later
            continue
        axes.plot([days, days], [0, limit], color=_INK, linewidth=0.9, linestyle=(0, (3, 3)))
        text = f"{name}: {math.floor(days)}"
        axes.plot(
            days, limit, marker, color=_INK, markerfacecolor="white", markersize=7, label=text
        )
