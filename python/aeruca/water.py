"""Liquid water: vapour pressure, density, permittivity, ionic product, Debye-Hueckel slopes.

Every function broadcasts over NumPy arrays; NaN in, NaN out; out of range raises InputError.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from . import _core, checks

__all__ = [
    "DebyeHueckelSlopes",
    "debye_hueckel_slopes",
    "density_kg_per_m3",
    "permittivity",
    "pkw",
    "saturation_pressure_pa",
]

FloatArray = NDArray[np.float64]
FloatOrArray = float | FloatArray


class DebyeHueckelSlopes(NamedTuple):
    """Slopes of the limiting law at 1 atm, each of the shape of the temperatures."""

    a_log10: FloatOrArray
    """A, kg^0.5 mol^-0.5, base 10."""
    b_per_angstrom: FloatOrArray
    """B, kg^0.5 mol^-0.5 per angstrom."""
    a_phi: FloatOrArray
    """Osmotic slope A ln(10) / 3, kg^0.5 mol^-0.5."""


def saturation_pressure_pa(temperature_c: ArrayLike) -> FloatOrArray:
    """Vapour pressure over liquid water (Pa), IAPWS-IF97 region 4; 0 to 373.946 degrees C."""
    return _core.saturation_pressure_pa(checks.numbers("temperature_c", temperature_c))


def density_kg_per_m3(temperature_c: ArrayLike, pressure_pa: ArrayLike = 101325.0) -> FloatOrArray:
    """Density of liquid water (kg/m3), IAPWS-IF97 region 1; 0 to 350 degrees C, up to 1e8 Pa."""
    temperature, pressure = checks.broadcast(
        temperature_c=checks.numbers("temperature_c", temperature_c),
        pressure_pa=checks.numbers("pressure_pa", pressure_pa),
    )
    return _core.density_kg_per_m3(temperature, pressure)


def permittivity(temperature_c: ArrayLike, density_kg_per_m3: ArrayLike) -> FloatOrArray:
    """Return the static relative permittivity of water (1), IAPWS R8-97; 0 to 600 degrees C."""
    temperature, density = checks.broadcast(
        temperature_c=checks.numbers("temperature_c", temperature_c),
        density_kg_per_m3=checks.numbers("density_kg_per_m3", density_kg_per_m3),
    )
    return _core.permittivity(temperature, density)


def pkw(temperature_c: ArrayLike, density_kg_per_m3: ArrayLike) -> FloatOrArray:
    """PKw on the molal scale (1), IAPWS R11-07; 0 to 800 degrees C."""
    temperature, density = checks.broadcast(
        temperature_c=checks.numbers("temperature_c", temperature_c),
        density_kg_per_m3=checks.numbers("density_kg_per_m3", density_kg_per_m3),
    )
    return _core.pkw(temperature, density)


def debye_hueckel_slopes(temperature_c: ArrayLike) -> DebyeHueckelSlopes:
    """Slopes derived from density and permittivity; 0 to 100 degrees C."""
    return DebyeHueckelSlopes(
        *_core._debye_hueckel_slopes(checks.numbers("temperature_c", temperature_c))
    )
