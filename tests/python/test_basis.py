"""How many of the figures behind a default answer were read, and that none slips back."""

from pathlib import Path

import pytest

pytest.importorskip("tomllib")  # Python 3.11


def test_figures_behind_the_demo_case_are_read_as_often_as_before(
    root: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The count of `tests/reference/basis.md`: a promise kept or bettered, never worsened."""
    monkeypatch.syspath_prepend(str(root / "tests" / "reference"))
    import basis

    # Rules of stopping are quoted and judged, each beside its source: no answer rests on them.
    those = [one for one in basis.figures() if not one.id.startswith("endpoint.")]
    count = basis.counted(those)
    assert count["looked-up"] >= 65
    # Three recalled heat capacities (water, oxygen, hydrogen) came with the bend over temperature,
    # seven of sodium carbonates with the check that they stay dissolved in the bath.
    assert count["memory"] <= 45
    assert sum(count.values()) == len(those)
    page = basis.PAGE.read_text(encoding="utf-8")
    for one in those:
        if str(one.basis) == "memory":
            assert f"| {one.id} |" in page, "write it anew: python tests/reference/basis.py"
