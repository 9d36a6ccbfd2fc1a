"""The figures of the report: stability fields, store record, bath curve."""

from __future__ import annotations

import io
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from ._core import Dataset


@dataclass(frozen=True)
class ReportFigure:
    """A drawing with what a reader who cannot see it is told."""

    section: str
    svg: str
    alt: str
    caption: str


def case_figures(data: dict[str, Any], dataset: Dataset | None) -> list[ReportFigure]:
    """Draw what the case has data for; a section without data has no figure."""
    return []


def to_svg(figure: Figure) -> str:
    """Return a figure as SVG text without date or links, so that equal figures are equal text."""
    import matplotlib as mpl

    buffer = io.StringIO()
    with mpl.rc_context({"svg.hashsalt": "aeruca", "svg.fonttype": "path"}):
        metadata = {"Creator": None, "Date": None, "Format": None, "Type": None}
        figure.savefig(buffer, format="svg", metadata=metadata)
    text = buffer.getvalue()
    return text[text.index("<svg") :]
