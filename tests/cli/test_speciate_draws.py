"""`aeruca speciate --draws`: ranges, chances, what carries the doubt, and wrong options."""

import json
from collections.abc import Callable
from subprocess import CompletedProcess
from typing import Any

import pytest

Run = Callable[..., CompletedProcess[str]]

WATER = (
    "speciate", "--total", "copper=2 mg/L", "--total", "chloride=640 mg/L", "--total",
    "sodium=405 mg/L", "--alkalinity", "310 mg/L", "--ph", "7.2", "--potential", "230",
)  # fmt: skip


def ranges(run: Run, *more: str) -> Any:
    done = run("--json", *WATER, *more)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)["ranges"]


def test_a_page_of_ranges_follows_the_water(run: Run) -> None:
    done = run(*WATER, "--draws", "300", "--seed", "7")
    assert done.returncode == 0, done.stderr
    water, page = done.stdout.split("\nHow far the constants let this be known", 1)
    assert water.strip() == run(*WATER).stdout.strip()
    for text in (
        "300 draws of them (seed 7)",
        "as stated",
        "as published",
        "malachite",
        "above 0.99",
        "What carries the doubt, to be read in print first",
        "R01    Cu(2+) + 2 e(-) = copper: uncertainty 0.27, 3 other figures published; memory,",
        "Not in it: the activity model",
        "A certificate proves equations, not constants.",
    ):
        assert text in page


def test_the_options_have_an_effect(run: Run) -> None:
    first = ranges(run, "--draws", "200")
    assert (first["draws"], first["seed"]) == (200, 1)
    assert ranges(run, "--draws", "200", "--seed", "1") == first
    assert ranges(run, "--draws", "200", "--seed", "2") != first
    assert ranges(run, "--draws", "201")["draws"] == 201
    assert "ranges" not in json.loads(run("--json", *WATER).stdout)


def test_the_shares_name_figures_of_the_data_set(run: Run) -> None:
    cuprite = ranges(run, "--draws", "2000")["saturation_index"]["cuprite"]
    carrier = cuprite["carried_by"][0]
    assert carrier["figure"] == "R01"
    assert carrier["share"] > 0.5
    shown = run("constants", carrier["figure"])
    assert carrier["subject"] in shown.stdout
    assert cuprite["as_stated"]["percentile_2_5"] < cuprite["undrawn"]
    assert cuprite["undrawn"] < cuprite["as_stated"]["percentile_97_5"]


def test_solids_that_may_form_have_chances_and_amounts(run: Run) -> None:
    found = ranges(run, "--draws", "400", "--solids", "malachite,tenorite")
    assert found["solids"]["malachite"]["allowed"] is True
    assert found["solids"]["azurite"]["allowed"] is False
    assert found["solids"]["malachite"]["as_published"]["probability"] > 0.5
    assert found["solid_mol_per_kg"]["malachite"]["undrawn"] > 0
    copper = found["log10_dissolved"]["copper"]
    assert copper["as_stated"]["percentile_97_5"] - copper["as_stated"]["percentile_2_5"] > 0.1
    chance = found["solids"]["tenorite"]["as_stated"]
    assert 0 < chance["standard_error"] < 0.03


@pytest.mark.parametrize(
    ("more", "code", "said"),
    [
        (("--draws", "99"), 1, "draws"),
        (("--draws", "100001"), 1, "100 to 100 000"),
        (("--draws", "many"), 2, "--draws"),
        (("--seed", "3"), 2, "beside draws"),
        (("--draws", "200", "--seed", "-1"), 2, "--seed"),
    ],
)
def test_draws_asked_for_wrongly_are_refused(
    run: Run, more: tuple[str, ...], code: int, said: str
) -> None:
    done = run(*WATER, *more)
    assert done.returncode == code
    assert said in done.stderr
    assert done.stdout == ""
