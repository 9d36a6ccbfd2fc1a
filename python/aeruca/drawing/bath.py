"""A bath log drawn: readings, what the fit makes of them, and the next reading."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from .. import _core
from ..words import say

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


def plot_bath(
    log: _core.BathLog,
    fit: _core.BathFit | None = None,
    *,
    errors: _core.ReadingErrors | None = None,
    stop_mg_per_l: float | None = None,
    axes: Any = None,
) -> Any:
    """Draw readings with error bars, undetected ones as arrows, the fit as bands, the next reading.

    Each bath's band spans the bath; the reading belongs to its end. `stop_mg_per_l`: a level above
    the blank; None: the one the fit was asked about. Returns the matplotlib axes.
    """
    try:
        import matplotlib.pyplot as plt
    except ImportError as missing:
        raise ImportError("plot_bath needs matplotlib: pip install matplotlib") from missing
    if axes is None:
        axes = plt.subplots(figsize=(8, 4.5), layout="constrained")[1]
    if fit is not None and fit.status == "converged":
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
