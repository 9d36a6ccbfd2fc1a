"""What a drawing of stability fields asks of a diagram; so the drawing knows no result class."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Generic, Protocol, TypeVar

import numpy as np
from numpy.typing import NDArray

from . import _core
from ._core import Corner, Field, WaterLine


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


Core = TypeVar("Core", _core.FieldDiagram, _core.TotalsFieldDiagram)


class FieldView(Generic[Core]):
    """What a diagram at fixed activities and one at fixed totals say alike."""

    _core: Core

    @property
    def x_axis(self) -> tuple[str, float, float]:
        """Title, low end and high end of the x axis."""
        return self._core.x_axis

    @property
    def y_axis(self) -> tuple[str, float, float]:
        """Title, low end and high end of the y axis."""
        return self._core.y_axis

    @property
    def conditions(self) -> str:
        """What is held, in one line."""
        return self._core.conditions

    @property
    def fields(self) -> list[Field]:
        """The fields: in data-set order at fixed activities, the largest first at fixed totals."""
        return self._core.fields

    @property
    def corners(self) -> list[Corner]:
        """Points where three or more fields meet."""
        return self._core.corners

    @property
    def water_lines(self) -> list[WaterLine]:
        """Where hydrogen or oxygen reaches 1 bar over the water."""
        return self._core.water_lines

    @property
    def warnings(self) -> list[str]:
        """What a reader must know."""
        return self._core.warnings

    @property
    def figures(self) -> list[str]:
        """Ids of the constants used."""
        return self._core.figures

    @property
    def dataset_line(self) -> str:
        """Version and content hash of the data set."""
        return f"data set {self._core.dataset_version} (content {self._core.dataset_hash})"

    def field(self, species: str) -> Field:
        """Return a field by its name; KeyError names those that there are."""
        for field in self.fields:
            if field.species == species:
                return field
        known = ", ".join(field.species for field in self.fields)
        raise KeyError(f"no field of {species!r} here; there are fields of {known}")

    def __repr__(self) -> str:
        """Name the axes and the fields."""
        names = ", ".join(field.species for field in self.fields)
        return f"<{type(self).__name__} {self.x_axis[0]} x {self.y_axis[0]}: {names}>"
