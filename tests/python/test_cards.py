"""Results of the core as a prompt and a notebook show them."""

import numpy as np

import aeruca


def test_results_show_their_figures_with_units(root):
    record = aeruca.read_logger(root / "data/demo/store-log.csv")
    assert f"{len(record)} readings every" in repr(record)
    assert repr(aeruca.store.onset(42)) == "<OnsetCurve limit 42 % RH: 42 % RH to 42 % RH>"
    log = aeruca.read_bath_log(root / "data/demo/bath-log.csv")
    summary = aeruca.summarise_bath_log(log)
    assert repr(summary).startswith(f"<BathSummary {len(log)} baths, ")
    assert "mg chloride out" in repr(summary)
    assert "chloride out (mg)" in summary._repr_html_()
    store = aeruca.assess_store(record, 42)
    assert store.verdict in store._repr_html_()
    assert "% RH" in store._repr_html_()
    assert "median (5 to 95 %)" in aeruca.fit_bath_log(log)._repr_html_()
    assert ">computed</span></td>" in aeruca.deliquescence("halite")._repr_html_()
    assert "% RH" in repr(aeruca.brine.measured_humidity("halite", 25.0))


def test_a_table_shows_its_first_waters():
    table = aeruca.speciate({"Cu(2+)": np.full(20, 1e-3)}, ph=7, eh_v=0.4, components=["Cu(2+)"])
    shown = table._repr_html_()
    assert shown.count("<tr>") == 11
    assert "20 certified" in shown
