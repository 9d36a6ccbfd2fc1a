"""Many waters from Python: what is given and wanted by row, and the water activity held."""

import time
from typing import Any

import numpy as np
import pytest

import aeruca

SALTS = ["Na(+)", "K(+)", "Cl(-)", "CO3(2-)", "Ca(2+)"]


@pytest.fixture(scope="module")
def waters() -> aeruca.Equilibrium:
    return aeruca.Equilibrium(
        components=SALTS, precipitation="allowed", missing_enthalpy="leave_out"
    )


def test_indices_and_gases_of_each_row_are_those_of_the_water_alone(
    waters: aeruca.Equilibrium,
) -> None:
    bar = np.array([1e-4, 1e-3, 1e-2])
    calcium = np.array([[1e-3], [1e-2]])
    table = waters.solve_many(
        {"Ca(2+)": calcium, "Cl(-)": 0.02}, ph=7.0, eh_v=0.4, fugacity_bar={"CO2(g)": bar}
    )
    assert table.saturation_index.shape == (2, 3, len(table.indexed_solids))
    assert table.log10_fugacity.shape == (2, 3, len(table.gases))
    assert table.log10_fugacity_of("CO2(g)") == pytest.approx(np.log10(np.tile(bar, (2, 1))))
    for i, j in ((0, 0), (1, 2)):
        one = waters.solve(
            {"Ca(2+)": calcium[i, 0], "Cl(-)": 0.02},
            ph=7.0,
            eh_v=0.4,
            fugacity_bar={"CO2(g)": bar[j]},
        )
        assert table.saturation_index_of("calcite")[i, j] == pytest.approx(
            one.saturation_index["calcite"], abs=1e-9
        )
        formed = max(one.formed, key=one.formed.__getitem__, default=None)
        leading = table.leading_solid[i, j]
        assert formed == (None if leading < 0 else waters.allowed_solids[leading])
    # A component that is not there: no index.
    assert np.all(np.isneginf(table.saturation_index_of("halite")))
    assert not table.degenerate.any()
    assert np.all(table.solvent_kg == 1)


def test_a_temperature_by_row_is_that_of_a_system_at_it(waters: aeruca.Equilibrium) -> None:
    temperature = np.array([5.0, 40.0, np.nan, 25.0, 5.0])
    table = waters.solve_many({"halite": 1.0}, ph=8.0, eh_v=0.3, temperature_c=temperature)
    assert table.certified.tolist() == [True, True, False, True, True]
    assert table.ionic_strength[0] == table.ionic_strength[4]
    for row in (0, 1, 3):
        there = aeruca.Equilibrium(
            components=SALTS,
            precipitation="allowed",
            missing_enthalpy="leave_out",
            temperature_c=float(temperature[row]),
        ).solve({"halite": 1.0}, ph=8.0, eh_v=0.3)
        assert table.log10_molality_of("OH(-)")[row] == pytest.approx(
            there.log10_molality_of("OH(-)"), abs=1e-10
        )
    by_call = aeruca.speciate(
        {"halite": 1.0}, ph=8.0, eh_v=0.3, temperature_c=temperature, components=SALTS,
        missing_enthalpy="leave_out",
    )  # fmt: skip
    assert isinstance(by_call, aeruca.equilibrium.EquilibriumTable)
    assert by_call.ph.shape == (5,)


def test_only_the_columns_that_are_asked_for_are_there(waters: aeruca.Equilibrium) -> None:
    given = {"Ca(2+)": [1e-3, 0.1], "CO3(2-)": 0.01}
    whole = waters.solve_many(given, ph=9.0, eh_v=0.4)
    part = waters.solve_many(
        given, ph=9.0, eh_v=0.4, columns=["leading_solid", "log10_molality"], species=["Ca(2+)"]
    )
    assert part.columns == ["log10_molality", "leading_solid"]
    assert part.species == ["Ca(2+)"]
    np.testing.assert_array_equal(part.log10_molality[:, 0], whole.log10_molality_of("Ca(2+)"))
    np.testing.assert_array_equal(part.leading_solid, whole.leading_solid)
    np.testing.assert_array_equal(part.certified, whole.certified)
    with pytest.raises(aeruca.InputError, match="columns = log10_molality, leading_solid"):
        _ = part.saturation_index
    assert "status" in part._repr_html_()


