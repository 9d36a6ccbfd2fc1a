"""What a bath is and does: against published pH, conductivity and solubility, and by hand."""

import json

import pytest

import aeruca
from aeruca.bath import copper_over, read_bath_log, weigh_out
from aeruca.bath_making import chemistry_of_bath, log_against_bath


def ph_of(bath, state):
    return next(one for one in bath.ph if one.state == state)


def test_five_percent_sesquicarbonate_loses_carbon_dioxide_and_one_percent_takes_it_up():
    strong = chemistry_of_bath(percent_w_v=5.0)
    weak = chemistry_of_bath(percent_w_v=1.0)
    assert ph_of(strong, "open").moved_mmol_per_l < 0
    assert ph_of(strong, "open").ph.value > ph_of(strong, "fresh").ph.value + 0.3
    assert ph_of(weak, "open").moved_mmol_per_l > 0
    assert ph_of(weak, "open").ph.value < ph_of(weak, "fresh").ph.value
    # Handbooks give 9.9 to 10.0 for 1 %; basis: memory.
    fresh = ph_of(weak, "fresh").ph
    assert fresh.low < 9.9 < fresh.high + 0.02
    for bath in (strong, weak):
        lid = ph_of(bath, "covered").ph.value
        assert lid == pytest.approx(ph_of(bath, "fresh").ph.value, abs=0.01)


def test_hydroxide_takes_carbon_dioxide_up_until_it_is_a_carbonate_bath():
    bath = chemistry_of_bath("caustic soda", mol_per_l=0.1)
    opened = ph_of(bath, "open")
    # Charge: 0.1 = HCO3 + 2 CO3, so between half and all of it is taken up.
    assert 50 < opened.moved_mmol_per_l < 100
    assert opened.ph.value == pytest.approx(9.74, abs=0.05)
    assert ph_of(bath, "fresh").ph.value == pytest.approx(12.88, abs=0.03)
    assert any("takes up" in sentence and "falls to" in sentence for sentence in bath.read)


def test_pure_water_comes_to_the_ph_of_rain():
    bath = chemistry_of_bath("deionised water")
    assert bath.salt == "water"
    # Carbonic acid in water under 4.2e-4 bar: pK1 6.35, pKH 1.47, so 0.5 (6.35 + 1.47 + 3.38).
    assert ph_of(bath, "open").ph.value == pytest.approx(5.60, abs=0.02)
    # Textbooks give 7.00 at 25 degrees C.
    assert ph_of(bath, "fresh").ph.value == pytest.approx(7.0, abs=0.01)


def test_a_lid_with_more_air_lets_more_happen():
    tight = chemistry_of_bath("hydroxide", mol_per_l=0.001, headspace_l_per_l=0.1)
    loose = chemistry_of_bath("hydroxide", mol_per_l=0.001, headspace_l_per_l=50.0)
    moved = [ph_of(bath, "covered").moved_mmol_per_l for bath in (tight, loose)]
    # All of 50 L of air: 50 x 4.2e-4 bar x 1 L / RT = 0.85 mmol.
    assert moved[1] == pytest.approx(0.85, abs=0.03)
    assert moved[0] == pytest.approx(0.0017, abs=0.0002)


def test_the_range_of_the_ph_holds_the_other_model_of_activity():
    bath = chemistry_of_bath(percent_w_v=5.0)
    fresh = ph_of(bath, "fresh").ph
    pitzer = aeruca.Equilibrium(
        components=["Na(+)", "CO3(2-)"], activity="pitzer", acidity="charge_balance"
    )
    other = pitzer.solve({"Na(+)": 3 * bath.mol_per_l, "CO3(2-)": 2 * bath.mol_per_l}, eh_v=0.4)
    assert fresh.low < other.ph < fresh.high
    assert 0.04 < fresh.high - fresh.low < 0.3


def test_the_blank_is_a_sum_with_its_range():
    bath = chemistry_of_bath(
        percent_w_v=5.0, form="dihydrate", volume_l=2.0, reagent_chloride_percent=0.002,
        water_chloride_mg_per_l=0.3, water_chloride_error_mg_per_l=0.1,
    )  # fmt: skip
    # 50 g/L with 0.002 %: 1 mg/L, at most.
    assert bath.blank_mg_per_l.value == pytest.approx(1.3)
    assert bath.blank_mg_per_l.low == pytest.approx(0.2)
    assert bath.blank_mg_per_l.high == pytest.approx(1.4)
    assert bath.blank_mg.high == pytest.approx(2.8)
    assert list(bath.blank_lacks) == []
    water_only = chemistry_of_bath(percent_w_v=5.0, water_chloride_mg_per_l=0.3)
    assert list(water_only.blank_lacks) == ["reagent"]
    assert any("the floor may be higher" in sentence for sentence in water_only.read)
    assert chemistry_of_bath(percent_w_v=5.0).blank_mg_per_l.value is None


