"""The page of checks is that of the reference tests as they stand."""

import os
import sys
from pathlib import Path

import pytest

REFERENCE = Path(__file__).resolve().parents[1] / "reference"


def test_the_page_of_checks_is_up_to_date(monkeypatch):
    build = os.environ.get("AERUCA_BUILD")
    if not build:
        pytest.skip("AERUCA_BUILD names no build")
    monkeypatch.syspath_prepend(str(REFERENCE))
    sys.modules.pop("page", None)
    import page

    made = page.page(page.checks_of(Path(build))).splitlines()
    kept = page.PAGE.read_text(encoding="utf-8").splitlines()
    assert made == kept, "write it anew: python tests/reference/page.py BUILD"
