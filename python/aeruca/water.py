"""Liquid water: vapour pressure, density, permittivity, ionic product, Debye-Hueckel slopes.

Every function broadcasts over NumPy arrays; NaN in, NaN out; out of range raises InputError.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ._core import (
    _debye_hueckel_slopes,
    density_kg_per_m3,
    permittivity,
    pkw,
    saturation_pressure_pa,
)

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


def debye_hueckel_slopes(temperature_c: ArrayLike) -> DebyeHueckelSlopes:
    """Slopes derived from density and permittivity; 0 to 100 degrees C."""
    return DebyeHueckelSlopes(*_debye_hueckel_slopes(temperature_c))
