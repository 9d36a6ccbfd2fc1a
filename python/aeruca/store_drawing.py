"""A store record drawn: humidity over time against the onset band."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING, Any

import numpy as np

from ._core import surface_rh_percent
from .store import record_times
from .words import say

if TYPE_CHECKING:
    import numpy.typing as npt

    from ._core import LoggerRecord, StoreAssessment

_BAND = "#c9a227"
_ABOVE = "#b3541e"
_LINE = "#2f5d62"
_UNKNOWN = "#b8b8b8"
_MOST_POINTS = 20000


def _kept(values: npt.NDArray[np.float64]) -> npt.NDArray[np.int64]:
    """Places of the lowest and highest reading of each stretch, so that no peak is lost."""
    if len(values) <= _MOST_POINTS:
        return np.arange(len(values))
    edges = np.linspace(0, len(values), _MOST_POINTS // 2 + 1).astype(int)[:-1]
    stretches = np.split(values, edges[1:])
    lowest = edges + [int(np.argmin(part)) for part in stretches]
    highest = edges + [int(np.argmax(part)) for part in stretches]
    return np.unique(np.concatenate([lowest, highest]))


def _segments(record: LoggerRecord) -> list[slice]:
    """Stretches of readings without a gap."""
    edges = [0, *record.gap_ends.tolist(), len(record)]
    return [slice(a, b) for a, b in itertools.pairwise(edges)]


def _shade_unknown(axes: Any, record: LoggerRecord, segments: list[slice]) -> None:
    times = record_times(record)
    label = say("plot.store.unknown")
    spans = [(times[a.stop - 1], times[b.start]) for a, b in itertools.pairwise(segments)]
    spans += [(times[first], times[last]) for first, last in record.stuck]
    for start, end in spans:
        axes.axvspan(start, end, color=_UNKNOWN, alpha=0.6, linewidth=0, label=label)
        label = "_nolegend_"


def _draw_band(axes: Any, assessment: StoreAssessment) -> None:
    onset = assessment.options.onset
    low, high = min(onset.low_rh_percent), max(onset.high_rh_percent)
    if np.isnan(high) or high - low < 0.2:
        axes.axhline(
            low,
            color=_BAND,
            linewidth=1.5,
            label=say("plot.store.limit", rh_percent=f"{low:g}", onset=onset.id),
        )
    else:
        name = say("plot.store.band", low=f"{low:g}", high=f"{high:g}", onset=onset.id)
        axes.axhspan(low, high, color=_BAND, alpha=0.35, linewidth=0, label=name)


def _surface_factor(record: LoggerRecord, cooler_c: float) -> npt.NDArray[np.float64]:
    """Humidity at the surface over humidity of the air; NaN where it is not known."""
    if cooler_c == 0:
        return np.ones(len(record))
    t = record.temperature_c
    known = (t >= max(0.0, cooler_c)) & (t <= min(60.0, 60.0 + cooler_c))
    return np.asarray(surface_rh_percent(1.0, np.where(known, t, np.nan), cooler_c))


def _draw_humidity(axes: Any, record: LoggerRecord, assessment: StoreAssessment) -> None:
    cooler = assessment.options.cooler_c
    accuracy = assessment.options.accuracy_rh_percent
    times, factor = record_times(record), _surface_factor(record, cooler)
    humidity = record.rh_percent * factor
    name = say("plot.store.air")
    if cooler != 0:
        name = say("plot.store.surface", cooler_k=f"{cooler:g}")
    for segment in _segments(record):
        keep = _kept(humidity[segment])
        x, y = times[segment][keep], humidity[segment][keep]
        spread = accuracy * factor[segment][keep]
        axes.fill_between(x, y - spread, y + spread, color=_LINE, alpha=0.15, linewidth=0)
        axes.plot(x, y, color=_LINE, linewidth=0.8, label=name)
        name = "_nolegend_"
    axes.plot(
        [],
        [],
        color=_LINE,
        alpha=0.15,
        linewidth=6,
        label=say("plot.store.sensor", rh_percent=f"{accuracy:g}"),
    )


def _mark_longest(axes: Any, assessment: StoreAssessment) -> None:
    high = assessment.above_high.longest
    spell, end_of = (high, "high") if high.hours > 0 else (assessment.above_low.longest, "low")
    if spell.hours <= 0:
        return
    start, end = (np.datetime64(s, "s") for s in (spell.start_s, spell.end_s))
    axes.plot(
        [start, end],
        [0.985, 0.985],
        transform=axes.get_xaxis_transform(),
        color=_ABOVE,
        linewidth=4,
        solid_capstyle="butt",
        label=say(f"plot.store.longest_{end_of}", hours=f"{spell.hours:.4g}"),
    )


def plot_store(record: LoggerRecord, assessment: StoreAssessment, axes: Any = None) -> Any:
    """Draw humidity (percent) over time with the onset band, gaps and the longest wet spell.

    Returns the matplotlib axes. Needs matplotlib (``pip install aeruca[report]``).
    """
    try:
        import matplotlib.pyplot as plt
        from matplotlib import dates
    except ImportError as missing:
        raise ImportError("plot_store needs matplotlib: pip install 'aeruca[report]'") from missing
    if len(record) == 0:
        raise ValueError("record = no readings: accepted is a record with at least one reading")
    if axes is None:
        _, axes = plt.subplots(figsize=(10, 4.2), layout="constrained")
    _draw_band(axes, assessment)
    _shade_unknown(axes, record, _segments(record))
    _draw_humidity(axes, record, assessment)
    _mark_longest(axes, assessment)
    ticks: Any = dates  # matplotlib's own calls carry no types here
    locator = ticks.AutoDateLocator()
    axes.xaxis.set_major_locator(locator)
    axes.xaxis.set_major_formatter(ticks.ConciseDateFormatter(locator))
    axes.set_ylabel(say("plot.store.axis"))
    axes.set_xlim(record_times(record)[0], record_times(record)[-1])
    word = say(f"verdict.{assessment.verdict.replace(' ', '_')}")
    axes.set_title(say("plot.store.title", verdict=word), loc="left", fontsize="medium")
    axes.legend(
        loc="upper center", bbox_to_anchor=(0.5, -0.1), ncols=3, fontsize="small", frameon=False
    )
    return axes
