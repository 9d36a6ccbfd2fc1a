"""What a water holds at equilibrium: dissolved species, solids that form, gases."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from . import _core, checks
from ._core import (  # the types of this part
    Certificate as Certificate,
)
from .choices import Acidity, ActivityModel, MissingEnthalpy, Precipitation, Redox
from .display import html_table, species_html
from .equilibrium_table import EquilibriumTable as EquilibriumTable


class EquilibriumResult:
    """One water at equilibrium. Arrays follow ``species``; amounts are mol per kg water."""

    def __init__(self, core: _core.EquilibriumAnswer) -> None:
        self._core = core

    @property
    def status(self) -> str:
        """How it ended: "converged", or why there is no answer.

        "infeasible" (proven), "unstable" (the activity model has no stable solution),
        "no_parameters" (nor figures that matter here), "iteration_limit", "singular".
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
        """Mol per kg water, follows ``allowed_solids``; 0 for one that did not form."""
        return self._core.solid_mol_per_kg

    @property
    def formed(self) -> dict[str, float]:
        """Solids that formed: mol per kg water by name."""
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
    def charge_mol_per_kg(self) -> float:
        """Charge left over; nonzero when the pH was given."""
        return self._core.charge_mol_per_kg

    @property
    def warnings(self) -> list[str]:
        """Range of the activity model, missing enthalpies, water outside its own stability."""
        return self._core.warnings

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


class Equilibrium:
    """A prepared system of species and solids, used for many waters.

    ``redox``: "eh" (give ``eh_v``), "oxygen" (give ``oxygen_bar``) or "conserved" (copper by
    valence and ``O2(aq)`` in the totals). ``acidity``: "given_ph" (give ``ph``), or
    "charge_balance", from which it follows. ``components``: empty is all. With
    ``precipitation="allowed"`` the ``allowed_solids`` may form, empty is all. ``left_out``:
    species and solids left out by name. ``inert``: ions counted without their acid or base, which
    the data set lacks (acetate, formate, ammonium); they are refused otherwise.
    ``missing_enthalpy``: what becomes of a species or solid without one away from 25 degrees C.
    ``threads`` of ``solve_many``: 0 is all there are.
    """

    def __init__(
        self,
        *,
        components: Sequence[str] = (),
        activity: ActivityModel = "sit",
        temperature_c: float = 25.0,
        redox: Redox = "eh",
        acidity: Acidity = "given_ph",
        precipitation: Precipitation = "none",
        allowed_solids: Sequence[str] = (),
        left_out: Sequence[str] = (),
        inert: Sequence[str] = (),
        iteration_limit: int = 400,
        threads: int = 0,
        missing_enthalpy: MissingEnthalpy = "refuse",
        dataset: _core.Dataset | None = None,
    ) -> None:
        self._core = _core.EquilibriumSystem(
            checks.dataset(dataset),
            checks.text("activity", activity),
            checks.number("temperature_c", temperature_c),
            checks.text("redox", redox),
            checks.text("acidity", acidity),
            checks.names("components", components),
            checks.text("precipitation", precipitation),
            checks.names("allowed_solids", allowed_solids),
            checks.names("left_out", left_out),
            checks.names("inert", inert),
            checks.integer("iteration_limit", iteration_limit, 1, 1_000_000),
            checks.integer("threads", threads, 0, 256),
            checks.text("missing_enthalpy", missing_enthalpy),
        )

    @property
    def species(self) -> list[str]:
        """Dissolved species, in the order of every result."""
        return self._core.species

    @property
    def allowed_solids(self) -> list[str]:
        """Solids allowed to form."""
        return self._core.allowed_solids

    def solve(
        self,
        totals_mol_per_kg: Mapping[str, float],
        *,
        ph: float | None = None,
        eh_v: float | None = None,
        oxygen_bar: float | None = None,
        fugacity_bar: Mapping[str, float] | None = None,
    ) -> EquilibriumResult:
        """Solve one water. Totals by ingredient, any species or solid, in mol per kg water.

        ``ph`` (-2 to 16), ``eh_v`` (V against the standard hydrogen electrode, -2 to 2) and
        ``oxygen_bar`` (above 0 to 1000): those the system needs, and no other. ``fugacity_bar``:
        further gases held, bar by name. Raises InputError and UnknownName; a water without an
        answer is a status of the result.
        """
        answer = self._core.solve(
            checks.number_by_name("totals_mol_per_kg", totals_mol_per_kg),
            checks.optional_number("ph", ph),
            checks.optional_number("eh_v", eh_v),
            checks.optional_number("oxygen_bar", oxygen_bar),
            _held(fugacity_bar),
        )
        return EquilibriumResult(answer)

    def solve_many(
        self,
        totals_mol_per_kg: Mapping[str, ArrayLike],
        *,
        ph: ArrayLike | None = None,
        eh_v: ArrayLike | None = None,
        oxygen_bar: ArrayLike | None = None,
        fugacity_bar: Mapping[str, float] | None = None,
    ) -> EquilibriumTable:
        """Solve many waters: totals, pH, Eh or oxygen broadcast, as in ``solve``. NaN gives NaN."""
        totals = checks.by_name("totals_mol_per_kg", totals_mol_per_kg)
        names = list(totals)
        given = {f"total of {name}": values for name, values in totals.items()}
        held = {"ph": ph, "eh_v": eh_v, "oxygen_bar": oxygen_bar}
        given |= {name: checks.numbers(name, v) for name, v in held.items() if v is not None}
        arrays = dict(zip(given, checks.broadcast_named(given), strict=True))
        shape = next(iter(arrays.values())).shape if arrays else ()
        flat = {name: np.ascontiguousarray(array).ravel() for name, array in arrays.items()}
        rows = np.empty((math.prod(shape), len(names)))
        for k, name in enumerate(names):
            rows[:, k] = flat[f"total of {name}"]
        out = self._core.solve_rows(
            names,
            rows,
            flat.get("ph"),
            flat.get("eh_v"),
            flat.get("oxygen_bar"),
            _held(fugacity_bar),
        )
        return EquilibriumTable(
            self.species,
            self.allowed_solids,
            out[0].reshape(*shape, len(self.species)),
            out[1].reshape(*shape, len(self.allowed_solids)),
            out[2].reshape(shape),
            out[3].reshape(shape),
            out[4].reshape(shape),
            out[5].reshape(shape),
            out[6].reshape(shape),
            out[7].reshape(shape).astype(np.bool_),
        )

    def __repr__(self) -> str:
        counts = f"{len(self.species)} dissolved species, {len(self.allowed_solids)} solids allowed"
        return f"Equilibrium({counts})"


