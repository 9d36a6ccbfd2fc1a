"""Fields at fixed totals: what holds the copper of a given water, over two conditions."""

from __future__ import annotations

import html
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any, TypedDict

import numpy as np
from numpy.typing import ArrayLike, NDArray

from . import _core, checks
from ._core import TracedEdge as TracedEdge
from .choices import MissingEnthalpy
from .display import html_table, reaction_text, sentence_text, species_html
from .drawn_fields import FieldView
from .handed_on import keywords_of, showing
from .stability import AxisRange, axis_range

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from typing_extensions import Unpack

_PH: AxisRange = ("pH", 0.0, 14.0)
_EH: AxisRange = ("Eh", -1.0, 1.4)


class TotalsChoices(TypedDict, total=False):
    """What may be asked of :class:`TotalsFields` by name; the defaults stand there."""

    ph: float | None
    eh_v: float | None
    oxygen_bar: float | None
    gases: Mapping[str, float] | None
    water_activity: float | None
    temperature_c: float
    activity: str
    left_out: Sequence[str]
    cells: int
    missing_enthalpy: MissingEnthalpy
    dataset: _core.Dataset | None


class TotalsFieldDiagram(FieldView[_core.TotalsFieldDiagram]):
    """Fields, traced edges and corners over two axes, of a water whose totals are given.

    ``x_axis`` and ``y_axis`` are (title, low, high). ``fields`` carry ``species`` (the copper
    solids that are there together, "cuprite + nantokite", or the dissolved form that holds most
    of the copper), ``outlines`` (arrays (n, 2), counter-clockwise, holes clockwise),
    ``area_fraction`` and ``label``. ``edges`` carry ``left``, ``right``, ``line`` (n, 2) and
    ``reaction``.
    """

    def __init__(self, core: _core.TotalsFieldDiagram) -> None:
        self._core = core

    @property
    def edges(self) -> list[_core.TracedEdge]:
        """Curves between two fields."""
        return self._core.edges

    @property
    def edge_lines(self) -> list[NDArray[np.float64]]:
        """Points along every edge."""
        return [edge.line for edge in self.edges]

    @property
    def left_out(self) -> dict[str, str]:
        """Nothing is left out but by the caller."""
        return {}

    @property
    def solved(self) -> int:
        """How many waters were solved to trace it."""
        return self._core.solved

    def plot(self, ax: Axes | None = None, **options: Any) -> Axes:
        """Draw the diagram; see :func:`aeruca.drawing.plot_fields`."""
        from .drawing import plot_fields

        return plot_fields(self, ax, **options)

    def _repr_html_(self) -> str:
        """Return a table of the edges for notebooks."""
        rows = [
            [
                f"{species_html(edge.left)} | {species_html(edge.right)}",
                html.escape(reaction_text(edge.reaction)),
            ]
            for edge in self.edges
        ]
        said = sentence_text(self.conditions) + "; " + self.dataset_line
        return html_table(["fields", "reaction"], rows, said)


class TotalsFields:
    """A water of fixed totals over two axes.

    Axes are (quantity, low, high): "pH", "Eh" (V against the standard hydrogen electrode),
    "oxygen" (log10 bar), "total Cl(-)" (log10 mol/kg of any species or solid), a gas such as
    "CO2(g)" (log10 bar), "water activity", "temperature" (degrees C). ``totals``: mol per kg of
    water weighed in, dissolved or not. What neither axis nor argument sets follows from the
    totals: without pH the charge balances, without Eh and oxygen the valences are conserved.
    ``gases``: bar, held. ``left_out``: solids or species by name. ``cells``: of the first grid, to
    a side (8 to 400); what is narrower than a cell can be missed.
    """

    def __init__(
        self,
        x: AxisRange = _PH,
        y: AxisRange = _EH,
        *,
        totals: Mapping[str, float],
        ph: float | None = None,
        eh_v: float | None = None,
        oxygen_bar: float | None = None,
        gases: Mapping[str, float] | None = None,
        water_activity: float | None = None,
        temperature_c: float = 25.0,
        activity: str = "sit",
        left_out: Sequence[str] = (),
        cells: int = 48,
        missing_enthalpy: MissingEnthalpy = "estimate",
        dataset: _core.Dataset | None = None,
    ) -> None:
        self._core = _core.TotalsFields(
            checks.dataset(dataset),
            axis_range("x", x),
            axis_range("y", y),
            checks.number_by_name("totals", totals),
            checks.optional_number("ph", ph),
            checks.optional_number("eh_v", eh_v),
            checks.optional_number("oxygen_bar", oxygen_bar),
            {} if gases is None else checks.number_by_name("gases", gases),
            checks.optional_number("water_activity", water_activity),
            checks.number("temperature_c", temperature_c),
            checks.text("activity", activity),
            checks.names("left_out", left_out),
            checks.integer("cells", cells, 8, 400),
            checks.text("missing_enthalpy", missing_enthalpy),
        )

    def diagram(self) -> TotalsFieldDiagram:
        """Trace the fields: to 0.001 in pH and log units, 0.1 mV in Eh."""
        return TotalsFieldDiagram(self._core.diagram())

    def at(self, x: ArrayLike, y: ArrayLike) -> Any:
        """Names of the fields at points in axis units; x and y broadcast."""
        xs, ys = checks.broadcast(x=checks.numbers("x", x), y=checks.numbers("y", y))
        names = np.array(self._core.at(np.ravel(xs), np.ravel(ys))).reshape(xs.shape)
        return names.item() if xs.ndim == 0 else names


@showing(keywords_of(TotalsFields, but=("totals",)))
def totals_fields(
    x: AxisRange = _PH,
    y: AxisRange = _EH,
    *,
    totals: Mapping[str, float],
    **options: Unpack[TotalsChoices],
) -> TotalsFieldDiagram:
    """Return the diagram over two axes; options as for :class:`TotalsFields`."""
    return TotalsFields(x, y, totals=totals, **options).diagram()


def ready_views() -> dict[str, str]:
    """Return the views that are ready, by name, with what each shows."""
    return dict(_core.totals_views())


def ready_view(name: str, *, cells: int = 48) -> TotalsFieldDiagram:
    """Return a ready view: a pit, chloride against pH, carbon dioxide against chloride, a bath."""
    return TotalsFieldDiagram(
        _core.totals_view(checks.text("name", name), checks.integer("cells", cells, 8, 400))
    )
