"""The Python face of the equilibrium: results, broadcasting, errors, display."""

import inspect
import os
import signal
import threading
import time
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import aeruca

COPPER = ["Cu(2+)", "Cl(-)", "Na(+)"]
SOLIDS_OF_MAGNESIUM = {"components": ["Mg(2+)"], "precipitation": "allowed"}


@pytest.fixture(scope="module")
def system() -> aeruca.Equilibrium:
    return aeruca.Equilibrium(components=COPPER, precipitation="allowed")


def test_one_water_has_everything(system: aeruca.Equilibrium) -> None:
    answer = system.solve({"Cu(2+)": 1e-3, "halite": 0.1}, ph=7.0, eh_v=0.3)
    answer.raise_if_failed()
    assert answer.status == "converged"
    assert answer.message == ""
    assert answer.certificate.holds
    assert answer.certificate.mass_balance < 1e-9
    assert list(answer.formed) == ["tenorite"]
    assert answer.molality_of("Na(+)") == pytest.approx(0.1)
    assert answer.molalities["Na(+)"] == max(answer.molalities.values())
    assert answer.saturation_index["tenorite"] == pytest.approx(0, abs=1e-8)
    assert answer.saturation_index["nantokite"] < 0
    assert answer.log10_fugacity["O2(g)"] < 0
    assert answer.pe == pytest.approx(0.3 / 0.0591597, rel=1e-5)
    assert 0.09 < answer.ionic_strength < 0.11
    assert answer.water_activity < 1
    assert "H1H" in answer.figures
    assert "pH 7.000" in repr(answer)
    assert "CuCl<sub>2</sub>" in answer._repr_html_()
    assert "holds" in repr(answer.certificate)


def test_many_waters_are_the_waters_one_by_one(system: aeruca.Equilibrium) -> None:
    rng = np.random.default_rng(5)
    copper = 10 ** rng.uniform(-9, -1, (6, 1))
    ph = rng.uniform(2, 12, (1, 7))
    table = system.solve_many({"Cu(2+)": copper, "halite": 0.2}, ph=ph, eh_v=0.25)
    assert table.log10_molality.shape == (6, 7, len(system.species))
    assert table.solid_mol_per_kg.shape == (6, 7, len(system.allowed_solids))
    assert table.ph.shape == table.certified.shape == (6, 7)
    table.raise_if_failed()
    for i, j in ((0, 0), (3, 2), (5, 6)):
        one = system.solve({"Cu(2+)": copper[i, 0], "halite": 0.2}, ph=ph[0, j], eh_v=0.25)
        # Sums of ingredients may round differently; nothing else differs, whatever the order.
        np.testing.assert_allclose(table.log10_molality[i, j], one.log10_molality, atol=1e-10)
    assert np.all(table.amount_of("tenorite") >= 0)
    assert table.log10_molality_of("Na(+)") == pytest.approx(np.log10(0.2))


def test_order_in_a_batch_does_not_matter(system: aeruca.Equilibrium) -> None:
    rng = np.random.default_rng(6)
    copper = 10 ** rng.uniform(-9, -1, 50)
    ph = rng.uniform(2, 12, 50)
    there = system.solve_many({"Cu(2+)": copper, "Cl(-)": 0.1}, ph=ph, eh_v=0.3)
    back = system.solve_many({"Cu(2+)": copper[::-1], "Cl(-)": 0.1}, ph=ph[::-1], eh_v=0.3)
    np.testing.assert_array_equal(there.log10_molality, back.log10_molality[::-1])


def test_nan_passes_through(system: aeruca.Equilibrium) -> None:
    table = system.solve_many({"Cu(2+)": [1e-3, np.nan]}, ph=[7.0, 7.0], eh_v=0.3)
    assert list(table.certified) == [True, False]
    assert np.all(np.isnan(table.log10_molality[1]))
    with pytest.raises(aeruca.Error, match="water 1 of 2"):
        table.raise_if_failed()


