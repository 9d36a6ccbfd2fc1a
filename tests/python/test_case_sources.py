"""A case from text, from a dictionary and many at once; the two schemas."""

import copy
import datetime
import json
from pathlib import Path

import jsonschema
import pytest

import aeruca
from aeruca import case as cases

tomllib = pytest.importorskip("tomllib")  # Python 3.11
ROOT = Path(__file__).parents[2]
DEMO = ROOT / "data" / "demo" / "case.toml"
SAME = ("verdict", "odds", "reason", "in_short", "sections", "next", "not_known")


def plain(value):
    """Dates as text, as JSON has them."""
    return json.loads(json.dumps(value, default=str))


@pytest.fixture(scope="module")
def demo():
    return aeruca.assess_case(DEMO, date="2026-06-30")


@pytest.fixture(scope="module")
def said():
    return tomllib.loads(DEMO.read_text(encoding="utf-8"))


def test_text_and_dictionary_say_what_the_file_says(demo, said):
    text = cases.assess_case_text(DEMO.read_text(encoding="utf-8"), folder=DEMO.parent)
    table = aeruca.assess_case(said, folder=DEMO.parent)
    for key in SAME:
        assert text.to_dict()[key] == demo.to_dict()[key]
        assert table.to_dict()[key] == demo.to_dict()[key]


def test_a_dictionary_may_say_none_and_awkward_words():
    name = 'a "bell"\n\\ \x7f \u00e9'
    case = aeruca.assess_case(
        {
            "object": {"name": name, "mass_g": None},
            "observation": [{"date": datetime.date(2026, 3, 4), "kind": "new growth"}],
        }
    )
    assert case.name == name
    assert case.to_dict()["object"]["mass_g"] is None
    assert case.to_dict()["object"]["observations"][0]["date"] == "2026-03-04"


def test_a_wrong_key_of_a_dictionary_is_named():
    with pytest.raises(aeruca.FileError, match=r"\(dictionary\), line 1, object.mas_g: no key"):
        aeruca.assess_case({"object": {"mas_g": 3}})
    with pytest.raises(aeruca.InputError, match=r"mass_g = .*accepted is a number, a text"):
        aeruca.assess_case({"object": {"mass_g": 3j}})


def test_many_cases_one_bad_file_costs_its_own_line(demo, tmp_path):
    bad = tmp_path / "bad.toml"
    bad.write_text("[object]\nmas_g = 3\n", encoding="utf-8")
    paths = [DEMO, bad, tmp_path / "none.toml", DEMO]
    for threads in (1, 3):
        first, second, third, last = cases.assess_cases(paths, date="2026-06-30", threads=threads)
        assert first.assessment.to_dict() == last.assessment.to_dict() == demo.to_dict()
        assert first.problem == ""
        assert second.assessment is None
        assert "no key named 'mas_g'" in second.problem
        assert "cannot be opened" in third.problem
        assert third.path == str(tmp_path / "none.toml")
    assert cases.assess_cases([]) == []


@pytest.fixture(scope="module")
def case_form():
    jsonschema.Draft202012Validator.check_schema(cases.case_file_schema())
    return jsonschema.Draft202012Validator(cases.case_file_schema())


@pytest.fixture(scope="module")
def assessment_form():
    jsonschema.Draft202012Validator.check_schema(cases.assessment_schema())
    return jsonschema.Draft202012Validator(cases.assessment_schema())


def filled(template):
    """The template with every remark that holds a key or a section put to use."""
    lines = []
    for line in template.splitlines():
        body = line[2:] if line.startswith("# ") else line
        key = " = " in body or body.startswith("[")
        lines.append(body if key and not body.startswith("aerated") else line)
    return "\n".join(lines)


def test_demo_and_template_have_the_form_of_a_case_file(said, case_form, tmp_path):
    aeruca.new_case(tmp_path / "new.toml")
    template = (tmp_path / "new.toml").read_text(encoding="utf-8")
    for text in (said, tomllib.loads(template), tomllib.loads(filled(template)), {}):
        case_form.validate(plain(text))


def wrong(change):
    case = {"object": {}, "water": [{"ph": 7}], "bath": {"solution": {}}, "store": {}}
    change(case)
    return case


@pytest.mark.parametrize(
    "change",
    [
        lambda c: c.update(schema=2),
        lambda c: c.update(baths={}),
        lambda c: c["object"].update(mass_g=-3),
        lambda c: c["object"].update(mass_g="3"),
        lambda c: c["object"].update(features=["guilded"]),
        lambda c: c["water"][0].update(chloride_mg_per_l="plenty"),
        lambda c: c["water"][0].update(chlorid=5),
        lambda c: c["store"].update(object_cooler_by_k=30),
        lambda c: c["bath"].update(shape="cube"),
        lambda c: c["bath"]["solution"].update(salt_chloride_percent=5),
    ],
)
def test_what_the_reader_refuses_the_form_refuses(change, case_form):
    case = wrong(change)
    assert list(case_form.iter_errors(case))
    with pytest.raises(aeruca.FileError):
        aeruca.assess_case(case)


@pytest.mark.parametrize(
    "case",
    [
        {},
        {"store": {"log": "none.csv"}},
        {"water": [{"ph": 7, "eh_mv": 300, "chloride_mg_per_l": 300}]},
        {"water": {"ph": 7, "chloride_mg_per_l": "< 5"}, "object": {"features": ["gilded"]}},
    ],
)
def test_every_assessment_has_its_form(case, assessment_form):
    assessment_form.validate(aeruca.assess_case(case).to_dict())


def test_the_demo_has_the_form_of_an_assessment_and_another_has_not(demo, assessment_form):
    data = demo.to_dict()
    assert data["schema"] == 1
    assessment_form.validate(data)
    for key in data:
        less = copy.deepcopy(data)
        del less[key]
        assert list(assessment_form.iter_errors(less)), key


def test_the_tool_prints_the_shipped_schemas(run):
    for name, schema in (
        ("case-file", cases.case_file_schema()),
        ("assessment", cases.assessment_schema()),
    ):
        done = run("case", "--schema", name)
        assert done.returncode == 0
        assert json.loads(done.stdout) == schema
        shipped = ROOT / "data" / "schema" / f"{name}.json"
        assert done.stdout == shipped.read_text(encoding="utf-8")
