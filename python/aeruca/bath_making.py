"""Baths before and after a treatment: what one is made of and does, and rinsing afterwards."""

from __future__ import annotations

import math
from collections.abc import Sequence

from . import _core, checks
from ._core import (  # the types of this part
    BathChemistry as BathChemistry,
)
from ._core import (
    LogAgainstBath as LogAgainstBath,
)
from ._core import (
    RinseResult as RinseResult,
)
from .dataset import default_dataset


def _given(name: str, value: float | None) -> float:
    return math.nan if value is None else checks.number(name, value)


def rinse_pores(
    rinse_l: float,
    *,
    start_mg_per_l: float,
    rinses: int | None = None,
    target_percent: float | None = None,
    pore_ml: float | None = None,
    porosity: float | None = None,
    body_cm3: float | None = None,
    pore_factor: float = 2.0,
    clinging_ml: float = 0.0,
    water_mg_per_l: float = 0.0,
    minutes: float | None = None,
    rate_per_day: float | None = None,
    shape: str = "slab",
) -> _core.RinseResult:
    """Tell what stays in the pores after rinsing: mixed at once (the best case), and by diffusion.

    rinse_l: fresh water of each rinse. start_mg_per_l: in the pores at first, of chloride or
    whatever is counted. pore_ml, or porosity and body_cm3: liquid in the pores, which may be
    `pore_factor` times more or less. rinses, or a target_percent left (at most 100 rinses).
    clinging_ml goes on from rinse to rinse. With minutes of each rinse and rate_per_day (D/L^2)
    diffusion is worked out as well. Raises InputError.
    """
    return _core._rinse_pores(
        _given("pore_ml", pore_ml),
        _given("porosity", porosity),
        _given("body_cm3", body_cm3),
        checks.number("pore_factor", pore_factor),
        checks.number("start_mg_per_l", start_mg_per_l),
        checks.number("rinse_l", rinse_l),
        checks.number("clinging_ml", clinging_ml),
        checks.number("water_mg_per_l", water_mg_per_l),
        None if rinses is None else checks.integer("rinses", rinses, 1, 100),
        _given("target_percent", target_percent),
        _given("minutes", minutes),
        _given("rate_per_day", rate_per_day),
        checks.text("shape", shape),
    )


def chemistry_of_bath(
    salt: str = "sodium sesquicarbonate",
    *,
    percent_w_v: float | None = None,
    mol_per_l: float | None = None,
    volume_l: float = 1.0,
    form: str = "",
    purity_percent: float = 100.0,
    reagent_chloride_percent: float | None = None,
    water_chloride_mg_per_l: float | None = None,
    water_chloride_error_mg_per_l: float | None = None,
    temperature_c: float = 25.0,
    carbon_dioxide_bar: float = 4.2e-4,
    headspace_l_per_l: float = 0.1,
    object_mass_g: float | None = None,
    nantokite_g: float | None = None,
    metals: Sequence[str] = (),
    dataset: _core.Dataset | None = None,
) -> BathChemistry:
    """Tell what a bath is and does: grams, chloride of its own, pH fresh and aged, what it takes.

    salt: of `bath_salts`, another name of one, or "deionised water" (without strength). form: what
    stands on the shelf, for the grams. reagent_chloride_percent: at most, as labels say.
    headspace_l_per_l: air under a lid. nantokite_g: in the object (None: 1 g a litre). metals:
    "lead", "zinc" in the object. Every figure has a low and a high end. Raises InputError.
    """
    return _core._chemistry_of_bath(
        checks.dataset(dataset) or default_dataset(),
        checks.text("salt", salt),
        _given("percent_w_v", percent_w_v),
        _given("mol_per_l", mol_per_l),
        checks.number("volume_l", volume_l),
        form,
        checks.number("purity_percent", purity_percent),
        _given("reagent_chloride_percent", reagent_chloride_percent),
        _given("water_chloride_mg_per_l", water_chloride_mg_per_l),
        _given("water_chloride_error_mg_per_l", water_chloride_error_mg_per_l),
        checks.number("temperature_c", temperature_c),
        checks.number("carbon_dioxide_bar", carbon_dioxide_bar),
        checks.number("headspace_l_per_l", headspace_l_per_l),
        _given("object_mass_g", object_mass_g),
        _given("nantokite_g", nantokite_g),
        checks.names("metals", metals),
    )


def log_against_bath(
    log: _core.BathLog, bath: BathChemistry, *, acid_of_nantokite: bool = False
) -> LogAgainstBath:
    """Compare the pH and colour of a log with what the bath should be.

    acid_of_nantokite: expect the acid of the nantokite that `bath` was worked out for.
    """
    checks.instance("log", log, _core.BathLog, "a BathLog, as read_bath_log returns it")
    checks.instance("bath", bath, BathChemistry, "a BathChemistry, as chemistry_of_bath returns it")
    return _core._log_against_bath(log, bath, acid_of_nantokite)
