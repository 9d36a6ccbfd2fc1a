"""How far the constants let a water be known: ranges from draws of them."""

from __future__ import annotations

from typing import TypeVar

from . import _core, checks
from ._core import (  # the types of this part
    DoubtCarrier as DoubtCarrier,
)
from ._core import (
    FigureRange as FigureRange,
)
from ._core import (
    SolidChance as SolidChance,
)

__all__ = ["DoubtCarrier", "FigureRange", "SolidChance", "WaterRanges"]

_Named = TypeVar("_Named", FigureRange, SolidChance)


def _by_name(all_of_them: list[_Named]) -> dict[str, _Named]:
    return {each.name: each for each in all_of_them}


class WaterRanges:
    """One water solved again with constants drawn at random from what was published of them.

    Every figure has what it is ``undrawn``; its spread ``as_stated`` (each constant within the
    uncertainty that its source states) and ``as_published`` (besides, any figure published for the
    same reaction in place of the chosen one), as percentiles; and in ``carried_by`` the three
    constants that carry most of the doubt, with their share of the variance. Not in it: the
    activity model, the readings of an analysis, species that nobody has found.
    """

    def __init__(
        self,
        core: _core.WaterRanges,
        water: _core.Speciation | None = None,
        dataset: _core.Dataset | None = None,
    ) -> None:
        self._core = core
        self._water = water
        self._dataset = dataset

    @property
    def message(self) -> str:
        """Why there are none; empty when all is well."""
        return self._core.message

    @property
    def draws(self) -> int:
        """How often the constants were drawn, for each of the two spreads."""
        return self._core.draws

    @property
    def seed(self) -> int:
        """Of the draws: the same seed, the same ranges."""
        return self._core.seed

    @property
    def unanswered_as_stated(self) -> int:
        """Draws within the stated uncertainties that had no answer, and were left out."""
        return self._core.unanswered_as_stated

    @property
    def unanswered_as_published(self) -> int:
        """Draws with other published figures that had no answer, and were left out."""
        return self._core.unanswered_as_published

    @property
    def ph(self) -> FigureRange | None:
        """Return the pH where it follows from the charge; None where it was given."""
        return self._core.ph

    @property
    def eh_v(self) -> FigureRange | None:
        """V against the standard hydrogen electrode, where it follows; None where it was given."""
        return self._core.eh_v

    @property
    def ionic_strength(self) -> FigureRange:
        """mol/kg."""
        return self._core.ionic_strength

    @property
    def log10_dissolved(self) -> dict[str, FigureRange]:
        """log10 of mol/kg of each element in all its dissolved forms."""
        return _by_name(self._core.log10_dissolved)

    @property
    def log10_molality(self) -> dict[str, FigureRange]:
        """log10 of mol/kg of each dissolved species."""
        return _by_name(self._core.log10_molality)

    @property
    def saturation_index(self) -> dict[str, FigureRange]:
        """log10 of the saturation of each solid."""
        return _by_name(self._core.saturation_index)

    @property
    def solid_mol_per_kg(self) -> dict[str, FigureRange]:
        """Amounts of the solids that form, or do in some draws."""
        return _by_name(self._core.solid_mol_per_kg)

    @property
    def log10_fugacity(self) -> dict[str, FigureRange]:
        """log10 of the fugacity of each gas in bar."""
        return _by_name(self._core.log10_fugacity)

    @property
    def solids(self) -> dict[str, SolidChance]:
        """Probability of each solid: that it forms or, where it is not allowed to, that it may."""
        return _by_name(self._core.solids)

    @property
    def exact(self) -> list[str]:
        """Ids of figures that count as exact: no uncertainty stated, no other figure beside."""
        return self._core.exact

    def describe(self) -> str:
        """Return every figure with its unit and meaning, as text."""
        return self._core.describe()

    def to_csv(self, list: str) -> str:
        """Return one of the lists, such as "saturation_index" or "solids", as CSV text."""
        return self._core.to_csv(list)

    def __str__(self) -> str:
        if self._water is None:
            return self.describe()
        return self._core.text(self._water, self._dataset)

    def __repr__(self) -> str:
        return f"WaterRanges({self.message or f'{self.draws} draws, seed {self.seed}'})"


def drawn(draws: int, seed: int, threads: int) -> tuple[int, int, int]:
    """Check how constants are drawn."""
    return (
        checks.integer("draws", draws, 100, 100_000),
        checks.integer("seed", seed, 0, 2**64 - 1),
        checks.integer("threads", threads, 0, 256),
    )
