"""One analysis has one answer: the case, the command line and Python go through the same room."""

import json
from collections.abc import Callable
from pathlib import Path
from subprocess import CompletedProcess

import pytest

Run = Callable[..., CompletedProcess[str]]

WATER = """[[water]]
ph = 6.4
eh_mv = 300
chloride_mg_per_l = 640
bicarbonate_mg_per_l = 310
sodium_mg_per_l = 500
copper_mg_per_l = 2.5
"""


def case_of(run: Run, folder: Path, text: str) -> dict:
    (folder / "case.toml").write_text(text, encoding="utf-8")
    done = run("--json", "case", str(folder / "case.toml"))
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def indices_of(case: dict) -> dict[str, str]:
    table = next(t for s in case["sections"] for t in s["tables"] if "Copper solids" in t["title"])
    column = table["columns"].index("saturation index")
    return {row[0]: row[column] for row in table["rows"]}


def index_of(case: dict, solid: str) -> float:
    return float(indices_of(case)[solid].split(" ")[0])


def test_carbon_dioxide_bar_in_a_case_does_something(run: Run, tmp_path: Path) -> None:
    closed = index_of(case_of(run, tmp_path, WATER), "malachite")
    held = index_of(case_of(run, tmp_path, WATER + "carbon_dioxide_bar = 4.2e-4\n"), "malachite")
    assert held < closed - 1  # 0.06 bar is what the bicarbonate asks for at this pH


def test_carbon_dioxide_beside_a_bicarbonate_that_contradicts_it_is_said(
    run: Run, tmp_path: Path
) -> None:
    case = case_of(run, tmp_path, WATER + "carbon_dioxide_bar = 4.2e-4\n")
    warnings = [text for section in case["sections"] for text in section["warnings"]]
    assert any("carbon dioxide held" in text and "contradict" in text for text in warnings)


def test_case_and_speciate_give_one_answer_for_one_analysis(run: Run, tmp_path: Path) -> None:
    # The case took 310 mg/L as the titration, speciate as the total: cuprite -1.36 and -1.115.
    case = indices_of(case_of(run, tmp_path, WATER))
    done = run(
        "--json", "speciate", "--ph", "6.4", "--potential", "300", "--total", "chloride=640 mg/L",
        "--total", "bicarbonate=310 mg/L", "--total", "sodium=500 mg/L", "--total",
        "copper=2.5 mg/L",
    )  # fmt: skip
    answer = json.loads(done.stdout)
    speciate, uncertainty = answer["saturation_index"], answer["saturation_index_uncertainty"]
    assert len(case) > 5
    for solid, shown in case.items():
        value, _, spread = shown.split(" ")
        decimals = len(value.partition(".")[2])
        assert round(speciate[solid], decimals) == float(value), solid
        assert f"{uncertainty[solid]:.{decimals}f}" == spread, solid


def test_an_imbalance_assigned_in_a_case_is_told(run: Run, tmp_path: Path) -> None:
    case = case_of(run, tmp_path, WATER + 'charge_assigned_to = "sodium"\n')
    findings = {f["key"]: f for section in case["sections"] for f in section["findings"]}
    charge = findings["water.charge_error_percent"]
    assert charge["value"] == pytest.approx(-2.9, abs=0.1)
    assert "made up with 1.3" in charge["note"]
    assert "mmol/kg of Na(+)" in charge["note"]


def table_of(case: dict) -> dict:
    return next(t for s in case["sections"] for t in s["tables"] if "Copper solids" in t["title"])


def test_case_and_speciate_give_one_chance_from_draws_of_the_constants(
    run: Run, tmp_path: Path
) -> None:
    table = table_of(case_of(run, tmp_path, WATER))
    done = run(
        "--json", "speciate", "--ph", "6.4", "--potential", "300", "--total", "chloride=640 mg/L",
        "--total", "bicarbonate=310 mg/L", "--total", "sodium=500 mg/L", "--total",
        "copper=2.5 mg/L", "--draws", "200",
    )  # fmt: skip
    ranges = json.loads(done.stdout)["ranges"]
    shown = 0
    for row in table["rows"]:
        chance = ranges["solids"][row[0]]["as_published"]["probability"]
        if 0.01 <= chance <= 0.99:
            assert f"; chance {chance:.2f}" in row[-1], row
            shown += 1
        else:
            assert "chance" not in row[-1], row
    assert shown > 0
    assert "over 200 draws of the constants as published" in table["note"]
    first = ranges["saturation_index"][table["rows"][0][0]]["carried_by"][0]
    assert f"{first['figure']} ({first['subject']}), {100 * first['share']:.0f} %" in table["note"]


def test_no_chance_is_told_without_copper(run: Run, tmp_path: Path) -> None:
    lines = [line for line in WATER.splitlines(keepends=True) if not line.startswith("copper")]
    table = table_of(case_of(run, tmp_path, "".join(lines)))
    assert "Chance" not in table["note"]
    assert all("chance" not in row[-1] for row in table["rows"])
