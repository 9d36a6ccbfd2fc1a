"""What stays in the pores after rinsing: by hand, by its limits, and by another method."""

import json

import numpy as np
import pytest
from scipy.integrate import solve_ivp

import aeruca
from aeruca.bath_making import rinse_pores


def test_mixed_rinses_dilute_as_by_hand():
    found = rinse_pores(0.09, start_mg_per_l=1000.0, rinses=3, pore_ml=10.0)
    assert [step.mixed.percent for step in found.rinses] == pytest.approx([10.0, 1.0, 0.1])
    assert found.held_mg == pytest.approx(10.0)
    assert found.left_mg == pytest.approx(0.01)
    # Three dilutions by 10 beat one by 30.
    once = rinse_pores(0.29, start_mg_per_l=1000.0, rinses=1, pore_ml=10.0)
    assert once.rinses[0].mixed.percent == pytest.approx(100 / 30)


def test_clinging_liquid_and_the_water_itself_count():
    found = rinse_pores(
        0.5, start_mg_per_l=100.0, rinses=2, pore_ml=20.0, clinging_ml=30.0, water_mg_per_l=4.0
    )
    c = 1.0
    for step in found.rinses:
        c = (c * 50 + 0.04 * 500) / 550
        assert step.mixed.percent == pytest.approx(100 * c)
    assert found.floor_percent == pytest.approx(4.0)


def test_the_pore_volume_may_be_a_porosity_of_a_layer_and_its_doubt_is_a_range():
    found = rinse_pores(0.1, start_mg_per_l=5.0, rinses=1, porosity=0.2, body_cm3=50.0)
    assert found.pore_ml == pytest.approx(10.0)
    left = found.rinses[0].mixed
    assert left.low_percent == pytest.approx(100 * 5 / 105)
    assert left.high_percent == pytest.approx(100 * 20 / 120)


def test_a_target_names_the_rinse_from_which_on_it_is_met():
    found = rinse_pores(0.09, start_mg_per_l=1.0, target_percent=0.5, pore_ml=10.0)
    assert found.needed_mixed == 3
    assert len(found.rinses) == 3
    assert found.needed_mixed_high > 3
    never = rinse_pores(
        0.09, start_mg_per_l=100.0, target_percent=1.0, pore_ml=10.0, water_mg_per_l=2.0
    )
    assert never.needed_mixed is None
    assert any("not reached within 100" in sentence for sentence in never.read)


def lines(rinses, tau, alpha, kept, cells=400):
    """Finite volumes for a slab into stirred rinses: left, over what was held."""
    h = 1 / cells
    u, bath, left = np.ones(cells), kept, []

    def rate(_, state):
        inside, c = state[:-1], state[-1]
        flux = np.empty(cells + 1)
        flux[0] = 0
        flux[1:-1] = (inside[:-1] - inside[1:]) / h
        flux[-1] = (inside[-1] - c) / (h / 2)
        return np.append((flux[:-1] - flux[1:]) / h, flux[-1] / alpha)

    jacobian = None
    for _ in range(rinses):
        start = np.append(u, bath)
        done = solve_ivp(rate, (0, tau), start, "BDF", rtol=1e-8, atol=1e-11, jac=jacobian)
        u, bath = done.y[:-1, -1], kept * done.y[-1, -1]
        left.append(u.mean())
    return left


def test_diffusing_rinses_agree_with_finite_volumes():
    # 2 h a rinse, D/L^2 of 3 a day: tau 0.25; 20 mL cling to 180 mL fresh, 20 mL in the pores.
    found = rinse_pores(
        0.18, start_mg_per_l=1.0, rinses=3, pore_ml=20.0, clinging_ml=20.0, minutes=120.0,
        rate_per_day=3.0,
    )  # fmt: skip
    other = lines(3, 0.25, 10.0, 0.1)
    ours = [step.diffusing.percent / 100 for step in found.rinses]
    assert ours == pytest.approx(other, abs=2e-4)


@pytest.mark.parametrize("shape", ["slab", "cylinder", "sphere"])
@pytest.mark.parametrize("clinging", [0.0, 15.0])
def test_diffusion_never_beats_mixing_and_comes_to_it(shape, clinging):
    def left(minutes):
        found = rinse_pores(
            0.2, start_mg_per_l=30.0, rinses=5, pore_ml=8.0, clinging_ml=clinging,
            water_mg_per_l=0.5, minutes=minutes, rate_per_day=1.0, shape=shape,
        )  # fmt: skip
        return found.rinses

    for step in left(60.0):
        assert step.diffusing.percent > step.mixed.percent
    for step in left(100_000.0):
        assert step.diffusing.percent == pytest.approx(step.mixed.percent, rel=1e-8)
        assert step.rinse_mg_per_l == pytest.approx(step.mixed_mg_per_l, rel=1e-8)


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({"rinses": 2}, "pore_ml, or porosity and body_cm3"),
        ({"rinses": 2, "pore_ml": 5.0, "porosity": 0.2}, "one of the two"),
        ({"rinses": 2, "porosity": 0.2}, "body_cm3"),
        ({"pore_ml": 5.0}, "a number of rinses, 1 to 100, or a target"),
        ({"pore_ml": 5.0, "rinses": 0}, "a whole number, 1 to 100"),
        ({"pore_ml": 5.0, "target_percent": 100.0}, "above 0 and below 100"),
        ({"pore_ml": 5.0, "rinses": 2, "minutes": 5.0}, "together, or neither"),
        ({"pore_ml": 5.0, "rinses": 2, "rate_per_day": 5.0}, "together, or neither"),
        ({"pore_ml": 5.0, "rinses": 2, "pore_factor": 0.5}, "1 to 10"),
        ({"pore_ml": -5.0, "rinses": 2}, "above 0"),
        ({"pore_ml": 5.0, "rinses": 2, "clinging_ml": -1.0}, "0 to"),
    ],
)
def test_what_cannot_be_meant_is_refused(given, words):
    with pytest.raises(aeruca.InputError) as refused:
        rinse_pores(0.1, start_mg_per_l=10.0, **given)
    assert words in str(refused.value)


def test_the_tool_says_the_same(run):
    shared = ["bath", "rinse", "--pore-ml", "10", "--rinse-l", "0.09"]
    done = run(*shared, "--chloride-mg-per-l", "1000", "--rinses", "3")
    assert done.returncode == 0, done.stderr
    assert "hold 10 mg of chloride" in done.stdout
    assert "0.100 % (" in done.stdout
    assert "not known without a rate of diffusion" in done.stdout
    sodium = run(
        *shared, "--salt", "sesquicarbonate", "--percent", "5", "--target-percent", "0.1", "--json"
    )
    answer = json.loads(sodium.stdout)
    # 3 Na in 226.03 g, 50 g/L: 15.25 g/L of sodium.
    assert answer["held_mg"] == pytest.approx(152.6, rel=1e-3)
    assert answer["needed_mixed"] == 3
    by_rate = run(
        *shared, "--chloride-mg-per-l", "30", "--rinses", "2", "--minutes", "60",
        "--d-m2-per-s", "1e-11", "--thickness-mm", "0.6",
    )  # fmt: skip
    assert "By diffusion into stirred rinses" in by_rate.stdout
