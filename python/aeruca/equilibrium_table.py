"""Many waters at equilibrium: the table that a batch gives back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from . import _core, checks
from .display import html_table

_STATUS = _core.STATUS_NAMES


class EquilibriumTable:
    """Many waters at equilibrium: one array per quantity, NaN where there is no certified answer.

    The leading axes, called ``...`` below, are those of the broadcast input. A column that was not
    asked for raises InputError when it is read; ``columns`` says which are there.
    """

    def __init__(
        self,
        shape: tuple[int, ...],
        names: Mapping[str, list[str]],
        arrays: Mapping[str, NDArray[Any]],
        columns: Sequence[str],
    ) -> None:
        self._names = names
        self._arrays = {
            name: array.reshape((*shape, *array.shape[1:]))
            for name, array in arrays.items()
            if name in columns or name in ("status", "certified")
        }
        self.columns = [name for name in _core.BATCH_COLUMNS if name in columns]

    def _column(self, name: str) -> NDArray[Any]:
        if name not in self._arrays:
            raise checks.refusal(
                "columns", ", ".join(self.columns), f"names with {name} to read it"
            )
        return self._arrays[name]

    @property
    def species(self) -> list[str]:
        """Dissolved species of ``log10_molality``."""
        return self._names["species"]

    @property
    def allowed_solids(self) -> list[str]:
        """Solids of ``solid_mol_per_kg``."""
        return self._names["allowed_solids"]

    @property
    def indexed_solids(self) -> list[str]:
        """Solids of ``saturation_index``."""
        return self._names["indexed_solids"]

    @property
    def gases(self) -> list[str]:
        """Gases of ``log10_fugacity``."""
        return self._names["gases"]

    @property
    def log10_molality(self) -> NDArray[np.float64]:
        """(..., species) log10 of mol per kg of solvent; minus infinity: not there."""
        return self._column("log10_molality")

    @property
    def solid_mol_per_kg(self) -> NDArray[np.float64]:
        """(..., allowed_solids) mol per kg of water given; 0 for one that did not form."""
        return self._column("solid_mol_per_kg")

    @property
    def leading_solid(self) -> NDArray[np.int32]:
        """(...) place in ``Equilibrium.allowed_solids`` of the one with most moles; -1: none."""
        return self._column("leading_solid")

    @property
    def saturation_index(self) -> NDArray[np.float64]:
        """(..., indexed_solids) log10 of the saturation; minus infinity: a component lacks."""
        return self._column("saturation_index")

    @property
    def log10_fugacity(self) -> NDArray[np.float64]:
        """(..., gases) log10 of bar; minus infinity: a component lacks."""
        return self._column("log10_fugacity")

    @property
    def ph(self) -> NDArray[np.float64]:
        """(...) -log10 a(H(+))."""
        return self._column("ph")

    @property
    def eh_v(self) -> NDArray[np.float64]:
        """(...) V against the standard hydrogen electrode."""
        return self._column("eh_v")

    @property
    def ionic_strength(self) -> NDArray[np.float64]:
        """(...) mol per kg of solvent."""
        return self._column("ionic_strength")

    @property
    def water_activity(self) -> NDArray[np.float64]:
        """(...) 1 for pure water."""
        return self._column("water_activity")

    @property
    def solvent_kg(self) -> NDArray[np.float64]:
        """(...) kg of water present per kg given; 1 unless the water activity was held."""
        return self._column("solvent_kg")

    @property
    def degenerate(self) -> NDArray[np.bool_]:
        """(...) True where solids could stand for each other in other amounts."""
        return self._column("degenerate").astype(np.bool_)

    @property
    def status(self) -> NDArray[np.int32]:
        """(...) how each ended, a place in ``("converged", ...)``; see ``status_names``."""
        return self._column("status")

    @property
    def status_names(self) -> tuple[str, ...]:
        """Words of ``status`` by number."""
        return _STATUS

    @property
    def certified(self) -> NDArray[np.bool_]:
        """(...) True where the certificate holds."""
        return self._column("certified").astype(np.bool_)

    def log10_molality_of(self, name: str) -> NDArray[np.float64]:
        """Return log10 of mol/kg of one species, (...). Raises KeyError."""
        return self._one("log10_molality", self.species, "dissolved species", name)

    def amount_of(self, name: str) -> NDArray[np.float64]:
        """Return mol per kg water given of one solid, (...). Raises KeyError."""
        return self._one("solid_mol_per_kg", self.allowed_solids, "solid", name)

    def saturation_index_of(self, name: str) -> NDArray[np.float64]:
        """Return log10 of the saturation of one solid, (...). Raises KeyError."""
        return self._one("saturation_index", self.indexed_solids, "solid", name)

    def log10_fugacity_of(self, name: str) -> NDArray[np.float64]:
        """Return log10 of the fugacity of one gas in bar, (...). Raises KeyError."""
        return self._one("log10_fugacity", self.gases, "gas", name)

    def _one(self, column: str, names: list[str], kind: str, name: str) -> NDArray[np.float64]:
        array = self._column(column)
        if name not in names:
            raise checks.unknown(kind, name)
        return np.asarray(array[..., names.index(name)])

    def raise_if_failed(self) -> None:
        """Raise Error naming the first water without a certified answer."""
        certified = self.certified
        if np.all(certified):
            return
        at = int(np.flatnonzero(~certified.ravel())[0])
        status = _STATUS[int(self.status.ravel()[at])]
        raise _core.Error(f"water {at} of {certified.size} has no certified answer: {status}")

    def __repr__(self) -> str:
        return (
            f"EquilibriumTable(shape {self.certified.shape}, {len(self.species)} species, "
            f"{len(self.allowed_solids)} solids, {int(self.certified.sum())} certified)"
        )

    def _repr_html_(self) -> str:
        titles = {
            "ph": "pH",
            "eh_v": "Eh (V)",
            "ionic_strength": "ionic strength (mol/kg)",
            "water_activity": "water activity",
            "solvent_kg": "solvent (kg)",
        }
        shown = [name for name in titles if name in self.columns]
        first = slice(0, 10)
        status = [_STATUS[int(each)] for each in self.status.ravel()[first]]
        figures = [[f"{value:.4g}" for value in self._column(n).ravel()[first]] for n in shown]
        rows = [list(row) for row in zip(*figures, status, strict=True)]
        columns = [*(titles[name] for name in shown), "status"]
        return html_table(columns, rows, f"{self!r}; the first {len(rows)}")
