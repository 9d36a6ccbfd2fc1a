"""Stability fields: which form of copper is the most stable, over two conditions or at points."""

from __future__ import annotations

import html
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, TypeAlias, TypedDict

import numpy as np
from numpy.typing import ArrayLike, NDArray

from . import _core, checks
from ._core import (  # the types of this part
    Corner as Corner,
)
from ._core import (
    Edge as Edge,
)
from ._core import (
    Field as Field,
)
from ._core import (
    LineEquation as LineEquation,
)
from ._core import (
    Rival as Rival,
)
from ._core import (
    WaterLine as WaterLine,
)
from .choices import MissingEnthalpy
from .display import html_table, reaction_text, sentence_text, species_html
from .drawn_fields import FieldView
from .handed_on import keywords_of, showing

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from typing_extensions import Unpack

AxisRange: TypeAlias = tuple[str, float, float]
_PH: AxisRange = ("pH", 0.0, 14.0)
_EH: AxisRange = ("Eh", -1.0, 1.4)


class FieldChoices(TypedDict, total=False):
    """What may be asked of a :class:`FieldModel` by name; the defaults stand there."""

    temperature_c: float
    ph: float | None
    eh_v: float | None
    log10_activity: Mapping[str, float] | None
    log10_ligand: Mapping[str, float] | None
    log10_copper: float
    log10_water: float
    left_out: Sequence[str] | Mapping[str, str]
    only: Sequence[str]
    coverage: float
    missing_enthalpy: MissingEnthalpy
    dataset: _core.Dataset | None


class FieldDiagram(FieldView[_core.FieldDiagram]):
    """Fields, edges, corners and water lines over two axes.

    ``x_axis`` and ``y_axis`` are (title, low, high). ``fields`` carry ``species``, ``outlines``
    (arrays (n, 2), counter-clockwise), ``area_fraction``, ``label``, ``rivals``. ``edges`` carry
    ``left``, ``right``, ``reaction``, ``log10_k`` and ``line`` (slope, intercept or ``vertical_x``,
    ``uncertainty``: one standard uncertainty). ``corners`` say which three or more fields meet.
    """

    def __init__(self, core: _core.FieldDiagram) -> None:
        self._core = core

    @property
    def edges(self) -> list[_core.Edge]:
        """Lines between two fields."""
        return self._core.edges

    @property
    def edge_lines(self) -> list[NDArray[np.float64]]:
        """Both ends of every edge."""
        return [np.array([edge.from_point, edge.to_point]) for edge in self.edges]

    @property
    def candidates(self) -> list[str]:
        """Every species and solid that was compared."""
        return self._core.candidates

    @property
    def without_field(self) -> list[str]:
        """Compared, but nowhere the most stable in this frame."""
        return self._core.without_field

    @property
    def left_out(self) -> dict[str, str]:
        """Candidates left out, with the reason."""
        return dict(self._core.left_out)

    @property
    def estimated_heats(self) -> list[str]:
        """Candidates whose constant at this temperature rests on an estimated heat."""
        return self._core.estimated_heats

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
                html.escape(sentence_text(edge.line.text)),
                f"± {edge.line.uncertainty:.2g}",
            ]
            for edge in self.edges
        ]
        columns = ["fields", "reaction", "line", "one standard uncertainty"]
        return html_table(columns, rows, sentence_text(self.conditions) + "; " + self.dataset_line)


@dataclass(frozen=True)
class StableAt:
    """The most stable candidate at each point: scalars for one point, else arrays of that shape.

    ``species`` and ``runner_up`` (empty text where x or y is NaN), ``gap_log10`` (per copper atom),
    ``gap_kj_per_mol_copper`` (kJ/mol), ``uncertainty_log10`` (one standard uncertainty of the gap),
    ``decided`` (False: the gap lies within ``coverage`` standard uncertainties, or another
    published constant for the same reaction would put another candidate first), ``spread_log10``
    (by how much such a constant narrows the gap to the runner-up at most).
    """

    species: Any
    runner_up: Any
    gap_log10: Any
    gap_kj_per_mol_copper: Any
    uncertainty_log10: Any
    decided: Any
    spread_log10: Any


