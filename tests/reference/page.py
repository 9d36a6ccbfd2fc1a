"""Writes checks.md, the page of every published value beside ours.

    python tests/reference/page.py BUILD      # a build, such as build/dev; then read the diff

The reference tests append what they compare to the file that AERUCA_CHECKS names; they decide what
agrees. Here it is only set out: what disagrees with its reason first, then every table. Of a table
of more rows than a person reads, the groups with their largest difference.
"""

import csv
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

HERE = Path(__file__).resolve().parent
PAGE = HERE / "checks.md"
MOST_ROWS = 70  # of a table that is printed row by row

HEAD = """# Checks against the world

Published values beside ours. Made by `python tests/reference/page.py build/dev`; the tables of this
folder hold conditions, tolerances and their reasons, and the tests here hold us to them.

*Basis* is how we know the published value: looked-up (read in the source), memory (recalled, not
seen), derived (worked out by hand or elsewhere from the same figures: a test of our arithmetic, not
of the chemistry). What ocean packages say of sea water is looked-up: `tests/python/test_ocean.py`
asks them. *In fit* and *not known* are no independent tests and say so.
"""


@dataclass(frozen=True)
class Check:
    table: str
    what: str
    ours: float
    published: float
    standing: str
    source: str
    basis: str
    why: str

    @property
    def difference(self) -> float:
        return self.ours - self.published


def number(value: float) -> str:
    """Five digits: the last ones of a double differ between machines."""
    return f"{value:.5g}"


def row(cells: Iterable[str]) -> str:
    return "| " + " | ".join(cell.replace("|", "/") for cell in cells) + " |"


def table(head: list[str], rows: list[list[str]]) -> list[str]:
    return [row(head), row("---" for _ in head), *(row(cells) for cells in rows)]


def whole(checks: list[Check]) -> list[str]:
    head = ["what", "ours", "published", "difference", "standing", "source", "basis"]
    return table(
        head,
        [
            [
                one.what,
                number(one.ours),
                number(one.published),
                f"{one.difference:+.2g}",
                one.standing,
                one.source,
                one.basis,
            ]
            for one in checks
        ],
    )


def by_group(checks: list[Check]) -> list[str]:
    """One row for each first word, source and standing."""
    groups: dict[tuple[str, ...], list[Check]] = {}
    for one in checks:
        key = (one.what.split()[0], one.standing, one.source, one.basis)
        groups.setdefault(key, []).append(one)
    rows = []
    for (what, standing, source, basis), those in groups.items():
        worst = max(those, key=lambda one: abs(one.difference / one.published))
        share = 100 * worst.difference / worst.published
        most = f"{share:+.2g} % ({worst.what})"
        rows.append([what, str(len(those)), most, standing, source, basis])
    head = ["group", "values", "largest difference (where)", "standing", "source", "basis"]
    return table(head, rows)


def disagreements(checks: list[Check]) -> list[str]:
    """Row by row; of a long table the groups, whose reason stands at its head."""
    off = [one for one in checks if one.standing == "disagrees"]
    long = {
        name for name in {one.table for one in checks} if len(of_table(checks, name)) > MOST_ROWS
    }
    rows = [
        [one.what, number(one.ours), number(one.published), one.source, one.why]
        for one in off
        if one.table not in long or one.why
    ]
    lines = table(["what", "ours", "published", "source", "why"], rows)
    for name in sorted(long):
        those = [one for one in of_table(off, name) if not one.why]
        if those:
            lines += ["", f"{name}; the reason stands at the head of the table:", ""]
            lines += by_group(those)
    return lines


def of_table(checks: list[Check], name: str) -> list[Check]:
    return [one for one in checks if one.table == name]


def page(checks: list[Check]) -> str:
    known = [one for one in checks if one.standing != "not known"]
    off = sum(one.standing == "disagrees" for one in known)
    bases = ("looked-up", "memory", "derived")
    counted = ", ".join(f"{sum(one.basis == basis for one in known)} {basis}" for basis in bases)
    lines = [HEAD, f"{len(known)} values ({counted}); {off} disagree.", ""]
    lines += ["## What disagrees, and why", "", *disagreements(known)]
    for name in dict.fromkeys(one.table for one in known):
        those = of_table(known, name)
        lines += ["", f"## {name}", ""]
        lines += whole(those) if len(those) <= MOST_ROWS else by_group(those)
    return "\n".join(lines) + "\n"


def checks_of(build: Path) -> list[Check]:
    """Runs the reference tests of a build."""
    programs = sorted((build / "tests" / "reference").glob("reference_*"))
    programs = [one for one in programs if one.is_file() and os.access(one, os.X_OK)]
    with tempfile.TemporaryDirectory() as place:
        kept = Path(place) / "checks.csv"
        for program in programs:
            environment = {**os.environ, "AERUCA_CHECKS": str(kept)}
            subprocess.run([program], env=environment, check=True, capture_output=True)
        with kept.open(encoding="utf-8", newline="") as lines:
            return [
                Check(t, what, float(ours), float(published), *rest)
                for t, what, ours, published, *rest in csv.reader(lines)
            ]


if __name__ == "__main__":
    PAGE.write_text(page(checks_of(Path(sys.argv[1]).resolve())), encoding="utf-8")
    print(f"wrote {PAGE.relative_to(HERE.parents[1])}")
