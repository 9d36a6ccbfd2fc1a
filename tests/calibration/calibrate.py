"""How often the ranges of a bath posterior hold the truth, over simulated treatments.

    AERUCA_SEEDED_CASES=600 python tests/calibration/calibrate.py [VARIANT ...]

A row for each variant, objects drawn from the stated priors: cases; no range given; warned; only an
upper bound; share of the others whose 90 % range (or one of those told side by side) holds what was
left; the same of one range over all stories; share of bounds that hold; median width over that of a
fit told the true model; dates given without a warning; share of those that come too soon (at the
upper end of the date more than the target is left). The target is a twentieth of what was read out.
"""

import os
import sys
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass

import numpy as np
from simulate import Treatment
from treatments import MISFITS, MODELS, log_of, simulate, take_through, treatment

CASES = int(os.environ.get("AERUCA_SEEDED_CASES", "600"))


@dataclass
class Outcome:
    variant: str
    refused: bool
    warned: bool
    bound: bool
    held: bool
    width: float  # over that of the fit told the model; nan
    pooled: bool = False  # held by one range over all stories
    dated: bool = False
    too_soon: bool = False


def union_width(ranges: list[tuple[float, float]]) -> float:
    total, end = 0.0, -np.inf
    for low, high in sorted(ranges):
        total += max(0.0, high - max(low, end))
        end = max(end, high)
    return total


def reached(truth, done: Treatment, baths: int) -> float:
    """What is left after so many more baths like the last."""
    more = Treatment(
        np.append(done.volumes, np.full(baths, done.volumes[-1])),
        np.append(done.days, np.full(baths, done.days[-1])),
        done.blank,
    )
    return float(take_through(truth, more)[1][-1])


def one(job: tuple[str, int]) -> Outcome:
    from aeruca import _core, default_dataset

    variant, seed = job
    random = np.random.default_rng([seed, [*MODELS, *MISFITS].index(variant)])
    done = treatment(random)
    truth = simulate(variant, done, random)
    log = _core._parse_bath_log(log_of(truth, done, random), "simulated.csv")
    nan = float("nan")
    target = 0.05 * float(truth.readings @ done.volumes)
    errors = _core.ReadingErrors()
    decision = _core._decide_bath(
        log, default_dataset(), [], {}, errors, nan, nan, 2000, 1, nan, nan, target, nan, nan
    )
    found = decision.posterior
    if found.status != "converged":
        return Outcome(variant, True, True, False, False, nan)
    warned = bool(found.warnings)
    if found.bound_only:
        return Outcome(variant, False, warned, True, truth.left <= found.left_mg.high, nan)
    told = [found.left_mg] if found.one_story else [s.left_mg for s in found.stories]
    held = any(r.low <= truth.left <= r.high for r in told)
    width = nan
    if variant in MODELS:
        own = _core._infer_bath_log(log, [variant], {}, errors, nan, nan, 2000, 1)
        if own.status == "converged":
            base = own.left_mg
            width = union_width([(r.low, r.high) for r in told]) / (base.high - base.low)
    dated = decision.forecast in ("given", "already below")
    baths = int(decision.more_baths.high) if dated else 0
    too_soon = dated and (reached(truth, done, baths) if baths else truth.left) > target
    low, high = np.quantile([d.left_mg for d in found.draws], [0.05, 0.95])
    pooled = bool(low <= truth.left <= high)
    return Outcome(variant, False, warned, False, held, width, pooled, dated, too_soon)


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
    pooled = np.mean([o.pooled for o in ranged]) if ranged else np.nan
    bound = np.mean([o.held for o in bounds]) if bounds else np.nan
    widths = [o.width for o in ranged if np.isfinite(o.width)]
    width = np.median(widths) if widths else np.nan
    refused = np.mean([o.refused for o in outcomes])
    warned = np.mean([o.warned and not o.refused for o in outcomes])
    dated = sum(o.dated for o in outcomes)
    soon = sum(o.too_soon for o in outcomes)
    return (
        f"{name:18s} {count:5d} {refused:7.1%} {warned:7.1%} {len(bounds) / count:7.1%} "
        f"{held:7.1%} {pooled:7.1%} {bound:7.1%} {width:6.2f} {dated / count:7.1%} "
        f"{soon / dated if dated else np.nan:7.1%}"
    )


def main() -> None:
    os.environ["OPENBLAS_NUM_THREADS"] = "1"
    variants = sys.argv[1:] or [*MODELS, *MISFITS]
    found = run(variants, CASES)
    columns = "cases refused  warned   bound    held  pooled  b.held  width   dated    soon"
    print(f"{'variant':18s} {columns}")
    for variant in variants:
        print(row(variant, found[variant]), flush=True)
    prior = [o for v in variants if v in MODELS for o in found[v]]
    if prior:
        print(row("over the prior", prior))


if __name__ == "__main__":
    main()