class FieldModel:
    """Candidates prepared over two axes; make one and ask it many times.

    Axes are (quantity, low, high): "pH", "Eh" (V against the standard hydrogen electrode),
    "dissolved copper" (log10 activity of each dissolved copper species), "dissolved CO3(2-)" (of
    whichever form predominates), or a species or gas such as "Cl(-)", "CO2(g)" (log10 activity, or
    log10 fugacity in bar). ``left_out`` takes names, or names with reasons.
    ``missing_enthalpy``: what becomes of a candidate whose enthalpy was not found, away from 25
    degrees C: "estimate" takes it by a rule, with its uncertainty, and names it; "leave_out" or
    "refuse".
    """

    def __init__(
        self,
        x: AxisRange = _PH,
        y: AxisRange = _EH,
        *,
        temperature_c: float = 25.0,
        ph: float | None = None,
        eh_v: float | None = None,
        log10_activity: Mapping[str, float] | None = None,
        log10_ligand: Mapping[str, float] | None = None,
        log10_copper: float = -6.0,
        log10_water: float = 0.0,
        left_out: Sequence[str] | Mapping[str, str] = (),
        only: Sequence[str] = (),
        coverage: float = 2.0,
        missing_enthalpy: MissingEnthalpy = "estimate",
        dataset: _core.Dataset | None = None,
    ) -> None:
        reasons = _reasons(left_out)
        self._core = _core.FieldModel(
            checks.dataset(dataset),
            axis_range("x", x),
            axis_range("y", y),
            checks.number("temperature_c", temperature_c),
            checks.optional_number("ph", ph),
            checks.optional_number("eh_v", eh_v),
            _logarithms("log10_activity", log10_activity),
            _logarithms("log10_ligand", log10_ligand),
            checks.number("log10_copper", log10_copper),
            checks.number("log10_water", log10_water),
            list(reasons.items()),
            checks.names("only", only),
            checks.number("coverage", coverage),
            checks.text("missing_enthalpy", missing_enthalpy),
        )
        self._candidates = np.array([*self._core.candidates(), ""])  # -1: none

    @property
    def candidates(self) -> list[str]:
        """Every species and solid that is compared."""
        return self._core.candidates()

    def diagram(self) -> FieldDiagram:
        """Work out fields, edges and corners."""
        return FieldDiagram(self._core.diagram())

    def stable_at(self, x: ArrayLike, y: ArrayLike) -> StableAt:
        """Most stable candidate at points in axis units; x and y broadcast; NaN gives no answer."""
        xs, ys = checks.broadcast(x=checks.numbers("x", x), y=checks.numbers("y", y))
        columns = self._core.at_many(np.ravel(xs), np.ravel(ys))
        species, runner_up, gap, energy, uncertainty, decided, spread = (
            column.reshape(xs.shape) for column in columns
        )
        answers = (
            self._candidates[species],
            self._candidates[runner_up],
            gap,
            energy,
            uncertainty,
            decided.astype(bool),
            spread,
        )
        return StableAt(*(a.item() if xs.ndim == 0 else a for a in answers))

    def probabilities(
        self, x: ArrayLike, y: ArrayLike, *, samples: int = 2000, seed: int = 1
    ) -> NDArray[np.float64]:
        """Probability of each candidate (last axis, as ``candidates``) given uncertain constants.

        The share of ``samples`` seeded draws; a figure shared by several constants is drawn once.
        Standard error sqrt(p (1 - p) / samples). x and y broadcast; NaN gives NaN. Samples times
        points: 100 000 000 or less.
        """
        draws = (
            checks.integer("samples", samples, 1, 1_000_000),
            checks.integer("seed", seed, 0, 2**64 - 1),
        )
        xs, ys = checks.broadcast(x=checks.numbers("x", x), y=checks.numbers("y", y))
        shares = self._core.probabilities(np.ravel(xs), np.ravel(ys), *draws)
        return shares.reshape((*xs.shape, -1))


def _reasons(left_out: Sequence[str] | Mapping[str, str]) -> dict[str, str]:
    names = checks.names("left_out", left_out)
    if isinstance(left_out, Mapping):
        return {name: checks.text(f"left_out of {name}", left_out[name]) for name in names}
    return dict.fromkeys(names, "")


def _logarithms(name: str, values: Mapping[str, float] | None) -> dict[str, float]:
    return {} if values is None else checks.number_by_name(name, values)


def axis_range(name: str, axis: AxisRange) -> AxisRange:
    """Return (quantity, low, high), checked."""
    if isinstance(axis, str) or not isinstance(axis, Sequence) or len(axis) != 3:
        accepted = '(quantity, low, high), such as ("pH", 0, 14)'
        raise checks.refusal(name, checks.shown(axis), accepted)
    quantity, low, high = axis
    return (
        checks.text(f"quantity of {name}", quantity),
        checks.number(f"low end of {name}", low),
        checks.number(f"high end of {name}", high),
    )


@showing(keywords_of(FieldModel))
def field_diagram(
    x: AxisRange = _PH, y: AxisRange = _EH, **options: Unpack[FieldChoices]
) -> FieldDiagram:
    """Return the diagram over two axes; options as for :class:`FieldModel`."""
    return FieldModel(x, y, **options).diagram()


@showing(keywords_of(FieldModel, but=("ph", "eh_v")))
def stable_at(x: ArrayLike, y: ArrayLike, **options: Unpack[FieldChoices]) -> StableAt:
    """Most stable candidate at pH ``x`` and Eh ``y`` (V vs SHE).

    Options as for :class:`FieldModel`, but for ``ph`` and ``eh_v``.
    With other axes than pH and Eh, make a :class:`FieldModel` and call its ``stable_at``.
    """
    return FieldModel(**options).stable_at(x, y)
