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


def test_axis_without_its_range_is_refused(run):
    refused = run("fields", "totals", "--x", "CO2(g)", "--total", "Cu(2+)=1e-3")
    assert refused.returncode != 0
    assert "wants its range" in refused.stderr


def test_total_without_number_is_refused(run):
    refused = run("fields", "totals", "--total", "Cu(2+)")
    assert refused.returncode != 0
    assert "NAME=MOL_PER_KG" in refused.stderr