def test_scalars_give_an_unshaped_table() -> None:
    ideal = aeruca.Equilibrium(components=["Cu(2+)"], activity="ideal")
    table = ideal.solve_many({"Cu(2+)": 1e-3}, ph=5.0, eh_v=0.4)
    assert table.ph.shape == ()
    assert table.log10_molality_of("Cu(2+)") == pytest.approx(-3, abs=0.01)


def test_speciate_of_one_water_shows_the_water_and_of_many_the_table() -> None:
    one = aeruca.speciate({"Cu(2+)": 1e-3}, ph=5.0, eh_v=0.4, components=COPPER)
    assert isinstance(one, aeruca.equilibrium.EquilibriumResult)
    alone = aeruca.Equilibrium(components=COPPER).solve({"Cu(2+)": 1e-3}, ph=5.0, eh_v=0.4)
    assert repr(one) == repr(alone)
    assert one.log10_molality_of("Cu(2+)") == pytest.approx(-3, abs=0.05)
    two = aeruca.speciate({"Cu(2+)": 1e-3}, ph=[5.0, 6.0], eh_v=0.4, components=COPPER)
    assert isinstance(two, aeruca.equilibrium.EquilibriumTable)
    assert two.ph.shape == (2,)


@pytest.mark.parametrize(
    ("call", "typed"),
    [
        (aeruca.speciate, aeruca.Equilibrium),
        (aeruca.field_diagram, aeruca.FieldModel),
        (aeruca.activity.activity_coefficients, None),
    ],
)
def test_every_option_is_taken_by_name(call: Any, typed: Any) -> None:
    taken = inspect.signature(call).parameters
    assert all(p.kind is not inspect.Parameter.VAR_KEYWORD for p in taken.values())
    if typed is not None:
        assert set(inspect.signature(typed).parameters) <= set(taken)


def test_no_waters_no_rows(system: aeruca.Equilibrium) -> None:
    table = system.solve_many({"Cu(2+)": []}, ph=7.0, eh_v=0.3)
    assert table.log10_molality.shape == (0, len(system.species))


@pytest.mark.parametrize(
    ("call", "error", "message"),
    [
        (
            lambda s: s.solve({"Cu(2+)": -1.0}, ph=7, eh_v=0.4),
            aeruca.InputError,
            r"total of Cu\(2\+\) = -1",
        ),
        (
            lambda s: s.solve({"Cu(2+)": 1.0}, ph=17, eh_v=0.4),
            aeruca.InputError,
            "ph = 17: accepted is -2 to 16",
        ),
        (
            lambda s: s.solve({"Cu(2+)": 1.0}, ph=7, eh_v=3),
            aeruca.InputError,
            "eh_v = 3: accepted is -2 to 2",
        ),
        (
            lambda s: s.solve({"Cu(2+)": float("inf")}, ph=7, eh_v=0.4),
            aeruca.InputError,
            "accepted is 0, or 1e-30 to 1000",
        ),
        (lambda s: s.solve({}, eh_v=0.4), aeruca.InputError, "ph = not given: accepted is -2 to"),
        (lambda s: s.solve({}, ph=7), aeruca.InputError, "eh_v = not given: accepted is -2 to 2"),
        (lambda s: s.solve_many({"Cu(2+)": 0.1}, ph=7), aeruca.InputError, "eh_v of water 0 = not"),
        (
            lambda s: s.solve({"Cu(3+)": 1.0}, ph=7, eh_v=0.4),
            KeyError,
            r"no species named 'Cu\(3\+\)'",
        ),
        (
            lambda s: s.solve({"calcite": 1.0}, ph=7, eh_v=0.4),
            aeruca.InputError,
            "is not among them",
        ),
        (
            lambda s: s.solve({"e(-)": 1.0}, ph=7, eh_v=0.4),
            aeruca.InputError,
            "dissolved species, solids and gases",
        ),
        (
            lambda s: s.solve({}, ph=7, eh_v=0.4, fugacity_bar={"CO2(g)": 1e-3}),
            aeruca.InputError,
            "gases of the chosen components",
        ),
        (
            lambda s: s.solve({}, ph=7, eh_v=0.4, fugacity_bar={"O2(g)": 0.2}),
            aeruca.InputError,
            "do not already decide",
        ),
        (
            lambda s: s.solve({}, ph=7, eh_v=0.4, fugacity_bar={"halite": 1}),
            aeruca.InputError,
            "names of gases",
        ),
        (lambda s: s.solve_many({"Cu(2+)": None}, ph=7, eh_v=0.4), aeruca.InputError, "None"),
        (
            lambda s: s.solve_many({"Cu(2+)": [1e-3, -1e-3]}, ph=7, eh_v=0.4),
            aeruca.InputError,
            "of water 1 = -0.001",
        ),
        (lambda s: s.solve_many({"Cu(2+)": [1, 2]}, ph=[1, 2, 3], eh_v=0.4), ValueError, "shape"),
        (
            lambda s: s.solve({"Cu(2+)": 1e-3}, ph=7, eh_v=0.4).molality_of("Cu"),
            KeyError,
            "no dissolved species",
        ),
        (
            lambda s: s.solve_many({"Cu(2+)": 1e-3}, ph=7, eh_v=0.4).amount_of("gold"),
            KeyError,
            "no solid named 'gold'",
        ),
    ],
)
def test_wrong_waters_say_what_is_accepted(
    system: aeruca.Equilibrium, call: Any, error: type[Exception], message: str
) -> None:
    with pytest.raises(error, match=message):
        call(system)


