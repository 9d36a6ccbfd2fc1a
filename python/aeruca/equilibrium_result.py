"""One water at equilibrium: the result of ``Equilibrium.solve``."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from . import _core, checks
from .display import html_table, species_html


class EquilibriumResult:
    """One water at equilibrium. Arrays follow ``species``; amounts are mol per kg water."""

    def __init__(self, core: _core.EquilibriumAnswer) -> None:
        self._core = core

    @property
    def status(self) -> str:
        """How it ended: "converged", or why there is no answer.

        "infeasible" (for the reason in ``message``), "unstable" (the activity model has no stable
        solution), "no_parameters" (nor figures that matter here), "iteration_limit", "singular".
        """
        return self._core.status

    @property
    def message(self) -> str:
        """What went wrong in one sentence; empty when nothing did."""
        return self._core.message

    @property
    def certificate(self) -> _core.Certificate:
        """Proof that the answer is one."""
        return self._core.certificate

    @property
    def species(self) -> list[str]:
        """Dissolved species."""
        return self._core.species

    @property
    def molality(self) -> NDArray[np.float64]:
        """mol/kg."""
        return self._core.molality

    @property
    def log10_molality(self) -> NDArray[np.float64]:
        """log10 of mol/kg; minus infinity for a species whose components are absent."""
        return self._core.log10_molality

    @property
    def log10_activity(self) -> NDArray[np.float64]:
        """log10 of the activity, molal scale."""
        return self._core.log10_activity

    @property
    def molalities(self) -> dict[str, float]:
        """mol/kg by name, largest first."""
        pairs = sorted(zip(self.species, self.molality.tolist(), strict=True), key=lambda p: -p[1])
        return dict(pairs)

    @property
    def allowed_solids(self) -> list[str]:
        """Solids that might have formed."""
        return self._core.allowed_solids

    @property
    def solid_mol_per_kg(self) -> NDArray[np.float64]:
        """Mol per kg water given, follows ``allowed_solids``; 0 for one that did not form."""
        return self._core.solid_mol_per_kg

    @property
    def formed(self) -> dict[str, float]:
        """Solids that formed: mol per kg water given, by name."""
        return self._core.formed()

    @property
    def saturation_index(self) -> dict[str, float]:
        """log10 of the saturation of every solid of the components, allowed to form or not."""
        return self._core.saturation_index

    @property
    def log10_fugacity(self) -> dict[str, float]:
        """log10 of bar by gas."""
        return dict(zip(self._core.gases, self._core.log10_fugacity.tolist(), strict=True))

    @property
    def ph(self) -> float:
        """-log10 a(H(+))."""
        return self._core.ph

    @property
    def pe(self) -> float:
        """-log10 a(e(-))."""
        return self._core.pe

    @property
    def eh_v(self) -> float:
        """V against the standard hydrogen electrode."""
        return self._core.eh_v

    @property
    def ionic_strength(self) -> float:
        """mol/kg."""
        return self._core.ionic_strength

    @property
    def water_activity(self) -> float:
        """1 for pure water."""
        return self._core.water_activity

    @property
    def solvent_kg(self) -> float:
        """Water present per kg given; 1 unless the water activity was held."""
        return self._core.solvent_kg

    @property
    def degenerate(self) -> list[str]:
        """Solids that could stand for each other in other amounts; empty: the answer is unique."""
        return self._core.degenerate

    @property
    def charge_mol_per_kg(self) -> float:
        """Charge left over; nonzero when the pH was given."""
        return self._core.charge_mol_per_kg

    @property
    def warnings(self) -> list[str]:
        """Range of the activity model, missing enthalpies, water outside its own stability."""
        return self._core.warnings

    @property
    def estimated_heats(self) -> list[str]:
        """What counts in this water by a constant that rests on an estimated heat."""
        return self._core.estimated_heats

    @property
    def remarks(self) -> list[str]:
        """What the activity model assumes and estimates, for the whole system."""
        return self._core.remarks

    @property
    def figures(self) -> list[str]:
        """Ids of the constants the answer rests on."""
        return self._core.figures

    def log10_molality_of(self, name: str) -> float:
        """Return log10 of mol/kg of one species. Raises KeyError."""
        if name not in self.species:
            raise checks.unknown("dissolved species", name)
        return float(self.log10_molality[self.species.index(name)])

    def molality_of(self, name: str) -> float:
        """Return mol/kg of one species. Raises UnknownName."""
        return self._core.molality_of(name)

    def raise_if_failed(self) -> None:
        """Raise Error unless converged and certified."""
        self._core.raise_if_failed()

    def __repr__(self) -> str:
        if not self.certificate.holds:
            return f"EquilibriumResult({self.status}: {self.message})"
        solids = ", ".join(f"{name} {amount:.3g}" for name, amount in self.formed.items())
        return (
            f"EquilibriumResult(pH {self.ph:.3f}, Eh {self.eh_v:.3f} V, ionic strength "
            f"{self.ionic_strength:.3g} mol/kg, solids in mol/kg: {solids or 'none'})"
        )

    def _repr_html_(self) -> str:
        shown = [(name, m) for name, m in self.molalities.items() if m > 1e-15]
        rows = [[species_html(name), f"{m:.4g}"] for name, m in shown]
        rows += [[f"{name} (solid)", f"{amount:.4g}"] for name, amount in self.formed.items()]
        return html_table(["species", "mol/kg"], rows, repr(self))
