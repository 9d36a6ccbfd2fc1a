"""What a water holds at equilibrium: dissolved species, solids that form, gases."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, TypedDict

import numpy as np
from numpy.typing import ArrayLike, NDArray

from . import _core, checks
from ._core import (  # the types of this part
    Certificate as Certificate,
)
from .choices import (
    Acidity,
    ActivityModel,
    BatchColumn,
    MissingEnthalpy,
    Precipitation,
    Redox,
    Solvent,
    Starts,
)
from .equilibrium_result import EquilibriumResult as EquilibriumResult
from .equilibrium_table import EquilibriumTable as EquilibriumTable
from .handed_on import keywords_of, showing
from .ranges import WaterRanges, drawn

if TYPE_CHECKING:
    from typing_extensions import Unpack


class EquilibriumChoices(TypedDict, total=False):
    """What may be asked of an :class:`Equilibrium` by name, but for the temperature."""

    components: Sequence[str]
    activity: ActivityModel
    redox: Redox
    acidity: Acidity
    solvent: Solvent
    starts: Starts
    precipitation: Precipitation
    allowed_solids: Sequence[str]
    left_out: Sequence[str]
    inert: Sequence[str]
    iteration_limit: int
    threads: int
    missing_enthalpy: MissingEnthalpy
    dataset: _core.Dataset | None


class Equilibrium:
    """A prepared system of species and solids, used for many waters.

    ``redox``: "eh" (give ``eh_v``), "oxygen" (give ``oxygen_bar``) or "conserved" (copper by
    valence and ``O2(aq)`` in the totals). ``acidity``: "given_ph" (give ``ph``), or
    "charge_balance", from which it follows. ``solvent``: "one_kg", or "water_activity" (give
    ``water_activity``): as much water as has it, as in air of that relative humidity over 100 %;
    totals and solids are then per kg of water given, molalities per kg of the ``solvent_kg`` that
    are present. ``starts``: "as_needed", one, and more where another answer may exist, or
    "several", always; the certificate says how many answers were found. ``components``: empty is
    all. With ``precipitation="allowed"`` the ``allowed_solids`` may form, empty is all.
    ``left_out``: species and solids left out by name. ``inert``: ions counted without their acid
    or base, which the data set lacks (that of the library none); they are refused otherwise.
    ``missing_enthalpy``: what becomes of a species or solid whose enthalpy was not found, away from
    25 degrees C: "estimate" takes it by a rule, with its uncertainty, and names it
    (``estimated_heats``); "leave_out" or "refuse".
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
        solvent: Solvent = "one_kg",
        starts: Starts = "as_needed",
        precipitation: Precipitation = "none",
        allowed_solids: Sequence[str] = (),
        left_out: Sequence[str] = (),
        inert: Sequence[str] = (),
        iteration_limit: int = 400,
        threads: int = 0,
        missing_enthalpy: MissingEnthalpy = "estimate",
        dataset: _core.Dataset | None = None,
    ) -> None:
        self._dataset = checks.dataset(dataset)
        self._core = _core.EquilibriumSystem(
            self._dataset,
            checks.text("activity", activity),
            checks.number("temperature_c", temperature_c),
            checks.text("redox", redox),
            checks.text("acidity", acidity),
            checks.text("solvent", solvent),
            checks.text("starts", starts),
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

    @property
    def estimated_heats(self) -> list[str]:
        """Species and solids whose constant at this temperature rests on an estimated heat."""
        return self._core.estimated_heats

    def solve(
        self,
        totals_mol_per_kg: Mapping[str, float],
        *,
        ph: float | None = None,
        eh_v: float | None = None,
        oxygen_bar: float | None = None,
        fugacity_bar: Mapping[str, float] | None = None,
        water_activity: float | None = None,
    ) -> EquilibriumResult:
        """Solve one water. Totals by ingredient, any species or solid, in mol per kg water.

        ``ph`` (-2 to 16), ``eh_v`` (V against the standard hydrogen electrode, -2 to 2),
        ``oxygen_bar`` (above 0 to 1000) and ``water_activity`` (above 0, below 1): those the
        system needs, and no other. ``fugacity_bar``:
        further gases held, bar by name. Raises InputError and UnknownName; a water without an
        answer is a status of the result.
        """
        answer = self._core.solve(
            *_water(totals_mol_per_kg, ph, eh_v, oxygen_bar, fugacity_bar, water_activity),
        )
        return EquilibriumResult(answer)

    def ranges(
        self,
        totals_mol_per_kg: Mapping[str, float],
        *,
        ph: float | None = None,
        eh_v: float | None = None,
        oxygen_bar: float | None = None,
        fugacity_bar: Mapping[str, float] | None = None,
        water_activity: float | None = None,
        draws: int = 1000,
        seed: int = 1,
        threads: int = 0,
    ) -> WaterRanges:
        """Return how far the constants let one water be known, from draws of them.

        The water as in ``solve``. ``draws``: 100 to 100 000, of each of two spreads. The same
        ``seed`` gives the same ranges on any number of ``threads`` (0: all there are).
        """
        core = _core.ranges_of_water(
            self._dataset,
            self._core,
            *_water(totals_mol_per_kg, ph, eh_v, oxygen_bar, fugacity_bar, water_activity),
            *drawn(draws, seed, threads),
        )
        return WaterRanges(core)

    def solve_many(
        self,
        totals_mol_per_kg: Mapping[str, ArrayLike],
        *,
        ph: ArrayLike | None = None,
        eh_v: ArrayLike | None = None,
        oxygen_bar: ArrayLike | None = None,
        fugacity_bar: Mapping[str, ArrayLike] | None = None,
        water_activity: ArrayLike | None = None,
        temperature_c: ArrayLike | None = None,
        columns: Sequence[BatchColumn] = (),
        species: Sequence[str] = (),
        solids: Sequence[str] = (),
        gases: Sequence[str] = (),
    ) -> EquilibriumTable:
        """Solve many waters; all that is given broadcasts, and NaN in a water gives NaN.

        Units and ranges as in ``solve``. ``temperature_c`` (0 to 50 degrees C) by water, in place
        of that of the system: the constants of each distinct one are prepared once a call, some
        tenths of a millisecond; NaN for a species or solid that has none there. ``columns``: the
        figures wanted, empty is all; of those ``species``, ``solids`` (of the amounts and the
        saturation indices) and ``gases`` may be chosen by name.
        """
        totals = checks.by_name("totals_mol_per_kg", totals_mol_per_kg)
        fugacities = {} if fugacity_bar is None else checks.by_name("fugacity_bar", fugacity_bar)
        by_water = {
            "ph": ph,
            "eh_v": eh_v,
            "oxygen_bar": oxygen_bar,
            "water_activity": water_activity,
            "temperature_c": temperature_c,
        }
        held = {name: checks.numbers(name, v) for name, v in by_water.items() if v is not None}
        given = {f"total of {name}": values for name, values in totals.items()}
        given |= {f"fugacity_bar of {name}": values for name, values in fugacities.items()}
        arrays = checks.broadcast_named(given | held)
        shape = arrays[0].shape if arrays else ()
        flat = [np.ascontiguousarray(array).ravel() for array in arrays]
        first_held = len(totals) + len(fugacities)
        held = dict(zip(held, flat[first_held:], strict=True))
        wanted = checks.names("columns", columns)
        names, figures = self._core.solve_rows(
            list(totals),
            _side_by_side(flat[: len(totals)], shape),
            held.get("ph"),
            held.get("eh_v"),
            held.get("oxygen_bar"),
            held.get("water_activity"),
            held.get("temperature_c"),
            list(fugacities),
            _side_by_side(flat[len(totals) : first_held], shape),
            wanted,
            checks.names("species", species),
            checks.names("solids", solids),
            checks.names("gases", gases),
        )
        return EquilibriumTable(shape, names, figures, wanted or _core.BATCH_COLUMNS)

    def __repr__(self) -> str:
        counts = f"{len(self.species)} dissolved species, {len(self.allowed_solids)} solids allowed"
        return f"Equilibrium({counts})"


def _water(
    totals_mol_per_kg: Mapping[str, float],
    ph: float | None,
    eh_v: float | None,
    oxygen_bar: float | None,
    fugacity_bar: Mapping[str, float] | None,
    water_activity: float | None,
) -> tuple[
    dict[str, float], float | None, float | None, float | None, dict[str, float], float | None
]:
    """One water as the core takes it, checked."""
    return (
        checks.number_by_name("totals_mol_per_kg", totals_mol_per_kg),
        checks.optional_number("ph", ph),
        checks.optional_number("eh_v", eh_v),
        checks.optional_number("oxygen_bar", oxygen_bar),
        {} if fugacity_bar is None else checks.number_by_name("fugacity_bar", fugacity_bar),
        checks.optional_number("water_activity", water_activity),
    )


def _side_by_side(flat: list[NDArray[np.float64]], shape: tuple[int, ...]) -> NDArray[np.float64]:
    """Return columns as the rows of waters, (n, columns)."""
    rows = np.empty((math.prod(shape), len(flat)))
    for k, column in enumerate(flat):
        rows[:, k] = column
    return rows


@showing(keywords_of(Equilibrium, but=("temperature_c",)))
def speciate(
    totals_mol_per_kg: Mapping[str, ArrayLike],
    *,
    ph: ArrayLike | None = None,
    eh_v: ArrayLike | None = None,
    oxygen_bar: ArrayLike | None = None,
    fugacity_bar: Mapping[str, ArrayLike] | None = None,
    water_activity: ArrayLike | None = None,
    temperature_c: ArrayLike = 25.0,
    **options: Unpack[EquilibriumChoices],
) -> EquilibriumResult | EquilibriumTable:
    """Solve one water, or many, in one call; options as for :class:`Equilibrium`.

    Numbers alone give the water as ``Equilibrium.solve`` does, an array among them (of
    temperatures too) a table as ``Equilibrium.solve_many`` does.
    """
    temperatures = checks.numbers("temperature_c", temperature_c)
    one_temperature = 25.0 if temperatures.ndim else float(temperatures)
    system = Equilibrium(temperature_c=one_temperature, **options)
    totals = checks.by_name("totals_mol_per_kg", totals_mol_per_kg)
    gases = {} if fugacity_bar is None else checks.by_name("fugacity_bar", fugacity_bar)
    given = {"ph": ph, "eh_v": eh_v, "oxygen_bar": oxygen_bar, "water_activity": water_activity}
    held = {name: checks.numbers(name, value) for name, value in given.items() if value is not None}
    by_water = (temperatures, *totals.values(), *gases.values(), *held.values())
    if any(values.ndim for values in by_water):
        return system.solve_many(
            totals,
            ph=held.get("ph"),
            eh_v=held.get("eh_v"),
            oxygen_bar=held.get("oxygen_bar"),
            fugacity_bar=gases,
            water_activity=held.get("water_activity"),
            temperature_c=temperatures if temperatures.ndim else None,
        )
    one = {name: float(value) for name, value in held.items()}
    return system.solve(
        {name: float(value) for name, value in totals.items()},
        ph=one.get("ph"),
        eh_v=one.get("eh_v"),
        oxygen_bar=one.get("oxygen_bar"),
        fugacity_bar={name: float(value) for name, value in gases.items()},
        water_activity=one.get("water_activity"),
    )
