"""The figures of the report: stability fields, store record, bath curve."""

from __future__ import annotations

import io
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from . import _core
from .plot import plot_fields
from .plot_bath import plot_bath
from .plot_store import plot_store

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from .case import CaseAssessment, Diagram

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
    drawn: list[ReportFigure | None] = [_store(case), _bath(case)]
    drawn += [_fields(diagram) for diagram in case.diagrams]
    return [figure for figure in drawn if figure is not None]


def to_svg(figure: Figure) -> str:
    """Return a figure as SVG text without date or links, so that equal figures are equal text."""
    import matplotlib as mpl

    buffer = io.StringIO()
    with mpl.rc_context({"svg.hashsalt": "aeruca", "svg.fonttype": "path"}):
        metadata = dict.fromkeys(("Creator", "Date", "Format", "Type"))
        figure.savefig(buffer, format="svg", metadata=metadata)
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
    where = ""
    if diagram.ph is not None and diagram.eh_v is not None:
        where = f"pH {diagram.ph:.3g}, Eh {diagram.eh_v:.3g} V"
        _mark(axes, diagram.ph, diagram.eh_v, diagram.eh_uncertainty_v)
    names = ", ".join(field.species for field in diagram.fields.fields)
    marked = f", with {diagram.name} marked at {where}" if where else f" in {diagram.name}"
    circle = f" (circle: {where})" if where else ""
    return ReportFigure(
        section="stable",
        svg=to_svg(figure),
        alt=f"Stability fields of copper over pH and Eh{marked}. Fields: {names}.",
        caption=f"Stable forms of copper in {diagram.name}{circle}. {diagram.note} "
        f"{diagram.fields.conditions}. A field says what may form in endless time.",
    )


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
        alt="Relative humidity of the store over the time of the record, against the onset band; "
        + case.store.reason,
        caption="Humidity at the object's surface against the onset band; the shade around the "
        "line is the sensor's accuracy.",
    )


def _bath(case: CaseAssessment) -> ReportFigure | None:
    log = case.bath_log
    if log is None:
        return None
    figure, axes = _axes(7.2, 3.8)
    plot_bath(log, case.bath_fit, errors=case.bath_errors, axes=axes)
    readings = ", ".join(_reading(one) for one in log.baths)
    fitted = case.bath_fit is not None and case.bath_fit.status == "converged"
    model = "; with the model's range for each bath and for the next" if fitted else ""
    ranges = (
        ", the range the model gives each, and what it expects of the next"
        if fitted
        else "; no model range is given"
    )
    return ReportFigure(
        section="wash",
        svg=to_svg(figure),
        alt=f"Chloride in each bath, in mg/L: {readings}{model}.",
        caption=f"Readings at the end of each bath{ranges}. The height of a reading depends on "
        "days and volume: compare what was taken out, not mg/L.",
    )


def _reading(one: _core.BathRecord) -> str:
    if one.kind == "not measured" or math.isnan(one.chloride_mg_per_l):
        return "not measured"
    sign = "below " if one.kind == "below detection" else ""
    return f"{sign}{one.chloride_mg_per_l:g}"
