"""Coefficients marked as fitted here are those of the fit, and their residuals as told."""

import runpy
from pathlib import Path

import numpy as np
import pytest

pytest.importorskip("scipy")
tomllib = pytest.importorskip("tomllib")  # Python 3.11
ROOT = Path(__file__).resolve().parents[2]
fit = runpy.run_path(str(ROOT / "tests" / "reference" / "fit_interaction.py"))
RECORDS = tomllib.loads((ROOT / "data" / "activity.toml").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def found():
    return fit["fit_all"]()


def epsilon(cation: str, anion: str) -> float:
    return next(
        s["value"]
        for s in RECORDS["sit"]
        if (s["cation"], s["anion"]) == (cation, anion) and s["chosen"]
    )


def test_specific_ion_coefficients_are_those_of_the_fit(found):
    for cation in ("Na", "H"):
        for place, name in enumerate(("CuCl2(-)", "CuCl3(2-)")):
            fitted = found[f"sit {cation}"].values[place]
            assert epsilon(f"{cation}(+)", name) == pytest.approx(fitted, abs=0.006)
    for metal in ("Cu(2+)", "Mg(2+)"):
        fitted = found[f"sit {metal[:2]} SO4"].values[0]
        assert epsilon(metal, "SO4(2-)") == pytest.approx(fitted, abs=0.006)


def test_pitzer_parameters_are_those_of_the_fit(found):
    sets = {p["id"]: p for p in RECORDS["pitzer"]}
    values = found["pitzer Na"].values
    for place, name in enumerate(("CuCl2", "CuCl3", "Cu2Cl4", "Cu3Cl6")):
        own = sets[f"Na-{name}:fit"]
        assert own["beta0"] == pytest.approx(values[place], abs=2e-4)
        assert own["beta1"] == pytest.approx(values[4 + place], abs=2e-3)


def test_residuals_are_as_the_records_say(found):
    assert np.sqrt(np.mean(found["sit Na"].residuals ** 2)) < 0.095
    assert np.abs(found["sit Cu SO4"].residuals).max() < 0.07
    assert np.abs(found["sit Mg SO4"].residuals).max() < 0.07
    for molality, (sit, pitzer) in found["saturated"].items():
        limit = 0.01 if molality <= 4 else 0.02 if molality <= 5 else 0.045
        assert pitzer == pytest.approx(sit, rel=limit)
