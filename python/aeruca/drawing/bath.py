"""A bath log drawn: readings, what the fit makes of them, and the next reading."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from .. import _core
from ..words import say
from .fields import require_matplotlib

if TYPE_CHECKING:
    import numpy.typing as npt

_MODEL = "#2f5d62"
_READING = "#1b1b1b"
_HIDDEN = "#8a6d1d"
_NEXT = "#b3541e"


def _dates(days: list[float]) -> npt.NDArray[np.datetime64]:
    minutes = np.round(np.asarray(days) * 1440).astype("timedelta64[m]")
    return np.datetime64("1970-01-01T00:00", "m") + minutes


def _draw_readings(axes: Any, log: _core.BathLog, errors: _core.ReadingErrors) -> None:
    measured = [bath for bath in log.baths if bath.kind == "measured"]
    hidden = [bath for bath in log.baths if bath.kind == "below detection"]
    if measured:
        axes.errorbar(
            _dates([bath.end_day for bath in measured]),
            [bath.chloride_mg_per_l for bath in measured],
            yerr=[_core._reading_error_mg_per_l(bath, errors) for bath in measured],
            fmt="o", color=_READING, markersize=5, capsize=3, label=say("plot.bath.reading"),
        )  # fmt: skip
    label = say("plot.bath.between")
    for bath in (bath for bath in log.baths if bath.kind == "between"):
        low, high = bath.chloride_mg_per_l, bath.at_most_mg_per_l
        top = 1.3 * low if high is None or np.isinf(high) else high
        axes.plot(_dates([bath.end_day] * 2), [low, top], color=_READING, linewidth=3, alpha=0.6,
                  label=label)  # fmt: skip
        label = "_nolegend_"
    label = say("plot.bath.hidden")
    for bath in hidden:
        when = _dates([bath.end_day])
        limit = bath.chloride_mg_per_l
        axes.plot(when, [limit], marker="_", color=_HIDDEN, markersize=12, linestyle="none")
        axes.plot(when, [limit], marker=11, color=_HIDDEN, markersize=8, linestyle="none",
                  label=label)  # fmt: skip
        label = "_nolegend_"


def _draw_model(axes: Any, log: _core.BathLog, fit: _core.BathFit) -> None:
    label = say("plot.bath.model")
    for bath, expected in zip(log.baths, fit.readings_mg_per_l, strict=True):
        when = _dates([bath.start_day, bath.end_day])
        axes.fill_between(when, expected.low, expected.high, color=_MODEL, alpha=0.25, linewidth=0,
                          label=label)  # fmt: skip
        axes.plot(when, [expected.median] * 2, color=_MODEL, linewidth=1.2)
        label = "_nolegend_"


def _draw_next(axes: Any, log: _core.BathLog, fit: _core.BathFit) -> None:
    reading = fit.next_reading_mg_per_l
    axes.errorbar(
        _dates([log.baths[-1].end_day + fit.next_days]), [reading.median],
        yerr=[[reading.median - reading.low], [reading.high - reading.median]],
        fmt="D", color=_NEXT, markerfacecolor="white", capsize=4,
        label=say("plot.bath.next", days=f"{fit.next_days:g}", litres=f"{fit.next_volume_l:g}"),
    )  # fmt: skip


def _draw_course(axes: Any, log: _core.BathLog, posterior: _core.BathPosterior) -> None:
    """Draw the concentration rising in each bath, and in one like the last to come."""
    course = _core._bath_course(log, posterior, 10, 1, _core.ReadingErrors())
    label, coming = say("plot.bath.course"), say("plot.bath.course_to_come")
    for bath in sorted({point.bath for point in course}):
        points = [point for point in course if point.bath == bath]
        fresh = log.baths[min(bath, len(log.baths) - 1)]
        start = fresh.start_day if bath < len(log.baths) else fresh.end_day
        blank = 0.0 if np.isnan(fresh.blank_mg_per_l) else fresh.blank_mg_per_l
        when = _dates([start, *(point.day for point in points)])
        low, median, high = (
            [blank, *(getattr(point.reading_mg_per_l, one) for point in points)]
            for one in ("low", "median", "high")
        )
        colour = _NEXT if points[0].to_come else _MODEL
        told = coming if points[0].to_come else label
        axes.fill_between(when, low, high, color=colour, alpha=0.25, linewidth=0, label=told)
        axes.plot(when, median, color=colour, linewidth=1.2)
        label = "_nolegend_" if not points[0].to_come else label


def plot_bath(
    log: _core.BathLog,
    fit: _core.BathFit | None = None,
    *,
    posterior: _core.BathPosterior | None = None,
    errors: _core.ReadingErrors | None = None,
    stop_mg_per_l: float | None = None,
    axes: Any = None,
) -> Any:
    """Draw readings with error bars, undetected ones as arrows, and what the models make of them.

    posterior: bands of the concentration as it rises in each bath, and in one more; else `fit`: a
    band for each bath, whose reading belongs to its end, and the next reading. `stop_mg_per_l`: a
    level above the blank; None: the one the fit was asked about. Returns the matplotlib axes.
    """
    try:
        import matplotlib.pyplot as plt
    except ImportError as missing:
        raise ImportError("plot_bath needs matplotlib: pip install matplotlib") from missing
    if axes is None:
        axes = plt.subplots(figsize=(8, 4.5), layout="constrained")[1]
    if posterior is not None and posterior.status == "converged":
        _draw_course(axes, log, posterior)
    elif fit is not None and fit.status == "converged":
        _draw_model(axes, log, fit)
        _draw_next(axes, log, fit)
    _draw_readings(axes, log, errors or _core.ReadingErrors())
    if stop_mg_per_l is None and fit is not None:
        stop_mg_per_l = fit.stop_mg_per_l
    if stop_mg_per_l is not None:
        blank = log.baths[-1].blank_mg_per_l
        level = stop_mg_per_l + (0.0 if np.isnan(blank) else blank)
        axes.axhline(level, color=_HIDDEN, linestyle=":", linewidth=1,
                     label=say("plot.bath.stop", mg_per_l=f"{stop_mg_per_l:g}"))  # fmt: skip
    axes.set_ylabel(say("plot.bath.axis"))
    axes.set_ylim(bottom=0)
    axes.figure.autofmt_xdate()
    axes.legend(frameon=False)
    axes.set_title(say("plot.bath.title"), fontsize=9, loc="left")
    return axes


def plot_extracted(
    log: _core.BathLog, posterior: _core.BathPosterior, *, baths_to_come: int = 3, axes: Any = None
) -> Any:
    """Draw chloride taken out against the square root of time, with what further baths would add.

    A line through zero is what diffusion and a dissolving solid have in common; it bends down when
    the end comes near. Returns the matplotlib axes.
    """
    axes = axes if axes is not None else _fresh_axes()
    course = _core._bath_course(log, posterior, 6, baths_to_come, _core.ReadingErrors())
    first = log.baths[0].start_day
    for coming, colour in ((False, _MODEL), (True, _NEXT)):
        points = [point for point in course if point.to_come == coming]
        if not points:
            continue
        origin = [] if coming else [0.0]
        root = [*origin, *(float(np.sqrt(point.day - first)) for point in points)]
        low, median, high = (
            [*origin, *(getattr(point.out_mg, one) for point in points)]
            for one in ("low", "median", "high")
        )
        told = say("plot.bath.course_to_come" if coming else "plot.bath.course")
        axes.fill_between(root, low, high, color=colour, alpha=0.25, linewidth=0, label=told)
        axes.plot(root, median, color=colour, linewidth=1.2)
    axes.set_xlabel(say("plot.bath.root_days"))
    axes.set_ylabel(say("plot.bath.out_mg"))
    axes.set_xlim(left=0)
    axes.set_ylim(bottom=0)
    axes.legend(frameon=False, loc="upper left")
    return axes


def plot_left(posterior: _core.BathPosterior, *, axes: Any = None) -> Any:
    """Draw how likely each amount left inside is, story by story. Returns the matplotlib axes."""
    axes = axes if axes is not None else _fresh_axes()
    story = {"spread": "slow part", "two stores": "slow part", "reserve": "reserve"}
    left = np.array([draw.left_mg for draw in posterior.draws])
    told = np.array([story.get(draw.model, "diffusion") for draw in posterior.draws])
    positive = left[left > 0]
    edges = np.geomspace(np.quantile(positive, 0.002), np.quantile(positive, 0.998), 40)
    hatches = {"diffusion": "", "slow part": "//", "reserve": ".."}
    colours = {"diffusion": _MODEL, "slow part": _NEXT, "reserve": _HIDDEN}
    for one in posterior.stories:
        name = one.story
        label = say("plot.bath.story", story=say(f"bath.story.{name.replace(' ', '_')}"),
                    percent=f"{100 * one.probability:.0f}")  # fmt: skip
        weights = np.full(np.count_nonzero(told == name), 1 / len(left))
        axes.hist(left[told == name], bins=edges, weights=weights, histtype="stepfilled",
                  alpha=0.45, color=colours[name], edgecolor=colours[name], hatch=hatches[name],
                  label=label)  # fmt: skip
    axes.set_xscale("log")
    axes.xaxis.set_major_formatter("{x:g}")
    axes.xaxis.set_minor_formatter("{x:.2g}")
    axes.set_xlabel(say("plot.bath.left_mg"))
    axes.set_ylabel(say("plot.bath.share_of_bodies"))
    axes.legend(frameon=False)
    return axes


def _fresh_axes() -> Any:
    require_matplotlib()
    import matplotlib.pyplot as plt

    return plt.subplots(figsize=(8, 4.5), layout="constrained")[1]
