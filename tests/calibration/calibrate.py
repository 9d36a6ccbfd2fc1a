"""How often the ranges of a bath posterior hold the truth, over simulated treatments.

    AERUCA_SEEDED_CASES=600 python tests/calibration/calibrate.py

Prints a row for each variant: cases, refused, warned, only a bound, share of the others whose 90 %
range (or one of the ranges told side by side) holds what was left, share of bounds that hold, and
the median width over that of a fit told the true model.
"""

import os
import sys
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass

import numpy as np
from treatments import MISFITS, MODELS, log_of, simulate, treatment

CASES = int(os.environ.get("AERUCA_SEEDED_CASES", "600"))


@dataclass
class Outcome:
    variant: str
    refused: bool
    warned: bool
    bound: bool
    held: bool
    width: float  # over that of the fit told the model; nan
    left_share: float


def union_width(ranges: list[tuple[float, float]]) -> float:
    total, end = 0.0, -np.inf
    for low, high in sorted(ranges):
        total += max(0.0, high - max(low, end))
        end = max(end, high)
    return total


def one(job: tuple[str, int]) -> Outcome:
    from aeruca import _core

    variant, seed = job
    random = np.random.default_rng([seed, [*MODELS, *MISFITS].index(variant)])
    done = treatment(random)
    truth = simulate(variant, done, random)
    log = _core._parse_bath_log(log_of(truth, done, random), "simulated.csv")
    nan = float("nan")

    def infer(models: list[str]):
        return _core._infer_bath_log(log, models, {}, _core.ReadingErrors(), nan, nan, 2000, 1)

    found = infer([])
    share = truth.left / truth.load
    if found.status != "converged":
        return Outcome(variant, True, True, False, False, nan, share)
    warned = bool(found.warnings)
    if found.bound_only:
        return Outcome(variant, False, warned, True, truth.left <= found.left_mg.high, nan, share)
    told = [found.left_mg] if found.one_story else [s.left_mg for s in found.stories]
    held = any(r.low <= truth.left <= r.high for r in told)
    width = nan
    if variant in MODELS:
        own = infer([variant])
        if own.status == "converged":
            base = own.left_mg
            width = union_width([(r.low, r.high) for r in told]) / (base.high - base.low)
    return Outcome(variant, False, warned, False, held, width, share)


def run(variants: list[str], cases: int) -> dict[str, list[Outcome]]:
    jobs = [(variant, seed) for variant in variants for seed in range(cases)]
    with ProcessPoolExecutor(int(os.environ.get("AERUCA_WORKERS", "2"))) as pool:
        outcomes = list(pool.map(one, jobs, chunksize=8))
    return {v: [o for o in outcomes if o.variant == v] for v in variants}


def row(name: str, outcomes: list[Outcome]) -> str:
    count = len(outcomes)
    ranged = [o for o in outcomes if not o.refused and not o.bound]
    bounds = [o for o in outcomes if o.bound]
    held = np.mean([o.held for o in ranged]) if ranged else np.nan
    bound = np.mean([o.held for o in bounds]) if bounds else np.nan
    widths = [o.width for o in ranged if np.isfinite(o.width)]
    width = np.median(widths) if widths else np.nan
    refused = np.mean([o.refused for o in outcomes])
    warned = np.mean([o.warned and not o.refused for o in outcomes])
    return (
        f"{name:18s} {count:5d} {refused:7.1%} {warned:7.1%} {len(bounds) / count:7.1%} "
        f"{held:7.1%} {bound:7.1%} {width:6.2f}"
    )


def main() -> None:
    os.environ["OPENBLAS_NUM_THREADS"] = "1"
    variants = sys.argv[1:] or [*MODELS, *MISFITS]
    found = run(variants, CASES)
    print(f"{'variant':18s} cases refused  warned   bound    held  b.held  width")
    for variant in variants:
        print(row(variant, found[variant]), flush=True)
    prior = [o for v in variants if v in MODELS for o in found[v]]
    if prior:
        print(row("over the prior", prior))


if __name__ == "__main__":
    main()
