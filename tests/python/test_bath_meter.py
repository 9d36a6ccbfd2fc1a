"""Conductivity and TDS beside chloride: against published conductivities of sodium chloride."""

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


def test_the_tool_says_the_same(run):
    done = run("bath", "meter", "--conductivity-us-per-cm", "12", "--blank-us-per-cm", "2")
    assert done.stdout.startswith("at most 2.8 mg/L")
    hidden = run("bath", "meter", "--salt", "sodium sesquicarbonate", "--mol-per-l", "0.0442")
    assert hidden.returncode == 3
    refused = run("bath", "meter", "--conductivity-us-per-cm", "12", "--tds-mg-per-l", "6")
    assert refused.returncode == 1
    assert "one of them" in refused.stderr
    with pytest.raises(aeruca.InputError, match="one of them"):
        chloride_by_meter()
