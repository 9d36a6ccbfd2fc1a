"""Conductivity and TDS beside chloride: against published conductivities of sodium chloride."""

import json

import pytest

import aeruca
from aeruca.bath_decision import chloride_by_meter

# Molar conductivity of NaCl at 25 C, S cm2/mol: R. A. Robinson and R. H. Stokes, Electrolyte
# Solutions, 2nd ed. (1965), appendix 6.3; basis: memory.
PUBLISHED = {0.0005: 124.44, 0.001: 123.68, 0.005: 120.59, 0.01: 118.45}


@pytest.mark.parametrize("mol_per_l", PUBLISHED)
def test_a_solution_of_salt_is_read_as_its_chloride(mol_per_l):
    us_per_cm = 1000 * PUBLISHED[mol_per_l] * mol_per_l
    found = chloride_by_meter(us_per_cm, blank_us_per_cm=0.0)
    assert found.chloride_at_most_mg_per_l == pytest.approx(35450 * mol_per_l, rel=0.01)


def test_one_milligram_is_three_and_a_half_microsiemens_and_air_is_the_floor():
    found = chloride_by_meter(3.56, blank_us_per_cm=0.0)
    assert found.chloride_at_most_mg_per_l == pytest.approx(1.0, rel=0.01)
    assert found.floor_mg_per_l == pytest.approx(0.31, rel=0.02)


def test_a_blank_is_taken_off_and_its_lack_is_said():
    assert chloride_by_meter(12.0, blank_us_per_cm=2.0).chloride_at_most_mg_per_l == pytest.approx(
        chloride_by_meter(10.0, blank_us_per_cm=0.0).chloride_at_most_mg_per_l
    )
    assert "no blank is known" in chloride_by_meter(12.0).sentence


def test_a_cold_meter_that_does_not_correct_is_brought_to_25():
    cold = chloride_by_meter(9.0, temperature_c=20.0, blank_us_per_cm=0.0)
    assert cold.chloride_at_most_mg_per_l == pytest.approx(
        chloride_by_meter(10.0, blank_us_per_cm=0.0).chloride_at_most_mg_per_l
    )


def test_a_pen_counts_at_the_end_that_makes_most_of_it():
    pen = chloride_by_meter(tds_mg_per_l=5.0)
    assert pen.chloride_at_most_mg_per_l == pytest.approx(
        chloride_by_meter(10.0).chloride_at_most_mg_per_l
    )


def test_a_bath_of_soda_hides_it_and_says_by_how_much():
    found = chloride_by_meter(salt="sodium sesquicarbonate", mol_per_l=0.0442)
    assert not found.carries
    # Infinite dilution gives 0.24 %; the bath conducts less than that, so the share is larger.
    assert 0.24 <= found.change_percent <= 0.4
    assert 0.1 <= found.change_kelvin <= 0.2
    assert "says nothing of chloride" in found.sentence


def test_a_pen_that_does_not_correct_is_brought_to_25_as_a_meter_is():
    cold = chloride_by_meter(tds_mg_per_l=4.5, temperature_c=20.0)
    assert cold.chloride_at_most_mg_per_l == pytest.approx(
        chloride_by_meter(tds_mg_per_l=5.0).chloride_at_most_mg_per_l
    )


# Conductivity of 0.01 mol/kg KCl over temperature, uS/cm: Pratt, Koch, Wu and Berezansky 2001,
# Pure Appl. Chem. 73, 1783; basis: looked-up.
STANDARD = {5: 890.96, 10: 1013.95, 15: 1141.45, 20: 1273.03, 30: 1546.63, 35: 1687.79, 40: 1831.27}


@pytest.mark.parametrize("celsius", STANDARD)
def test_the_range_of_an_uncorrected_meter_holds_the_standard_at_its_temperature(celsius):
    warm = chloride_by_meter(0.5 * STANDARD[celsius], temperature_c=celsius)
    at_25 = chloride_by_meter(0.5 * 1408.23).chloride_at_most_mg_per_l
    # Without the 10 % for other salts, which the range has besides.
    assert warm.chloride_low_mg_per_l / 0.9 <= at_25 <= warm.chloride_high_mg_per_l / 1.1


def test_the_error_of_the_meter_widens_the_range_by_reading_and_blank():
    found = chloride_by_meter(12.0, blank_us_per_cm=2.0, error_us_per_cm=0.5, error_percent=2.0)
    # By hand: 10 uS/cm, and (0.5 + 0.24) + (0.5 + 0.04) = 1.28 either way; 10 % besides.
    for bound, share in ((found.chloride_low_mg_per_l, 0.9), (found.chloride_high_mg_per_l, 1.1)):
        reading = 10.0 + (1.28 if share > 1 else -1.28)
        alone = chloride_by_meter(reading, blank_us_per_cm=0.0).chloride_at_most_mg_per_l
        assert bound == pytest.approx(share * alone)
    assert "the stated error of the meter is counted" in found.sentence
    assert "no error of the meter is stated" in chloride_by_meter(12.0).sentence


def test_a_pen_has_the_range_of_its_makers_factors():
    found = chloride_by_meter(tds_mg_per_l=5.0)
    assert found.chloride_low_mg_per_l == pytest.approx(
        chloride_by_meter(5.0 / 0.7).chloride_low_mg_per_l
    )


