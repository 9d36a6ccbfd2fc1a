"""Writes basis.md: how the figures behind a default answer are known, and what the recalled weigh.

    python tests/reference/basis.py        # with the package at hand; then read the diff

The default answer is the assessment of the demo case; its `constants` are what is counted. What a
recalled figure weighs is its largest share of the variance of a saturation index, a molality or a
dissolved total in the water of that case, at the water's own 11 C, when the constants are drawn at
random (`carried_by`: the three that carry most of each).
"""

from collections import Counter
from pathlib import Path

import tomllib

import aeruca
from aeruca.analysis import solve_analysis
from aeruca.dataset import Figure
from aeruca.ranges import WaterRanges

ROOT = Path(__file__).resolve().parents[2]
PAGE = Path(__file__).resolve().with_name("basis.md")
CASE = ROOT / "data" / "demo" / "case.toml"
DRAWS = 2000
LEAST_SHARE = 0.01

HEAD = """# How the figures behind a default answer are known

Made by `python tests/reference/basis.py`: the figures behind the assessment of the demo case, by
their basis, and the recalled ones by what they weigh: the largest share of the variance of a
saturation index, a molality or a dissolved total in the water of that case, constants drawn at
random. What stands first is what to read in print first. *Below 1 %*: never among the three that
carry most of a figure, or with less than that. *Not drawn*: an interaction coefficient (of the
activity model), or no uncertainty was stated.
"""


def figures() -> list[Figure]:
    return list(aeruca.assess_case(CASE).constants)


def counted(those: list[Figure]) -> Counter[str]:
    return Counter(str(one.basis) for one in those)


def demo_water() -> aeruca.analysis.SolvedWater:
    """The readings of the case, their stated uncertainties apart: constants alone are drawn."""
    with CASE.open("rb") as file:
        water = tomllib.load(file)["water"][0]
    ions = {
        key.removesuffix("_mg_per_l"): f"{value} mg/L"
        for key, value in water.items()
        if key.endswith("_mg_per_l") and not str(value).startswith("<")
    }
    return solve_analysis(
        ions,
        ph=water["ph"],
        potential_mv=water["eh_mv"],
        reference_electrode=water["reference_electrode"],
        temperature_c=water["temperature_c"],
    )


def weights(drawn: WaterRanges) -> dict[str, tuple[float, str]]:
    """Largest share of a variance that each figure carries, and of what."""
    found: dict[str, tuple[float, str]] = {}
    for what, ranges in (
        ("saturation index of", drawn.saturation_index),
        ("molality of", drawn.log10_molality),
        ("dissolved", drawn.log10_dissolved),
    ):
        for name, figure in ranges.items():
            for carrier in figure.carried_by:
                if carrier.share > found.get(carrier.figure, (0, ""))[0]:
                    found[carrier.figure] = (carrier.share, f"{what} {name}")
    return found


def rows(those: list[Figure]) -> list[str]:
    drawn = demo_water().ranges(draws=DRAWS)
    weighed = weights(drawn)
    known = sorted(those, key=lambda one: (-weighed.get(one.id, (0, ""))[0], one.id))
    lines = []
    for one in known:
        share, where = weighed.get(one.id, (0.0, ""))
        said = f"{100 * share:.0f} %, {where}" if share >= LEAST_SHARE else "below 1 %"
        if one.id.startswith("sit ") or one.id in drawn.exact:
            said = "not drawn"
        lines.append(f"| {one.id} | {one.subject}, {one.quantity} | {one.source} | {said} |")
    return lines


def page(those: list[Figure]) -> str:
    count = counted(those)
    said = ", ".join(f"{count[basis]} {basis}" for basis in ("looked-up", "derived", "memory"))
    recalled = [one for one in those if str(one.basis) == "memory"]
    head = ["| figure | of | recalled from | weighs |", "| --- | --- | --- | --- |"]
    return "\n".join([HEAD, f"{len(those)} figures: {said}.", "", *head, *rows(recalled)]) + "\n"


if __name__ == "__main__":
    PAGE.write_text(page(figures()), encoding="utf-8")
    print(f"wrote {PAGE.relative_to(ROOT)}")
