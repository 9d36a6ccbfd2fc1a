"""Salts and humidity: solutions of one salt, and when a salt dissolves in water from the air."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike

from . import checks
from ._core import (
    Deliquescence,
    HydrationChange,
    MeasuredHumidity,
    MixtureSweep,
    NantokiteInAir,
    SaltSolution,
    _computable_salts,
    _crystallisation_humidities,
    _deliquescence,
    _deliquescence_curve,
    _hydration_changes,
    _measured_humidity,
    _mixture,
    _nantokite_in_air,
    _salt_curve,
    _single_salt,
)
from ._core import (  # the types of this part
    HumidityComparison as HumidityComparison,
)
from ._core import (
    MeasuredCurvePoint as MeasuredCurvePoint,
)
from ._core import (
    MixtureOnset as MixtureOnset,
)
from ._core import (
    MixtureState as MixtureState,
)
from .drawing.salts import plot_mixture

if TYPE_CHECKING:
    from ._core import Dataset
    from .water import FloatOrArray

__all__ = [
    "Deliquescence",
    "DeliquescenceCurve",
    "HumidityComparison",
    "HydrationChange",
    "MeasuredCurvePoint",
    "MixtureOnset",
    "MixtureState",
    "MixtureSweep",
    "NantokiteInAir",
    "SaltCurve",
    "SaltSolution",
    "computable_salts",
    "crystallisation_humidities",
    "deliquescence",
    "deliquescence_curve",
    "hydration_changes",
    "measured_humidity",
    "mixture",
    "nantokite_in_air",
    "plot_mixture",
    "salt_curve",
    "single_salt",
]


@dataclass(frozen=True)
class SaltCurve:
    """Figures of the solutions of one salt, each of the shape of `molality`."""

    pitzer_set: str
    molality: FloatOrArray
    osmotic_coefficient: FloatOrArray
    mean_activity_coefficient: FloatOrArray
    water_activity: FloatOrArray


@dataclass(frozen=True)
class DeliquescenceCurve:
    """Deliquescence humidities (% RH), each of the shape of `temperature_c`; NaN: not known."""

    temperature_c: FloatOrArray
    rh_percent: FloatOrArray
    rh_uncertainty_percent: FloatOrArray
    not_known_because: str
    """Reason of the first NaN; empty if none."""


def _salt(salt: str, pitzer_set: str) -> tuple[str, str]:
    return checks.text("salt", salt), checks.text("pitzer_set", pitzer_set)


def single_salt(
    salt: str,
    molality: float,
    temperature_c: float = 25.0,
    *,
    pitzer_set: str = "",
    dataset: Dataset | None = None,
) -> SaltSolution:
    """Osmotic coefficient, activity coefficient and water activity of one salt in water."""
    name, parameters = _salt(salt, pitzer_set)
    figures = checks.number("molality", molality), checks.number("temperature_c", temperature_c)
    return _single_salt(name, *figures, parameters, checks.dataset(dataset))


def salt_curve(
    salt: str,
    molality: ArrayLike,
    temperature_c: float = 25.0,
    *,
    pitzer_set: str = "",
    dataset: Dataset | None = None,
) -> SaltCurve:
    """Many molalities (mol/kg, 0 to 30) of one salt at once."""
    given = checks.numbers("molality", molality)
    temperature = checks.number("temperature_c", temperature_c)
    chosen, parameters = _salt(salt, pitzer_set)
    name, *arrays = _salt_curve(chosen, given, temperature, parameters, checks.dataset(dataset))
    osmotic, gamma, water = (one[()] for one in arrays)
    return SaltCurve(name, given[()], osmotic, gamma, water)


def deliquescence(
    salt: str,
    temperature_c: float = 25.0,
    *,
    pitzer_set: str = "",
    dataset: Dataset | None = None,
) -> Deliquescence:
    """Humidity above which a salt dissolves in water from the air, beside its measurements.

    `rh_percent` is NaN where it is not known; `not_known_because` says why.
    """
    name, parameters = _salt(salt, pitzer_set)
    temperature = checks.number("temperature_c", temperature_c)
    return _deliquescence(name, temperature, parameters, checks.dataset(dataset))


def deliquescence_curve(
    salt: str,
    temperature_c: ArrayLike,
    *,
    pitzer_set: str = "",
    dataset: Dataset | None = None,
) -> DeliquescenceCurve:
    """Deliquescence humidities over temperature (degrees C, 0 to 50); NaN where not known."""
    given = checks.numbers("temperature_c", temperature_c)
    name, parameters = _salt(salt, pitzer_set)
    rh, uncertainty, reason = _deliquescence_curve(name, given, parameters, checks.dataset(dataset))
    return DeliquescenceCurve(given[()], rh[()], uncertainty[()], reason)


def measured_humidity(
    solid: str, temperature_c: float, *, dataset: Dataset | None = None
) -> MeasuredCurvePoint:
    """Measured humidity interpolated inside one evaluated table; InputError outside it."""
    temperature = checks.number("temperature_c", temperature_c)
    return _measured_humidity(checks.text("solid", solid), temperature, checks.dataset(dataset))


def crystallisation_humidities(
    salt: str, *, dataset: Dataset | None = None
) -> list[MeasuredHumidity]:
    """Return where a brine of the salt was seen to crystallise on drying, the highest first.

    Measured on droplets without a surface: the lowest it can be. Empty where none is known.
    """
    return _crystallisation_humidities(checks.text("salt", salt), checks.dataset(dataset))


def nantokite_in_air(rh_percent: float = 50.0, *, dataset: Dataset | None = None) -> NantokiteInAir:
    """Return by how much nantokite is unstable in air, dry and at a humidity (above 0 to 100).

    Thermodynamics at 25 degrees C, 0.21 bar oxygen; no rate. ``limits`` are the published bands.
    """
    return _nantokite_in_air(checks.number("rh_percent", rh_percent), checks.dataset(dataset))


def hydration_changes(
    solid: str, temperature_c: float = 25.0, *, dataset: Dataset | None = None
) -> list[HydrationChange]:
    """Humidities at which a solid gives up water, or is made by one that does.

    From the constants of both solids, beside what was measured; ``rh_percent`` is NaN where one of
    them has none, with the reason. Thermodynamics: a change may wait for months.
    """
    temperature = checks.number("temperature_c", temperature_c)
    return _hydration_changes(checks.text("solid", solid), temperature, checks.dataset(dataset))


def computable_salts(dataset: Dataset | None = None) -> list[str]:
    """Names of the salts whose deliquescence humidity can be computed at 25 degrees C."""
    return _computable_salts(checks.dataset(dataset))


def mixture(
    ions: Mapping[str, float],
    *,
    rh_percent: ArrayLike | None = None,
    temperature_c: float = 25.0,
    left_out: Sequence[str] = (),
    dataset: Dataset | None = None,
) -> MixtureSweep:
    """Solids and brine of a mixture of salts at every humidity, with every onset located.

    ``ions``: mol of each by component (``"Na(+)"``, ``"SO4(2-)"``), charges cancelling to 1e-9;
    carbonate and other ions whose salts trade acid with the air are refused. ``rh_percent``:
    rising, above 0 and below 100; None: 5 to 98 by 1. ``left_out``: solids that are not to form.
    Each state is certified, also that there is no brine; constants and mixing terms leave 1 to 3 %
    RH, 10 and more in strong nitrate brines. Raises ``InputError`` and ``UnknownName``.
    """
    humidities = (
        np.arange(5.0, 99.0) if rh_percent is None else checks.row("rh_percent", rh_percent)
    )
    return _mixture(
        checks.number_by_name("ions", ions),
        np.asarray(humidities, dtype=float),
        checks.number("temperature_c", temperature_c),
        checks.names("left_out", left_out),
        checks.dataset(dataset),
    )
