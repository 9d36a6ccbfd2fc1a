"""What a notebook and a prompt show of results that the compiled core makes; units in the text."""

from __future__ import annotations

import html
import math
from typing import Any

from . import _core
from .display import html_table


def _shown(value: float, digits: int = 4) -> str:
    return "not known" if math.isnan(value) else f"{value:.{digits}g}"


def _range(values: _core.Range) -> str:
    if math.isnan(values.median):
        return "not known"
    return f"{_shown(values.median, 3)} ({_shown(values.low, 3)} to {_shown(values.high, 3)})"


def _summary_repr(summary: _core.BathSummary) -> str:
    return (
        f"<BathSummary {len(summary.baths)} baths, {_shown(summary.total_mg, 3)} ± "
        f"{_shown(summary.total_error_mg, 2)} mg chloride out>"
    )


def _record_repr(record: _core.LoggerRecord) -> str:
    interval = _shown(record.interval_s / 3600)
    return (
        f"<LoggerRecord {len(record)} readings every {interval} h, {record.dropped} of "
        f"{record.rows} dropped>"
    )


def _onset_repr(curve: _core.OnsetCurve) -> str:
    low, high = curve.low_rh_percent, curve.high_rh_percent
    if not low or not high:
        return f"<OnsetCurve {curve.id}: empty>"
    top = "no upper end" if math.isnan(high[0]) else f"{max(high):.4g} % RH"
    return f"<OnsetCurve {curve.id}: {min(low):.4g} % RH to {top}>"


def _point_repr(point: _core.MeasuredCurvePoint) -> str:
    return (
        f"<MeasuredCurvePoint {point.rh_percent:.4g} ± "
        f"{_shown(point.uncertainty_percent, 2)} % RH, "
        f"{point.source}>"
    )


def _rows(pairs: list[tuple[str, str]]) -> list[list[str]]:
    return [[html.escape(label), html.escape(value)] for label, value in pairs]


def _store_html(store: _core.StoreAssessment) -> str:
    pairs = [
        ("known time (days)", _shown(store.known_hours / 24)),
        ("share of the period known (%)", _shown(100 * store.coverage, 3)),
        ("surface humidity, median (% RH)", _shown(store.surface_rh_percent.p50, 3)),
        ("time above the low end (%)", _shown(100 * store.above_low.share.as_read, 3)),
        ("longest spell above it (h)", _shown(store.above_low.longest.hours)),
        ("probability of dormant conditions", _shown(store.probability_dormant, 2)),
        ("probability of active conditions", _shown(store.probability_active, 2)),
    ]
    return html_table(["store", store.verdict], _rows(pairs), store.reason)


def _fit_html(fit: _core.BathFit) -> str:
    pairs = [
        ("load (mg)", _range(fit.load_mg)),
        ("rate (1/day)", _range(fit.rate_per_day)),
        ("left inside (mg)", _range(fit.left_mg)),
        ("share out (%)", _range(fit.share_out_percent)),
        ("next reading (mg/l)", _range(fit.next_reading_mg_per_l)),
    ]
    return html_table(["bath fit", "median (5 to 95 %)"], _rows(pairs), fit.message)


def _summary_html(summary: _core.BathSummary) -> str:
    rows = [
        [str(place), _shown(bath.mg), _shown(bath.error_mg, 2), _shown(bath.cumulative_mg)]
        for place, bath in enumerate(summary.baths, 1)
    ]
    columns = ["bath", "chloride out (mg)", "±", "sum (mg)"]
    return html_table(columns, rows, repr(summary).strip("<>"))


def _deliquescence_html(found: _core.Deliquescence) -> str:
    rows = [["computed", _shown(found.rh_percent), _shown(found.rh_uncertainty_percent, 2), ""]]
    for one in found.measured:
        rows.append(
            [
                html.escape(f"measured, {one.kind}"),
                _shown(one.rh_percent),
                _shown(one.uncertainty_percent, 2),
                html.escape(one.source),
            ]
        )
    title = f"{found.solid} at {found.temperature_c:g} °C"
    caption = f"{title}; {found.not_known_because}" if found.not_known_because else title
    return html_table(["deliquescence", "% RH", "±", "source"], rows, caption)


_CARDS: list[tuple[type, str, Any]] = [
    (_core.BathSummary, "__repr__", _summary_repr),
    (_core.LoggerRecord, "__repr__", _record_repr),
    (_core.OnsetCurve, "__repr__", _onset_repr),
    (_core.MeasuredCurvePoint, "__repr__", _point_repr),
    (_core.StoreAssessment, "_repr_html_", _store_html),
    (_core.BathFit, "_repr_html_", _fit_html),
    (_core.BathSummary, "_repr_html_", _summary_html),
    (_core.Deliquescence, "_repr_html_", _deliquescence_html),
]


def install() -> None:
    """Give the classes of the core their faces; called once, when the package is imported."""
    for kind, name, face in _CARDS:
        setattr(kind, name, face)
