"""Instructions of some kernels per water, which no busy machine blurs, against those kept.

Growth beyond a tenth is a warning in the summary, not a failure: whether it was worth it is for the
reader. `python tests/bench/test_instructions.py` writes the counts anew.
"""

import csv
import os
import re
import shutil
import subprocess
import sys
import warnings
from pathlib import Path

import pytest

HERE = Path(__file__).parent
KEPT = HERE / "instructions.csv"
KERNELS = ("dissolved", "neutral", "solids", "sea", "alone")
WATERS = (128, 256)  # the difference leaves out what starting costs
GROWTH = 0.10


def program() -> Path:
    build = Path(os.environ.get("AERUCA_BUILD", HERE.parents[1] / "build" / "dev"))
    return build / "tests" / "bench" / "bench_instructions"


def compiler() -> str:
    call = [str(program()), "--compiler"]
    return subprocess.run(call, capture_output=True, text=True, check=True).stdout.strip()


def counted(kernel: str, waters: int) -> int:
    """By valgrind: its processor is the same everywhere (AVX2, so the kernel of four lanes)."""
    call = ["valgrind", "--tool=callgrind", "--callgrind-out-file=/dev/null",
            str(program()), kernel, str(waters)]  # fmt: skip
    told = subprocess.run(call, capture_output=True, text=True, check=True).stderr
    found = re.search(r"Collected : (\d+)", told)
    assert found, told
    return int(found[1])


def per_water(kernel: str) -> int:
    few, many = (counted(kernel, waters) for waters in WATERS)
    return round((many - few) / (WATERS[1] - WATERS[0]))


def kept() -> dict[tuple[str, str], int]:
    with KEPT.open(newline="") as file:
        return {(row["kernel"], row["compiler"]): int(row["instructions"])
                for row in csv.DictReader(file)}  # fmt: skip


@pytest.mark.filterwarnings("default::UserWarning")
@pytest.mark.parametrize("kernel", KERNELS)
def test_instructions_per_water(kernel: str) -> None:
    if not shutil.which("valgrind"):
        pytest.skip("valgrind, which counts the instructions, is not installed")
    if not program().exists():
        pytest.skip(f"{program().name} is not built")
    before = kept().get((kernel, compiler()))
    if before is None:
        pytest.skip(f"no count of {kernel} is kept for compiler {compiler()}")
    now = per_water(kernel)
    assert now > 1000, "valgrind did not count the waters"
    if now > before * (1 + GROWTH):
        warnings.warn(f"{kernel}: {now} instructions a water, {before} were kept", stacklevel=1)


def main() -> None:
    """Count all kernels and keep them for this compiler, beside those of others."""
    counts = kept() if KEPT.exists() else {}
    counts |= {(kernel, compiler()): per_water(kernel) for kernel in KERNELS}
    with KEPT.open("w", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["kernel", "compiler", "instructions"])
        writer.writerows([*key, value] for key, value in sorted(counts.items()))


if __name__ == "__main__":
    sys.exit(main())
