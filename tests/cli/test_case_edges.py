"""What `aeruca case` once answered wrongly without a word: the verdict and the washing."""

import datetime
import json

import pytest

FIRST, DAY = datetime.date(2026, 1, 1), datetime.timedelta(days=1)
HEAD = "start,end,volume_l,chloride_mg_per_l"


def baths(readings, column="", value=""):
    """Baths of a week and a litre each, with one more column of the same value in every row."""
    rows = [HEAD + ("," + column if column else "")]
    for week, reading in enumerate(readings):
        start, end = FIRST + 7 * week * DAY, FIRST + 7 * (week + 1) * DAY
        row = f"{start},{end},1,{reading}"
        rows.append(row + (f",{value}" if column else ""))
    return "\n".join(rows) + "\n"


@pytest.fixture
def case(run, tmp_path):
    def assess(text, code=0, **logs):
        for name, content in logs.items():
            (tmp_path / f"{name}.csv").write_text(content, encoding="utf-8")
        (tmp_path / "case.toml").write_text(text, encoding="utf-8")
        done = run("case", "case.toml", "--json", cwd=tmp_path)
        assert done.returncode == code, done.stderr
        return json.loads(done.stdout)

    return assess


@pytest.fixture
def printed(run, tmp_path):
    return lambda: " ".join(run("case", "case.toml", "--full", cwd=tmp_path).stdout.split())


def section(case, name):
    return next(part for part in case["sections"] if part["id"] == name)


def findings(case, name):
    return {one["key"]: one for one in section(case, name)["findings"]}


def steady(rh_percent, hours=24 * 330):
    days = (f"{1 + d // 28 % 12:02d}-{1 + d % 28:02d}" for d in range(hours // 24))
    rows = [
        f"2025-{day}T{hour:02d}:00:00,20,{rh_percent + hour % 2 / 10:.1f}"  # a sensor that lives
        for day in days
        for hour in range(24)
    ]
    return "time,temperature_c,rh_percent\n" + "\n".join(rows) + "\n"


def test_a_borderline_store_names_what_keeps_it_from_dormant(case, printed):
    text = '[store]\nlog = "store.csv"\nsensor_accuracy_rh_percent = 7\n'
    done = case(text, store=steady(40))
    assert done["verdict"] == "borderline"
    # Uniform bias of +/-7 on 40.0 and 40.1 in turn: dormant below +1.9, active from +5.9.
    assert done["odds"]["dormant"] == pytest.approx(8.9 / 14)
    assert done["odds"]["active"] == pytest.approx(1.1 / 14)
    assert "dormant 0.64, borderline 0.29, active 0.079" in done["reason"]
    assert "the sensor's +/-7 % RH keeps it from dormant" in done["reason"]
    assert "probability 0.29" not in printed()


def test_a_water_chloride_counts_where_that_of_the_salt_is_not_given(case):
    # 136 mg/L in four baths of 1 L made with water of 9 mg/L; of the salt nothing is known.
    text = (
        '[bath]\nlog = "log.csv"\n[bath.solution]\nsalt = "sodium hydroxide"\n'
        'on_the_shelf = "pellets"\nstrength_percent_w_v = 1\nwater_chloride_mg_per_l = 9\n'
    )
    done = case(text, log=baths([59, 30, 25, 22]))
    assert findings(done, "wash")["extracted_mg"]["value"] == pytest.approx(136 - 4 * 9)
    said = " ".join(section(done, "wash")["warnings"])
    assert "salt_chloride_percent is not given, so the blank may be larger" in said
    blank = findings(done, "solution")["blank_mg_per_l"]
    assert blank["value"] == pytest.approx(9)
    assert "salt_chloride_percent in [bath.solution] is not given" in blank["note"]


ODD = baths([3, 90, 4, 16])


def test_a_model_that_does_not_fit_gives_no_range_and_is_no_success(case):
    done = case('[bath]\nlog = "log.csv"\nstop_mg_per_l = 5\n', code=3, log=ODD)
    wash = section(done, "wash")
    assert wash["status"] == "no answer"
    keys = {one["key"] for one in wash["findings"]}
    assert not keys & {"left_mg", "next_reading_mg_per_l", "more_days", "more_baths"}
    assert "p = " in wash["answer"] or "p below" in wash["answer"]
    assert not any("expected" in line for line in done["in_short"])


def test_a_strip_that_cannot_see_the_stop_gets_no_end_date(case):
    strip = baths([500, 210, 160, 133, 110, 90, 72, 58], "detection_limit_mg_per_l", 30)
    wash = section(case('[bath]\nlog = "log.csv"\nstop_mg_per_l = 5\n', log=strip), "wash")
    assert "more_days" not in {one["key"] for one in wash["findings"]}
    assert "30 mg/L" in wash["answer"]


def test_a_temperature_column_of_the_baths_is_not_passed_over(case):
    warm = baths([50, 21, 16, 13], "temperature_c", 19)
    wash = section(case('[bath]\nlog = "log.csv"\n', log=warm), "wash")
    assert any("temperature_c" in line for line in wash["warnings"] + wash["remarks"])
