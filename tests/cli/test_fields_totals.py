"""`aeruca fields totals`: a water of fixed totals on the command line."""

import json


def test_view_prints_fields_edges_and_reactions(run):
    text = run("fields", "totals", "--view", "pit").stdout
    assert "copper + nantokite" in text
    assert "nantokite + e(-) = copper + Cl(-)" in text
    assert "not how fast" in text


def test_own_water_over_own_axes_as_json(run):
    told = run(
        "fields", "totals", "--x", "total Cl(-)", "--x-range", "-5", "0", "--y", "CO2(g)",
        "--y-range", "-5", "0", "--total", "Cu(2+)=1e-3", "--ph", "7", "--oxygen", "0.21", "--json",
    )  # fmt: skip
    document = json.loads(told.stdout)
    assert {field["species"] for field in document["fields"]} >= {"malachite", "tenorite"}
    assert document["x"] == "log10 total Cl(-) / (mol/kg)"


def test_this_water_is_one_of_a_case(run):
    done = run("fields", "totals", "--case", "data/demo/case.toml", "--total", "Cu(2+)=1e-4")
    assert done.returncode == 0, done.stderr
    assert "mol/kg Cl(-) in all" in done.stdout
    unknown = run("fields", "totals", "--case", "data/demo/case.toml", "--water", "se")
    assert unknown.returncode != 0
    assert "no water named 'se'" in unknown.stderr
    both = run("fields", "totals", "--case", "data/demo/case.toml", "--view", "pit")
    assert "one water to start from" in both.stderr


def test_axis_without_its_range_is_refused(run):
    refused = run("fields", "totals", "--x", "CO2(g)", "--total", "Cu(2+)=1e-3")
    assert refused.returncode != 0
    assert "wants its range" in refused.stderr


def test_total_given_twice_is_refused(run):
    twice = ("--total", "Cu(2+)=1e-3", "--total", "Cu(2+)=1e-4")
    refused = run("fields", "totals", *twice)
    assert refused.returncode != 0
    assert "'Cu(2+)' is given twice; accepted is each name once" in refused.stderr


def test_total_without_number_is_refused(run):
    refused = run("fields", "totals", "--total", "Cu(2+)")
    assert refused.returncode != 0
    assert "NAME=MOL_PER_KG" in refused.stderr
