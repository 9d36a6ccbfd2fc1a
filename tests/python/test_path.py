"""Reaction paths from Python, and one beside SciPy."""

import itertools

import numpy as np
import pytest
from scipy.optimize import brentq

import aeruca
from aeruca import path

COPPER = {"components": ["Cu(2+)", "Cl(-)", "Na(+)"], "redox": "conserved"}
AIR = {"gas": "O2(g)", "gas_bar": 0.2095}


def rusting(**more):
    return path.follow("aerate", {"copper": 0.1, "halite": 0.6}, **COPPER, **AIR, **more)


def test_points_are_arrays_and_events_are_in_order():
    found = rusting()
    assert found.status == "converged"
    assert np.all(np.diff(found.progress) >= 0)
    assert [event.progress for event in found.events] == sorted(
        event.progress for event in found.events
    )
    assert found.solid("cuprite").shape == np.shape(found.ph)
    assert found.solid("gypsum").sum() == 0
    assert found.events[0].solid == "cuprite"


def test_an_event_is_where_a_root_finder_puts_it():
    """Tenorite begins where its saturation index passes 0 in a system that may not form it."""
    found = rusting()
    event = next(e for e in found.events if e.solid == "tenorite" and e.change == "appears")
    system = aeruca.Equilibrium(
        **COPPER, acidity="charge_balance", precipitation="allowed", left_out=["tenorite"]
    )

    def index(oxygen):
        answer = system.solve({"copper": 0.1, "halite": 0.6, "O2(aq)": oxygen})
        return answer.saturation_index["tenorite"]

    assert event.progress == pytest.approx(brentq(index, 0.01, 0.0499), rel=1e-5)


def test_time_only_with_a_supply():
    found = rusting()
    with pytest.raises(aeruca.InputError, match="without a supply a path has no time"):
        path.days(found, water_kg_per_m2=5)
    days = path.days(found, water_kg_per_m2=5, depth_mm=5)
    assert days[-1] == pytest.approx(found.progress[-1] * 5 / path.oxygen_supply(depth_mm=5))
    # 1 A/m2 is 0.2239 mol of O2 a day
    assert path.oxygen_supply(current_a_per_m2=1) == pytest.approx(86400 / (4 * 96485.332))
    with pytest.raises(TypeError, match="not both"):
        path.oxygen_supply(depth_mm=1, current_a_per_m2=1)


def test_oxygen_crosses_warm_water_faster_though_less_dissolves():
    supplies = [path.oxygen_supply(depth_mm=5, temperature_c=t) for t in (5, 15, 25, 35)]
    assert all(a < b for a, b in itertools.pairwise(supplies))


def test_ready_paths_say_what_they_leave_out():
    for ready in (
        path.coin_in_salt_water(),
        path.pit_in_moist_air(),
        path.nantokite_in_baths(),
        path.carbonate_bath_in_air(),
    ):
        assert ready.read
        assert "no rate but that of a supply" in ready.left_out[0]


def test_a_path_is_drawn_with_its_solids_its_ph_and_its_events():
    pytest.importorskip("matplotlib")
    from aeruca.drawing.path import plot_path

    found = rusting()
    axes = plot_path(found)
    labels = [text.get_text() for text in axes.get_legend().get_texts()]
    assert labels[0] == "copper"
    assert labels[-1] == "pH"
    assert {"cuprite", "tenorite"} <= set(labels)
    assert axes.get_xlabel() == "progress (mol/kg)"
    lines = [line for line in axes.get_lines() if line.get_label() in labels]
    assert np.allclose(lines[1].get_ydata(), found.solid("cuprite"))


def test_a_kind_refuses_what_it_has_no_use_for():
    with pytest.raises(aeruca.InputError, match="for a path of kind 'dilute'"):
        path.follow("dilute", {"halite": 1}, to=2, gas="O2(g)", ph=7, acidity="given_ph", eh_v=0.4)
    with pytest.raises(aeruca.InputError, match="medium"):
        path.copper_one_oxidation("beer", ph=7, ionic_strength=0.7)
    assert path.copper_one_oxidation("sea_water", ph=8.1, ionic_strength=0.7) == pytest.approx(
        729, rel=0.01
    )
