"""Chloride baths: diffusion out of a layer, bath logs, weigh-out."""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Literal, NamedTuple

import numpy as np

from . import _core, checks
from ._core import (  # the types of this part
    BathExtract as BathExtract,
)
from ._core import (
    BathFit as BathFit,
)
from ._core import (
    BathLog as BathLog,
)
from ._core import (
    BathRecord as BathRecord,
)
from ._core import (
    BathSummary as BathSummary,
)
from ._core import (
    Range as Range,
)
from ._core import (
    ReadingErrors as ReadingErrors,
)
from ._core import (
    WeighedReagent as WeighedReagent,
)
from ._core import (
    WeighOut as WeighOut,
)
from .equilibrium import EquilibriumResult

if TYPE_CHECKING:
    import numpy.typing as npt

    Array = npt.NDArray[np.float64]


class BathSeries(NamedTuple):
    """Ends of all baths, the last axis; fractions of the chloride inside at the start."""

    in_bath: Array
    left: Array
    truncation_error: float


def _per_bath(
    days: npt.ArrayLike, alpha: npt.ArrayLike, fill: npt.ArrayLike, carry_over: npt.ArrayLike
) -> tuple[Array, Array, Array, Array]:
    alphas, lengths, fills, carried = checks.broadcast(
        alpha=checks.numbers("alpha", alpha),
        days=checks.numbers("days", days),
        fill=checks.numbers("fill", fill),
        carry_over=checks.numbers("carry_over", carry_over),
    )
    if lengths.ndim > 1:
        raise checks.refusal("days", f"an array of shape {lengths.shape}", "one value a bath")
    carried = np.atleast_1d(carried).copy()
    if np.ndim(carry_over) == 0 and carried.size:
        carried[0] = 0.0  # the first bath has none before it
    return (np.atleast_1d(alphas), np.atleast_1d(lengths), np.atleast_1d(fills), carried)


def _body(shape: str, load: str, biot: float) -> tuple[str, str, float]:
    return checks.text("shape", shape), checks.text("load", load), checks.number("biot", biot)


def bath_series(
    rate_per_day: npt.ArrayLike,
    days: npt.ArrayLike,
    *,
    alpha: npt.ArrayLike = math.inf,
    shape: str = "slab",
    load: str = "uniform",
    biot: float = math.inf,
    fill: npt.ArrayLike = 0.0,
    carry_over: npt.ArrayLike = 0.0,
    accuracy: float = 1e-10,
) -> BathSeries:
    """Chloride in each bath and left inside at its end, for one rate or an array of rates.

    rate_per_day: D/L^2 (1/day), any shape. days: length of each bath. alpha: bath volume over
    K times the volume of the body; inf is a perfect sink. fill: chloride of the fresh bath as a
    fraction of the load. carry_over: part of the old bath that stays in the vessel. One value
    serves all baths. NaN rates give NaN.
    """
    rates = checks.numbers("rate_per_day", rate_per_day)
    per_bath = _per_bath(days, alpha, fill, carry_over)
    in_bath, left, error = _core._bath_table(
        *_body(shape, load, biot), np.ravel(rates), *per_bath, checks.number("accuracy", accuracy)
    )
    size = (*rates.shape, per_bath[1].size)
    return BathSeries(in_bath.reshape(size), left.reshape(size), error)


def bath_curve(
    tau: npt.ArrayLike,
    tau_of_bath: npt.ArrayLike,
    *,
    alpha: npt.ArrayLike = math.inf,
    shape: str = "slab",
    load: str = "uniform",
    biot: float = math.inf,
    fill: npt.ArrayLike = 0.0,
    carry_over: npt.ArrayLike = 0.0,
) -> tuple[Array, Array]:
    """(in bath, left inside) at ascending reduced times `tau` since the first bath began."""
    times = checks.numbers("tau", tau)
    per_bath = _per_bath(tau_of_bath, alpha, fill, carry_over)
    in_bath, left = _core._bath_curve(*_body(shape, load, biot), *per_bath, np.ravel(times))
    return in_bath.reshape(times.shape), left.reshape(times.shape)


def mode_roots(shape: str, alpha: float, count: int, biot: float = math.inf) -> Array:
    """First positive roots (1 to 100 000) of the eigenvalue equation of body and bath."""
    return _core._mode_roots(
        checks.text("shape", shape),
        checks.number("alpha", alpha),
        checks.integer("count", count, 1, 100_000),
        checks.number("biot", biot),
    )


