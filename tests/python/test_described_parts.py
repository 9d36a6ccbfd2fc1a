"""Answers of the solver, an analysis, a bath and the data set, each from its description."""

import csv
import io
import json

import pytest

import aeruca
from aeruca import _core, bath
from aeruca.analysis import solve_analysis

WATER = {"chloride": "640 mg/L", "sodium": "405 mg/L", "copper": "0.3 mg/L"}


@pytest.fixture(scope="module")
def water():
    return solve_analysis(WATER, alkalinity="310 mg/L", ph=6.4, potential_mv=300)


def table(text):
    return list(csv.DictReader(io.StringIO(text)))


def test_an_answer_lists_its_figures_with_units(water):
    answer = water.result._core
    lines = answer.describe().splitlines()
    shown = next(line for line in lines if line.startswith("  ionic_strength"))
    assert shown.split()[1:3] == [f"{answer.ionic_strength:.4g}", "mol/kg"]
    rows = table(answer.to_csv("dissolved"))
    assert [row["name"] for row in rows] == answer.species
    molality = [float(row["molality_mol_per_kg"]) for row in rows]
    assert molality == pytest.approx(answer.molality)
    assert "potential against the standard hydrogen electrode" in answer._repr_html_()
    assert "mass_balance" in answer.certificate.describe()


def test_the_json_of_a_water_is_its_description(water, run):
    done = run(
        "speciate", "--total", "chloride=640 mg/L", "--total", "sodium=405 mg/L",
        "--total", "copper=0.3 mg/L", "--alkalinity", "310 mg/L", "--ph", "6.4",
        "--potential", "300", "--json",
    )  # fmt: skip
    told = json.loads(done.stdout)
    assert told["ph"] == water.result.ph
    for form in water.result._core.dissolved:
        assert told["species"][form.name]["molality_mol_per_kg"] == form.molality_mol_per_kg
    for element in water.elements:
        assert told["elements"][element.word]["component"] == element.component
        assert told["elements"][element.word]["percent"] == dict(element.percent)
    assert told["charge"]["error_percent"] == water.charge.error_percent
    assert told["not_given"] == water.not_given
    assert told["conductivity"]["us_per_cm"] == water.conductivity_us_per_cm


def test_elements_and_solids_of_a_water_are_csv(water):
    rows = table(water.to_csv("solids"))
    assert [row["name"] for row in rows] == [solid.name for solid in water.solids]
    assert float(rows[0]["index"]) == water.solids[0].index
    assert "copper" in [row["word"] for row in table(water.to_csv("elements"))]
    assert "where each element is" in water.describe()


def test_a_forecast_is_what_the_tool_says(run):
    said = bath.forecast_baths([2, 2, 4], 14, rate_per_day=0.01, capacity_l=0.2)
    done = run(
        "bath", "forecast", "--rate-per-day", "0.01", "--volumes-l", "2", "2", "4",
        "--days", "14", "--capacity-l", "0.2", "--json",
    )  # fmt: skip
    told = json.loads(done.stdout)
    assert [b["left_mg"] for b in told["baths"]] == [b.left_mg for b in said.baths]
    assert told["rate_per_day"] == said.rate_per_day
    total = sum(one.in_bath_mg for one in said.baths) + said.baths[-1].left_mg
    assert total == pytest.approx(said.load_mg)
    assert float(table(said.to_csv("baths"))[2]["chloride_mg_per_l"]) == (
        said.baths[2].chloride_mg_per_l
    )
    with pytest.raises(aeruca.InputError, match="days = 2 values: accepted is one value"):
        bath.forecast_baths([2, 2, 4], [14, 7], rate_per_day=0.01)


def test_a_comparison_of_bath_counts_is_what_the_tool_says(run):
    said = bath.compare_bath_counts([1, 2, 4], alpha=10, total_tau=0.3)
    counts = ["--baths", "1", "2", "4"]
    done = run("bath", "compare", "--alpha", "10", "--tau", "0.3", *counts, "--json")
    told = json.loads(done.stdout)
    assert [p["left_fraction"] for p in told["plans"]] == [p.left for p in said.plans]
    assert told["finding"] == said.finding
    with pytest.raises(aeruca.InputError, match='accepted is "each" or "divided"'):
        bath.compare_bath_counts([1], alpha=10, total_tau=0.3, liquid="both")


def test_a_weigh_out_says_what_dissolves(run):
    said = aeruca.weigh_out("dihydrate", percent_w_v=1)
    done = run("bath", "weigh-out", "--percent", "1", "--form", "dihydrate", "--json")
    told = json.loads(done.stdout)
    assert told["reagents"][0]["grams"] == said.reagents[0].grams
    assert told["solubility"]["most_mol_per_l"] == said.solubility.most_mol_per_l
    assert told["dissolves"] == said.dissolves == "yes"
    assert [t["mistake"] for t in told["traps"]] == [t.mistake for t in said.mistakes]


def test_copper_that_a_solid_lets_into_a_bath_has_its_factor():
    copper = bath.copper_over("tenorite", "sodium sesquicarbonate", 0.0442)
    assert copper.status == "converged"
    assert f"{copper.mg_per_l:.2g} mg/L over tenorite" in repr(copper)
    assert copper.factor > 1
    assert bath.bath_water("sodium sesquicarbonate", 0.0442).ph == pytest.approx(10, abs=0.1)
    cold = bath.copper_over("tenorite", "sodium sesquicarbonate", 0.0442, temperature_c=5)
    assert cold.status == "converged"
    assert cold.mg_per_l != copper.mg_per_l


def test_records_of_the_data_set_are_described(run):
    dataset = aeruca.default_dataset()
    figure = dataset.figure("R05")
    told = json.loads(run("constants", "R05", "--json").stdout)["figures"]
    (one,) = [each for each in told if each["id"] == "R05"]
    for name in ("subject", "value", "unit", "basis", "chosen", "file", "line"):
        assert one[name] == getattr(figure, name)
    assert "standard uncertainty" in figure.describe()
    assert "<td>R05</td>" in figure._repr_html_()
    assert "ln_k_25c" in dataset.salt("halite").describe()


def test_every_result_of_a_case_is_typed(root):
    case = aeruca.assess_case(root / "data/demo/case.toml")
    section = case.section("solution")
    assert isinstance(section, _core.CaseSection)
    assert section["nantokite_in_bath"].value is None
    assert section["ph"].low < section["ph"].value < section["ph"].high
    assert section["nantokite_in_bath"].low is None
    assert section.findings[0].key in section.to_csv("findings")
    assert isinstance(case.constants[0], _core.Figure)
    assert case.odds.dormant is not None
    assert sum((case.odds.dormant, case.odds.borderline, case.odds.active)) == pytest.approx(1)
    assert case.diagrams[-1].ph is None  # a pit