@pytest.mark.parametrize(
    ("options", "error", "message"),
    [
        ({"components": ["Cu"]}, KeyError, "Cu"),
        (
            {"precipitation": "allowed", "allowed_solids": ["nantokit"]},
            KeyError,
            "nearest is 'nantokite'",
        ),
        (
            {"precipitation": "allowed", "allowed_solids": ["Cl(-)"]},
            aeruca.InputError,
            "names of solids",
        ),
        ({"left_out": ["tenorit"]}, KeyError, "nearest is 'tenorite'"),
        ({"temperature_c": 60}, aeruca.InputError, "0 to 50 degrees C"),
        ({"activity": "perfect"}, KeyError, "perfect"),
        ({"redox": "air"}, aeruca.InputError, "eh, oxygen or conserved"),
        ({"iteration_limit": 0}, aeruca.InputError, "1 to 1 000 000"),
        ({"redox": "conserved", "left_out": ["O2(aq)"]}, aeruca.InputError, r"O2\(aq\)"),
        (
            {"temperature_c": 15, "missing_enthalpy": "refuse", **SOLIDS_OF_MAGNESIUM},
            aeruca.InputError,
            "has no enthalpy for",
        ),
        ({"allowed_solids": ["tenorite"]}, aeruca.InputError, "with precipitation allowed only"),
        ({"acidity": "neutral"}, aeruca.InputError, "given_ph or charge_balance"),
        ({"missing_enthalpy": "guess"}, aeruca.InputError, "refuse, leave_out or estimate"),
    ],
)
def test_wrong_systems_say_what_is_accepted(
    options: dict[str, Any], error: type[Exception], message: str
) -> None:
    with pytest.raises(error, match=message):
        aeruca.Equilibrium(**options)


def test_a_heat_that_was_not_found_is_estimated_and_named_or_left_out_when_asked() -> None:
    options: dict[str, Any] = {
        "components": [*COPPER, "Mg(2+)"],
        "temperature_c": 15,
        "precipitation": "allowed",
    }
    water = {"Cu(2+)": 1e-4, "Cl(-)": 0.1, "Mg(2+)": 1e-3}
    system = aeruca.Equilibrium(**options)
    assert {"brucite", "Cu(OH)2(aq)"} <= set(system.estimated_heats)
    answer = system.solve(water, ph=9, eh_v=0.4)
    assert "Cu(OH)2(aq)" in answer.estimated_heats
    assert set(answer.estimated_heats) < set(system.estimated_heats)
    assert answer.certificate.holds
    measured = aeruca.Equilibrium(missing_enthalpy="leave_out", **options)
    less = measured.solve(water, ph=9, eh_v=0.4)
    assert any("for want of an enthalpy" in text for text in less.warnings)
    assert "Cu(OH)2(aq)" not in measured.species


