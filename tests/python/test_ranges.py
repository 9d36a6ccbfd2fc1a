"""Ranges from draws of the constants, in Python: one answer with the command line, by name."""

import json
import math
from collections.abc import Callable
from subprocess import CompletedProcess

import pytest

import aeruca
from aeruca.analysis import solve_analysis

Run = Callable[..., CompletedProcess[str]]

IONS = {"chloride": "640 mg/L", "sodium": "500 mg/L", "copper": "2.5 mg/L"}


def test_python_and_speciate_have_the_same_ranges(run: Run) -> None:
    water = solve_analysis(IONS, alkalinity="310 mg/L", ph=7.1, potential_mv=290)
    ranges = water.ranges(300, seed=9)
    done = run(
        "--json", "speciate", "--ph", "7.1", "--potential", "290", "--alkalinity", "310 mg/L",
        *(f"--total={name}={text}" for name, text in IONS.items()), "--draws", "300", "--seed", "9",
    )  # fmt: skip
    answer = json.loads(done.stdout)["ranges"]
    assert (ranges.draws, ranges.seed, ranges.message) == (300, 9, "")
    assert set(ranges.saturation_index) == set(answer["saturation_index"])
    malachite = ranges.saturation_index["malachite"]
    told = answer["saturation_index"]["malachite"]
    assert malachite.undrawn == told["undrawn"]
    assert malachite.as_published.median == told["as_published"]["median"]
    assert [c.figure for c in malachite.carried_by] == [c["figure"] for c in told["carried_by"]]
    chance = ranges.solids["malachite"].as_stated.probability
    assert chance == answer["solids"]["malachite"]["as_stated"]["probability"]
    page = run(*(a for a in done.args[1:] if a != "--json")).stdout
    assert page == str(water) + str(ranges)


def test_a_water_by_totals_has_ranges_too() -> None:
    system = aeruca.Equilibrium(activity="ideal", acidity="charge_balance", redox="oxygen")
    totals = {"Na(+)": 2e-3, "Cu(2+)": 1e-7}
    ranges = system.ranges(
        totals, oxygen_bar=0.2, fugacity_bar={"CO2(g)": 4e-4}, draws=200, threads=1
    )
    again = system.ranges(
        totals, oxygen_bar=0.2, fugacity_bar={"CO2(g)": 4e-4}, draws=200, threads=2
    )
    assert ranges.ph is not None
    assert ranges.eh_v is not None
    answer = system.solve(totals, oxygen_bar=0.2, fugacity_bar={"CO2(g)": 4e-4})
    assert ranges.ph.undrawn == pytest.approx(answer.ph)
    assert ranges.ph.as_stated.percentile_97_5 == again.ph.as_stated.percentile_97_5  # type: ignore[union-attr]
    assert ranges.ionic_strength.undrawn == pytest.approx(answer.ionic_strength)
    assert set(ranges.log10_dissolved) == {"sodium", "copper", "carbonate"}
    assert math.isfinite(ranges.log10_fugacity["CO2(g)"].undrawn)
    assert isinstance(ranges.exact, list)
    assert str(ranges) == ranges.describe()
    assert ranges.to_csv("solids").startswith("name,allowed,")


def test_draws_out_of_range_are_refused_by_name() -> None:
    water = solve_analysis(IONS, ph=7.1, potential_mv=290)
    for wrong in (99, 100_001):
        with pytest.raises(aeruca.InputError, match="draws"):
            water.ranges(wrong)
    with pytest.raises(aeruca.InputError, match="seed"):
        water.ranges(100, seed=-1)
    with pytest.raises(aeruca.InputError, match="threads"):
        water.ranges(100, threads=257)


def test_a_water_without_an_answer_says_why_it_has_no_ranges() -> None:
    water = solve_analysis({"sodium": "5 mmol/L"}, alkalinity="1 mmol/L", ph=12, potential_mv=300)
    ranges = water.ranges(100)
    assert ranges.message == water.result.message != ""
    assert ranges.saturation_index == {}
    assert ranges.message in str(ranges)
