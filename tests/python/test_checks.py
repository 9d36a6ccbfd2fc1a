"""What a caller may give wrong: one sentence each, and never a crash."""

import inspect
import os
import subprocess
import sys
from decimal import Decimal
from pathlib import Path

import numpy as np
import pytest

import aeruca
from aeruca import checks

MODULES = [aeruca, *(getattr(aeruca, name) for name in dir(aeruca))]
FUNCTIONS = sorted(
    {
        thing
        for module in MODULES
        if inspect.ismodule(module)
        for name, thing in vars(module).items()
        if inspect.isfunction(thing) and not name.startswith("_")
        if thing.__module__.startswith("aeruca.") and thing.__module__ != "aeruca.checks"
        if thing.__module__ not in ("aeruca.display", "aeruca.cards")
    },
    key=lambda thing: (thing.__module__, thing.__name__),
)

# Each call runs in a process of its own, for what is tested is that the process lives.
CALL = """
import sys, inspect
import aeruca, aeruca._core as core

def tries(thing):
    for count in range(15):
        yield (None,) * count, {}
    try:
        names = list(inspect.signature(thing).parameters)
    except (TypeError, ValueError):
        return
    for name in names:
        yield (), {name: None}
    yield (), dict.fromkeys(names)

def survive(thing):
    for arguments, named in tries(thing):
        try:
            thing(*arguments, **named)
        except (TypeError, ValueError, KeyError, ImportError, AttributeError):
            pass

for name in dir(core):
    thing = getattr(core, name)
    if callable(thing) and name not in ("run_tool_here",):
        survive(thing)
    if inspect.isclass(thing):
        for member in dir(thing):
            if not member.startswith("__") or member in ("__getitem__", "__contains__"):
                part = getattr(thing, member)
                if callable(part):
                    survive(part)
data = aeruca.default_dataset()
record = aeruca.store.record_from_arrays([0, 3600], None, [40, 41])
system = aeruca.Equilibrium(components=["Cu(2+)", "Cl(-)"])
model = aeruca.FieldModel()
options = core.StoreOptions()
onset = aeruca.store.onset(40)
for holder in (data, record, system, system._core, model, model._core, options, onset):
    for member in dir(holder):
        if not member.startswith("__") and callable(getattr(holder, member)):
            survive(getattr(holder, member))
        try:
            if type(holder).__module__ == "aeruca._core":
                setattr(holder, member, None)
        except (TypeError, ValueError, AttributeError):
            pass
print("alive")
"""


def test_none_anywhere_in_the_core_kills_no_process(tmp_path):
    where = str(Path(aeruca.__file__).resolve().parents[1])
    done = subprocess.run(
        [sys.executable, "-c", CALL],
        capture_output=True,
        text=True,
        cwd=tmp_path,
        check=False,
        env={**os.environ, "PYTHONPATH": where},
    )
    assert done.returncode == 0, done.stderr[-2000:]
    assert done.stdout.endswith("alive\n")


@pytest.mark.parametrize("thing", FUNCTIONS, ids=lambda thing: thing.__name__)
def test_none_for_a_required_argument_is_refused(thing):
    parameters = inspect.signature(thing).parameters.values()
    required = [
        one
        for one in parameters
        if one.default is inspect.Parameter.empty
        and one.kind is not inspect.Parameter.VAR_KEYWORD
        and one.kind is not inspect.Parameter.VAR_POSITIONAL
    ]
    if not required:
        pytest.skip("takes nothing that is required")
    with pytest.raises((TypeError, aeruca.Error, ImportError, AttributeError)) as caught:
        thing(*[None] * len(required))
    assert "incompatible function arguments" not in str(caught.value)


