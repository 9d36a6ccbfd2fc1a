"""The fields command."""

import json
import re

import pytest


@pytest.fixture
def fields(run):
    """Run the command and check its exit code."""

    def call(*arguments, code=0):
        done = run("fields", *arguments)
        assert done.returncode == code, done.stderr
        return done

    return call


def test_the_listing_holds_fields_edges_corners_and_the_data_set(fields):
    text = fields("--set", "Cl(-)=-0.44").stdout
    for part in (
        "Stability fields of copper: pH from 0 to 14, Eh / V vs SHE from -1 to 1.4",
        "cuprite + 2 e(-) + 2 H(+) = 2 copper + H2O   log10 K 15.66 +/- 0.02",
        "Eh = 0.4632 - 0.0592 pH",
        "Corners (pH, Eh / V vs SHE)",
        "Water below this line gives off hydrogen",
        "are not told apart",
        "Thermodynamics says what may form in endless time",
        "Data set ",
    ):
        assert part in text, part


def test_the_shares_of_the_listing_make_up_the_frame(fields):
    shares = re.findall(r" ([0-9.]+) %  around", fields("--set", "Cl(-)=-0.44").stdout)
    assert len(shares) > 5
    assert sum(float(share) for share in shares) == pytest.approx(100, abs=0.05 * len(shares))


def test_json_is_whole_and_tiles(fields):
    data = json.loads(fields("--set", "Cl(-)=-0.44", "--json").stdout)
    assert sum(field["area_fraction"] for field in data["fields"]) == pytest.approx(1, rel=1e-12)
    assert {"reaction", "log10_k", "line", "figures"} <= set(data["edges"][0])
    assert all(len(corner["species"]) >= 3 for corner in data["corners"])
    assert len(data["data_set"]["content_hash"]) == 16


def test_a_point_says_which_how_much_and_how_sure(fields):
    text = fields("--set", "Cl(-)=-0.44", "--at", "9", "0.4").stdout
    assert "Most stable: tenorite" in text
    assert "kJ per mol copper" in text
    data = json.loads(fields("--at", "9", "-0.6", "--json").stdout)
    assert data["species"] == "copper"
    assert data["decided"] is True


def test_an_answer_that_hangs_on_the_chosen_constant_says_so(fields):
    pair = ("--set", "Cl(-)=0", "--only", "nantokite", "--only", "copper", "--at", "3", "0.14")
    text = fields(*pair).stdout
    assert "Decided by the chosen constants only" in text
    assert "with the other published constant C03 the most stable is copper" in text


def test_what_is_left_out_is_said_with_its_reason(fields):
    text = fields("--leave-out", "tenorite: ages too slowly here").stdout
    assert "Left out: tenorite (ages too slowly here)" in text
    assert "spertiniite" in text


WITHOUT_AN_ENTHALPY = """[[reaction]]
id = "H1C.enthalpy"
equation = "Cu(2+) + 3 H2O = Cu(OH)3(-) + 3 H(+)"
quantity = "enthalpy"
value = 149.2
unit = "kJ/mol"
source = "aeruca"
place = "derived here: left out for a test"
basis = "derived"
chosen = false
reason = "left out for a test"
"""


def test_another_temperature_leaves_out_what_it_cannot_know(run, tmp_path):
    own = tmp_path / "own.toml"
    own.write_text(WITHOUT_AN_ENTHALPY)
    other = ("--add-data", str(own), "fields", "--temperature", "5")
    text = run(*other, "--missing-enthalpy", "leave-out").stdout
    assert "Left out: Cu(OH)3(-) (its enthalpy is not known" in text
    assert "cuprite" in text
    assert (
        "leave out those without an enthalpy" in run(*other, "--missing-enthalpy", "refuse").stderr
    )
    guess = run(*other).stdout
    assert "estimated by a rule" in guess
    assert "Cu(OH)3(-)" in guess
    assert "Left out" not in run("fields", "--temperature", "5").stdout


def test_a_ligand_that_changes_form_bends_the_edges(fields):
    text = fields("--set", "Cl(-)=-2", "--dissolved", "CO3(2-)=-2", "--copper", "-4").stdout
    assert "log10 a(dissolved CO3(2-)) = -2" in text
    assert "malachite" in text
    assert "+ HCO3(-)" in text


def test_other_axes(fields):
    text = fields("--y", "Cl(-)", "--y-range", "-5", "0.5", "--eh", "0.25", "--copper", "-2").stdout
    assert "log10 a(Cl(-)) = -5.915 + pH" in text  # nantokite and cuprite


@pytest.mark.parametrize(
    ("arguments", "part", "code"),
    [
        (["--set", "Cl(-)"], "NAME=LOG10", 1),
        (["--set", "Cl(-)=x"], "NAME=LOG10", 1),
        (["--set", "Cl(-)=-1", "--set", "Cl(-)=-2"], "each name once", 2),
        (["--set", "Cl(--)=-1"], "nearest is 'Cl(-)'", 1),
        (["--x-range", "9", "3"], "low before high", 1),
        (["--x", "Cl(-)"], "ph = not given", 1),
        (["--leave-out", "tenorit"], "nearest is 'tenorite'", 1),
        (["--only", "malachite"], "an activity is missing", 1),
        (["--temperature", "80"], "0 to 50", 1),
        (["--at", "7", "9"], "-3 to 3 V", 1),
        (["--at", "7"], "2 required", 2),
        (["--copper", "much"], "much", 2),
        (["--colour", "red"], "colour", 2),
    ],
)
def test_wrong_arguments_are_refused_in_one_sentence(fields, arguments, part, code):
    done = fields(*arguments, code=code)
    assert part in done.stderr
    assert done.stdout == ""
