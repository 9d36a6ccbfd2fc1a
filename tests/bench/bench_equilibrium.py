"""Equilibria: one water from Python, and a hundred thousand with every activity model."""

import os
import subprocess
from collections.abc import Callable, Iterator
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import numpy as np
from job import Job, Rival
from rivals import LN10, Balances, compiled_many, numpy_many, scipy_one, scipy_solids

import aeruca

COPPER = ["Cu(2+)", "Cl(-)", "Na(+)"]
WIDE = [*COPPER, "CO3(2-)", "SO4(2-)"]
SEA = {"Na(+)": 0.4861, "K(+)": 0.0106, "Mg(2+)": 0.0547, "Ca(2+)": 0.01065, "Cl(-)": 0.5658,
       "SO4(2-)": 0.0293, "CO3(2-)": 0.0023}  # fmt: skip  # mol/kg, of 35 g/kg
MANY = 100_000
FEW = 100  # of SciPy, scaled up: it would take minutes
ROOT = Path(__file__).parents[2]


def waters(count: int, components: list[str]) -> tuple[Any, Any, Any]:
    """Totals (count, components), pH and Eh of dilute waters."""
    rng = np.random.default_rng(11)
    low = [-6 if name == "Cu(2+)" else -4 for name in components]
    totals = 10.0 ** rng.uniform(low, [x + 3 for x in low], size=(count, len(low)))
    return totals, rng.uniform(3, 10, count), rng.uniform(0.0, 0.6, count)


def seas(count: int) -> tuple[Any, Any, Any]:
    """Sea water from a tenth to thrice its salt."""
    rng = np.random.default_rng(12)
    totals = np.outer(rng.uniform(0.1, 3, count), list(SEA.values()))
    return totals, rng.uniform(6, 8.5, count), rng.uniform(0.2, 0.5, count)


def limit(species: int, components: int) -> Callable[[], float] | None:
    """Seconds a water of the kernel that does only what nobody can leave out (limit.cpp)."""
    build = Path(os.environ.get("AERUCA_BUILD", ROOT / "build" / "dev"))
    program = build / "tests" / "bench" / "bench_limit"
    if not program.exists():
        return None
    call = [str(program), str(species), str(components)]
    return lambda: float(subprocess.run(call, capture_output=True, check=True).stdout)


def same(tolerance: float) -> Callable[[Any, Any], None]:
    """ln molalities within `tolerance`; rivals may give up on waters, ours answers every one."""

    def agree(mine: Any, theirs: Any) -> None:
        ours = np.atleast_2d(np.asarray(mine.log10_molality) * LN10)
        theirs = np.atleast_2d(theirs)
        gap = np.abs(ours[: len(theirs)] - theirs).max(axis=1)
        assert np.mean(gap < tolerance) > 0.5, np.nanmedian(gap)
        assert np.all(getattr(mine, "certified", True))

    return agree


def one_water() -> Iterator[Job]:
    """From Python, dissolved species alone and with solids."""
    totals, ph, eh = waters(1, COPPER)
    one = dict(zip(COPPER, totals[0], strict=True))
    for name, solids, call in (
        ("dissolved", "none", scipy_one),
        ("solids", "allowed", scipy_solids),
    ):
        system = aeruca.Equilibrium(components=COPPER, activity="ideal", precipitation=solids)
        balances = Balances(COPPER, list(system.species), list(system.allowed_solids))
        yield Job(
            f"one water from Python, {name}, ideal",
            lambda system=system: system.solve(one, ph=ph[0], eh_v=eh[0]),
            {"SciPy": Rival(lambda b=balances, call=call: call(b, totals[0], ph[0], eh[0]))},
            lambda mine, theirs: None if np.isnan(theirs).any() else same(2e-2)(mine, theirs),
            aim="15 us",
        )  # fmt: skip


def many(
    name: str,
    aim: str,
    components: list[str],
    given: tuple[Any, Any, Any],
    tolerance: float,
    **options: Any,
) -> Job:
    """One batch and those who do the same."""
    totals, ph, eh = given
    columns = dict(zip(components, totals.T, strict=True))
    system, wide = (
        aeruca.Equilibrium(components=components, threads=threads, **options) for threads in (1, 0)
    )
    balances = Balances(components, list(system.species), list(system.allowed_solids),
                        options["activity"])  # fmt: skip
    solids = bool(balances.solids)
    scipy = scipy_solids if solids else scipy_one

    def loop() -> Any:
        rows = zip(totals[:FEW], ph[:FEW], eh[:FEW], strict=True)
        return np.array([scipy(balances, *row) for row in rows])

    model, rivals = options["activity"], {}
    if not solids or model == "ideal":
        rivals["SciPy in a loop"] = Rival(loop, share=FEW / len(ph))
    if not solids and model != "pitzer":
        rivals["vectorised NumPy"] = Rival(lambda: numpy_many(balances, totals, ph, eh))
    if not solids and model != "pitzer" and find_spec("numba"):
        rivals["compiled loop"] = Rival(lambda: compiled_many(balances, totals, ph, eh))
    counts = f"{len(system.species)} species"
    counts += f", {len(system.allowed_solids)} solids" if solids else ""
    return Job(
        f"{name}, {counts}",
        lambda: system.solve_many(columns, ph=ph, eh_v=eh),
        rivals,
        same(tolerance),
        items=len(ph),
        aim=aim,
        all_threads=lambda: wide.solve_many(columns, ph=ph, eh_v=eh),
        limit=limit(len(system.species), len(components)),
    )


def drawn(count: int) -> Job:
    """Ranges of a copper water: two spreads of draws, each solved from nothing."""
    system = aeruca.Equilibrium(components=WIDE)
    one = {"Cu(2+)": 3e-5, "Cl(-)": 0.018, "Na(+)": 0.018, "CO3(2-)": 5e-3, "SO4(2-)": 1e-3}

    def ranges(threads: int) -> Any:
        return system.ranges(one, ph=7.2, eh_v=0.23, draws=count, threads=threads)

    return Job(
        f"ranges of one water, {len(system.species)} species, a draw of both spreads",
        lambda: ranges(1),
        {},
        lambda mine, theirs: None,
        items=count,
        aim="100 us",
        all_threads=lambda: ranges(0),
    )


def cases() -> Iterator[Job]:
    """Every job, the smallest first."""
    yield from one_water()
    copper, wide = waters(MANY, COPPER), waters(MANY, WIDE)
    # SciPy takes the water activity as 1 in ideal waters, ours as exp(-0.018 sum m): up to 0.004 in
    # ln for each of up to four H2O in a species. With solids it gives up on some waters. Nobody
    # writes solids with activity coefficients, or Pitzer's equations, in an afternoon.
    yield many("dissolved, ideal", "1.2 us", COPPER, copper, 2e-2, activity="ideal")
    yield many("dissolved, specific-ion", "4 us", COPPER, copper, 1e-6, activity="sit")
    solids = {"precipitation": "allowed"}
    yield many("solids, ideal", "8 us", COPPER, copper, 2e-2, activity="ideal", **solids)
    yield many("solids, specific-ion", "8 us", WIDE, wide, 0, activity="sit", **solids)
    yield many("sea water, Pitzer", "10 us", list(SEA), seas(MANY), 1e-5, activity="pitzer")
    yield drawn(10_000)