def _held(fugacity_bar: Mapping[str, float] | None) -> dict[str, float]:
    return {} if fugacity_bar is None else checks.number_by_name("fugacity_bar", fugacity_bar)


def speciate(
    totals_mol_per_kg: Mapping[str, ArrayLike],
    *,
    ph: ArrayLike | None = None,
    eh_v: ArrayLike | None = None,
    oxygen_bar: ArrayLike | None = None,
    fugacity_bar: Mapping[str, float] | None = None,
    components: Sequence[str] = (),
    activity: ActivityModel = "sit",
    temperature_c: float = 25.0,
    redox: Redox = "eh",
    acidity: Acidity = "given_ph",
    precipitation: Precipitation = "none",
    allowed_solids: Sequence[str] = (),
    left_out: Sequence[str] = (),
    inert: Sequence[str] = (),
    iteration_limit: int = 400,
    threads: int = 0,
    missing_enthalpy: MissingEnthalpy = "refuse",
    dataset: _core.Dataset | None = None,
) -> EquilibriumResult | EquilibriumTable:
    """Solve one water, or many, in one call; options as for :class:`Equilibrium`.

    Numbers alone give the water as ``Equilibrium.solve`` does, an array among them a table as
    ``Equilibrium.solve_many`` does.
    """
    system = Equilibrium(
        components=components,
        activity=activity,
        temperature_c=temperature_c,
        redox=redox,
        acidity=acidity,
        precipitation=precipitation,
        allowed_solids=allowed_solids,
        left_out=left_out,
        inert=inert,
        iteration_limit=iteration_limit,
        threads=threads,
        missing_enthalpy=missing_enthalpy,
        dataset=dataset,
    )
    totals = checks.by_name("totals_mol_per_kg", totals_mol_per_kg)
    held = {
        name: checks.numbers(name, value)
        for name, value in (("ph", ph), ("eh_v", eh_v), ("oxygen_bar", oxygen_bar))
        if value is not None
    }
    if any(values.ndim for values in (*totals.values(), *held.values())):
        return system.solve_many(totals, **held, fugacity_bar=fugacity_bar)
    one = {name: float(value) for name, value in held.items()}
    amounts = {name: float(value) for name, value in totals.items()}
    return system.solve(amounts, **one, fugacity_bar=fugacity_bar)