def fraction_of_final_release(
    shape: str, alpha: npt.ArrayLike, tau: npt.ArrayLike
) -> Array | float:
    """M(tau)/M(infinity) of one clean bath; broadcasts over alpha and tau, NaN in, NaN out."""
    alphas, times = checks.broadcast(
        alpha=checks.numbers("alpha", alpha), tau=checks.numbers("tau", tau)
    )
    return _core._fraction_of_final_release(checks.text("shape", shape), alphas, times)


def read_bath_log(path: str | Path, *, blank_mg_per_l: float | None = None) -> _core.BathLog:
    """Read a bath log (CSV); FileError names file, line and column of a fault.

    blank_mg_per_l: chloride of the fresh bath where the log states none; None: not known.
    """
    log = _core.read_bath_log(checks.path("path", path))
    return _core._with_blank(log, _given("blank_mg_per_l", blank_mg_per_l))


def _given(name: str, value: float | None) -> float:
    return math.nan if value is None else checks.number(name, value)


def _log(log: _core.BathLog) -> _core.BathLog:
    checks.instance("log", log, _core.BathLog, "a BathLog, as read_bath_log returns it")
    return log


def _errors(errors: _core.ReadingErrors | None) -> _core.ReadingErrors:
    if errors is None:
        return _core.ReadingErrors()
    checks.instance("errors", errors, _core.ReadingErrors, "ReadingErrors, or None")
    return errors


def summarise_bath_log(
    log: _core.BathLog,
    *,
    object_mass_g: float | None = None,
    errors: _core.ReadingErrors | None = None,
) -> _core.BathSummary:
    """Sum up: mg and mg per g extracted with errors, shares, late ratio, tail (a lower bound)."""
    return _core._summarise_bath_log(
        _log(log), _given("object_mass_g", object_mass_g), _errors(errors)
    )


def fit_bath_log(
    log: _core.BathLog,
    *,
    shape: str = "slab",
    load: str = "uniform",
    biot: float = math.inf,
    alphas: Sequence[float] = (10.0, 30.0, 100.0),
    errors: _core.ReadingErrors | None = None,
    object_mass_g: float | None = None,
    next_volume_l: float | None = None,
    next_days: float | None = None,
    stop_mg_per_l: float | None = None,
    grid: int = 96,
) -> _core.BathFit:
    """Ranges of load, rate, remainder and next reading; an end date only when the data carry it.

    alphas: partition values considered (alpha of a bath of mean volume), equal weight each.
    stop_mg_per_l: your stop level above the blank. Runs without the GIL.
    """
    return _core._fit_bath_log(
        _log(log),
        *_body(shape, load, biot),
        checks.row("alphas", alphas),
        _errors(errors),
        _given("object_mass_g", object_mass_g),
        _given("next_volume_l", next_volume_l),
        _given("next_days", next_days),
        _given("stop_mg_per_l", stop_mg_per_l),
        checks.integer("grid", grid, 8, 2000),
    )


def forecast_baths(
    volumes_l: Sequence[float],
    days: Sequence[float] | float,
    *,
    rate_per_day: float,
    load_mg: float = 1000.0,
    capacity_l: float | None = None,
    fill_mg_per_l: float = 0.0,
    carry_over: float = 0.0,
    shape: str = "slab",
    load: str = "uniform",
    biot: float = math.inf,
) -> _core.BathForecast:
    """By diffusion alone: what each of given baths would take out, in mg and mg/L.

    days: of each bath, or one for all. rate_per_day: D/L^2. capacity_l: K times the volume of the
    body; None: a perfect sink. `to_csv("baths")` of the result gives the rows.
    """
    return _core._forecast_baths(
        *_body(shape, load, biot),
        checks.number("rate_per_day", rate_per_day),
        checks.row("volumes_l", volumes_l),
        checks.row("days", np.atleast_1d(checks.numbers("days", days))),
        checks.number("load_mg", load_mg),
        _given("capacity_l", capacity_l),
        checks.number("fill_mg_per_l", fill_mg_per_l),
        checks.number("carry_over", carry_over),
    )


