"""Mixtures and moist air beside general-purpose packages, and by what thermodynamics demands."""

import itertools
import math

import gsw
import numpy as np
import psychrolib
import pytest

import aeruca
from aeruca import brine, store, water

GAS_CONSTANT = 8.314462618  # J/(mol K)
MOLAR_MASS_OF_WATER = 18.015268  # g/mol

# Reference composition of sea water of salinity 35.16504 g/kg, mol per kg of sea water (Millero and
# others, Deep-Sea Res. I 55 (2008) 50, Table 4); bromide, fluoride, carbonate, borate and strontium
# left out and what they leave of charge given to chloride.
SEA_SALT = {
    "Na(+)": 0.4689675,
    "Mg(2+)": 0.0528171,
    "Ca(2+)": 0.0102820,
    "K(+)": 0.0102077,
    "SO4(2-)": 0.0282353,
}
CHARGE = {"Na(+)": 1, "Mg(2+)": 2, "Ca(2+)": 2, "K(+)": 1, "SO4(2-)": -2}
SEA_SALT["Cl(-)"] = sum(CHARGE[ion] * moles for ion, moles in SEA_SALT.items())


def air_over_sea_water(salinity, celsius):
    """Return RH (%) by the Gibbs function of the international standard of sea water (TEOS-10)."""
    lowered = gsw.chem_potential_water_t_exact(salinity, celsius, 0)
    lowered -= gsw.chem_potential_water_t_exact(0, celsius, 0)
    return 100 * math.exp(lowered * MOLAR_MASS_OF_WATER / (GAS_CONSTANT * (celsius + 273.15)))


# The standard holds to 120 g/kg. What is left out is 0.5 % of the ions, and what differs is 0.5 %
# of the brine: 0.01 % RH at 98 %, 0.05 at 93 %.
@pytest.mark.parametrize("celsius", [5.0, 15.0, 25.0, 35.0])
@pytest.mark.parametrize("salinity", [35.0, 50.0, 70.0, 90.0, 110.0])
def test_sea_salt_takes_up_the_water_of_the_sea_water_standard(salinity, celsius):
    rh = air_over_sea_water(salinity, celsius)
    (state,) = brine.mixture(SEA_SALT, rh_percent=[rh], temperature_c=celsius).states
    standard = (1 - salinity / 1000) * 35.16504 / salinity
    assert state.brine
    assert state.water_kg == pytest.approx(standard, rel=0.007)


# Vapour pressure of ASHRAE's formulae (Hyland and Wexler 1983) against IAPWS-IF97: 0.06 % apart.
@pytest.mark.parametrize("celsius", [0.5, 5, 12, 20, 28, 40])
@pytest.mark.parametrize("cooler", [0.3, 1.0, 3.0])
def test_surface_humidity_is_that_of_the_psychrometric_formulae(celsius, cooler):
    if celsius - cooler < 0:
        pytest.skip("below 0 degrees C")
    psychrolib.SetUnitSystem(psychrolib.SI)
    vapour = psychrolib.GetVapPresFromRelHum(celsius, 0.42)
    expected = 100 * vapour / psychrolib.GetSatVapPres(celsius - cooler)
    assert store.surface_rh_percent(42.0, celsius, cooler) == pytest.approx(expected, rel=1e-3)


@pytest.mark.parametrize("celsius", [1, 10, 20, 30, 40])
def test_saturation_pressure_is_that_of_the_psychrometric_formulae(celsius):
    psychrolib.SetUnitSystem(psychrolib.SI)
    expected = psychrolib.GetSatVapPres(celsius)
    assert water.saturation_pressure_pa(celsius) == pytest.approx(expected, rel=8e-4)


@pytest.mark.parametrize(("celsius", "rh"), [(10, 30.0), (20, 42.0), (25, 75.0), (35, 60.0)])
def test_dew_point_of_a_record_is_that_of_the_psychrometric_formulae(tmp_path, celsius, rh):
    psychrolib.SetUnitSystem(psychrolib.SI)
    dew = psychrolib.GetTDewPointFromRelHum(celsius, rh / 100)
    if dew < 0:
        pytest.skip("over ice the dew point is another")
    lines = [f"2025-01-{day:02d} 12:00,{celsius},{dew:.4f}" for day in range(1, 29)]
    path = tmp_path / "dew.csv"
    path.write_text("time,Temp [C],Dew point [C]\n" + "\n".join(lines) + "\n")
    record = store.read_logger(path)
    assert record.rh_percent[0] == pytest.approx(rh, abs=0.03)


