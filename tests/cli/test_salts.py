"""`aeruca salts`: table, one salt, one solution, onset bands, bad input."""

import json
from collections.abc import Callable
from pathlib import Path
from subprocess import CompletedProcess

import pytest

Run = Callable[..., CompletedProcess[str]]


def test_table_shows_computed_beside_measured(run: Run) -> None:
    done = run("salts")
    assert done.returncode == 0
    assert done.stderr == ""
    line = next(text for text in done.stdout.splitlines() if text.startswith("halite"))
    assert " ".join(line.split()) == (
        "halite NaCl 75.2 +/- 0.3 75.29 +/- 0.12 25 -0.1 6.153 Na-Cl:HMW84+PPB84"
    )
    assert "eriochalcite" in done.stdout
    assert "no test" in done.stdout
    assert "carnallite" in done.stdout.split("Not known at this temperature:")[1]
    assert done.stdout.splitlines()[-1].startswith("Data set ")


def row_of(table: str, salt: str) -> str:
    line = next(text for text in table.splitlines() if text.startswith(salt + " "))
    return " ".join(line.split())


# Evaluated (Steiger and Asmussen 2008): mirabilite 95.6 and thenardite 86.6 at 20 C; the
# compiled 87 of mirabilite at 25 C is superseded and must not stand in the table.
def test_the_best_measurement_stands_in_the_table(run: Run) -> None:
    table = run("salts").stdout
    assert " 95.6 20 " in row_of(table, "mirabilite")
    assert " 86.6 20 " in row_of(table, "thenardite")
    kinds = ("evaluated", "measured", "compiled")
    for salt in json.loads(run("salts", "--json").stdout)["salts"]:
        order = [(one["doubtful"], kinds.index(one["kind"])) for one in salt["measured"]]
        assert order == sorted(order), salt["solid"]
    detail = run("salts", "mirabilite").stdout
    assert "doubtful, compiled" in detail


def test_a_disagreement_is_marked(run: Run) -> None:
    table = run("salts").stdout
    marked = [line for line in table.splitlines() if " ! " in line]
    assert marked
    assert "! computed and measured disagree by more than twice" in table


# A solution of gypsum is nearly water; the vapour alone is not known to better than 0.1 %.
@pytest.mark.parametrize("salt", ["gypsum", "portlandite", "niter", "chalcanthite", "sylvite"])
def test_no_humidity_is_known_without_limit(run: Run, salt: str) -> None:
    (one,) = json.loads(run("salts", salt, "--json").stdout)["salts"]
    assert one["rh_uncertainty_percent"] >= 0.1
    assert "what is left out" in one["uncertainty_from"]
    assert "+/- 0.00 " not in run("salts").stdout
    assert "+/- 0.00 " not in run("salts", salt).stdout


def test_one_salt_in_detail(run: Run) -> None:
    done = run("salts", "halite", "--temperature", "25")
    assert done.returncode == 0
    for text in (
        "halite, NaCl, at 25 degrees C",
        "% RH",
        "mol/kg",
        "Greenspan",
        "uncertainty:",
        "source:",
    ):
        assert text in done.stdout


def test_json_carries_everything(run: Run) -> None:
    done = run("--json", "salts", "CuCl2")
    answer = json.loads(done.stdout)
    (salt,) = answer["salts"]
    assert salt["solid"] == "eriochalcite"
    assert salt["independent_of_measured_humidity"] is False
    assert salt["measured"][0]["basis"] in {"memory", "looked-up"}
    assert len(answer["data_set"]["content_hash"]) == 16


def test_not_known_is_an_answer_of_its_own(run: Run) -> None:
    done = run("salts", "carnallite")
    assert done.returncode == 3
    assert "not known, because a double salt" in done.stdout
    done = run("salts", "carnallite", "--json")
    assert done.returncode == 3
    assert json.loads(done.stdout)["salts"][0]["rh_percent"] is None


def test_a_solution(run: Run) -> None:
    done = run("salts", "NaCl", "--molality", "6")
    assert done.returncode == 0
    assert "osmotic coefficient:       1.27" in done.stdout
    answer = json.loads(run("salts", "NaCl", "--molality", "6", "--json").stdout)
    assert answer["solution"]["water_activity"] == pytest.approx(0.760, abs=0.002)


def test_onset_bands(run: Run) -> None:
    done = run("salts", "--onset")
    assert "* scott-1990: 42 to 46" in done.stdout
    bands = json.loads(run("salts", "--onset", "--json").stdout)["onset_bands"]
    assert sum(band["chosen"] for band in bands) == 1


@pytest.mark.parametrize(
    ("arguments", "code", "message"),
    [
        (("salts", "halit"), 1, "no salt named 'halit'; nearest is 'halite'"),
        (("salts", "NaCl", "--temperature", "60"), 1, "temperature_c = 60: accepted is 0 to 50"),
        (("salts", "NaCl", "--temperature", "nan"), 2, "--temperature: 'nan' is no number"),
        (("salts", "NaCl", "--temperature", "warm"), 2, "warm"),
        (("salts", "NaCl", "--molality", "-1"), 1, "molality = -1: accepted is 0 to 30 mol/kg"),
        (("salts", "NaCl", "--set", "Na-Br"), 1, "no Pitzer set named 'Na-Br'"),
        (("salts", "NaCl", "--set", "K-NO3:fit"), 1, "accepted is a set of the ions of halite"),
        (("salts", "--molality", "1"), 2, "need the name of one salt"),
        (("salts", "--colour", "red"), 2, "--colour"),
    ],
)
def test_bad_input(run: Run, arguments: tuple[str, ...], code: int, message: str) -> None:
    done = run(*arguments)
    assert done.returncode == code
    assert message in done.stderr
    assert done.stdout == ""
    assert len(done.stderr.strip().splitlines()) <= 2


