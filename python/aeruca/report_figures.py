"""The figures of the report: stability fields, store record, bath curve."""

from __future__ import annotations

import io
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from . import _core, bath, series
from .plot import plot_fields
from .plot_bath import plot_bath
from .plot_store import plot_store
from .stability import field_diagram

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

_INK = "#1d1d1d"


@dataclass(frozen=True)
class ReportFigure:
    """A drawing with what a reader who cannot see it is told."""

    section: str
    svg: str
    alt: str
    caption: str


def case_figures(data: dict[str, Any], dataset: _core.Dataset | None) -> list[ReportFigure]:
    """Draw what the case has data for; a section without data has no figure."""
    drawn: list[ReportFigure | None] = [_store(data), _bath(data)]
    drawn += [_fields(point, dataset) for point in data["waters"] if point["eh_v"] is not None]
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


def _fields(point: dict[str, Any], dataset: _core.Dataset | None) -> ReportFigure:
    carbonate = point["log10_carbonate"]
    diagram = field_diagram(
        ("pH", 2.0, 12.0),
        ("Eh", -0.6, 1.0),
        log10_activity={name: round(value, 2) for name, value in point["log10_activity"].items()},
        log10_ligand={} if carbonate is None else {"CO3(2-)": round(carbonate, 2)},
        dataset=dataset,
    )
    figure, axes = _axes(7.2, 5.4)
    plot_fields(diagram, axes, caption=False)
    axes.errorbar(
        point["ph"],
        point["eh_v"],
        yerr=point["eh_uncertainty_v"] or None,
        fmt="o",
        color=_INK,
        markerfacecolor="white",
        markeredgewidth=1.6,
        markersize=9,
        elinewidth=1.6,
        capsize=0,
        zorder=10,
    )
    where = f"pH {point['ph']:.3g}, Eh {point['eh_v']:.3g} V"
    names = ", ".join(field.species for field in diagram.fields)
    return ReportFigure(
        section="stable",
        svg=to_svg(figure),
        alt=f"Stability fields of copper over pH and Eh, with {point['name']} marked at {where}. "
        f"Fields: {names}.",
        caption=f"Stable forms of copper at the chloride, sulfate and carbonate of {point['name']} "
        f"(circle: {where}). {diagram.conditions}. Constants of 25 degrees C. A field says what "
        "may form in endless time.",
    )


def _given(value: float | None, otherwise: float) -> float:
    return otherwise if value is None else value


def _store(data: dict[str, Any]) -> ReportFigure | None:
    settings = data["settings"]["store"]
    if settings["log"] is None:
        return None
    record = series.read_logger(settings["log"])
    try:
        assessment = series.assess_store(
            record,
            settings["onset"] or None,
            accuracy_rh_percent=_given(settings["sensor_accuracy_rh_percent"], 3.0),
            cooler_c=settings["object_cooler_by_k"],
        )
    except _core.UnknownName:  # a limit of the user's own data set
        return None
    figure, axes = _axes(9.0, 3.8)
    plot_store(record, assessment, axes)
    return ReportFigure(
        section="dry",
        svg=to_svg(figure),
        alt="Relative humidity of the store over the time of the record, against the onset band; "
        + assessment.reason,
        caption="Humidity at the object's surface against the onset band; the shade around the "
        "line is the sensor's accuracy.",
    )


def _errors(settings: dict[str, Any]) -> _core.ReadingErrors:
    return _core.ReadingErrors(
        _given(settings["reading_error_percent"], 5.0) / 100,
        0.0,
        _given(settings["volume_error_percent"], 2.0) / 100,
    )


def _bath(data: dict[str, Any]) -> ReportFigure | None:
    settings = data["settings"]["bath"]
    if settings["log"] is None:
        return None
    log, errors = bath.read_bath_log(settings["log"]), _errors(settings)
    fit = None
    if not data["ask_a_conservator"]:
        fit = bath.fit_bath_log(
            log,
            shape=settings["shape"],
            load=settings["load"],
            errors=errors,
            object_mass_g=data["object"]["mass_g"],
            next_volume_l=settings["next_volume_l"],
            next_days=settings["next_days"],
            stop_mg_per_l=settings["stop_mg_per_l"],
        )
    figure, axes = _axes(7.2, 3.8)
    plot_bath(log, fit, errors=errors, stop_mg_per_l=settings["stop_mg_per_l"], axes=axes)
    readings = ", ".join(_reading(one) for one in log.baths)
    return ReportFigure(
        section="wash",
        svg=to_svg(figure),
        alt=f"Chloride in each bath, in mg/L: {readings}; with the model's range for each bath"
        " and for the next.",
        caption="Readings at the end of each bath, the range the model gives each, and what "
        "it expects of the next. The height of a reading depends on days and volume: compare what "
        "was taken out, not mg/L.",
    )


def _reading(one: _core.BathRecord) -> str:
    if one.kind == "not measured" or math.isnan(one.chloride_mg_per_l):
        return "not measured"
    sign = "below " if one.kind == "below detection" else ""
    return f"{sign}{one.chloride_mg_per_l:g}"