BASE = {"components": ["Cu(2+)", "Cl(-)"]}
WATER = {"Cu(2+)": 1e-3}


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: aeruca.extend_dataset(None, "f"), "base = None: accepted is a Dataset"),
        (lambda: aeruca.load_dataset(3), "directory = 3: accepted is a path"),
        (lambda: aeruca.dataset.molar_mass_g_per_mol(None), "formula = None: accepted is a text"),
        (lambda: aeruca.FieldModel(dataset=3), "dataset = 3: accepted is a Dataset, or None"),
        (lambda: aeruca.FieldModel("pH"), "x = 'pH': accepted is (quantity, low, high)"),
        (lambda: aeruca.FieldModel(("pH", None, 14)), "low end of x = None"),
        (lambda: aeruca.FieldModel(only="malachite"), "only = 'malachite': accepted is a list of"),
        (lambda: aeruca.FieldModel(log10_activity={"Cl(-)": None}), "log10_activity of Cl(-) = No"),
        (lambda: aeruca.stable_at([1, 2, 3], [1, 2]), "x, y = arrays of shapes (3,), (2,)"),
        (lambda: aeruca.stable_at([7, None], 0.2), "x = None at 1: accepted is a number or an arr"),
        (lambda: aeruca.brine.salt_curve("NaCl", [1, None]), "molality = None at 1"),
        (lambda: aeruca.brine.salt_curve("NaCl", ["1", "2"]), "molality = '1' at 0"),
        (
            lambda: aeruca.brine.salt_curve("NaCl", [[1], [1, 2]]),
            "molality = rows of different lengths",
        ),
        (
            lambda: aeruca.brine.salt_curve("NaCl", 1, [20, 25]),
            "temperature_c = an array of shape (2,)",
        ),
        (lambda: aeruca.single_salt(None, 1), "salt = None: accepted is a text"),
        (
            lambda: aeruca.water.pkw([1, 2], [1, 2, 3]),
            "temperature_c, density_kg_per_m3 = arrays of sha",
        ),
        (
            lambda: aeruca.store.surface_rh_percent([1, 2], [1, 2, 3], 1),
            "rh_percent, temperature_c, co",
        ),
        (lambda: aeruca.store.surface_rh_percent("40", 20, 1), "rh_percent = '40'"),
        (
            lambda: aeruca.store.surface_rh_percent(np.ma.masked_array([40.0], [True]), 20, 1),
            "rh_percent = a masked array",
        ),
        (
            lambda: aeruca.bath.fraction_of_final_release("slab", [1, 2], [1, 2, 3]),
            "alpha, tau = arrays of shapes (2,), (3,): accepted is shapes that broadcast",
        ),
        (
            lambda: aeruca.bath.mode_roots("slab", 1, 10**9),
            "count = 1000000000: accepted is a whole nu",
        ),
        (
            lambda: aeruca.bath.mode_roots("slab", 1, 2.5),
            "count = 2.5: accepted is a whole number, 1 t",
        ),
        (lambda: aeruca.bath.mode_roots("slab", 1, True), "count = True"),
        (
            lambda: aeruca.bath.bath_series(0.1, [1], accuracy=0),
            "accuracy = 0: accepted is above 0 to",
        ),
        (lambda: aeruca.summarise_bath_log(None), "log = None: accepted is a BathLog"),
        (lambda: aeruca.weigh_out("borax", percent_w_v="1"), "percent_w_v = '1': accepted is a nu"),
        (
            lambda: aeruca.Equilibrium(components="Cu(2+)"),
            "components = 'Cu(2+)': accepted is a li",
        ),
        (lambda: aeruca.Equilibrium(allowed_solids=[1]), "allowed_solids = 1 among the names"),
        (lambda: aeruca.Equilibrium(acidity=None), "acidity = None: accepted is a text"),
        (
            lambda: aeruca.Equilibrium(**BASE).solve(WATER, ph=None),
            "ph = not given: accepted is -2",
        ),
        (lambda: aeruca.Equilibrium(**BASE).solve(WATER, ph="7"), "ph = '7': accepted is a num"),
        (lambda: aeruca.Equilibrium(**BASE).solve(WATER, ph=[7]), "ph = an array of shape (1,)"),
        (lambda: aeruca.Equilibrium(**BASE).solve({"Cu(2+)": None}), "Cu(2+) = None: accepted is"),
        (lambda: aeruca.Equilibrium(**BASE).solve(None), "totals_mol_per_kg = None: accepted is"),
        (lambda: aeruca.Equilibrium(**BASE).solve({3: 1.0}), "name in totals_mol_per_kg = 3"),
        (
            lambda: aeruca.Equilibrium(**BASE).solve_many({"Cu(2+)": [1e-3] * 2}, ph=[1, 2, 3]),
            "total of Cu(2+), ph = arrays of shapes (2,), (3,)",
        ),
        (
            lambda: aeruca.Equilibrium(**BASE).solve(WATER, ph=7, eh_v=0.4, oxygen_bar=0.2),
            "oxygen_bar = 0.2: accepted is oxygen_bar with redox oxygen only; this system has "
            "redox eh",
        ),
        (
            lambda: aeruca.Equilibrium(**BASE, redox="oxygen").solve_many(
                WATER, ph=7, eh_v=[0.1, 0.2]
            ),
            "eh_v of water 0 = 0.1: accepted is eh_v with redox",
        ),
        (
            lambda: aeruca.Equilibrium(**BASE, acidity="charge_balance").solve(WATER, ph=8),
            "ph = 8: accepted is ph with acidity given_ph only",
        ),
        (
            lambda: aeruca.store.record_from_arrays([0, 1], None, [[40], [41]]),
            "rh_percent = an array of",
        ),
        (
            lambda: aeruca.store.record_from_arrays([0], [[20]], [40]),
            "temperature_c = an array of shape",
        ),
        (
            lambda: aeruca.store.record_from_arrays([2**63 - 1], None, [40]),
            "accepted is times of the y",
        ),
        (
            lambda: aeruca.store.record_from_arrays(np.array([2**60], "datetime64[D]"), None, [40]),
            "accepted is times of the years 1900 to 2100",
        ),
        (
            lambda: aeruca.store.record_from_arrays(["2024-01-01"], None, [40]),
            "times = an array of <U10",
        ),
        (lambda: aeruca.store.record_from_arrays([], None, []), "times = no values"),
        (
            lambda: aeruca.store.record_from_arrays([0], None, [40], gap_factor=None),
            "gap_factor = None",
        ),
        (lambda: aeruca.store.onset("40", salt=None), "no onset band named '40'"),
        (lambda: aeruca.store.onset([40]), "limit = an array of shape (1,)"),
        (lambda: aeruca.assess_store(None, 40), "record = None: accepted is a LoggerRecord"),
        (lambda: aeruca.assess_case(None), "case = None: accepted is the path of a case file"),
        (
            lambda: aeruca.activity.activity_coefficients("sit", None, [1]),
            "species = None: accepted is a l",
        ),
        (
            lambda: aeruca.default_dataset().log10_k("tenorite", [20, None]),
            "temperature_c = None at",
        ),
        (lambda: checks.numbers("x", [1, Decimal(2)]), "x = Decimal('2') at 1"),
        (lambda: checks.numbers("x", [[1, True]] == 1), "x = False"),
        (lambda: checks.numbers("x", 1j), "x = "),
    ],
)
def test_one_sentence_names_parameter_value_and_what_is_accepted(call, message):
    with pytest.raises(aeruca.Error) as caught:
        call()
    assert message in str(caught.value)
    assert "\n" not in str(caught.value)
    assert isinstance(caught.value, ValueError)


