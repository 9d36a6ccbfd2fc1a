"""`aeruca path`: the ready-made ones and one of your own."""

import json
from collections.abc import Callable
from subprocess import CompletedProcess

import pytest

Run = Callable[..., CompletedProcess[str]]

COPPER = ("--component", "Cu(2+)", "--component", "Cl(-)", "--component", "Na(+)")
START = ("--total", "copper=0.1", "--total", "halite=0.6")


@pytest.mark.parametrize(
    ("which", "words"),
    [
        ("coin", "cuprite appears"),
        ("nantokite-air", "80.8 ug of oxygen"),
        ("nantokite-bath", "* with tenorite, spertiniite left out"),
        ("carbonate-bath", "the bath loses 53.9 mmol/L of carbon dioxide"),
    ],
)
def test_a_ready_path_says_what_to_read_and_what_it_leaves_out(
    run: Run, which: str, words: str
) -> None:
    done = run("path", which)
    assert done.returncode == 0, done.stderr
    said = " ".join(done.stdout.split())
    for part in (words, "What to read:", "What it leaves out:"):
        assert part in said, part
    assert json.loads(run("path", which, "--json").stdout)["data_set"]["version"]


def test_a_pit_is_given_by_its_width(run: Run) -> None:
    done = run("path", "nantokite-air", "--pit", "1")
    assert "All of it draws 87.6 ug of oxygen" in " ".join(done.stdout.split())
    both = run("path", "nantokite-air", "--pit", "1", "--nantokite", "1")
    assert both.returncode == 2


def test_a_path_of_ones_own(run: Run) -> None:
    air = ("--gas", "O2(g)", "--gas-bar", "0.2095")
    done = run("path", "follow", "aerate", *START, *air, *COPPER, "--json")
    assert done.returncode == 0, done.stderr
    path = json.loads(done.stdout)["path"]
    assert path["events"][0]["solid"] == "cuprite"
    assert path["events"][-1]["change"] == "air_reached"
    assert len(path["ph"]) == len(path["progress"]) == len(path["solids"][0]["mol_per_kg"])


def test_a_path_that_cannot_go_on_ends_with_a_sentence(run: Run) -> None:
    salt = ("--total", "halite=0.5", "--component", "Na(+)", "--component", "Cl(-)")
    held = ("--ph", "7", "--eh", "0.4", "--activity", "pitzer")
    done = run("path", "follow", "dry", *salt, *held, "--to", "0.7")
    assert done.returncode == 3
    assert "the path ends at a progress of 0.75" in done.stdout


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (("titrate", *START), "added = nothing: accepted is an ingredient or more for a path"),
        (("boil", *START), "kind = boil: accepted is titrate, aerate, dilute, dry, heat or"),
        (("aerate", *START, "--gas", "N2(g)"), "gas = N2(g): accepted is O2(g) or CO2(g) for a"),
        (("aerate", *START, "--gas", "O2(g)"), "gas_bar = nothing: accepted is the fugacity in"),
        (("heat", "--total", "halite"), '--total = halite: accepted is NAME=NUMBER, such as "hal'),
    ],
)
def test_bad_paths_are_one_sentence(run: Run, arguments: tuple[str, ...], message: str) -> None:
    done = run("path", "follow", *arguments)
    assert done.returncode == 1
    assert message in done.stderr
    assert done.stderr.count("\n") == 1
