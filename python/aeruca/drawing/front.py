"""The four small pictures of the front sheet: chances, humidity, chloride out and left, dates."""

from __future__ import annotations

import datetime
import math
from typing import TYPE_CHECKING, Any

from ..words import say
from .fields import require_matplotlib

if TYPE_CHECKING:
    from ..case import CaseAssessment

_SIZE = (3.3, 0.82)  # inches, as printed
_INK = "#22272a"
_QUIET = "#8d959a"
_SMALL = 7.0
# Light, middle and dark: told apart in grey, and by their hatches.
_STATES = (("dormant", "#bcd6cd", ""), ("borderline", "#e2b75c", "////"), ("active", "#9d2f26", ""))
_DAY = 86400.0


def front_pictures(case: CaseAssessment) -> dict[str, Any]:
    """Return a matplotlib figure for each box of the front sheet that has something to draw.

    The keys are those of the boxes: "active", "keep", "washing" and "again". A box without data has
    no picture, for an empty one would look like an answer. Needs matplotlib
    (``pip install aeruca[report]``).
    """
    require_matplotlib()
    drawers = {"active": _active, "keep": _keep, "washing": _washing, "again": _again}
    drawn = {name: drawer(case) for name, drawer in drawers.items()}
    return {name: figure for name, figure in drawn.items() if figure is not None}


def _strip(low: float, high: float) -> tuple[Any, Any]:
    """Return a figure of one line of height 1, its axis at the foot."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    figure = Figure(figsize=_SIZE, layout="constrained")
    FigureCanvasAgg(figure)
    axes = figure.add_subplot()
    axes.set_xlim(low, high)
    axes.set_ylim(0, 1)
    axes.set_yticks([])
    for side in ("left", "right", "top"):
        axes.spines[side].set_visible(False)
    axes.spines["bottom"].set_color(_QUIET)
    axes.tick_params(labelsize=_SMALL, length=2, color=_QUIET, labelcolor=_INK)
    return figure, axes


def _label(axes: Any, x: float, y: float, text: str, **more: Any) -> None:
    more = {"ha": "center", "va": "center", "fontsize": _SMALL, "color": _INK} | more
    axes.text(x, y, text, **more)


def _active(case: CaseAssessment) -> Any:
    chances = [case.odds.dormant, case.odds.borderline, case.odds.active]
    if any(chance is None for chance in chances):
        return None
    figure, axes = _strip(0, 1)
    start = 0.0
    for chance, (name, colour, hatch) in zip(chances, _STATES, strict=True):
        width = float(chance or 0)
        axes.barh(0.5, width, 0.5, start, color=colour, hatch=hatch, edgecolor=_INK, linewidth=0.6)
        if width > 0.25:
            dark = name == "active"
            word = say(f"verdict.{name}")
            _label(axes, start + width / 2, 0.5, word, color="white" if dark else _INK)
        start += width
    axes.set_xticks([0, 0.5, 1])
    return figure


def _keep(case: CaseAssessment) -> Any:
    store = case.store
    if store is None or math.isnan(store.rh_percent.p50):
        return None
    low, high = store.options.onset.low_rh_percent[0], store.options.onset.high_rh_percent[0]
    high = low if math.isnan(high) else high
    read, point = store.rh_percent, math.floor(store.set_point_rh_percent or 0)
    ends = [read.p5, read.p95, low, high] + ([point] if point > 0 else [])
    figure, axes = _strip(
        max(0, 5 * math.floor(min(ends) / 5) - 5), min(100, 5 * math.ceil(max(ends) / 5) + 5)
    )
    axes.axvspan(low, max(high, low + 0.3), facecolor="#e9d5a8", hatch="////", edgecolor="#8a5f00")
    axes.barh(0.4, read.p95 - read.p5, 0.22, read.p5, color=_QUIET)
    axes.plot([read.p50], [0.4], "|", color=_INK, markersize=9, markeredgewidth=1.6)
    _label(axes, (read.p5 + read.p95) / 2, 0.15, say("front.picture.read"))
    if point > 0:
        axes.plot([point, point], [0.28, 1], color=_INK, linewidth=1.6)
        text = say("front.picture.set_point", rh_percent=str(point))
        _label(axes, point, 0.86, text + " ", ha="right")
    axes.set_ylim(0, 1)
    return figure


def _washing(case: CaseAssessment) -> Any:
    summary, decision = case.bath_summary, case.bath_decision
    if summary is None or not summary.total_mg > 0:
        return None
    out = summary.total_mg
    left = []
    if decision is not None and decision.status == "converged":
        posterior = decision.posterior
        stories = posterior.stories if not posterior.one_story else []
        left = [story.left_mg for story in stories] or [posterior.left_mg]
        if posterior.bound_only:
            left = []
    most = max([out] + [out + one.high for one in left])
    figure, axes = _strip(0, 1.05 * most)
    axes.barh(0.5, out, 0.55, color="#5f8f84", edgecolor=_INK, linewidth=0.6)
    _label(axes, out / 2, 0.5, say("front.picture.out"), color="white")
    for place, one in enumerate(left):
        y = 0.5 if len(left) == 1 else 0.78 - 0.56 * place / (len(left) - 1)
        axes.plot([out + one.low, out + one.high], [y, y], color=_INK, linewidth=1.4)
        axes.plot([out + one.median], [y], "o", color=_INK, markerfacecolor="white", markersize=4.5)
    if left:
        _label(axes, most * 1.04, 0.5, say("front.picture.left"), ha="right", va="center")
    axes.set_xlabel("mg", fontsize=_SMALL, labelpad=0)
    return figure


def _again(case: CaseAssessment) -> Any:
    box = case.box
    if box is None or box.start_s is None or not math.isfinite(box.review_days):
        return None
    start = box.start_s / _DAY
    review = start + box.review_days
    ends = [start, review]
    if math.isfinite(box.days_half_passed):
        ends.append(start + box.days_half_passed)
    today = _day_of(case.to_dict()["date"])
    if today is not None:
        ends.append(today)
    spread = max(ends) - min(ends) or 1.0
    figure, axes = _strip(min(ends) - 0.06 * spread, max(ends) + 0.06 * spread)
    axes.plot([start, max(ends)], [0.45, 0.45], color=_QUIET, linewidth=2, solid_capstyle="butt")
    axes.plot([start], [0.45], "|", color=_INK, markersize=8, markeredgewidth=1.4)
    axes.plot([review], [0.45], "D", color="#8a5f00", markersize=6)
    _label(axes, review, 0.85, say("front.picture.look"))
    if math.isfinite(box.days_half_passed):
        axes.plot([start + box.days_half_passed], [0.45], "o", color="#9d2f26", markersize=6)
        _label(axes, start + box.days_half_passed, 0.85, say("front.picture.half"), ha="right")
    if today is not None:
        axes.plot([today], [0.45], "v", color=_INK, markersize=5)
        _label(axes, today, 0.85, say("front.picture.today"), ha="left")
    marks = [start, review]
    axes.set_xticks(marks, [_date(mark) for mark in marks])
    return figure


def _day_of(date: str | None) -> float | None:
    if not date:
        return None
    moment = datetime.datetime.fromisoformat(date).replace(tzinfo=datetime.timezone.utc)
    return moment.timestamp() / _DAY


def _date(day: float) -> str:
    moment = datetime.datetime.fromtimestamp(day * _DAY, datetime.timezone.utc)
    return moment.date().isoformat()
