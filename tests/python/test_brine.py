"""Salts, activity coefficients and humidity from Python."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import aeruca
from aeruca import brine


def test_halite_beside_its_measurement() -> None:
    salt = aeruca.deliquescence("NaCl")
    assert salt.solid == "halite"
    assert salt.rh_percent == pytest.approx(75.29, abs=0.3)  # Greenspan 1977
    assert salt.basis == "solubility"
    assert 0 < salt.rh_uncertainty_percent < 1
    assert salt.measured[0].rh_percent == 75.29
    assert salt.measured[0].difference_percent == pytest.approx(salt.rh_percent - 75.29)


def test_representations_name_the_type_and_units() -> None:
    assert repr(aeruca.deliquescence("NaCl")).startswith("<Deliquescence halite, 75.")
    assert "not known" in repr(aeruca.deliquescence("carnallite"))
    assert "mol/kg at 25 degrees C, water activity 0." in repr(aeruca.single_salt("NaCl", 6))


def test_curve_over_temperature_keeps_shape_and_says_why_not() -> None:
    curve = aeruca.brine.deliquescence_curve("KCl", [[0.0, 25.0], [40.0, 45.0]])
    assert np.shape(curve.rh_percent) == (2, 2)
    assert np.isnan(curve.rh_percent[1, 1])
    assert curve.not_known_because
    assert curve.rh_percent[0, 1] == aeruca.deliquescence("KCl").rh_percent
    assert isinstance(aeruca.brine.deliquescence_curve("KCl", 25.0).rh_percent, float)


def test_salt_curve_broadcasts() -> None:
    molality = np.linspace(0, 6, 12).reshape(3, 4)
    curve = aeruca.brine.salt_curve("NaCl", molality)
    assert curve.water_activity.shape == (3, 4)
    one = aeruca.single_salt("NaCl", float(molality[2, 3]))
    assert curve.osmotic_coefficient[2, 3] == one.osmotic_coefficient
    # Robinson & Stokes 1965: 1.2706 at 6 mol/kg
    assert one.osmotic_coefficient == pytest.approx(1.2706, rel=0.008)


def test_measured_humidity_inside_its_table() -> None:
    assert aeruca.brine.measured_humidity("halite", 25.0).rh_percent == 75.29
    with pytest.raises(aeruca.InputError, match="evaluated table"):
        aeruca.brine.measured_humidity("halite", 55.0)


@pytest.mark.parametrize(
    ("call", "error", "text"),
    [
        (lambda: aeruca.deliquescence("salt of nowhere"), aeruca.UnknownName, "no salt named"),
        (lambda: aeruca.deliquescence("NaCl", 60), aeruca.InputError, "0 to 50"),
        (lambda: aeruca.brine.salt_curve("NaCl", None), aeruca.InputError, "molality = None"),
        (lambda: aeruca.brine.salt_curve("NaCl", [1.0, -2.0]), aeruca.InputError, "molality = -2"),
        (lambda: aeruca.brine.deliquescence_curve("NaCl", None), aeruca.InputError, "None"),
        (lambda: aeruca.single_salt("NaCl", None), aeruca.InputError, "molality = None"),
        (lambda: aeruca.single_salt("NaCl", 1, pitzer_set="x"), aeruca.UnknownName, "Pitzer set"),
        (
            lambda: aeruca.activity.activity_coefficients("davis", ["Na(+)"], [1.0]),
            aeruca.UnknownName,
            "no activity model named 'davis'",
        ),
        (
            lambda: aeruca.activity.activity_coefficients("sit", ["Na(+)", "Cl(-)"], [1.0]),
            aeruca.InputError,
            r"shape \(1,\): accepted is \(..., 2\)",
        ),
        (
            lambda: aeruca.activity.activity_coefficients("sit", ["Na(+)"], [-1.0]),
            aeruca.InputError,
            "0 mol/kg or more",
        ),
        (
            lambda: aeruca.activity.activity_coefficients("sit", ["Na(+)"], None),
            aeruca.InputError,
            "None",
        ),
        (
            lambda: aeruca.activity.activity_coefficients("sit", ["halite"], [1.0]),
            aeruca.InputError,
            "a dissolved species",
        ),
    ],
)
def test_bad_input(call, error: type[Exception], text: str) -> None:
    with pytest.raises(error, match=text):
        call()


def test_activity_coefficients_of_many_compositions() -> None:
    species = ["Na(+)", "Cl(-)", "Mg(2+)"]
    molality = np.array([[0.1, 0.1, 0.0], [1.0, 3.0, 1.0]])
    result = aeruca.activity.activity_coefficients("pitzer", species, molality)
    assert result.gamma.shape == (2, 3)
    assert result.water_activity.shape == (2,)
    np.testing.assert_allclose(result.ionic_strength, [0.1, 4.0])
    one = aeruca.activity.activity_coefficients("pitzer", species, molality[1])
    np.testing.assert_allclose(one.gamma, result.gamma[1], rtol=1e-14)
    assert isinstance(one.water_activity, float)


def test_range_and_estimates_are_said() -> None:
    result = aeruca.activity.activity_coefficients("dilute", ["Na(+)", "Cl(-)"], [2.0, 2.0])
    assert "meant for 0.5" in result.warnings[0]
    sit = aeruca.activity.activity_coefficients(
        "sit", ["Cu(2+)", "Cl(-)", "CuCl(+)"], [0.1, 0.1, 0.1]
    )
    assert any("perchlorate" in text for text in sit.warnings)
    assert any("estimated by charge" in text for text in sit.warnings)


@given(st.floats(1e-6, 6.0), st.floats(0.0, 40.0))
def test_gibbs_duhem_along_a_salt(molality: float, temperature_c: float) -> None:
    """d ln a(w) = -M_w nu m d ln(m gamma): by central differences along one salt."""
    step = 1e-4 * molality
    m = np.array([molality - step, molality, molality + step])
    curve = aeruca.brine.salt_curve("NaCl", m, temperature_c)
    left = np.log(curve.water_activity[2] / curve.water_activity[0])
    ln_activity = np.log(m * curve.mean_activity_coefficient)
    right = -0.018015268 * 2 * molality * (ln_activity[2] - ln_activity[0])
    assert left == pytest.approx(right, rel=1e-5, abs=1e-15)


def test_a_mixture_keeps_what_was_given_at_every_humidity() -> None:
    """Ions in solids and brine are those given; the onset is the published one within 1 % RH."""
    sweep = brine.mixture({"Na(+)": 1.0, "K(+)": 1.0, "Cl(-)": 2.0})
    assert abs(sweep.mutual_deliquescence_rh_percent - 72.7) < 1  # Tang and Munkelwitz 1993
    formulas = {"halite": "Na(+)", "sylvite": "K(+)"}
    for state in sweep.states:
        assert state.status == "converged"
        for solid, ion in formulas.items():
            held = state.solids.get(solid, 0) + state.water_kg * state.brine_molality.get(ion, 0)
            assert abs(held - 1) < 1e-8
    with pytest.raises(aeruca.InputError, match="humidities that rise"):
        brine.mixture({"Na(+)": 1.0, "Cl(-)": 1.0}, rh_percent=[50, 40])