def compare_bath_counts(
    counts: Sequence[int],
    *,
    alpha: float,
    total_tau: float,
    liquid: Literal["each", "divided"] = "each",
    shape: str = "slab",
    load: str = "uniform",
    biot: float = math.inf,
) -> _core.BathComparison:
    """Whether changing the bath is worth it: what 1, 2, 4 ... baths of one treatment leave inside.

    total_tau: the whole treatment, D t / L^2. alpha: of each bath, or of all together when the
    liquid is "divided" over them.
    """
    if liquid not in ("each", "divided"):
        raise checks.refusal("liquid", checks.shown(liquid), '"each" or "divided"')
    return _core._compare_bath_counts(
        *_body(shape, load, biot),
        checks.number("alpha", alpha),
        checks.number("total_tau", total_tau),
        [checks.integer("counts", count, 1, 1000) for count in counts],
        liquid == "divided",
    )


def bath_water(
    salt: str,
    mol_per_l: float,
    *,
    temperature_c: float = 25.0,
    air: Literal["open", "shut_out"] = "shut_out",
    dataset: _core.Dataset | None = None,
) -> EquilibriumResult:
    """Solve a bath as made up, its pH from the charge; with air "open", at peace with it."""
    return EquilibriumResult(
        _core._bath_water(
            checks.dataset(dataset) or _core.default_dataset(),
            *_makeup(salt, mol_per_l, temperature_c),
            _is_open(air),
        )
    )


def copper_over(
    solid: str,
    salt: str,
    mol_per_l: float,
    *,
    temperature_c: float = 25.0,
    air: Literal["open", "shut_out"] = "open",
    dataset: _core.Dataset | None = None,
) -> _core.CopperOverSolid:
    """Copper that a solid such as tenorite lets into a bath, and how sure that is.

    With air "shut_out" metal lies beside the solid. Raises InputError away from 25 degrees C, where
    the constants of most dissolved forms of copper are not known.
    """
    return _core._copper_over(
        checks.dataset(dataset) or _core.default_dataset(),
        *_makeup(salt, mol_per_l, temperature_c),
        checks.text("solid", solid),
        _is_open(air),
    )


def _is_open(air: str) -> bool:
    if air not in ("open", "shut_out"):
        raise checks.refusal("air", checks.shown(air), '"open" or "shut_out"')
    return air == "open"


def _makeup(salt: str, mol_per_l: float, temperature_c: float) -> tuple[str, float, float]:
    return (
        checks.text("salt", salt),
        checks.number("mol_per_l", mol_per_l),
        checks.number("temperature_c", temperature_c),
    )


def weigh_out(
    form: str,
    *,
    percent_w_v: float | None = None,
    mol_per_l: float | None = None,
    volume_l: float = 1.0,
    salt: str = "sodium sesquicarbonate",
    purity_percent: float = 100.0,
    reagent_chloride_percent: float = 0.0,
    dataset: _core.Dataset | None = None,
) -> _core.WeighOut:
    """Grams to weigh for a bath from the form on the shelf; see bath_salts and shelf_forms.

    `dissolves` and `solubility_words` of the result say whether water holds as much.
    """
    if (percent_w_v is None) == (mol_per_l is None):
        given = "none" if percent_w_v is None else "percent_w_v and mol_per_l"
        raise checks.refusal("strength", given, "either percent_w_v or mol_per_l")
    molar = percent_w_v is None
    name, strength = ("mol_per_l", mol_per_l) if molar else ("percent_w_v", percent_w_v)
    return _core._weigh_out(
        checks.dataset(dataset) or _core.default_dataset(),
        checks.text("salt", salt),
        checks.number(name, strength),
        molar,
        checks.number("volume_l", volume_l),
        checks.text("form", form),
        checks.number("purity_percent", purity_percent),
        checks.number("reagent_chloride_percent", reagent_chloride_percent),
    )


def bath_salts(dataset: _core.Dataset | None = None) -> list[str]:
    """Names accepted as ``salt`` by ``weigh_out``; so are others such as "baking soda"."""
    return _core._bath_salts(checks.dataset(dataset) or _core.default_dataset())


def shelf_forms(salt: str, dataset: _core.Dataset | None = None) -> list[str]:
    """Names accepted as ``form`` by ``weigh_out`` for a salt. Raises UnknownName."""
    return _core._shelf_forms(
        checks.dataset(dataset) or _core.default_dataset(), checks.text("salt", salt)
    )