def test_a_mixture_is_told_by_windows_with_its_charge_and_onset(run: Run, tmp_path: Path) -> None:
    ions = [
        "--ion",
        "sodium=230 mg/kg",
        "--ion",
        "potassium=195.5 mg/kg",
        "--ion",
        "chloride=540 mg/kg",
    ]
    done = run("salts", *ions)
    assert done.returncode == 0, done.stderr
    assert "charge: cations less anions -0.75 % of their sum" in done.stdout
    assert "Mutual deliquescence: 72.4 +/- 0.68 % RH" in done.stdout
    assert "72.4 to 7" in done.stdout
    table = tmp_path / "salts.csv"
    table.write_text(
        "ion,amount,unit\nsodium,230,mg/kg\npotassium,195.5,mg/kg\nchloride,540,mg/kg\n"
    )
    again = run("salts", "--analysis", str(table))
    assert again.stdout == done.stdout
    answer = json.loads(run("--json", "salts", *ions).stdout)
    assert abs(answer["mixture"]["mutual_deliquescence_rh_percent"] - 72.36) < 0.02
    assert len(answer["mixture"]["states"]) == 94
    assert all(state["status"] == "converged" for state in answer["mixture"]["states"])


def test_a_bad_mixture_is_refused_in_one_sentence(run: Run, tmp_path: Path) -> None:
    table = tmp_path / "bad.csv"
    table.write_text("ion,amount\nsodium,230\n")
    salt = ["--ion", "sodium=230 mg/kg", "--ion", "chloride=354 mg/kg"]
    for arguments, words in (
        (["--ion", "sodium=230 mg/kg"], "ions = no anion: accepted is a cation and an anion"),
        (["--ion", "sodium=230"], "--ion = 230: accepted is"),
        ([*salt, "--ion", "chloride=1 mg/kg"], "ion = chloride: accepted is each ion once"),
        ([*salt, "--ion", "sulfate=1 mg/L"], "sulfate = mg/L: accepted is all amounts per litre"),
        (["--ion", "sodium=230 mg/kg", "--ion", "chloride=3 mg/kg"], "charge balance = 98"),
        ([*salt, "--ion", "carbonate=60 mg/kg"], "ions = CO3(2-): accepted is an ion whose salts"),
        ([*salt, "--ion", "chlorine=60 mg/kg"], "chlorine"),
        ([*salt, "--molality", "1"], "a mixture goes with no single salt"),
        (["--assign-charge", "Na(+)"], "needs the ions of a mixture"),
        (
            ["--analysis", str(table)],
            "bad.csv, line 2, amount: '230': accepted is a number and a unit",
        ),
    ):
        done = run("salts", *arguments)
        assert done.returncode != 0
        assert words in done.stderr, done.stderr
        assert done.stdout == ""


def test_a_mixture_away_from_25_degrees_says_whose_parameters_it_uses(run: Run) -> None:
    ions = [
        "--ion",
        "sodium=230 mg/kg",
        "--ion",
        "potassium=195 mg/kg",
        "--ion",
        "chloride=535 mg/kg",
    ]
    cold = run("salts", *ions, "--temperature", "10")
    assert cold.returncode == 0, cold.stderr
    assert "mixing terms of 25 degrees C are used at 10 degrees C" in cold.stdout
    assert "are used at" not in run("salts", *ions).stdout


def test_one_salt_tells_its_changes_of_hydration(run: Run) -> None:
    text = " ".join(run("salts", "epsomite").stdout.split())
    assert "epsomite over hexahydrite: 52.9 +/-" in text
    assert "measured 52.9 at 25 degrees C (Chou" in text
    text = " ".join(run("salts", "eriochalcite").stdout.split())
    assert "eriochalcite over tolbachite: not computed, tolbachite has no constant" in text
    answer = json.loads(run("--json", "salts", "epsomite").stdout)
    assert answer["hydration_changes"][0]["lower"] == "hexahydrite"


def test_the_phases_of_a_mixture_are_drawn_against_humidity(run: Run) -> None:
    ions = ("sodium=230 mg/kg", "potassium=195 mg/kg", "chloride=535 mg/kg")
    done = run("salts", *(word for ion in ions for word in ("--ion", ion)))
    lines = done.stdout.splitlines()
    place = lines.index("  % RH              0         20        40        60        80")
    drawn = {line.split()[0]: line[20:] for line in lines[place + 1 : place + 4]}
    assert list(drawn) == ["halite", "sylvite", "brine"]  # in the order in which they go
    # Halite to 72.4, sylvite to 73.8; a column for 2 % RH, the last state in it, from 5 to 98.
    assert drawn["halite"] == "  " + "#" * 34 + "." * 14
    assert drawn["sylvite"] == "  " + "#" * 35 + "." * 13
    assert drawn["brine"] == "  " + "." * 34 + "#" * 14