def test_grams_are_those_of_weigh_out_by_the_name_on_the_label():
    bath = chemistry_of_bath("sodium carbonate", percent_w_v=5.0, form="washing soda")
    weighed = weigh_out("decahydrate", percent_w_v=5.0, salt="sodium carbonate")
    assert bath.form == "decahydrate"
    assert [r.grams for r in bath.reagents] == [r.grams for r in weighed.reagents]
    assert list(chemistry_of_bath("baking soda", percent_w_v=1.0).reagents) == []


# Mass percent of the anhydrous salt: CRC Handbook, 98th ed. (2017), as transcribed; looked-up.
HANDBOOK = {
    ("sodium carbonate", 0.0): 6.44,
    ("sodium carbonate", 10.0): 10.8,
    ("sodium carbonate", 20.0): 17.9,
    ("sodium bicarbonate", 0.0): 6.48,
    ("sodium bicarbonate", 20.0): 8.73,
    ("sodium bicarbonate", 30.0): 9.91,
}


@pytest.mark.parametrize(("salt", "celsius"), HANDBOOK)
def test_what_dissolves_at_a_temperature_is_the_handbooks(salt, celsius):
    percent = HANDBOOK[salt, celsius]
    mass = {"sodium carbonate": 105.99, "sodium bicarbonate": 84.01}[salt]
    most = 1000 * percent / (100 - percent) / mass  # mol/kg
    for factor, word in ((0.96, "yes"), (1.04, "no")):
        if most * factor > 2:
            continue  # beyond what a bath is worked out for
        found = chemistry_of_bath(salt, mol_per_l=most * factor, temperature_c=celsius)
        assert found.dissolves == word, found.solubility_words


def test_chloride_stays_locked_in_hydroxide_by_the_solids_that_were_observed():
    bath = chemistry_of_bath("sodium hydroxide", mol_per_l=0.01)
    # CuCl + ... = 1/2 Cu2(OH)3Cl: half at most, less what dissolves.
    assert bath.locked_percent.low == pytest.approx(0, abs=1e-6)
    assert 49 < bath.locked_percent.high < 50.1
    assert bath.locked_percent.value == bath.locked_percent.high
    soda = chemistry_of_bath(percent_w_v=1.0)
    assert soda.locked_percent.high == pytest.approx(0, abs=1e-6)
    assert any("No chloride of nantokite stays locked" in sentence for sentence in soda.read)
    # 1 g/L of nantokite holds 358.1 mg/L of chloride.
    released = max(row.chloride_mg_per_l for row in soda.nantokite)
    assert released == pytest.approx(358.1, abs=0.2)


def test_copper_carried_off_is_that_over_its_solids_times_the_filling():
    bath = chemistry_of_bath(percent_w_v=5.0, volume_l=3.0, object_mass_g=50.0)
    over = copper_over("malachite", "sesquicarbonate", bath.mol_per_l)
    row = next(one for one in bath.carried_off if one.solid == "malachite")
    assert row.mg_per_l.value == pytest.approx(over.mg_per_l)
    factor = max(over.factor, over.other_factor)
    assert row.mg_per_l.high == pytest.approx(over.mg_per_l * factor)
    assert row.mg.low == pytest.approx(3 * over.mg_per_l / factor)
    assert row.percent_of_mass.value == pytest.approx(100 * 3 * over.mg_per_l / 50_000)
    assert chemistry_of_bath(percent_w_v=5.0).carried_off[0].percent_of_mass.value is None
    assert any("chalconatronite" in sentence for sentence in bath.left_out)


def test_lead_dissolves_most_in_strong_alkali_and_is_warned_of():
    lead = {
        name: chemistry_of_bath(name, mol_per_l=0.1, metals=["lead"]).carried_off[-1]
        for name in ("sodium hydroxide", "sodium carbonate")
    }
    assert lead["sodium hydroxide"].solid == "litharge"
    assert lead["sodium hydroxide"].mg_per_l.value > 10 * lead["sodium carbonate"].mg_per_l.value
    water = chemistry_of_bath("deionised water", metals=["lead", "zinc"])
    assert {one.metal for one in water.carried_off} == {"copper", "lead", "zinc"}
    # Litharge in pure water: 0.017 g PbO in 100 mL and up are read in handbooks; basis: memory.
    litharge = next(one for one in water.carried_off if one.metal == "lead")
    assert litharge.mg_per_l.low < 100
    assert litharge.mg_per_l.high > 16
    assert any("leaded bronze" in caution for caution in water.cautions)


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({}, "either percent_w_v or mol_per_l"),
        ({"percent_w_v": 5.0, "mol_per_l": 0.1}, "either percent_w_v or mol_per_l"),
        ({"percent_w_v": 5.0, "reagent_chloride_percent": 0.01}, "a form beside it"),
        ({"percent_w_v": 5.0, "purity_percent": 90.0}, "a form beside it"),
        ({"percent_w_v": 5.0, "metals": ["gold"]}, "lead or zinc"),
        ({"percent_w_v": 5.0, "temperature_c": 60.0}, "0 to 50 degrees C"),
        ({"percent_w_v": 5.0, "object_mass_g": 0.0}, "above 0"),
        ({"percent_w_v": 5.0, "nantokite_g": 20.0}, "0.001 to 10 g"),
        ({"percent_w_v": 5.0, "water_chloride_error_mg_per_l": 0.1}, "beside it"),
        ({"percent_w_v": 5.0, "headspace_l_per_l": 200.0}, "0 to 100"),
        ({"salt": "deionised water", "percent_w_v": 5.0}, "nothing beside water"),
        ({"salt": "washing soda", "percent_w_v": 5.0}, "form decahydrate"),
        ({"salt": "tap water", "percent_w_v": 1.0}, "sodium sesquicarbonate"),
    ],
)
def test_what_cannot_be_meant_is_refused(given, words):
    with pytest.raises(aeruca.Error) as refused:
        chemistry_of_bath(**given)
    assert words in str(refused.value)


