"""Results described once: attributes with unit and meaning, repr, listing, card, stub."""

import csv
import inspect
import io
import json
import math

import pytest

import aeruca
from aeruca import _core


@pytest.fixture(scope="module")
def store(root):
    record = aeruca.read_logger(root / "data/demo/store-log.csv")
    return aeruca.assess_store(record, 42, accuracy_rh_percent=2.0)


def described_classes():
    return [c for c in vars(_core).values() if isinstance(c, type) and hasattr(c, "_sheet")]


def test_the_stub_of_described_results_is_current(root):
    written = (root / "python/aeruca/_results.pyi").read_text(encoding="utf-8")
    # A formatter may have broken long lines; the words are the same.
    words = [text.replace(",)", ")").split() for text in (written, _core._results_stub())]
    assert "".join(words[0]) == "".join(words[1]), "run tests/python/update_stub.py"


def test_every_figure_says_its_meaning_and_unit():
    assert described_classes()
    for kind in described_classes():
        figures = {n: v for n, v in vars(kind).items() if isinstance(v, property)}
        assert figures, kind
        for name, figure in figures.items():
            assert inspect.getdoc(figure), f"{kind.__name__}.{name}"
    assert inspect.getdoc(_core.StoreAssessment.known_hours) == "time known (h)"


def test_a_result_lists_its_figures_with_units(store):
    lines = store.describe().splitlines()
    known = next(line for line in lines if line.startswith("  known_hours"))
    assert known.split()[1:] == [f"{store.known_hours:.4g}", "h", "time", "known"]
    assert any(line.startswith("  surface_rh_percent") and "% RH" in line for line in lines)


def test_a_card_shows_what_matters_first_and_folds_the_rest(store):
    card = store._repr_html_()
    first, rest = card.split("<details>")
    assert store.verdict in first
    assert "humidity at the surface" in first
    assert "gaps" in rest
    assert f"<td>{store.months[0].known_hours:.4g}</td>" in first


def test_what_is_not_known_has_no_unit_and_is_null_in_json(run, root, tmp_path):
    log = tmp_path / "no-temperature.csv"
    rows = "".join(f"2024-01-{d:02d}T{h:02d}:00,40\n" for d in range(1, 11) for h in range(24))
    log.write_text("time,RH\n" + rows, encoding="utf-8")
    store = aeruca.assess_store(aeruca.read_logger(log), 42)
    assert math.isnan(store.time_of_wetness_hours)
    (row,) = [row for row in store._sheet()[0] if row[0] == "time_of_wetness_hours"]
    assert row[2] == "not known"
    told = json.loads(run("store", str(log), "--limit-rh", "42", "--json").stdout)
    assert told["assessment"]["time_of_wetness_hours"] is None
    assert told["assessment"]["above_low"]["longest_spell"] is None


def test_json_attribute_and_listing_are_one_description(run, root, store):
    path = str(root / "data/demo/store-log.csv")
    told = json.loads(run("store", path, "--limit-rh", "42", "--accuracy", "2", "--json").stdout)
    keys = {"start_s": "start", "end_s": "end", "readings": "readings_assessed"}
    keys["left_out"] = "readings_left_out"
    names = [n for n, v in vars(_core.StoreAssessment).items() if isinstance(v, property)]
    assert {keys.get(name, name) for name in names} == set(told["assessment"])
    assert told["assessment"]["coverage"] == store.coverage


def test_a_list_of_a_result_is_csv_with_every_digit(store, root):
    rows = list(csv.DictReader(io.StringIO(store.to_csv("months"))))
    assert [int(row["month"]) for row in rows] == [one.month for one in store.months]
    for row, one in zip(rows, store.months, strict=True):
        assert float(row["mean_rh_percent"]) == one.mean_rh_percent
    record = aeruca.read_logger(root / "data/demo/store-log.csv")
    faults = list(csv.DictReader(io.StringIO(record.to_csv("faults"))))
    assert [row["reason"] for row in faults] == [fault.reason for fault in record.faults]
    with pytest.raises(aeruca.UnknownName, match="no list named 'month'; nearest is 'months'"):
        store.to_csv("month")
    assert not hasattr(store.months[0], "to_csv")