def test_a_reading_under_its_blank_is_said_and_gives_no_figure():
    found = chloride_by_meter(2.0, blank_us_per_cm=12.0)
    assert not found.carries
    assert found.chloride_at_most_mg_per_l is None
    assert "10 uS/cm under the blank" in found.sentence


def test_a_reading_within_the_error_under_its_blank_still_bounds_chloride():
    found = chloride_by_meter(11.5, blank_us_per_cm=12.0, error_us_per_cm=0.5)
    assert found.carries
    assert found.chloride_low_mg_per_l == 0
    assert found.chloride_at_most_mg_per_l == found.chloride_high_mg_per_l
    assert found.chloride_high_mg_per_l == pytest.approx(
        1.1 * chloride_by_meter(0.5, blank_us_per_cm=0.0).chloride_at_most_mg_per_l
    )


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({"conductivity_us_per_cm": 2100.0, "temperature_c": 5.0}, "at 5 degrees C"),
        ({"conductivity_us_per_cm": 2300.0}, "0 to 2275 uS/cm at 25 degrees C"),
        ({"tds_mg_per_l": 1200.0}, "0 to 1137 mg/L at 25 degrees C"),
        ({"conductivity_us_per_cm": 2250.0, "error_percent": 5.0}, "0 to 2167 uS/cm"),
        ({"tds_mg_per_l": 5.0, "error_us_per_cm": 1.0}, "give its error in percent"),
        ({"conductivity_us_per_cm": 5.0, "error_percent": 60.0}, "0 to 50 %"),
        ({"conductivity_us_per_cm": 5.0, "temperature_c": float("nan")}, "0 to 50 degrees C"),
        ({"conductivity_us_per_cm": 5.0, "mol_per_l": 0.1}, "nothing without salt"),
        ({"conductivity_us_per_cm": 5.0, "chloride_sought_mg_per_l": 5.0}, "without salt"),
        ({"salt": "carbonate"}, "the strength of the salt"),
        ({"salt": "carbonate", "mol_per_l": 0.0}, "above 0 to 10 mol/L"),
        ({"salt": "carbonate", "mol_per_l": 0.1, "chloride_sought_mg_per_l": 800.0}, "709 mg/L"),
        ({"salt": "carbonate", "mol_per_l": 0.1, "tds_mg_per_l": 5.0}, "nothing beside a salt"),
        (
            {"salt": "carbonate", "mol_per_l": 0.1, "conductivity_us_per_cm": 5.0},
            "nothing beside a salt",
        ),
        ({"salt": "carbonate", "mol_per_l": 0.1, "blank_us_per_cm": 5.0}, "nothing beside a salt"),
        ({"salt": "carbonate", "mol_per_l": 0.1, "error_percent": 5.0}, "nothing beside a salt"),
    ],
)
def test_what_has_no_effect_or_lies_beyond_the_law_is_refused(given, words):
    with pytest.raises(aeruca.InputError) as refused:
        chloride_by_meter(**given)
    assert words in str(refused.value)


def test_the_temperature_of_a_bath_of_salt_counts_in_python_too():
    cold, warm = (
        chloride_by_meter(salt="sodium carbonate", mol_per_l=0.1, temperature_c=celsius)
        for celsius in (10.0, 25.0)
    )
    assert cold.bath_us_per_cm == pytest.approx(0.7 * warm.bath_us_per_cm, rel=0.02)
    # A kelvin is a larger share of the less that a cold bath conducts.
    assert cold.change_kelvin == pytest.approx(0.7 * warm.change_kelvin, rel=0.02)


def test_a_bath_too_strong_to_compute_is_told_by_the_strongest_that_can_be():
    strong = chloride_by_meter(salt="sodium hydroxide", mol_per_l=4.0)
    weaker = chloride_by_meter(salt="sodium hydroxide", mol_per_l=1.0)
    assert strong.bath_us_per_cm is None
    assert weaker.bath_us_per_cm is not None or "nan" not in weaker.sentence
    assert "too strong for its conductivity" in strong.sentence
    assert "nan" not in strong.sentence
    assert 0 < strong.change_percent < 0.1


def test_the_tool_says_the_same(run):
    done = run("bath", "meter", "--conductivity-us-per-cm", "12", "--blank-us-per-cm", "2")
    assert done.stdout.startswith("at most 2.8 mg/L")
    hidden = run("bath", "meter", "--salt", "sodium sesquicarbonate", "--mol-per-l", "0.0442")
    assert hidden.returncode == 3
    by_percent = run("bath", "meter", "--salt", "sesquicarbonate", "--percent", "1", "--json")
    assert json.loads(by_percent.stdout)["change_percent"] == pytest.approx(0.29, abs=0.05)
    under = run("bath", "meter", "--conductivity-us-per-cm", "2", "--blank-us-per-cm", "12")
    assert under.returncode == 3
    assert under.stdout.startswith("the reading lies 10 uS/cm under the blank")
    refused = run("bath", "meter", "--conductivity-us-per-cm", "12", "--tds-mg-per-l", "6")
    assert refused.returncode == 1
    assert "one of them" in refused.stderr
    with pytest.raises(aeruca.InputError, match="one of them"):
        chloride_by_meter()
