"""The table of seeded faults: each still has its line, and none survives without a reason."""

import csv
from pathlib import Path

import pytest


@pytest.fixture(scope="module")
def faults(root: Path) -> list[dict[str, str]]:
    with (root / "tests" / "faults" / "faults.csv").open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


def test_every_seeded_fault_is_noticed_or_has_its_reason(faults: list[dict[str, str]]) -> None:
    assert len(faults) >= 60
    for fault in faults:
        assert bool(fault["noticed_by"]) != bool(fault["reason"]), fault


def test_every_seeded_fault_changes_one_line_that_is_there(
    root: Path, faults: list[dict[str, str]]
) -> None:
    for fault in faults:
        assert fault["before"] != fault["after"]
        assert "\n" not in fault["before"] + fault["after"], fault
        text = (root / fault["file"]).read_text(encoding="utf-8")
        assert text.count(fault["before"]) == 1, fault
