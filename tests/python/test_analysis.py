"""A laboratory's analysis in Python: one answer with the command line, refusals by name."""

import json
import math
from collections.abc import Callable
from subprocess import CompletedProcess

import pytest

import aeruca
from aeruca.analysis import ion_words, reference_electrodes, solve_analysis

Run = Callable[..., CompletedProcess[str]]

IONS = {"chloride": "640 +/- 30 mg/L", "sodium": "500 mg/L", "copper": "2.5 mg/L"}


def test_python_and_speciate_give_one_answer_for_one_analysis(run: Run) -> None:
    water = solve_analysis(
        IONS, alkalinity="310 mg/L", ph=6.4, potential_mv=90, reference_electrode="ag-agcl-3m"
    )
    done = run(
        "--json", "speciate", "--ph", "6.4", "--potential", "90", "--electrode", "ag-agcl-3m",
        "--alkalinity", "310 mg/L", *(f"--total={name}={text}" for name, text in IONS.items()),
    )  # fmt: skip
    answer = json.loads(done.stdout)
    assert answer["saturation_index"] == pytest.approx(water.result.saturation_index, rel=1e-12)
    assert answer["saturation_index_uncertainty"] == pytest.approx(water.index_uncertainty)
    assert answer["ph"] == water.result.ph
    assert answer["totals_mol_per_kg"] == pytest.approx(water.totals_mol_per_kg, rel=1e-12)
    assert answer["charge"]["error_percent"] == pytest.approx(water.charge.error_percent)
    assert answer["elements"]["copper"]["percent"] == pytest.approx(water.shares_percent["copper"])
    plain = run(*(a for a in done.args[1:] if a != "--json"))
    assert plain.stdout == str(water)


def test_the_total_by_the_name_of_the_data_set_is_what_equilibrium_takes() -> None:
    water = solve_analysis({"Cu(2+)": 1e-5, "Cl(-)": 0.01}, unit="mol/kg", ph=7, potential_mv=300)
    low = aeruca.Equilibrium().solve({"Cu(2+)": 1e-5, "Cl(-)": 0.01}, ph=7.0, eh_v=0.3)
    for solid, index in water.result.saturation_index.items():
        assert index == pytest.approx(low.saturation_index[solid], abs=1e-9)


def test_shares_add_up_and_needs_follow_from_the_index() -> None:
    water = solve_analysis(IONS, alkalinity="310 mg/L", ph="6.4 +/- 0.1", potential_mv=300)
    assert next(iter(water.shares_percent)) == "copper"
    for forms in water.shares_percent.values():
        assert sum(forms.values()) == pytest.approx(100)
    index = water.result.saturation_index["nantokite"]
    assert water.needs["nantokite"]["copper"] == pytest.approx(10**-index)
    assert "malachite" not in water.needs  # above saturation
    assert "copper" in water._repr_html_()
    assert repr(water).startswith("SolvedWater(EquilibriumResult(pH 6.400")


def test_solids_form_when_allowed() -> None:
    water = solve_analysis(
        IONS, alkalinity="310 mg/L", ph=6.4, potential_mv=300, precipitation="allowed",
        allowed_solids=["malachite"],
    )  # fmt: skip
    assert water.result.formed["malachite"] > 0
    assert water.shares_percent["copper"]["malachite"] > 50


def test_air_or_nothing_in_place_of_a_potential() -> None:
    assert solve_analysis(IONS, ph=7, oxygen_bar=0.21).result.eh_v == pytest.approx(0.806, abs=2e-3)
    closed = solve_analysis(IONS, ph=7)
    assert closed.set_aside == ["Cu(2+)"]
    assert math.isnan(closed.result.eh_v)


def test_names_that_are_taken() -> None:
    assert {"chloride", "bicarbonate", "copper", "ammonium"} <= set(ion_words())
    assert "sce" in reference_electrodes()


@pytest.mark.parametrize(
    ("ions", "options", "message"),
    [
        ({"chloride": 640}, {}, 'beside unit="mg/L"'),
        ({"chloride": "640"}, {}, "chloride = 640: accepted is an amount with its unit"),
        ({"chlorid": "640 mg/L"}, {}, "nearest is 'chloride'"),
        ({"chloride": "5 stone"}, {}, "chloride = stone: accepted is an amount in mol/L"),
        ("chloride", {}, 'amounts by name, such as {"chloride": "640 mg/L"}'),
        ({}, {"ph": "seven"}, "ph = seven: accepted is a reading"),
        ({}, {"ph": None}, "ph = not given"),
        ({}, {"alkalinity": "3"}, "alkalinity = 3: accepted is an amount with its unit"),
        ({}, {"reference_electrode": "agagcl"}, "no reference electrode named 'agagcl'"),
        ({}, {"oxygen_bar": 0.21}, "either a potential or oxygen held"),
        ({}, {"allowed_solids": ["malachite"]}, "with precipitation allowed only"),
        ({}, {"acidity": "sour"}, "given_ph or charge_balance"),
        ({}, {"acidity": "charge_balance"}, "no pH where it follows from the charge"),
        ({}, {"activity": "davis"}, "no activity model named 'davis'"),
        ({}, {"held_gas_bar": {"CO2": 1}}, "no species named 'CO2'"),
    ],
)
def test_bad_input_says_what_is_accepted(ions: object, options: dict, message: str) -> None:
    with pytest.raises(aeruca.Error) as caught:
        solve_analysis(ions, **({"ph": 7, "potential_mv": 300} | options))  # type: ignore[arg-type]
    assert message in str(caught.value)
