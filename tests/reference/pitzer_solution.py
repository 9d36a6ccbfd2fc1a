"""The solution of one salt as sums that are linear in its Pitzer parameters (for fit_brines.py)."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from aeruca.water import debye_hueckel_slopes

WATER = 0.018015268  # kg/mol
GAS = 8.314462618e-3  # kJ/(mol K)


class Salt(NamedTuple):
    """One salt in water: numbers and charges of its ions."""

    cations: int
    anions: int
    cation_charge: int
    anion_charge: int


def a_phi(temperature_c: Any) -> Any:
    """Osmotic slope of the limiting law, kg^0.5 mol^-0.5."""
    t = np.asarray(temperature_c, float)
    near = np.linspace(0, 14, 8)
    below = np.polyval(np.polyfit(near, debye_hueckel_slopes(near).a_phi, 2), t)
    return np.where(t < 0, below, debye_hueckel_slopes(np.maximum(t, 0)).a_phi)


def ln_ice(temperature_c: Any) -> Any:
    """Ln of the vapour pressure of ice over that of supercooled water (Murphy and Koop 2005)."""
    t = np.asarray(temperature_c, float) + 273.15
    ice = 9.550426 - 5723.265 / t + 3.53068 * np.log(t) - 0.00728332 * t
    liquid = 54.842763 - 6763.22 / t - 4.210 * np.log(t) + 0.000367 * t
    liquid += np.tanh(0.0415 * (t - 218.8)) * (
        53.878 - 1331.22 / t - 9.44523 * np.log(t) + 0.014025 * t
    )
    return ice - liquid


def bend(alpha: float, root: Any) -> Any:
    """Second virial weight of beta1 and beta2 in ln gamma, beside 2 beta0."""
    x = alpha * root
    return 2 * (1 - np.exp(-x) * (1 + x - x**2 / 2)) / x**2


class Solution:
    """The solution of a salt at molalities and temperatures, as sums over the fields of a set."""

    def __init__(self, kind: Salt, base: dict[str, Any], molality: Any, temperature_c: Any) -> None:
        self.base, self.kind = base, kind
        self.m = np.asarray(molality, float)
        self.t = np.broadcast_to(np.asarray(temperature_c, float), self.m.shape)
        self.ions = kind.cations + kind.anions
        self.product = kind.cations * kind.anions
        strength = kind.cations * kind.cation_charge**2 + kind.anions * kind.anion_charge**2
        self.root = np.sqrt(0.5 * self.m * strength)

    def limiting(self) -> tuple[Any, Any]:
        """Limiting law in phi - 1 and in ln gamma."""
        charges = self.kind.cation_charge * self.kind.anion_charge
        slope, below = -charges * a_phi(self.t), 1 + 1.2 * self.root
        return slope * self.root / below, slope * (self.root / below + 2 / 1.2 * np.log(below))

    def weights(self, field: str) -> tuple[Any, Any]:
        """d phi / d field and d ln gamma / d field."""
        name, _, power = field.partition("_per_k")
        changed = 1.0 if name == field else (self.t - 25.0) ** (2 if power == "2" else 1)
        second, third = 2 * self.m * self.product / self.ions, self.m**2 * 2 / self.ions
        if name == "c_phi":
            osmotic = third * self.product**1.5
            return changed * osmotic, changed * 1.5 * osmotic
        if name == "beta0":
            return changed * second, changed * 2 * second
        alpha = self.base["alpha1"] if name == "beta1" else self.base.get("alpha2", 12.0)
        return changed * second * np.exp(-alpha * self.root), changed * second * bend(
            alpha, self.root
        )

    def value(self, change: dict[str, float]) -> tuple[Any, Any]:
        """Osmotic coefficient and ln gamma."""
        osmotic, gamma = self.limiting()
        fields = [f for f in {**self.base, **change} if f.startswith(("beta", "c_phi"))]
        for field in fields:
            figure = self.base.get(field, 0.0) + change.get(field, 0.0)
            in_osmotic, in_gamma = self.weights(field)
            osmotic, gamma = osmotic + figure * in_osmotic, gamma + figure * in_gamma
        return 1 + osmotic, gamma

    def ln_water(self, osmotic: Any) -> Any:
        """Ln of the water activity."""
        return -WATER * self.ions * self.m * osmotic

    def ln_product(self, osmotic: Any, gamma: Any, waters: float) -> Any:
        """Ln of the ion product with so many waters."""
        counts = self.kind.cations * np.log(self.kind.cations * self.m)
        counts = counts + self.kind.anions * np.log(self.kind.anions * self.m)
        return counts + self.ions * gamma + waters * self.ln_water(osmotic)


def van_t_hoff(t: Any) -> Any:
    """Columns of ln K: 1, by kJ/mol of heat, by kJ/(mol K) of heat capacity, both at 25 C."""
    kelvin, at_25 = np.asarray(t, float) + 273.15, 298.15
    heat = (1 / at_25 - 1 / kelvin) / GAS
    capacity = (at_25 / kelvin - 1 + np.log(kelvin / at_25)) / GAS
    return np.array([np.ones_like(kelvin), heat, capacity]).T
