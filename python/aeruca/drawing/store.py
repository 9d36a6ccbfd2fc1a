"""A store record drawn: humidity over time against the onset band."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING, Any

import numpy as np

from .._core import surface_rh_percent
from ..store import record_times
from ..words import say

if TYPE_CHECKING:
    import numpy.typing as npt

    from .._core import LoggerRecord, StoreAssessment

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


def _mark_spells(axes: Any, record: LoggerRecord, assessment: StoreAssessment) -> None:
    """Draw a strip along the foot: when the surface read above each end of the band."""
    times = record_times(record)
    humidity = record.rh_percent * _surface_factor(record, assessment.options.cooler_c)
    low, high = limits_at(assessment, record.temperature_c)
    for limit, colour, name in (
        (low, _BAND, say("plot.store.above_low")),
        (high, _ABOVE, say("plot.store.above_high")),
    ):
        above = humidity > limit
        if not above.any():
            continue
        for segment in _segments(record):
            axes.fill_between(
                times[segment],
                0,
                0.025,
                where=above[segment],
                transform=axes.get_xaxis_transform(),
                color=colour,
                linewidth=0,
                label=name,
            )
            name = "_nolegend_"


def limits_at(
    assessment: StoreAssessment, temperature_c: npt.NDArray[np.float64]
) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.float64]]:
    """Lower and upper end of the onset band at the surface for air of these temperatures."""
    onset, cooler = assessment.options.onset, assessment.options.cooler_c
    if len(onset.low_rh_percent) == 1:
        ends = (onset.low_rh_percent[0], onset.high_rh_percent[0])
        return np.full(len(temperature_c), ends[0]), np.full(len(temperature_c), ends[1])
    surface = temperature_c - cooler
    known = (surface >= onset.temperature_c[0]) & (surface <= onset.temperature_c[-1])
    at = np.where(known, surface, np.nan)
    low = np.interp(at, onset.temperature_c, onset.low_rh_percent)
    return low, np.interp(at, onset.temperature_c, onset.high_rh_percent)


def plot_onset(record: LoggerRecord, assessment: StoreAssessment, axes: Any = None) -> Any:
    """Draw the readings over temperature, against the onset band RH(T).

    Both at the object's surface. Returns the matplotlib axes. Needs matplotlib.
    """
    try:
        import matplotlib.pyplot as plt
    except ImportError as missing:
        raise ImportError("plot_onset needs matplotlib: pip install 'aeruca[report]'") from missing
    cooler = assessment.options.cooler_c
    surface = record.temperature_c - cooler
    humidity = record.rh_percent * _surface_factor(record, cooler)
    known = np.isfinite(surface) & np.isfinite(humidity)
    if not known.any():
        raise ValueError("record = no temperatures: accepted is a record with some")
    if axes is None:
        _, axes = plt.subplots(figsize=(6.4, 4.4), layout="constrained")
    left, right = surface[known].min() - 1, surface[known].max() + 1
    grid = np.linspace(left, right, 200)
    low, high = limits_at(assessment, grid + cooler)
    name = assessment.options.onset.id
    if np.isnan(high).all() or np.nanmax(high - low) < 0.2:
        axes.plot(grid, low, color=_BAND, linewidth=1.6, label=say("plot.onset.limit", onset=name))
    else:
        name = say("plot.onset.band", onset=name)
        axes.fill_between(grid, low, high, color=_BAND, alpha=0.35, linewidth=0, label=name)
    bins = (max(12, round(2 * (right - left))), 60)
    count, x, y = np.histogram2d(surface[known], humidity[known], bins=bins)
    shares = np.where(count > 0, np.sqrt(count / count.max()), np.nan)
    axes.pcolormesh(x, y, shares.T, cmap=_paper_to(_LINE), vmin=0, vmax=1, zorder=0.5)
    axes.plot([], [], "s", color=_LINE, label=say("plot.onset.readings"))
    axes.set_xlim(left, right)
    axes.set_ylim(
        min(humidity[known].min(), np.nanmin(low)) - 3,
        max(humidity[known].max(), np.nanmax(low)) + 5,
    )
    axes.set_xlabel(say("plot.onset.temperature"))
    axes.set_ylabel(say("plot.onset.humidity"))
    axes.legend(loc="upper left", fontsize="small", frameon=False)
    return axes


def _paper_to(colour: str) -> Any:
    from matplotlib.colors import LinearSegmentedColormap

    return LinearSegmentedColormap.from_list("readings", ["#e6eeee", colour])


def plot_store(record: LoggerRecord, assessment: StoreAssessment, axes: Any = None) -> Any:
    """Draw humidity (percent) over time with the onset band, gaps and wet spells.

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
    _mark_spells(axes, record, assessment)
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
