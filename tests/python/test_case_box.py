"""[store.enclosure] of a case: its section, its dates, its figure, and what is refused of it."""

import math

import numpy as np
import pytest

import aeruca
from aeruca import case as cases

BOX = {
    "volume_m3": 0.05,
    "exchange_per_day": 0.5,
    "gel_kg": 0.3,
    "outside_rh_percent": 60,
    "temperature_c": 20,
    "start_rh_percent": 10,
}


def assessed(folder=None, store=None, date="", **changed):
    enclosure = {key: value for key, value in (BOX | changed).items() if value is not None}
    return aeruca.assess_case(
        {"store": {**(store or {}), "enclosure": enclosure}}, folder=folder, date=date
    )


def write_log(path, days, rh, temperature=20.0):
    times = np.datetime64("2025-01-01T00:00") + np.arange(24 * days) * np.timedelta64(1, "h")
    rows = [f"{t},{temperature},{rh + 0.1 * (i % 7):.1f}" for i, t in enumerate(times)]
    path.write_text("time,temperature,RH\n" + "\n".join(rows) + "\n")


def test_a_box_has_its_section_between_the_store_and_the_baths():
    case = assessed(started="2026-01-01", limit_rh_percent=40)
    assert [part.id for part in case.sections] == ["stable", "dry", "box", "wash", "solution"]
    section = case.section("box")
    assert section.answer == case.box.summary
    assert section["review_date"].text == case.box.review_date
    days = section["days_to_limit"]
    assert days.low < days.value < days.high
    assert section["gel_for_visit_half_exchange_kg"].value < section["gel_for_visit_kg"].value
    assert {"thu2013", "cho1992"} <= {one.source for one in case.constants}
    assert case.box.summary in case.in_short
    assert case.box.summary.split(":")[0] in " ".join(case.to_text().split())


def test_a_section_that_rests_on_our_own_rule_says_so_and_is_not_answered_in_full():
    own, told = assessed(), assessed(exchange_uncertainty_percent=10)
    assert own.section("box").status == "partly"
    assert "our own rule" in own.box.summary
    assert any("decay test" in what for what, _ in own.next)
    assert told.section("box").status == "answered"
    assert "our own rule" not in told.box.summary
    assert not any("decay test" in what for what, _ in told.next)


def test_without_a_record_the_limit_is_the_onset_in_the_air_at_the_object():
    case = assessed(store={"onset": "scott-1990"})
    assert case.box.limit_from == "onset"
    assert case.box.limit_rh_percent == pytest.approx(42)
    cooler = assessed(store={"onset": "scott-1990", "object_cooler_by_k": 1})
    assert aeruca.store.surface_rh_percent(cooler.box.limit_rh_percent, 20, 1) == pytest.approx(42)


def test_start_limit_and_date_follow_from_the_record(tmp_path):
    write_log(tmp_path / "in.csv", 60, 25)
    case = assessed(
        tmp_path, {"log": "in.csv", "sensor_accuracy_rh_percent": 2}, start_rh_percent=None
    )
    assert case.box.limit_from == "set_point"
    assert case.box.limit_rh_percent == math.floor(case.store.set_point_rh_percent)
    assert case.box.start_from_record
    assert case.box.start_rh_percent == pytest.approx(25.3, abs=0.05)
    place = case.in_short.index(case.store.set_point)
    assert case.in_short[place + 1] == case.box.summary
    late = assessed(
        tmp_path,
        {"log": "in.csv", "sensor_accuracy_rh_percent": 2},
        date="2030-01-01",
        start_rh_percent=None,
    )
    assert late.in_short[place + 2] == f"That day, {case.box.review_date}, has gone by."


def test_the_leakage_from_a_decay_test_and_from_both_records(tmp_path):
    hours = np.arange(0, 48)
    lines = "\n".join(f"{h},{420 + 2000 * math.exp(-0.8 * h / 24):.1f}" for h in hours)
    (tmp_path / "co2.csv").write_text(lines + "\n")
    case = assessed(tmp_path, exchange_per_day=None, decay_test="co2.csv", decay_background=420)
    assert case.box_exchange.exchange_per_day == pytest.approx(0.8, rel=1e-3)
    assert "found from 48 readings" in case.section("box")["exchange_per_day"].note
    assert "decay test" in [one["role"] for one in case.to_dict()["inputs"]]
    write_log(tmp_path / "out.csv", 100, 60)
    climate = {"outside_rh_percent": None, "temperature_c": None, "outside_log": "out.csv"}
    kept = assessed(tmp_path, **climate)
    assert kept.box.forecast.visit_days == 99
    write_log(tmp_path / "in.csv", 60, 25)
    untold = assessed(tmp_path, {"log": "in.csv"}, exchange_per_day=None, **climate)
    assert untold.section("box").status == "refused"
    assert "cannot tell the exchange" in untold.section("box").answer


