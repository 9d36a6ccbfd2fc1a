"""What `aeruca bath log LOG --json` prints, held against its JSON Schema."""

import copy
import json
from pathlib import Path

import jsonschema
import pytest

ROOT = Path(__file__).parents[2]
HEAD = "start,end,read_on,volume_l,chloride_mg_per_l,detection_limit_mg_per_l,blank_mg_per_l\n"
STRIPS = (
    HEAD
    + "2025-01-06,2025-01-13,,2,>300,,1\n2025-01-13,2025-01-20,,2,30-60,,1\n"
    + "2025-01-20,2025-01-27,,2,~37,,1\n2025-01-27,2025-02-03,,2,,,\n"
    + "2025-02-03,,2025-02-10,2,n.d.,5,1\n"
)
ONE_BATH = HEAD + "2025-01-06,2025-01-13,,2,63.1,2,1\n"


@pytest.fixture(scope="module")
def schema():
    read = json.loads((ROOT / "data/schema/bath-log.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(read)
    return jsonschema.Draft202012Validator(read)


@pytest.fixture
def printed(run, tmp_path):
    def read(log, *more):
        path = log
        if not isinstance(log, Path):
            path = tmp_path / "log.csv"
            path.write_text(log)
        done = run("bath", "log", str(path), "--json", *more)
        assert done.returncode in (0, 3), done.stderr  # 3: printed, but no fit
        return json.loads(done.stdout)

    return read


@pytest.mark.parametrize("name", ["bath-log", "strip-log", "two-store-log", "reserve-log"])
def test_the_demo_logs_keep_to_the_schema(schema, printed, name):
    log = ROOT / "data" / "demo" / f"{name}.csv"
    schema.validate(printed(log))
    schema.validate(printed(log, "--object-mass-g", "180", "--stop-mg-per-l", "2"))


@pytest.mark.parametrize("log", [STRIPS, ONE_BATH], ids=["strips", "one bath"])
def test_a_log_that_allows_no_fit_keeps_to_the_schema(schema, printed, log):
    schema.validate(printed(log))


def test_the_schema_refuses_what_no_log_says(schema, printed):
    good = printed(STRIPS)
    wrongs = [
        ("kind", "guessed"),
        ("volume_l", 0),
        ("chloride_mg_per_l", None),
        ("end", None),
        ("line", 0),
        ("hue", "blue"),
        ("colour", 7),
        ("ph", 25),
    ]
    for key, value in wrongs:
        bad = copy.deepcopy(good)
        bad["summary"]["baths"][0][key] = value
        assert not schema.is_valid(bad), key
    bad = copy.deepcopy(good)
    del bad["summary"]["baths"][0]["blank_mg_per_l"]
    assert not schema.is_valid(bad)
