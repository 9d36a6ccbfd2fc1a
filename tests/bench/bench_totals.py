"""A map of a water at fixed totals, and the same fields traced, against SciPy point by point."""

from collections.abc import Iterator
from importlib.util import find_spec
from typing import Any

import numpy as np
from job import Job, Rival
from rivals import LN10, SLOPE, Balances, scipy_solids

import aeruca
from aeruca.totals_fields import TotalsFields

SIDE = 400
COARSE = 12  # cells a side of SciPy's map, scaled up: the fine one would take hours
TOTALS = {"Cu(2+)": 1e-3, "Cl(-)": 0.1}
PH, EH = (0.0, 14.0), (-0.6, 1.0)


def grid(side: int) -> tuple[Any, Any]:
    """Return middles of the cells."""
    x = PH[0] + (np.arange(side) + 0.5) / side * (PH[1] - PH[0])
    y = EH[0] + (np.arange(side) + 0.5) / side * (EH[1] - EH[0])
    return np.meshgrid(x, y)


def jobs() -> Iterator[Job]:
    """Yield the map by our lanes, and the traced diagram, each against SciPy's map."""
    model = TotalsFields(("pH", *PH), ("Eh", *EH), totals=TOTALS, activity="ideal", left_out=())
    system = aeruca.Equilibrium(components=list(TOTALS), activity="ideal", precipitation="allowed")
    balances = Balances(list(TOTALS), list(system.species), list(system.allowed_solids))
    totals = np.array(list(TOTALS.values()))

    def scipy_map() -> list[Any]:
        x, y = grid(COARSE)
        return [
            scipy_solids(balances, totals, ph, eh)
            for ph, eh in zip(x.ravel(), y.ravel(), strict=True)
        ]

    def ours() -> Any:
        return model.at(*grid(SIDE))

    def agree_map(names: Any, found: list[Any]) -> None:
        # Where nothing forms, SciPy's copper is all dissolved: the two say so of the same points.
        x, y = grid(COARSE)
        mine = model.at(x, y).ravel()
        copper = [i for i, name in enumerate(balances.dissolved) if "Cu" in name]
        atoms = balances.species[0][copper, 0]
        dissolved = np.array([np.exp(u[copper]) @ atoms for u in found]) / totals[0]
        solid = set(balances.solids)
        formed = np.array([bool(solid & set(name.split(" + "))) for name in mine])
        assert np.mean((dissolved < 0.999) == formed) > 0.97
        assert names.shape == (SIDE, SIDE)

    def agree_traced(diagram: Any, names: Any) -> None:
        for field in diagram.fields:
            assert abs(np.mean(names == field.species) - field.area_fraction) < 0.005, field.species

    def compiled_map() -> Any:
        from compiled_map import map_solids

        a, k, _, hydrogen, electron = balances.species
        s, c, _, s_hydrogen, s_electron = balances.of(balances.solids)
        x, y = grid(SIDE)
        return map_solids(a, k, hydrogen, electron, s, c, s_hydrogen, s_electron, totals,
                          x.ravel() * LN10, y.ravel() / SLOPE * LN10)  # fmt: skip

    def agree_both(names: Any, found: Any) -> None:
        if isinstance(found, list):
            agree_map(names, found)
            return
        formed = np.array([bool(set(balances.solids) & set(n.split(" + "))) for n in names.ravel()])
        answered = found >= 0
        assert np.mean(answered) > 0.95, np.mean(answered)
        assert np.mean((found > 0)[answered] == formed[answered]) > 0.99

    share = (COARSE / SIDE) ** 2
    yield Job(
        f"map of a water at fixed totals, {SIDE} x {SIDE}, {len(system.allowed_solids)} solids",
        ours,
        {"SciPy in a loop": Rival(scipy_map, share=share)}
        | ({"compiled loop": Rival(compiled_map)} if find_spec("numba") else {}),
        agree_both,
        aim="200x",
    )
    yield Job(
        "the same fields traced to 0.001 in pH and 0.1 mV (against the map)",
        model.diagram,
        {"the map": Rival(ours)},
        agree_traced,
        aim="faster than the map",
    )


def cases() -> Iterator[Job]:
    """Yield the jobs."""
    yield from jobs()