LOG = """start,end,volume_l,chloride_mg_per_l,ph,colour
2025-01-06,2025-01-13,2,63.1,9.7,faint blue
2025-01-13,2025-01-20,2,27.4,7.2,clear
2025-01-20,2025-01-27,2,19.0,11.4,green
2025-01-27,2025-02-03,2,13.6,,mauve
"""


def test_the_log_is_held_against_the_bath(tmp_path):
    path = tmp_path / "log.csv"
    path.write_text(LOG)
    log = read_bath_log(path)
    found = log_against_bath(log, chemistry_of_bath(percent_w_v=5.0))
    assert (found.compared_ph, found.compared_colours) == (3, 4)
    assert [(one.bath, one.of) for one in found.disagreements] == [
        (2, "pH"), (3, "pH"), (3, "colour"), (4, "colour"),
    ]  # fmt: skip
    assert "lies below" in found.disagreements[0].sentence
    assert "lies above" in found.disagreements[1].sentence
    assert "compared with nothing" in found.disagreements[3].sentence
    # A blue bath of pure water is none of copper's own.
    water = log_against_bath(log, chemistry_of_bath("deionised water"))
    assert "too little to be seen" in water.disagreements[1].sentence
    # The pH that a handbook gives for 0.1 mol/L of sesquicarbonate is no disagreement.
    assert log_against_bath(log, chemistry_of_bath(mol_per_l=0.1)).highest_ph > 10.1


def test_acid_of_nantokite_is_expected_where_it_is_stated(tmp_path):
    path = tmp_path / "log.csv"
    path.write_text(LOG)
    bath = chemistry_of_bath("sodium hydroxide", mol_per_l=0.01, nantokite_g=1.0)
    log = read_bath_log(path)
    assert log_against_bath(log, bath).lowest_ph > 8
    assert log_against_bath(log, bath, acid_of_nantokite=True).lowest_ph < 7


def test_the_tool_says_the_same(run, tmp_path):
    (tmp_path / "log.csv").write_text(LOG)
    done = run(
        "bath", "chemistry", "--percent", "5", "--form", "washing soda", "--metal", "lead",
        "--log", "log.csv", cwd=tmp_path,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    for words in [
        "63.3 g",
        "Open to the air it loses 54 mmol/L of carbon dioxide",
        "mg/L of lead",
        "chalconatronite",
        "4 disagree",
        "bath 2: pH 7.2 lies below",
    ]:
        assert words in " ".join(done.stdout.split())
    shown = run("bath", "chemistry", "--salt", "hydroxide", "--mol-per-l", "0.1", "--json")
    answer = json.loads(shown.stdout)
    assert answer["ph"][2]["moved_mmol_per_l"] == pytest.approx(72.8, abs=1)


CASE = """[object]
material = "leaded brass"
mass_g = 80
[bath]
log = "log.csv"
[bath.solution]
salt = "{salt}"
{strength}
volume_l = 2
"""


@pytest.mark.parametrize(
    ("salt", "strength", "word"),
    [
        ("sodium sesquicarbonate", "strength_percent_w_v = 5", "losing"),
        ("sodium hydroxide", "strength_percent_w_v = 0.4", "taking up"),
        ("deionised water", "", "taking up"),
    ],
)
def test_a_case_says_what_becomes_of_its_bath(run, tmp_path, salt, strength, word):
    (tmp_path / "log.csv").write_text(LOG)
    (tmp_path / "case.toml").write_text(CASE.format(salt=salt, strength=strength))
    done = run("case", "case.toml", "--json", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    section = next(s for s in json.loads(done.stdout)["sections"] if s["id"] == "solution")
    findings = {finding["key"]: finding for finding in section["findings"]}
    assert word in findings["ph_open_to_air"]["note"]
    assert findings["ph_covered"]["low"] < findings["ph_covered"]["value"]
    assert findings["lead_carried_off_mg"]["high"] > findings["copper_carried_off_mg"]["low"]
    assert "zinc_carried_off_mg" in findings
    assert "% of the mass of the object" in findings["copper_carried_off_mg"]["text"]
    assert "nantokite_locked_percent" in findings
    assert "disagree" in findings["log_against_bath"]["text"]
    assert any("bath 2" in w.lower() or "bath 3" in w.lower() for w in section["warnings"])
