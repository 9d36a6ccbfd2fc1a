"""The assessment of a case from Python."""

import json
from pathlib import Path

import pytest

import aeruca

DEMO = Path(__file__).parents[2] / "data" / "demo" / "case.toml"


@pytest.fixture(scope="module")
def demo() -> aeruca.CaseAssessment:
    return aeruca.assess_case(DEMO, date="2026-06-30")


def test_the_assessment_says_what_the_tool_says(demo, run):
    done = run("case", str(DEMO), "--date", "2026-06-30", "--full")
    assert demo.to_text() == done.stdout
    done = run("case", str(DEMO), "--date", "2026-06-30", "--json")
    assert demo.to_dict() == json.loads(done.stdout)


def test_sections_and_findings_are_found_by_name(demo):
    assert demo.section("solution")["ph"].value == pytest.approx(9.97, abs=0.05)
    with pytest.raises(KeyError, match="there are stable, dry, box, wash, solution"):
        demo.section("bath")
    with pytest.raises(KeyError, match="no finding named 'pH'"):
        demo.section("solution")["pH"]


def test_the_dictionary_is_a_copy(demo):
    demo.to_dict()["sections"].clear()
    assert len(demo.to_dict()["sections"]) == 6


def test_repr_names_object_and_verdict(demo):
    assert repr(demo).startswith("<CaseAssessment 'Bird-head mount")
    assert demo.verdict in repr(demo)


def test_notebook_display_escapes_what_the_user_wrote(tmp_path):
    path = tmp_path / "case.toml"
    path.write_text('[object]\nname = "<script>alert(1)</script>"\n', encoding="utf-8")
    page = aeruca.assess_case(path)._repr_html_()
    assert "<script>" not in page
    assert "&lt;script&gt;" in page


def test_no_date_is_made_up(tmp_path):
    path = tmp_path / "case.toml"
    path.write_text("", encoding="utf-8")
    case = aeruca.assess_case(path)
    assert case.to_dict()["date"] is None
    assert "(date not stated)" in case.to_text()


def test_another_data_set_serves(demo):
    case = aeruca.assess_case(DEMO, dataset=aeruca.default_dataset())
    assert case.verdict == demo.verdict


def test_a_template_is_written_once(tmp_path):
    path = tmp_path / "new.toml"
    aeruca.new_case(path)
    assert aeruca.assess_case(path).verdict == "not known"
    with pytest.raises(aeruca.FileError, match="never overwritten"):
        aeruca.new_case(path)


def test_width_out_of_range(demo):
    with pytest.raises(aeruca.InputError, match="width = 20: accepted is a whole number"):
        demo.to_text(20)


@pytest.mark.parametrize("date", ["soon", "2026-02-30", "2026-3-4"])
def test_a_date_is_a_day_of_the_calendar(date, tmp_path):
    path = tmp_path / "case.toml"
    path.write_text("", encoding="utf-8")
    with pytest.raises(aeruca.InputError) as caught:
        aeruca.assess_case(path, date=date)
    accepted = "accepted is year-month-day such as 2026-03-04"
    assert str(caught.value) == f"date = {date}: {accepted}"
