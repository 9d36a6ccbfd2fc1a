"""What forms, and in what order, while one thing about a water changes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal

import numpy as np
import numpy.typing as npt

from . import _core, checks
from ._core import (  # the types of this part
    CarbonateBathPath as CarbonateBathPath,
)
from ._core import (
    CoinPath as CoinPath,
)
from ._core import (
    Dataset,
    ReactionPath,
)
from ._core import (
    NantokiteBath as NantokiteBath,
)
from ._core import (
    NantokiteInBaths as NantokiteInBaths,
)
from ._core import (
    PathAmount as PathAmount,
)
from ._core import (
    PathEvent as PathEvent,
)
from ._core import (
    PathResult as PathResult,
)
from ._core import (
    PitInMoistAir as PitInMoistAir,
)
from ._core import (
    RateCheck as RateCheck,
)
from .choices import Acidity, ActivityModel, Redox

PathKind = Literal["titrate", "aerate", "dilute", "dry", "heat", "change_bath"]
_NOT_GIVEN = float("nan")


def follow(
    kind: PathKind,
    totals_mol_per_kg: Mapping[str, float],
    *,
    to: float | None = None,
    added: Mapping[str, float] | None = None,
    gas: str = "",
    gas_bar: float | None = None,
    carried_over: float | None = None,
    steps: int = 200,
    components: Sequence[str] = (),
    activity: ActivityModel = "sit",
    temperature_c: float = 25.0,
    redox: Redox = "eh",
    acidity: Acidity = "charge_balance",
    allowed_solids: Sequence[str] = (),
    left_out: Sequence[str] = (),
    ph: float | None = None,
    eh_v: float | None = None,
    oxygen_bar: float | None = None,
    fugacity_bar: Mapping[str, float] | None = None,
    dataset: Dataset | None = None,
) -> PathResult:
    """Follow a water while one thing changes; each point is a certified equilibrium.

    ``kind``: "titrate" (``to`` times ``added``, mol/kg), "aerate" (``gas`` "O2(g)" with
    ``redox="conserved"``, or "CO2(g)", until its fugacity is ``gas_bar``, or ``to`` mol/kg),
    "dilute" (``to`` kg for 1 kg, with ``added`` per kg, or pure water), "dry" (down to a water
    activity), "heat" (to degrees C), "change_bath" (``to`` baths of ``added``, ``carried_over``
    the share of the old one left in). The start as in :class:`Equilibrium`. A path that cannot go
    on says where and why in ``message``. Raises InputError for what a kind lacks or cannot use.
    """
    path = ReactionPath()
    path.set_kind(checks.text("kind", kind))
    path.set_system(
        checks.text("activity", activity),
        checks.number("temperature_c", temperature_c),
        checks.text("redox", redox),
        checks.text("acidity", acidity),
        checks.names("components", components),
        checks.names("allowed_solids", allowed_solids),
        checks.names("left_out", left_out),
    )
    path.set_start(
        _amounts("totals_mol_per_kg", totals_mol_per_kg),
        checks.optional_number("ph", ph),
        checks.optional_number("eh_v", eh_v),
        checks.optional_number("oxygen_bar", oxygen_bar),
        _amounts("fugacity_bar", fugacity_bar or {}),
    )
    path.added = _amounts("added", added or {})
    path.gas = gas if gas == "" else checks.text("gas", gas)
    path.gas_bar = checks.optional_number("gas_bar", gas_bar)
    path.to = checks.optional_number("to", to)
    path.carried_over = checks.optional_number("carried_over", carried_over)
    path.steps = checks.integer("steps", steps, 1, 100_000)
    return _core._follow_path(checks.dataset(dataset), path)


def oxygen_supply(
    *,
    depth_mm: float | None = None,
    current_a_per_m2: float | None = None,
    oxygen_bar: float = 0.2095,
    temperature_c: float = 25.0,
    dataset: Dataset | None = None,
) -> float:
    """Return what a stagnant layer, or a current, brings (mol O2 per m2 and day)."""
    layer = _supply(depth_mm, current_a_per_m2, oxygen_bar, temperature_c)
    return _core._oxygen_supply(checks.dataset(dataset), *layer)


def days(
    path: PathResult,
    *,
    water_kg_per_m2: float,
    depth_mm: float | None = None,
    current_a_per_m2: float | None = None,
    oxygen_bar: float = 0.2095,
    temperature_c: float = 25.0,
    dataset: Dataset | None = None,
) -> npt.NDArray[np.float64]:
    """Return when each point of a path that takes up oxygen is reached at the earliest.

    By oxygen through ``depth_mm`` of stagnant water (Fick), or a current (Faraday); without either
    a path has no time: InputError.
    """
    checks.instance("path", path, PathResult, "a path, as follow returns it")
    layer = _supply(depth_mm, current_a_per_m2, oxygen_bar, temperature_c)
    water = checks.number("water_kg_per_m2", water_kg_per_m2)
    return _core._path_days(checks.dataset(dataset), path, *layer, water)


def thickness_nm(solid: str, mol_per_m2: float, dataset: Dataset | None = None) -> float:
    """Return how thick a compact layer of an amount is (nm); NaN without a molar volume."""
    return _core._thickness_nm(
        checks.dataset(dataset),
        checks.text("solid", solid),
        checks.number("mol_per_m2", mol_per_m2),
    )


def copper_one_oxidation(
    medium: Literal["sea_water", "sodium_chloride"],
    *,
    ph: float,
    temperature_c: float = 25.0,
    ionic_strength: float,
    dataset: Dataset | None = None,
) -> float:
    """Return the published k (kg/(mol min)) of -d[Cu(I)]/dt = k [Cu(I)] [O2]."""
    if medium not in ("sea_water", "sodium_chloride"):
        raise checks.refusal("medium", repr(medium), "sea_water or sodium_chloride")
    return _core._copper_one_oxidation(
        checks.dataset(dataset),
        medium == "sea_water",
        checks.number("ph", ph),
        checks.number("temperature_c", temperature_c),
        checks.number("ionic_strength", ionic_strength),
    )


def coin_in_salt_water(
    *,
    salt_mol_per_kg: float = 0.6,
    days: float = 14.0,
    water_mm: float = 5.0,
    temperature_c: float = 25.0,
    dataset: Dataset | None = None,
) -> CoinPath:
    """Return what forms on a copper coin under salt water open to air, in what order, how thick."""
    return _core._coin_in_salt_water(
        checks.dataset(dataset),
        checks.number("salt_mol_per_kg", salt_mol_per_kg),
        checks.number("days", days),
        checks.number("water_mm", water_mm),
        checks.number("temperature_c", temperature_c),
    )


def pit_in_moist_air(
    *,
    nantokite_mg: float = 1.0,
    metal_mg: float = 5.0,
    water_g_per_mol: float = 10_000.0,
    dataset: Dataset | None = None,
) -> PitInMoistAir:
    """Return what nantokite draws, frees and locks once humid air reaches it."""
    return _core._pit_in_moist_air(
        checks.dataset(dataset),
        checks.number("nantokite_mg", nantokite_mg),
        checks.number("metal_mg", metal_mg),
        checks.number("water_g_per_mol", water_g_per_mol),
    )


def nantokite_of_pit_mg(diameter_mm: float, dataset: Dataset | None = None) -> float:
    """Return the nantokite (mg) that fills a hemispherical pit of this width."""
    return _core._nantokite_of_pit_mg(
        checks.dataset(dataset), checks.number("diameter_mm", diameter_mm)
    )


def nantokite_in_baths(
    nantokite_g_per_l: float = 1.0, dataset: Dataset | None = None
) -> NantokiteInBaths:
    """Return what water, carbonate and hydroxide baths make of nantokite, with and without air."""
    return _core._nantokite_in_baths(
        checks.dataset(dataset), checks.number("nantokite_g_per_l", nantokite_g_per_l)
    )


def carbonate_bath_in_air(
    salt: str = "sodium sesquicarbonate",
    *,
    mol_per_l: float = 0.221,
    temperature_c: float = 25.0,
    carbon_dioxide_bar: float = 4.2e-4,
    headspace_l_per_l: float = 0.1,
    dataset: Dataset | None = None,
) -> CarbonateBathPath:
    """Return whether a carbonate bath loses carbon dioxide or takes it up, open and covered."""
    return _core._carbonate_bath_in_air(
        checks.dataset(dataset),
        checks.text("salt", salt),
        checks.number("mol_per_l", mol_per_l),
        checks.number("temperature_c", temperature_c),
        checks.number("carbon_dioxide_bar", carbon_dioxide_bar),
        checks.number("headspace_l_per_l", headspace_l_per_l),
    )


def _amounts(name: str, amounts: Mapping[str, float]) -> dict[str, float]:
    return {one: checks.number(f"{name} of {one}", value) for one, value in amounts.items()}


def _supply(
    depth_mm: float | None, current_a_per_m2: float | None, oxygen_bar: float, temperature_c: float
) -> tuple[float, float, float, float]:
    if depth_mm is not None and current_a_per_m2 is not None:
        raise TypeError("give depth_mm or current_a_per_m2, not both")
    depth = checks.optional_number("depth_mm", depth_mm)
    current = checks.optional_number("current_a_per_m2", current_a_per_m2)
    return (
        _NOT_GIVEN if depth is None else depth,
        checks.number("oxygen_bar", oxygen_bar),
        checks.number("temperature_c", temperature_c),
        _NOT_GIVEN if current is None else current,
    )
