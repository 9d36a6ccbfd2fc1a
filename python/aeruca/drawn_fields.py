"""What a drawing of stability fields asks of a diagram; so the drawing knows no result class."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Protocol

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from . import _core


class DrawnFields(Protocol):
    """Fields over two axes with their edges, water lines and words; see ``FieldDiagram``."""

    @property
    def x_axis(self) -> tuple[str, float, float]:
        """Title, low end and high end of the x axis."""

    @property
    def y_axis(self) -> tuple[str, float, float]:
        """Title, low end and high end of the y axis."""

    @property
    def fields(self) -> list[_core.Field]:
        """Fields in data-set order."""

    @property
    def edges(self) -> Sequence[_core.Edge | _core.TracedEdge]:
        """What meets along a line."""

    @property
    def edge_lines(self) -> list[NDArray[np.float64]]:
        """Points along every edge, in their order."""

    @property
    def water_lines(self) -> list[_core.WaterLine]:
        """Where hydrogen or oxygen reaches 1 bar over the water."""

    @property
    def conditions(self) -> str:
        """What is held, in one line."""

    @property
    def left_out(self) -> dict[str, str]:
        """Candidates left out, with the reason."""

    @property
    def warnings(self) -> list[str]:
        """What a reader must know."""

    @property
    def dataset_line(self) -> str:
        """Version and content hash of the data set."""
