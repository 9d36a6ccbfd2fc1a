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


def _rows(pairs: list[tuple[str, str]]) -> list[list[str]]:
    return [[html.escape(label), html.escape(value)] for label, value in pairs]


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


_CARDS: list[tuple[type, str, Any]] = [
    (_core.BathSummary, "__repr__", _summary_repr),
    (_core.BathFit, "_repr_html_", _fit_html),
    (_core.BathSummary, "_repr_html_", _summary_html),
]


def _line_of(result: Any) -> str:
    line: str = result._line()
    return line


def card(result: Any) -> str:
    """Return the HTML card of a described result: what matters first, the rest folded away."""
    rows, tables = result._sheet()
    first = [row for row in rows if row[3]] or rows
    rest = [row for row in rows if row not in first]
    heading = [type(result).__name__, ""]
    parts = [html_table(heading, _figures(first), _line_of(result))]
    parts += [
        html_table(columns, [[html.escape(cell) for cell in row] for row in cells], title)
        for title, columns, cells in tables
        if cells
    ]
    if rest:
        folded = html_table(["figure", ""], _figures(rest))
        parts.append(f"<details><summary>all figures</summary>{folded}</details>")
    return "".join(parts)


def _figures(rows: list[tuple[str, str, str, bool]]) -> list[list[str]]:
    return [
        [f'<span title="{html.escape(name)}">{html.escape(meaning)}</span>', html.escape(value)]
        for name, meaning, value, _ in rows
    ]


def install() -> None:
    """Give the classes of the core their faces; called once, when the package is imported."""
    for described in vars(_core).values():
        if isinstance(described, type) and hasattr(described, "_sheet"):
            described._repr_html_ = card  # type: ignore[attr-defined]
    for kind, name, face in _CARDS:
        setattr(kind, name, face)
