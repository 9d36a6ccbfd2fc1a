"""The figures of the report: stability fields, store record, box, bath curve."""

from __future__ import annotations

import io
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from .. import _core
from ..words import say
from .bath import plot_bath
from .enclosure import plot_enclosure
from .fields import plot_fields
from .front import front_pictures
from .salts import plot_mixture
from .store import plot_onset, plot_store

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from ..case import CaseAssessment, Diagram

_INK = "#1d1d1d"


@dataclass(frozen=True)
class ReportFigure:
    """A drawing with what a reader who cannot see it is told."""

    section: str
    svg: str
    alt: str
    caption: str


def case_figures(case: CaseAssessment) -> list[ReportFigure]:
    """Draw what the assessment holds; a section without data has no figure."""
    drawn: list[ReportFigure | None] = [
        _store(case),
        _onset(case),
        _mixture(case),
        _box(case),
        _bath(case),
    ]
    drawn += [_fields(diagram) for diagram in case.diagrams]
    return [figure for figure in drawn if figure is not None]


def front_figures(case: CaseAssessment) -> dict[str, ReportFigure]:
    """Draw the small pictures of the front sheet, by the names of their boxes."""
    drawn = front_pictures(case)
    return {
        name: ReportFigure(
            section=name, svg=to_svg(figure, clear=True), alt=_front_alt(name, case), caption=""
        )
        for name, figure in drawn.items()
    }


def _front_alt(name: str, case: CaseAssessment) -> str:
    if name == "keep":
        return say("front.alt.keep")
    if name == "washing":
        return say("front.alt.washing")
    if name == "again":
        return say("front.alt.again")
    shown, odds = _core.probability_text, case.odds
    return say(
        "front.alt.active",
        dormant=shown(odds.dormant or 0),
        borderline=shown(odds.borderline or 0),
        active=shown(odds.active or 0),
    )


def to_svg(figure: Figure, *, clear: bool = False) -> str:
    """Return a figure as SVG text without date or links, so that equal figures are equal text.

    `clear`: without a ground of its own.
    """
    import matplotlib as mpl

    buffer = io.StringIO()
    with mpl.rc_context({"svg.hashsalt": "aeruca", "svg.fonttype": "path"}):
        metadata = dict.fromkeys(("Creator", "Date", "Format", "Type"))
        figure.savefig(buffer, format="svg", metadata=metadata, transparent=clear)
    text = buffer.getvalue()
    return text[text.index("<svg") :]


def _axes(width: float, height: float) -> tuple[Figure, Axes]:
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    figure = Figure(figsize=(width, height), layout="constrained")
    FigureCanvasAgg(figure)
    return figure, figure.add_subplot()


def _fields(diagram: Diagram) -> ReportFigure:
    figure, axes = _axes(7.2, 5.4)
    plot_fields(diagram.fields, axes, caption=False)
    slots = {"water": diagram.name}
    names = ", ".join(field.species for field in diagram.fields.fields)
    rest = {"note": diagram.note, "conditions": diagram.fields.conditions}
    if diagram.ph is None or diagram.eh_v is None:
        alt = say("report.fields.alt", **slots, fields=names)
        caption = say("report.fields.caption", **slots, **rest)
    else:
        slots |= {"ph": f"{diagram.ph:.3g}", "eh_v": f"{diagram.eh_v:.3g}"}
        alt = say("report.fields.alt_marked", **slots, fields=names)
        caption = say("report.fields.caption_marked", **slots, **rest)
        _mark(axes, diagram.ph, diagram.eh_v, diagram.eh_uncertainty_v)
    return ReportFigure(section="stable", svg=to_svg(figure), alt=alt, caption=caption)


def _mark(axes: Axes, ph: float, eh_v: float, uncertainty_v: float | None) -> None:
    axes.errorbar(
        ph,
        eh_v,
        yerr=uncertainty_v or None,
        fmt="o",
        color=_INK,
        markerfacecolor="white",
        markeredgewidth=1.6,
        markersize=9,
        elinewidth=1.6,
        capsize=0,
        zorder=10,
    )


def _store(case: CaseAssessment) -> ReportFigure | None:
    if case.record is None or case.store is None:
        return None
    figure, axes = _axes(9.0, 3.8)
    plot_store(case.record, case.store, axes)
    return ReportFigure(
        section="dry",
        svg=to_svg(figure),
        alt=say("report.store.alt", reason=case.store.reason),
        caption=say("report.store.caption"),
    )


def _onset(case: CaseAssessment) -> ReportFigure | None:
    record, store = case.record, case.store
    if record is None or store is None or math.isnan(store.temperature_c.p50):
        return None
    figure, axes = _axes(9.0, 3.8)
    plot_onset(record, store, axes)
    return ReportFigure(
        section="dry",
        svg=to_svg(figure),
        alt=say("report.onset.alt"),
        caption=say("report.onset.caption"),
    )


def _mixture(case: CaseAssessment) -> ReportFigure | None:
    if case.mixture is None:
        return None
    figure, axes = _axes(9.0, 4.4)
    plot_mixture(case.mixture, axes)
    onsets = ", ".join(f"{one.rh_percent:.1f}" for one in case.mixture.onsets)
    return ReportFigure(
        section="dry",
        svg=to_svg(figure),
        alt=say("report.mixture.alt", onsets=onsets or say("word.none")),
        caption=say("report.mixture.caption"),
    )


def _box(case: CaseAssessment) -> ReportFigure | None:
    if case.box is None:
        return None
    figure, axes = _axes(9.0, 3.8)
    plot_enclosure(case.box, axes)
    return ReportFigure(
        section="box",
        svg=to_svg(figure),
        alt=say("report.box.alt", summary=case.box.summary),
        caption=say("report.box.caption"),
    )


def _bath(case: CaseAssessment) -> ReportFigure | None:
    log = case.bath_log
    if log is None:
        return None
    figure, axes = _axes(7.2, 3.8)
    posterior = None if case.bath_decision is None else case.bath_decision.posterior
    plot_bath(log, posterior=posterior, errors=case.bath_errors, axes=axes)
    readings = ", ".join(_reading(one) for one in log.baths)
    fitted = posterior is not None and posterior.status == "converged"
    return ReportFigure(
        section="wash",
        svg=to_svg(figure),
        alt=say("report.bath.alt_fitted" if fitted else "report.bath.alt", readings=readings),
        caption=say("report.bath.caption_fitted" if fitted else "report.bath.caption"),
    )


def _reading(one: _core.BathRecord) -> str:
    if one.kind == "not measured" or math.isnan(one.chloride_mg_per_l):
        return say("wash.reading.not_measured")
    read = f"{one.chloride_mg_per_l:g}"
    if one.kind == "between":
        high = one.at_most_mg_per_l
        if high is None or math.isinf(high):
            return say("wash.reading.above", low=read)
        return say("wash.reading.between", low=read, high=f"{high:g}")
    return say("number.below", limit=read) if one.kind == "below detection" else read
