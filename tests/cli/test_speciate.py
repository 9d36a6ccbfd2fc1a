"""`aeruca speciate`: table, JSON, units, every way of holding pH and redox, bad input."""

import json
from collections.abc import Callable
from subprocess import CompletedProcess

import pytest

Run = Callable[..., CompletedProcess[str]]


def test_table_has_state_species_solids_indices_and_certificate(run: Run) -> None:
    done = run(
        "speciate", "--total", "Cu(2+)=1e-3", "--total", "halite=0.1", "--ph", "7", "--eh", "0.3",
        "--solids", "all",
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    for text in (
        "pH 7.000 (given), Eh 0.3000 V against SHE",
        "activity model sit",
        "tenorite               99.3 %     9.9315e-04            solid",
        "Saturation index",
        "tenorite                           0.000  forms: 9.9315e-04 mol/kg",
        "clinoatacamite                    -0.113  1.14 times the copper",
        "O2(g)",
        "Certificate: mass balance",
        "holds",
        "Data set ",
    ):
        assert text in done.stdout


def test_json_carries_everything(run: Run) -> None:
    done = run("--json", "speciate", "--total", "Cu(2+)=1e-3", "--ph", "6.5", "--eh", "0.5")
    answer = json.loads(done.stdout)
    assert answer["status"] == "converged"
    assert answer["certificate"]["holds"] is True
    assert answer["species"]["Cu(2+)"]["molality_mol_per_kg"] > 5e-4
    assert answer["species"]["Cl(-)"]["log10_molality"] is None
    assert answer["saturation_index"]["tenorite"] > 0
    assert answer["solids_mol_per_kg"] == {}
    assert len(answer["data_set"]["content_hash"]) == 16
    assert "H1H" not in answer["figures"]  # tenorite was not allowed to form


def test_milligrams_per_litre_become_molal_with_a_note(run: Run) -> None:
    done = run(
        "--json", "speciate", "--total", "Cl(-)=50 mg/L", "--total", "Na(+)=1 mmol/kg", "--ph", "7",
        "--eh", "0.4",
    )  # fmt: skip
    answer = json.loads(done.stdout)
    assert answer["species"]["Cl(-)"]["molality_mol_per_kg"] == pytest.approx(
        0.050 / 35.45 / 0.99705, rel=1e-3
    )
    assert answer["species"]["Na(+)"]["molality_mol_per_kg"] == pytest.approx(1e-3)
    assert any("as if a litre held 0.997 kg" in text for text in answer["assumed"])


def test_an_analysis_in_a_laboratorys_words(run: Run) -> None:
    done = run(
        "--json", "speciate", "--total", "sodium=500 +/- 10 mg/L", "--total", "chloride=640 mg/L",
        "--total", "nitrate=< 2 mg/L", "--total", "copper=< 0.05 mg/L", "--alkalinity",
        "250 mg/L as CaCO3", "--ph", "7.1", "--potential", "100", "--electrode", "sce",
        "--conductivity", "2400", "--assign-charge", "sodium",
    )  # fmt: skip
    answer = json.loads(done.stdout)
    assert answer["eh_v"] == pytest.approx(0.3412)
    assert "sce" in answer["figures"]
    assert "saturated calomel" in answer["potential"]
    assert answer["alkalinity_mol_per_kg"] == pytest.approx(0.250 * 2 / 100.086 / 0.99705, rel=1e-5)
    assert answer["charge"]["error_percent"] < -1
    assert answer["charge"]["assigned_mol_per_kg"] > 0
    assert answer["charge_mol_per_kg"] == pytest.approx(0, abs=1e-9)
    assert answer["below_limit"] == ["NO3(-)"]
    assert answer["at_limit"] == ["Cu(2+)"]
    assert answer["not_given"] == ["sulfate", "potassium", "calcium", "magnesium"]
    assert any("agrees within 10 %" in text for text in answer["assumed"])


def test_the_shares_of_an_element_add_up_and_its_solids_count(run: Run) -> None:
    done = run(
        "--json", "speciate", "--total", "Cu(2+)=1e-3", "--total", "halite=0.1", "--ph", "7",
        "--eh", "0.3", "--solids", "all",
    )  # fmt: skip
    answer = json.loads(done.stdout)
    copper = answer["elements"]["copper"]
    assert copper["mol_per_kg"] == pytest.approx(1e-3)
    assert sum(copper["percent"].values()) == pytest.approx(100)
    solid = answer["solids_mol_per_kg"]["tenorite"]
    assert copper["percent"]["tenorite"] == pytest.approx(solid / 1e-3 * 100)
    two = answer["elements"]["chloride"]["percent"]["CuCl2(-)"]
    assert two == pytest.approx(
        100 * 2 * answer["species"]["CuCl2(-)"]["molality_mol_per_kg"] / 0.1
    )


def test_a_solid_says_which_ingredient_is_short_and_by_what_factor(run: Run) -> None:
    done = run(
        "--json", "speciate", "--total", "Cu(2+)=5e-6", "--total", "halite=0.1", "--ph", "7",
        "--eh", "0.3",
    )  # fmt: skip
    answer = json.loads(done.stdout)
    index = answer["saturation_index"]["clinoatacamite"]
    assert index < 0
    needs = answer["needs"]["clinoatacamite"]  # Cu2(OH)3Cl
    assert needs["copper"] == pytest.approx(10 ** (-index / 2))
    assert needs["chloride"] == pytest.approx(10**-index)


def test_what_a_laboratory_knows_less_well_widens_the_index(run: Run) -> None:
    water = (
        "--json",
        "speciate",
        "--total",
        "copper=1 +/- 0.01 mg/L",
        "--ph",
        "5.5",
        "--eh",
        "0.5",
    )

    def uncertainty(*more: str) -> float:
        return json.loads(run(*water, *more).stdout)["saturation_index_uncertainty"]["cuprite"]

    sharp = uncertainty("--ph-uncertainty", "0.01", "--potential-uncertainty", "1")
    assert sharp < uncertainty("--ph-uncertainty", "0.2", "--potential-uncertainty", "1")
    assert sharp < uncertainty("--ph-uncertainty", "0.01", "--potential-uncertainty", "30")
    exact = run("--json", "speciate", "--total", "copper=1e-5", "--ph", "5.5", "--eh", "0.5")
    assert json.loads(exact.stdout)["saturation_index_uncertainty"] == {}


def test_rain_in_air_has_the_ph_of_carbon_dioxide(run: Run) -> None:
    done = run(
        "--json", "speciate", "--gas", "CO2(g)=4.2e-4", "--charge-balance", "--oxygen", "0.21"
    )
    answer = json.loads(done.stdout)
    assert answer["ph"] == pytest.approx(5.60, abs=0.01)
    assert answer["certificate"]["charge_balance"] < 1e-9


def test_it_says_when_no_solid_was_allowed(run: Run) -> None:
    over = ["speciate", "--total", "Cu(2+)=1e-2", "--ph", "9", "--eh", "0.4"]
    assert "no solid was allowed to form; see --solids all" in run(*over).stdout
    assert "see --solids" not in run(*over, "--solids", "all").stdout
    clear = ["speciate", "--total", "Cu(2+)=1e-9", "--ph", "4", "--eh", "0.4"]
    assert "none is supersaturated" in run(*clear).stdout
    assert "none (the default)" in run("speciate", "--help").stdout


def test_electrons_as_weighed_in(run: Run) -> None:
    done = run(
        "--json", "speciate", "--total", "copper=1", "--total", "nantokite=0.1",
        "--total", "O2(aq)=1e-3", "--charge-balance", "--conserved", "--solids", "all",
    )  # fmt: skip
    answer = json.loads(done.stdout)
    solids = {name for name, amount in answer["solids_mol_per_kg"].items() if amount > 0}
    assert {"copper", "nantokite"} <= solids
    assert answer["eh_v"] < 0.3


def test_left_out_solids_do_not_form(run: Run) -> None:
    done = run(
        "--json", "speciate", "--total", "Cu(2+)=1e-3", "--ph", "8", "--eh", "0.5",
        "--solids", "all", "--leave-out", "tenorite",
    )  # fmt: skip
    answer = json.loads(done.stdout)
    assert "tenorite" not in answer["solids_mol_per_kg"]
    assert answer["solids_mol_per_kg"]["spertiniite"] > 0
    assert answer["saturation_index"]["tenorite"] > 0


@pytest.mark.parametrize(
    ("arguments", "code", "message"),
    [
        (["--total", "Cu(2+)", "--ph", "7", "--eh", "0"], 1, 'NAME=AMOUNT, such as "Cu(2+)=1e-3"'),
        (["--total", "Cu(2+)=x", "--ph", "7", "--eh", "0"], 1, "--total = Cu(2+)=x"),
        (["--total", "Cu(2+)=1 stone", "--ph", "7", "--eh", "0"], 1, "mol/kg (the default)"),
        (["--total", "Kupfer=1", "--ph", "7", "--eh", "0"], 1, "no species named 'Kupfer'"),
        (["--total", "Cu(2+)=-1", "--ph", "7", "--eh", "0"], 1, "total of Cu(2+) = -1"),
        (["--ph", "99", "--eh", "0"], 1, "ph = 99: accepted is -2 to 16"),
        (["--ph", "7", "--eh", "9"], 1, "eh_v = 9: accepted is -2 to 2 V"),
        (["--eh", "0"], 2, "--charge-balance"),
        (["--ph", "7", "--charge-balance", "--eh", "0"], 2, "not both"),
        (["--ph", "7"], 2, "exactly one"),
        (["--ph", "7", "--eh", "0", "--oxygen", "0.2"], 2, "exactly one"),
        (["--ph", "7", "--eh", "0", "--gas", "CO2(g)=0"], 1, "above 0 up to 1000 bar"),
        (["--ph", "7", "--eh", "0", "--gas", "O2(g)=0.2"], 1, "do not already decide"),
        (["--ph", "7", "--eh", "0", "--solids", "rust"], 1, "no species named 'rust'"),
        (["--ph", "7", "--eh", "0", "--model", "perfect"], 1, "perfect"),
        (["--ph", "7", "--eh", "0", "--temperature", "80"], 1, "0 to 50 degrees C"),
        (["--ph", "seven", "--eh", "0"], 2, "--ph"),
        (["--acid", "7"], 2, "See aeruca --help"),
    ],
)
def test_bad_input_says_what_is_accepted(
    run: Run, arguments: list[str], code: int, message: str
) -> None:
    done = run("speciate", *arguments)
    assert done.returncode == code
    assert done.stdout == ""
    assert message in done.stderr
    assert done.stderr.count("\n") <= 2


def test_an_answer_from_several_starts_tells_whether_another_was_found(run: Run) -> None:
    """A plain water has none; of two solutions with bischofite the lower is given, and said so."""
    salt = ["speciate", "--total", "halite=0.5", "--ph", "7", "--eh", "0.3", "--several-starts"]
    done = run(*salt)
    assert done.returncode == 0, done.stderr
    assert "Sought from 4 starts: no other stable answer was found." in done.stdout
    brine = ["speciate", "--total", "bischofite=15", "--ph", "7", "--eh", "0.3"]
    brine += ["--model", "pitzer", "--solids", "bischofite", "--several-starts"]
    done = run(*brine)
    assert done.returncode == 0, done.stderr
    assert "stable answers; the one of lowest Gibbs energy is given" in done.stdout