def test_what_is_missing_is_named():
    section = assessed(volume_m3=None, exchange_per_day=None, start_rh_percent=None).section("box")
    assert section.status == "missing"
    assert len(section.missing) == 3
    assert section.missing[0] == "volume_m3 of the box"


def test_a_file_that_cannot_be_used_costs_its_own_section(tmp_path):
    (tmp_path / "co2.csv").write_text("hours;CO2\n1;x\n2;y\n3;z\n")
    case = assessed(tmp_path, exchange_per_day=None, decay_test="co2.csv", decay_background=4)
    assert case.section("box").status == "bad input"
    assert not case.complete
    assert case.section("dry").status != "bad input"


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"volume_m3": -1}, "store.enclosure.volume_m3: -1 is out of range"),
        (
            {"gel": "thu-2012"},
            "store.enclosure.gel: 'thu-2012' is not known; nearest is 'thu-2013'",
        ),
        ({"decay_test": "a.csv", "decay_background": 4}, "decay_test: beside exchange_per_day"),
        ({"decay_background": 4}, "decay_background: of no test"),
        ({"outside_log": "a.csv"}, "outside_rh_percent: beside outside_log"),
        ({"contents_rh_percent": [20, 40]}, "contents_rh_percent: 2: accepted is at least 2"),
        (
            {"contents_rh_percent": [20, 40], "contents_moisture_percent": [4, "x"]},
            "'x' in the list is no number",
        ),
        ({"contents_kg": 2}, "contents_kg: 2: accepted is a dry mass above 0 beside"),
        ({"start_rh_percent": 2}, "start_rh_percent: 2: accepted is 5.6 to 95.3 % RH"),
        ({"limit_rh_percent": 99}, "limit_rh_percent: 99: accepted is 5.6 to 95.3 % RH"),
        ({"started": "yesterday"}, "started: 'yesterday' is no date"),
        ({"gel_kgs": 2}, "no key named 'gel_kgs'; nearest is 'gel_kg'"),
    ],
)
def test_what_cannot_be_is_refused_in_one_sentence(changed, said):
    with pytest.raises(aeruca.FileError) as problem:
        assessed(**changed)
    assert said in str(problem.value)
    assert "\n" not in str(problem.value)


def test_its_json_and_its_file_fit_the_schemas():
    jsonschema = pytest.importorskip("jsonschema")
    case = assessed(started="2026-01-01", limit_rh_percent=40)
    jsonschema.validate(case.to_dict(), cases.assessment_schema())
    given = {"store": {"enclosure": BOX | {"started": "2026-01-01"}}}
    jsonschema.validate(given, cases.case_file_schema())
    told = case.to_dict()["box"]
    assert told["review"]["review_date"] == case.box.review_date
    assert len(told["forecast"]["days"]) == len(told["forecast"]["low_rh_percent"]) == 201
    assert aeruca.assess_case({}).to_dict()["box"] is None


def test_the_report_draws_the_box():
    pytest.importorskip("matplotlib")
    from aeruca.drawing.report_figures import case_figures

    drawn = [one for one in case_figures(assessed(limit_rh_percent=40)) if one.section == "box"]
    assert len(drawn) == 1
    assert drawn[0].svg.startswith("<svg")
    assert "1 draw in 20" in drawn[0].alt


def test_an_analysis_of_the_salts_is_drawn_at_every_humidity(tmp_path):
    pytest.importorskip("matplotlib")
    from aeruca.drawing.report_figures import case_figures

    rows = "ion,amount\nsodium,230 mg/kg\npotassium,195 mg/kg\nchloride,535 mg/kg\n"
    (tmp_path / "salts.csv").write_text(rows)
    case = aeruca.assess_case({"store": {"salt_analysis": "salts.csv"}}, folder=tmp_path)
    found = case.section("dry")["mutual_deliquescence_rh_percent"].value
    assert found == case.mixture.mutual_deliquescence_rh_percent == pytest.approx(72.36, abs=0.05)
    table = case.section("dry").tables[-1]
    assert [row[2] for row in table.rows] == ["halite, sylvite", "sylvite", "none"]
    assert "salt analysis" in [one["role"] for one in case.to_dict()["inputs"]]
    drawn = [one for one in case_figures(case) if one.section == "dry"]
    assert len(drawn) == 1
    assert "72.4" in drawn[0].alt
    (tmp_path / "salts.csv").write_text("ion,amount\nsodium,230 mg/kg\n")
    with pytest.raises(aeruca.FileError, match=r"store\.salt_analysis"):
        aeruca.assess_case({"store": {"salt_analysis": "salts.csv"}}, folder=tmp_path)
