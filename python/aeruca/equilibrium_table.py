"""Many waters at equilibrium: the table that a batch gives back."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from . import _core, checks
from .display import html_table

_STATUS = _core.STATUS_NAMES


@dataclass(frozen=True)
class EquilibriumTable:
    """Many waters at equilibrium: one array per quantity, NaN where there is no certified answer.

    The leading axes are those of the broadcast input; ``log10_molality`` and ``solid_mol_per_kg``
    have one more, over ``species`` and ``allowed_solids``.
    """

    species: list[str]
    allowed_solids: list[str]
    log10_molality: NDArray[np.float64]
    solid_mol_per_kg: NDArray[np.float64]
    ph: NDArray[np.float64]
    eh_v: NDArray[np.float64]
    ionic_strength: NDArray[np.float64]
    water_activity: NDArray[np.float64]
    status: NDArray[np.int32]
    certified: NDArray[np.bool_]

    def log10_molality_of(self, name: str) -> NDArray[np.float64]:
        """Return log10 of mol/kg of one species. Raises KeyError."""
        if name not in self.species:
            raise checks.unknown("dissolved species", name)
        return np.asarray(self.log10_molality[..., self.species.index(name)])

    def amount_of(self, name: str) -> NDArray[np.float64]:
        """Return mol per kg water of one solid. Raises KeyError."""
        if name not in self.allowed_solids:
            raise checks.unknown("solid", name)
        return np.asarray(self.solid_mol_per_kg[..., self.allowed_solids.index(name)])

    def raise_if_failed(self) -> None:
        """Raise Error naming the first water without a certified answer."""
        if np.all(self.certified):
            return
        at = int(np.flatnonzero(~self.certified.ravel())[0])
        status = _STATUS[int(self.status.ravel()[at])]
        raise _core.Error(f"water {at} of {self.certified.size} has no certified answer: {status}")

    def __repr__(self) -> str:
        return (
            f"EquilibriumTable(shape {self.certified.shape}, {len(self.species)} species, "
            f"{len(self.allowed_solids)} solids, {int(self.certified.sum())} certified)"
        )

    def _repr_html_(self) -> str:
        columns = ["pH", "Eh (V)", "ionic strength (mol/kg)", "water activity", "status"]
        first = slice(0, 10)
        figures = (self.ph, self.eh_v, self.ionic_strength, self.water_activity)
        rows = [
            [*(f"{value:.4g}" for value in values), _STATUS[int(status)]]
            for *values, status in zip(
                *(each.ravel()[first] for each in figures), self.status.ravel()[first], strict=True
            )
        ]
        return html_table(columns, rows, f"{self!r}; the first {len(rows)}")