def test_too_many_draws_are_refused_before_the_memory_is_asked_for():
    model = aeruca.FieldModel()
    with pytest.raises(aeruca.InputError, match="samples = 1000000 at 1000 points: accepted is"):
        model.probabilities(np.linspace(0, 14, 1000), 0.2, samples=1_000_000)


def test_numbers_of_every_kind_are_taken():
    for given in (1, 1.5, np.float32(2), np.int8(3), [1, 2.5], np.arange(3), ((1,), (2,)), []):
        assert checks.numbers("x", given).dtype == np.float64
    assert np.isnan(checks.numbers("x", [np.nan])).all()


def test_an_unknown_name_is_said_without_quotes_around_it():
    with pytest.raises(KeyError) as caught:
        aeruca.single_salt("halit", 1.0)
    assert str(caught.value) == "no salt named 'halit'; nearest is 'halite'"
    assert isinstance(caught.value, ValueError)


def test_oxygen_is_broadcast_and_gases_are_held_in_one_call():
    table = aeruca.speciate(
        WATER, ph=7.0, oxygen_bar=[1e-6, 0.21], components=["Cu(2+)", "Cl(-)"], redox="oxygen"
    )
    assert table.eh_v.shape == (2,)
    assert table.eh_v[1] - table.eh_v[0] == pytest.approx(
        0.0591597 / 4 * np.log10(0.21e6), rel=1e-5
    )
    held = aeruca.speciate(
        WATER,
        ph=7.0,
        eh_v=0.4,
        components=["Cu(2+)", "CO3(2-)"],
        fugacity_bar={"CO2(g)": 1e-3},
    )
    free = aeruca.speciate(WATER, ph=7.0, eh_v=0.4, components=["Cu(2+)", "CO3(2-)"])
    assert held.log10_molality_of("HCO3(-)") > free.log10_molality_of("HCO3(-)")
