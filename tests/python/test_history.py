"""Where history matters: crystallisation humidities, a record between the two, nantokite in air."""

import math

import numpy as np
import pytest

import aeruca
from aeruca import brine, store

HOUR = 3600


def test_crystallisation_lies_below_deliquescence():
    for salt in ("halite", "sylvite", "mascagnite", "thenardite"):
        (measured,) = brine.crystallisation_humidities(salt)
        assert measured.rh_percent < brine.deliquescence(salt).rh_percent - 10
        assert measured.basis == "memory"
        assert measured.note
    assert brine.crystallisation_humidities("mirabilite") == []
    with pytest.raises(aeruca.UnknownName):
        brine.crystallisation_humidities("halide")


def record(rh):
    times = 1_735_689_600 + HOUR * np.arange(len(rh))
    return store.record_from_arrays(times, np.full(len(rh), 25.0), np.asarray(rh, float))


# Up to 80 %, down to 60 %, down to 40 %: a brine of halite may last from the first to the third.
def test_a_brine_lasts_until_the_humidity_of_crystallisation():
    rh = np.concatenate([np.full(100, 55.0), np.full(100, 80.0), np.full(100, 60.0),
                         np.full(100, 40.0), np.full(100, 60.0)])  # fmt: skip
    rh += 0.01 * np.arange(len(rh)) % 0.05  # a sensor that moves
    found = store.assess_store(record(rh), salt="halite")
    assert found.options.onset.crystallisation_rh_percent == 45
    assert found.above_low.share.as_read == pytest.approx(0.2, abs=0.005)
    assert found.share_brine_may_last == pytest.approx(0.4, abs=0.005)


def test_without_a_crystallisation_humidity_nothing_is_said():
    assert math.isnan(store.assess_store(record(np.full(200, 50.0))).share_brine_may_last)


def test_no_humidity_makes_nantokite_stable():
    for rh in (0.1, 10, 35, 42, 55, 90, 100):
        air = brine.nantokite_in_air(rh)
        assert air.log10_affinity_dry > 5 * air.uncertainty_log10 > 0
        assert air.log10_affinity_moist > 5
    assert "No humidity of air makes nantokite stable" in air.said
    assert {band.id for band in air.limits} >= {"scott-1990", "organ-1963"}
    with pytest.raises(aeruca.InputError, match="above 0 to 100 % RH"):
        brine.nantokite_in_air(0)


# The same by the equilibrium: of copper, chloride and oxygen in a brine at any water activity
# nothing is left of nantokite while there is oxygen.
@pytest.mark.parametrize("water_activity", [0.75, 0.9, 0.99])
def test_the_equilibrium_leaves_no_nantokite_in_air(water_activity):
    system = aeruca.Equilibrium(
        components=["Cu(2+)", "Cl(-)"],
        precipitation="allowed",
        redox="oxygen",
        acidity="charge_balance",
        solvent="water_activity",
        activity="pitzer",
    )
    water = system.solve({"nantokite": 0.01}, oxygen_bar=0.21, water_activity=water_activity)
    water.raise_if_failed()
    assert "nantokite" not in water.formed
    assert water.saturation_index["nantokite"] < -3