MIXTURES = {
    "chlorides": {"Na(+)": 1.0, "K(+)": 0.7, "Cl(-)": 1.7},
    "five ions": {"Na(+)": 2.0, "K(+)": 0.6, "Cl(-)": 1.4, "NO3(-)": 0.8, "SO4(2-)": 0.2},
    "sea salt": SEA_SALT,
}


# Solids and brine at one humidity are one state, whichever neighbours it was asked with.
@pytest.mark.parametrize("name", MIXTURES)
def test_a_sweep_says_what_each_humidity_says_alone(name):
    ions = MIXTURES[name]
    humidities = np.arange(32.5, 98, 7.3)
    for state in brine.mixture(ions, rh_percent=humidities).states:
        (alone,) = brine.mixture(ions, rh_percent=[state.rh_percent]).states
        assert alone.brine == state.brine
        assert alone.solids == pytest.approx(state.solids, rel=1e-6, abs=1e-9)
        assert alone.water_kg == pytest.approx(state.water_kg, rel=1e-6)


# The Gibbs energy is least: water held by a mixture never falls as the air grows moister.
@pytest.mark.parametrize("name", MIXTURES)
def test_moister_air_never_dries_a_mixture(name):
    states = brine.mixture(MIXTURES[name], rh_percent=np.arange(20.0, 98, 0.9)).states
    bound = [held_water(state) for state in states]
    assert all(a <= b * (1 + 1e-9) for a, b in itertools.pairwise(bound))


def held_water(state):
    """Return mol of water, that of crystals included."""
    dataset = aeruca.default_dataset()
    column = dataset.components.index("H2O")
    crystals = sum(moles * dataset[name].components[column] for name, moles in state.solids.items())
    return state.water_kg / 0.018015268 + crystals


# The onset of a brine is where the energies of solids and brine meet: adding a salt that forms no
# new solid can only lower it (the mixture has one more way to lower its energy).
@pytest.mark.parametrize(
    ("ions", "more"),
    [
        ({"Na(+)": 1.0, "Cl(-)": 1.0}, {"K(+)": 0.5, "Cl(-)": 0.5}),
        ({"Na(+)": 1.0, "Cl(-)": 1.0}, {"Na(+)": 0.6, "NO3(-)": 0.6}),
        ({"K(+)": 1.0, "Cl(-)": 1.0}, {"K(+)": 0.2, "NO3(-)": 0.2}),
        ({"Na(+)": 2.0, "SO4(2-)": 1.0}, {"Na(+)": 1.0, "Cl(-)": 1.0}),
        ({"K(+)": 1.0, "Na(+)": 1.0, "Cl(-)": 2.0}, {"K(+)": 0.3, "NO3(-)": 0.3}),
    ],
)
def test_a_salt_that_leaves_every_solid_in_place_never_raises_the_onset(ions, more):
    both = {ion: ions.get(ion, 0) + more.get(ion, 0) for ion in {*ions, *more}}
    before, after = brine.mixture(ions), brine.mixture(both)
    driest = {name: 0 for name in before.states[0].solids}
    assert driest.keys() <= after.states[0].solids.keys()
    assert after.mutual_deliquescence_rh_percent <= before.mutual_deliquescence_rh_percent + 0.002


def test_the_known_counterexample_comes_out():
    calcium = brine.mixture({"Ca(2+)": 1.0, "Cl(-)": 2.0})
    both = brine.mixture({"Ca(2+)": 1.0, "Cl(-)": 2.0, "Na(+)": 2.0, "SO4(2-)": 1.0})
    assert calcium.mutual_deliquescence_rh_percent == pytest.approx(29, abs=1)
    assert both.mutual_deliquescence_rh_percent == pytest.approx(75, abs=0.6)
    assert "halite" in both.states[0].solids
