"""Copper in anoxic burial, and what a marine mud with sulfide makes of it."""

import pytest

import aeruca

Water = dict[str, float]


def mud(sea: Water, sulfide: float, **how: object) -> aeruca.equilibrium.EquilibriumResult:
    totals = sea | {"Cu(2+)": 1e-3} | ({"HS(-)": sulfide} if sulfide else {})
    answer = aeruca.speciate(totals, ph=7.5, eh_v=-0.25, precipitation="allowed", **how)
    assert isinstance(answer, aeruca.equilibrium.EquilibriumResult)
    assert answer.certificate.holds
    return answer


def test_copper_in_marine_mud_with_sulfide_is_a_sulfide_and_no_longer_metal(sea: Water) -> None:
    # pH 7.5 and -0.25 V answered "copper" while no sulfide was known.
    formed = mud(sea, 5e-4).formed
    assert "copper" not in formed
    assert formed["chalcocite"] == pytest.approx(5e-4, rel=0.01)
    assert "copper" in mud(sea, 0).formed


def test_sulfide_to_spare_leaves_almost_no_copper_dissolved(sea: Water) -> None:
    answer = mud(sea, 5e-3)
    dissolved = sum(
        molality
        for name, molality in zip(answer.species, answer.molality, strict=True)
        if "Cu" in name
    )
    # Cu(HS)2(-) is the main form: below a millionth of what sea water holds over oxides.
    assert dissolved < 1e-7
    assert answer.molality[list(answer.species).index("Cu(HS)2(-)")] > 0.5 * dissolved


def test_sulfate_does_not_turn_into_sulfide(sea: Water) -> None:
    answer = mud(sea, 0)
    assert "HS(-)" not in list(answer.species) or answer.molality_of("HS(-)") == 0
    assert "chalcocite" not in answer.formed


def test_hydrogen_sulfide_ionises_as_measured_at_0_and_50_c() -> None:
    # Conductance: -7.567 +/- 0.017 and -6.818 +/- 0.03; three points bend, one enthalpy does not.
    data = aeruca.default_dataset()
    for celsius, measured, off in ((0, -7.567, 0.08), (25, -7.06, 0.001), (50, -6.818, 0.08)):
        ours = data.log10_k("HS(-)", celsius) - data.log10_k("H2S(aq)", celsius)
        assert ours == pytest.approx(measured, abs=off)
