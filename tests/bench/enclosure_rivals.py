"""A box through a year as one writes it with NumPy: all draws side by side, hour by hour."""

from dataclasses import dataclass
from typing import Any

import numpy as np

R, KELVIN, WATER = 8.314462618, 273.15, 0.018015268
W0, ENERGY, POWER = 0.000327, 4384.0, 1.35  # of the gel, m3/kg, J/mol, 1
DENSITY = 997.05  # kg/m3; its change with temperature moves the answer by 0.1 %
Array = Any


def saturated(c: Array) -> Array:
    """Vapour over water, kg/m3: Magnus's formula, 0.2 % off."""
    return 611.2 * np.exp(17.62 * c / (243.12 + c)) * WATER / (R * (c + KELVIN))


@dataclass
class Boxes:
    """Many draws of one box."""

    exchange: Array
    start: Array
    capacity: Array
    rh_shift: Array
    c_shift: Array
    volume: float

    def some(self, count: int) -> "Boxes":
        """The first of them."""
        return Boxes(
            self.exchange[:count],
            self.start[:count],
            self.capacity[:count],
            self.rh_shift[:count],
            self.c_shift[:count],
            self.volume,
        )

    def follow(self, c: Array, rh: Array, gel_kg: Array, limit: float) -> tuple[Array, ...]:
        """Curve each day, first hour above the limit and highest humidity, of every draw."""
        h = self.start.copy()
        gel = self.capacity * gel_kg / self.volume
        passed = np.full(h.shape, np.inf)
        peak, curve = h.copy(), []
        kelvin = self.c_shift + c[0] + KELVIN
        water = h * saturated(kelvin - KELVIN) + gel * sorbed(h, kelvin)[0]
        for hour in range(len(c)):
            kelvin = self.c_shift + c[hour] + KELVIN
            vapour = saturated(kelvin - KELVIN)
            for _ in range(2):  # Newton: what the water of the last hour is at this temperature
                x, slope = sorbed(h, kelvin)
                h = h - (h * vapour + gel * x - water) / (vapour + gel * slope)
            goal = np.clip(rh[hour] + self.rh_shift, 0, 1)
            _, slope = sorbed(h, kelvin)
            h = goal + (h - goal) * np.exp(-self.exchange / 24 * vapour / (vapour + gel * slope))
            water = h * vapour + gel * sorbed(h, kelvin)[0]
            passed = np.where((h > limit) & np.isinf(passed), hour / 24, passed)
            peak = np.maximum(peak, h)
            if hour % 24 == 0:
                curve.append(h)
        return np.array(curve), passed, peak


def sorbed(h: Array, kelvin: Array) -> tuple[Array, Array]:
    """Water on the gel (kg/kg) and its slope by humidity."""
    potential = -R * kelvin * np.log(h)
    power = (potential / ENERGY) ** POWER
    x = W0 * DENSITY * np.exp(-power)
    return x, R * kelvin / h * x * POWER * power / potential


def numpy_forecast(
    c: Array, rh: Array, boxes: Boxes, gel_kg: float, limit: float
) -> dict[str, Array]:
    """Curve and days of all draws; mass of gel for the year of the first 100, by false position."""
    curve, passed, _ = boxes.follow(c, rh, np.full(len(boxes.start), gel_kg), limit)
    some = boxes.some(100)
    low, high = np.full(100, np.log(1e-3)), np.full(100, np.log(20.0))
    over = [some.follow(c, rh, np.exp(end), limit)[2] - limit for end in (low, high)]
    for _ in range(8):
        middle = np.clip(
            low + (high - low) * over[0] / (over[0] - over[1]),
            low + 0.1 * (high - low),
            high - 0.1 * (high - low),
        )
        here = some.follow(c, rh, np.exp(middle), limit)[2] - limit
        low, high = np.where(here > 0, middle, low), np.where(here > 0, high, middle)
        over = [np.where(here > 0, here, over[0]), np.where(here > 0, over[1], here)]
    return {"curve": 100 * curve[-1], "days": passed, "gel_kg": np.exp((low + high) / 2)}