def test_a_water_activity_that_is_held_says_how_much_water_there_is() -> None:
    brine = aeruca.Equilibrium(components=["Na(+)", "Cl(-)"], activity="ideal",
                               solvent="water_activity")  # fmt: skip
    one = brine.solve({"halite": 1.0}, ph=7.0, eh_v=0.4, water_activity=0.9)
    # ln a_w = -M_w sum m with two ions a formula
    assert one.solvent_kg == pytest.approx(2 / (-np.log(0.9) / 0.01801528), rel=1e-5)
    table = brine.solve_many({"halite": 1.0}, ph=7.0, eh_v=0.4, water_activity=[0.9, 0.99, 0.5])
    assert table.solvent_kg[0] == pytest.approx(one.solvent_kg, rel=1e-12)
    assert np.all(np.diff(table.solvent_kg[[2, 0, 1]]) > 0)
    assert table.water_activity == pytest.approx([0.9, 0.99, 0.5], abs=1e-9)


@pytest.mark.parametrize(
    ("given", "error", "message"),
    [
        ({"columns": ["pH"]}, aeruca.InputError, "columns = pH: accepted is some of log10_mol"),
        ({"columns": "ph"}, aeruca.InputError, "columns = 'ph': accepted is a list of names"),
        ({"columns": ["ph"], "solids": ["calcite"]}, aeruca.InputError, "only where the columns"),
        ({"species": ["Ca"]}, KeyError, "no dissolved species named 'Ca'"),
        ({"temperature_c": [10.0, 60.0]}, aeruca.InputError, "temperature_c of water 1 = 60"),
        ({"temperature_c": "warm"}, aeruca.InputError, "temperature_c = 'warm'"),
        ({"water_activity": 0.8}, aeruca.InputError, "water_activity of water 0 = 0.8: accepted"),
        (
            {"fugacity_bar": {"CO2(g)": [1e-3, 2e3]}},
            aeruca.InputError,
            r"fugacity_bar of CO2\(g\) of water 1 = 2000",
        ),
        ({"fugacity_bar": {"CO2(g)": [[1], [2], [3]], "N2(g)": 1}}, KeyError, "N2"),
    ],
)
def test_what_has_no_effect_or_sense_in_many_waters_is_refused(
    waters: aeruca.Equilibrium, given: dict[str, Any], error: type[Exception], message: str
) -> None:
    with pytest.raises(error, match=message):
        waters.solve_many({"Ca(2+)": [1e-3, 1e-2], "CO3(2-)": 0.01}, ph=8.0, eh_v=0.4, **given)


def test_a_row_is_named_by_its_place_in_the_whole_batch(waters: aeruca.Equilibrium) -> None:
    calcium = np.full(10_000, 1e-3)
    calcium[9_000] = -1
    with pytest.raises(aeruca.InputError, match="of water 9000 = -1"):
        waters.solve_many({"Ca(2+)": calcium}, ph=8.0, eh_v=0.4)


def test_many_temperatures_are_prepared_once_each(waters: aeruca.Equilibrium) -> None:
    temperature = np.tile(np.linspace(0, 50, 20), 500)
    started = time.perf_counter()
    table = waters.solve_many({"halite": 0.1}, ph=8.0, eh_v=0.3, temperature_c=temperature,
                              columns=["ph"])  # fmt: skip
    table.raise_if_failed()
    # Twenty systems and 10 000 waters; a system for each water would take seconds.
    assert time.perf_counter() - started < 1.5
