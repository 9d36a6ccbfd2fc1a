"""The guide to minerals from Python."""

import pytest

import aeruca
from aeruca import minerals


def test_the_guide_holds_looks_meaning_and_volume() -> None:
    nantokite = minerals.mineral("nantokite")
    assert nantokite.formula == "CuCl"
    assert nantokite.molar_volume_cm3_per_mol == pytest.approx(23.9, abs=0.1)
    assert "waxy" in nantokite.usual
    assert nantokite.basis == "memory"
    assert nantokite.group_basis == "looked-up"
    assert len({one.name for one in minerals.guide()}) == len(minerals.guide()) > 90
    assert minerals.mineral("wax bloom").molar_volume_cm3_per_mol is None


def test_every_field_test_tells_its_false_results_and_a_caution() -> None:
    tests = {test.id: test for test in minerals.field_tests()}
    assert list(tests) == ["colour", "texture", "cold-water", "silver-nitrate", "acid"]
    assert "benzotriazole" in tests["silver-nitrate"].misleads
    assert "safety data sheet" in tests["acid"].caution
    assert all("never on the object" in tests[name].how for name in ("cold-water", "acid"))


def test_atacamite_is_never_turned_into_active() -> None:
    found = minerals.identify(["green", "crystals", "silver-nitrate=cloud", "quiet", "stays"])
    assert "atacamite" in [one.name for one in found.candidates]
    assert "No solid is a verdict" in found.activity
    atacamite = minerals.mineral("atacamite")
    assert atacamite.does_not_mean.startswith("That the object is active")


def test_the_next_test_and_what_it_leaves() -> None:
    found = minerals.identify(["blue-green", "powdery"])
    assert found.next is not None
    assert {leaves.outcome for leaves in found.next.leaves} <= {
        outcome for test in minerals.field_tests() for outcome in test.outcomes
    }
    assert found.message == ""


def test_what_the_guide_cannot_read_is_refused() -> None:
    with pytest.raises(aeruca.UnknownName, match="nearest is 'waxy'"):
        minerals.identify(["waxi"])
    with pytest.raises(aeruca.InputError, match="one grain at a time"):
        minerals.identify(["cloud", "clear"])
    with pytest.raises(aeruca.UnknownName, match="nearest is 'malachite'"):
        minerals.mineral("malachit")
