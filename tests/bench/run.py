"""Times of aeruca against the same jobs written with general-purpose tools, measured in one run.

    run.py [WORD...] [--repeats N] [--json FILE] [--scaling]
    run.py --compare OLD NEW

Each bench_*.py beside this file has `cases()`, yielding a `Job` (job.py) or, where there is one
rival only, (name, aim, ours, reference, agree); a reference with an attribute `scale` does only a
part of the job. WORD chooses files by name. Nothing here gates a test: it is a table to read.
"""

import argparse
import importlib.util
import json
import platform
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from job import Job, Rival, Timing, measure

HERE = Path(__file__).parent


def as_job(case: Any) -> Job:
    """Take (name, aim, ours, reference, agree) too."""
    if isinstance(case, Job):
        return case
    name, aim, ours, reference, agree = case
    rival = Rival(reference, 1 / getattr(reference, "scale", 1.0))
    return Job(name, ours, {"NumPy/SciPy": rival}, agree, aim=aim)


def load_jobs(wanted: list[str]) -> Iterator[Job]:
    """Jobs of every module here whose name contains one of the wanted words (all if none)."""
    for path in sorted(HERE.glob("bench_*.py")):
        if wanted and not any(word in path.stem for word in wanted):
            continue
        spec = importlib.util.spec_from_file_location(path.stem, path)
        assert spec is not None
        assert spec.loader is not None
        module = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(module)
        yield from map(as_job, module.cases())


def human(value: float) -> str:
    """Seconds with a fitting unit."""
    for unit, scale in (("s", 1.0), ("ms", 1e-3), ("us", 1e-6)):
        if value >= scale:
            return f"{value / scale:.3g} {unit}"
    return f"{value * 1e9:.3g} ns"


def ratio_text(value: float) -> str:
    """Times ours; three digits."""
    return f"{value:.3g}x" if value < 1000 else f"{value:.0f}x"


def show(job: Job, timings: dict[str, Timing]) -> None:
    """Print one job, everyone with the ratio to ours."""
    mine = timings["aeruca"].median
    each = f", each of {job.items}" if job.items > 1 else ""
    print(f"{job.name}{each}{'   aim ' + job.aim if job.aim else ''}")
    for label, timing in timings.items():
        ratio = "" if label == "aeruca" else ratio_text(timing.median / mine)
        print(f"  {label:<22}{human(timing.median):>9} +/- {timing.noise:4.0%} {ratio:>9}")
    sys.stdout.flush()


def commit() -> str:
    """Of the sources, with a plus sign when they were changed since."""
    call = ["git", "-C", str(HERE), "describe", "--always", "--dirty=+"]
    found = subprocess.run(call, capture_output=True, text=True, check=False)
    return found.stdout.strip() or "unknown"


def keep(file: Path, results: dict[str, dict[str, Timing]]) -> None:
    """Write what `--compare` reads: seconds an item, every sample."""
    samples = {job: {k: t.samples for k, t in timings.items()} for job, timings in results.items()}
    head = {"commit": commit(), "machine": platform.machine(), "python": platform.python_version()}
    file.write_text(json.dumps({**head, "seconds": samples}, indent=1) + "\n")


def compare(old: Path, new: Path) -> int:
    """Ours of two runs. A change counts beyond three times the noise of both together."""
    a, b = json.loads(old.read_text()), json.loads(new.read_text())
    print(f"{'job':<58}{a['commit']:>12}{b['commit']:>12}{'change':>8}{'noise':>7}")
    for job, timings in b["seconds"].items():
        if job not in a["seconds"]:
            continue
        before, after = Timing(a["seconds"][job]["aeruca"]), Timing(timings["aeruca"])
        change = after.median / before.median - 1
        noise = (before.noise**2 + after.noise**2) ** 0.5
        verdict = ""
        if abs(change) > 3 * max(noise, 0.01):
            verdict = "  slower" if change > 0 else "  faster"
        print(f"{job:<58}{human(before.median):>12}{human(after.median):>12}{change:>+8.0%}"
              f"{noise:>7.0%}{verdict}")  # fmt: skip
    return 0


def main(arguments: list[str]) -> int:
    """Print the tables asked for."""
    parser = argparse.ArgumentParser(prog="./dev bench", description=__doc__.split("\n")[0])
    parser.add_argument("word", nargs="*", help="files bench_*.py whose name holds it")
    parser.add_argument("--repeats", type=int, default=5, help="of which the median counts")
    parser.add_argument("--json", type=Path, metavar="FILE", help="keep every sample")
    parser.add_argument("--scaling", action="store_true", help="growth with species, waters, ...")
    parser.add_argument("--compare", type=Path, nargs=2, metavar=("OLD", "NEW"))
    asked = parser.parse_args(arguments)
    if asked.compare:
        return compare(*asked.compare)
    results: dict[str, dict[str, Timing]] = {}
    for job in load_jobs(asked.word):
        results[job.name] = measure(job, asked.repeats)
        show(job, results[job.name])
    if asked.json:
        keep(asked.json, results)
    if asked.scaling:
        from scaling import tables

        for line in tables(asked.repeats):
            print(line, flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
