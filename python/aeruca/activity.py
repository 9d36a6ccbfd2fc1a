"""Activity coefficients of dissolved species and the activity of water."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike

from . import checks
from ._core import _activity_rows

if TYPE_CHECKING:
    from ._core import Dataset
    from .choices import ActivityModel
    from .water import FloatArray, FloatOrArray

__all__ = ["ActivityResult", "activity_coefficients"]


@dataclass(frozen=True)
class ActivityResult:
    """What `activity_coefficients` found; the last axis of `gamma` runs over the species."""

    species: tuple[str, ...]
    model: str
    temperature_c: float
    gamma: FloatArray
    """Molal activity coefficients, shape (..., n)."""
    water_activity: FloatOrArray
    """Mole-fraction scale, shape (...)."""
    ionic_strength: FloatOrArray
    """mol/kg, shape (...)."""
    ionic_strength_max: FloatOrArray
    """Highest that the model is meant for with these dominant ions, mol/kg, shape (...)."""
    figures: tuple[str, ...]
    """Ids of the figures of the data set that were used."""
    warnings: tuple[str, ...]
    """Range left, coefficients estimated, parameters missing."""


def activity_coefficients(
    model: ActivityModel,
    species: Sequence[str],
    molality: ArrayLike,
    temperature_c: float = 25.0,
    *,
    dataset: Dataset | None = None,
) -> ActivityResult:
    """Activity coefficients of a list of species at one or many compositions.

    `model`: "ideal", "dilute", "sit" or "pitzer". `molality` (mol/kg): shape (n,) or (..., n) for n
    species. `temperature_c`: 0 to 50. Raises InputError for a wrong shape or a negative molality.
    """
    names = [species] if isinstance(species, str) else checks.names("species", species)
    given = np.ascontiguousarray(checks.numbers("molality", molality))
    if given.ndim == 0 or given.shape[-1] != len(names):
        raise checks.refusal(
            "molality",
            f"an array of shape {given.shape}",
            f"(..., {len(names)}), one per species",
        )
    ln_gamma, ln_water, ionic_strength, highest, figures, remarks = _activity_rows(
        checks.text("model", model),
        names,
        given,
        checks.number("temperature_c", temperature_c),
        checks.dataset(dataset),
    )
    warnings = list(remarks)
    beyond = ionic_strength > highest
    if beyond.any():
        warnings.insert(
            0,
            f"ionic strength up to {ionic_strength[beyond].max():.3g} mol/kg: "
            f"model {model} is meant for {highest[beyond].min():.3g} mol/kg and less",
        )
    outer = given.shape[:-1]
    return ActivityResult(
        species=tuple(names),
        model=model,
        temperature_c=temperature_c,
        gamma=np.exp(ln_gamma).reshape(given.shape),
        water_activity=np.exp(ln_water).reshape(outer)[()],
        ionic_strength=ionic_strength.reshape(outer)[()],
        ionic_strength_max=highest.reshape(outer)[()],
        figures=tuple(figures),
        warnings=tuple(warnings),
    )
