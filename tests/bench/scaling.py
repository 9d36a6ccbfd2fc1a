"""How the time and the memory of a water grow with species, solids, waters and threads."""

import multiprocessing
import os
import resource
import time
from collections.abc import Iterator
from typing import Any

import numpy as np
from bench_equilibrium import COPPER, WIDE, waters
from job import Clock, seconds

import aeruca

COUNT = 20_000
CHEMISTRIES = (
    ["Na(+)", "Cl(-)"],
    COPPER,
    [*COPPER, "CO3(2-)"],
    WIDE,
    [*WIDE, "Ca(2+)", "Mg(2+)", "K(+)"],
)


def batch(system: Any, components: list[str], count: int) -> Any:
    """A call that solves so many waters."""
    totals, ph, eh = waters(count, components)
    columns = dict(zip(components, totals.T, strict=True))
    return lambda: system.solve_many(columns, ph=ph, eh_v=eh)


def microseconds(call: Any, count: int, repeats: int, clock: Clock = time.process_time) -> float:
    return 1e6 * float(np.median([seconds(call, clock) for _ in range(repeats)])) / count


def by_species(repeats: int) -> Iterator[str]:
    yield "us a water by species (one thread, no solids):  species  ideal  specific-ion"
    for components in CHEMISTRIES:
        times = []
        for model in ("ideal", "sit"):
            system = aeruca.Equilibrium(components=components, activity=model, threads=1)
            times.append(microseconds(batch(system, components, COUNT), COUNT, repeats))
        yield f"{len(system.species):>55}{times[0]:>7.2f}{times[1]:>14.2f}"


def by_solids(repeats: int) -> Iterator[str]:
    yield "us a water by solids allowed (one thread, specific-ion):  solids  us"
    options: dict[str, Any] = {"components": WIDE, "threads": 1}
    every = aeruca.Equilibrium(precipitation="allowed", **options).allowed_solids
    for number in (0, 1, 7, 14, len(every)):
        if number:
            options |= {"precipitation": "allowed", "allowed_solids": every[:number]}
        call = batch(aeruca.Equilibrium(**options), WIDE, COUNT)
        yield f"{number:>64}{microseconds(call, COUNT, repeats):>6.2f}"


def by_waters(repeats: int) -> Iterator[str]:
    yield "us a water by waters in a call (one thread, specific-ion):  waters  us"
    system = aeruca.Equilibrium(components=COPPER, threads=1)
    for count in (1, 10, 100, 1000, 10_000, 100_000):
        call = batch(system, COPPER, count)
        yield f"{count:>66}{microseconds(call, count, repeats):>6.2f}"


def by_threads(repeats: int) -> Iterator[str]:
    yield "us a water by threads (by the clock, specific-ion):  threads  us"
    for threads in sorted({1, 2, 4, os.cpu_count() or 1}):
        if threads > (os.cpu_count() or 1):
            continue
        system = aeruca.Equilibrium(components=COPPER, threads=threads)
        call = batch(system, COPPER, 5 * COUNT)
        yield f"{threads:>60}{microseconds(call, 5 * COUNT, repeats, time.perf_counter):>6.2f}"


def peak_kb(count: int) -> int:
    """Largest size of a process that solves so many waters; to be called in one of its own."""
    result = batch(aeruca.Equilibrium(components=COPPER, threads=1), COPPER, count)()
    assert result.certified.all()
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss


def memory() -> Iterator[str]:
    few, many = 50_000, 250_000
    with multiprocessing.get_context("spawn").Pool(1, maxtasksperchild=1) as pool:
        low, high = pool.map(peak_kb, (few, many), chunksize=1)
    system = aeruca.Equilibrium(components=COPPER)
    result = batch(system, COPPER, 1000)()
    kept = sum(value.nbytes for value in vars(result).values() if hasattr(value, "nbytes")) / 1000
    grown = (high - low) * 1024 / (many - few)
    yield "memory, bytes a water (20 species):  grown by  of them results"
    yield f"{grown:>45.0f}{kept:>16.0f}"


def tables(repeats: int) -> Iterator[str]:
    """Lines to print."""
    for table in (by_species, by_solids, by_waters, by_threads):
        yield ""
        yield from table(repeats)
    yield ""
    yield from memory()