def test_beyond_the_range_of_the_model_is_said() -> None:
    answer = aeruca.Equilibrium(components=COPPER).solve({"halite": 5.0}, ph=7.0, eh_v=0.4)
    assert any("above the 3.5 mol/kg" in text for text in answer.warnings)
    answer = aeruca.Equilibrium(components=COPPER).solve({"halite": 0.1}, ph=7.0, eh_v=1.4)
    assert any("water itself would decompose" in text for text in answer.warnings)


def test_too_few_iterations_is_a_status() -> None:
    answer = aeruca.Equilibrium(components=COPPER, iteration_limit=1).solve(
        {"Cu(2+)": 1e-3, "Cl(-)": 1.0}, ph=7, eh_v=0.4
    )
    assert answer.status == "iteration_limit"
    assert np.all(np.isnan(answer.molality))
    assert "iteration_limit" in repr(answer)
    with pytest.raises(aeruca.Error, match="iteration limit"):
        answer.raise_if_failed()


def test_an_interrupt_stops_a_long_batch(
    system: aeruca.Equilibrium, request: pytest.FixtureRequest
) -> None:
    # A shell that runs the tests in the background lets them ignore it.
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    request.addfinalizer(lambda: signal.signal(signal.SIGINT, before))
    count = 2_000_000
    started = time.perf_counter()
    threading.Timer(0.3, os.kill, (os.getpid(), signal.SIGINT)).start()
    with pytest.raises(KeyboardInterrupt):
        system.solve_many({"Cu(2+)": np.full(count, 1e-3), "Cl(-)": 0.1}, ph=7.0, eh_v=0.3)
    # All of it takes seconds.
    assert time.perf_counter() - started < 15


def test_the_lock_is_free_while_it_solves(system: aeruca.Equilibrium) -> None:
    ticks = []
    done = threading.Event()

    def watch() -> None:
        while not done.is_set():
            ticks.append(time.perf_counter())
            time.sleep(0.001)

    watcher = threading.Thread(target=watch)
    watcher.start()
    system.solve_many({"Cu(2+)": np.full(20_000, 1e-3), "Cl(-)": 0.1}, ph=7.0, eh_v=0.3)
    done.set()
    watcher.join()
    assert len(ticks) > 10


def test_a_water_without_an_answer_says_which_status_in_a_table_too() -> None:
    brine = aeruca.Equilibrium(components=["K(+)", "HCOO(-)"], activity="pitzer")
    totals = {"K(+)": [0.001, 18.0], "HCOO(-)": [0.001, 18.0]}
    table = brine.solve_many(totals, ph=9.0, eh_v=0.0)
    assert table.certified.tolist() == [True, False]
    assert np.isnan(table.log10_molality[1]).all()
    assert "no_parameters" in table._repr_html_()
    with pytest.raises(aeruca.Error, match="water 1 of 2 has no certified answer: no_parameters"):
        table.raise_if_failed()
    one = brine.solve({"K(+)": 18.0, "HCOO(-)": 18.0}, ph=9.0, eh_v=0.0)
    assert one.status == "no_parameters"
    assert "no parameters for K(+) with HCOO(-)" in one.message


def test_an_ion_without_its_acid_is_refused_unless_it_is_named_as_inert(tmp_path: Path) -> None:
    own = tmp_path / "own.toml"
    own.write_text(
        '[[species]]\nname = "CH3COOH(aq)"\ntitle = "acid without a constant"\n'
        'constant_from = "none"\n'
    )
    data = aeruca.extend_dataset(aeruca.default_dataset(), str(own))
    totals = {"Na(+)": 0.1, "CH3COO(-)": 0.1, "Cl(-)": 0.05}
    how: dict[str, Any] = {"eh_v": 0.4, "acidity": "charge_balance"}
    with pytest.raises(aeruca.InputError, match="CH3COOH"):
        aeruca.speciate(totals, dataset=data, **how)
    water = aeruca.speciate(totals, dataset=data, inert=["CH3COO(-)"], **how)
    assert isinstance(water, aeruca.equilibrium.EquilibriumResult)
    assert any("counted as an ion only" in warning for warning in water.warnings)
