"""The data set as Python sees it."""

from __future__ import annotations

import math
import re
from pathlib import Path

import numpy as np
import pytest

import aeruca


@pytest.fixture(scope="module")
def dataset() -> aeruca.dataset.Dataset:
    return aeruca.default_dataset()


def test_a_species_knows_what_it_rests_on(dataset: aeruca.dataset.Dataset) -> None:
    nantokite = dataset["nantokite"]
    assert nantokite.kind == "solid"
    assert nantokite.components.shape == (len(dataset.components),)
    total = sum(factor * dataset.figure(name).value for name, factor in nantokite.constant_terms)
    assert total == pytest.approx(nantokite.log10_k, abs=1e-12)
    assert repr(nantokite).startswith("Species('nantokite', solid, log10_k 9.475 +/- 0.16")


def test_constants_take_arrays_and_pass_nan(dataset: aeruca.dataset.Dataset) -> None:
    values = dataset.log10_k("OH(-)", np.array([[0.0, 25.0], [50.0, math.nan]]))
    assert values.shape == (2, 2)
    assert values[0, 1] == pytest.approx(-13.995)
    assert math.isnan(values[1, 1])
    with pytest.raises(aeruca.InputError, match="0 to 50 degrees C"):
        dataset.log10_k("OH(-)", [10.0, 60.0])


LOST = """
source = "aeruca"
place = "derived here: left out for a test"
basis = "derived"
chosen = false
reason = "left out for a test"
"""


def test_a_heat_that_cannot_be_estimated_is_not_known(
    dataset: aeruca.dataset.Dataset, tmp_path: Path
) -> None:
    own = tmp_path / "own.toml"
    own.write_text(
        '[[reaction]]\nid = "W01H.enthalpy"\nequation = "H2O = H(+) + OH(-)"\n'
        f'quantity = "enthalpy"\nvalue = 55.815{LOST}'
        '[[energy]]\nid = "OH(-).enthalpy.cox1989"\nspecies = "OH(-)"\n'
        f'quantity = "enthalpy"\nvalue = -230.015{LOST}'
    )
    lesser = aeruca.extend_dataset(dataset, str(own))
    with pytest.raises(aeruca.InputError, match="enthalpy of reaction is not known"):
        lesser.log10_k("syngenite", 20.0)
    assert math.isfinite(dataset.log10_k("syngenite", 20.0))


def test_unknown_names_are_key_errors_with_the_nearest(dataset: aeruca.dataset.Dataset) -> None:
    with pytest.raises(KeyError, match="nantokite"):
        dataset["nantokit"]
    with pytest.raises(aeruca.UnknownName):
        dataset.salt("sugar")
    assert "nantokite" in dataset
    assert "sugar" not in dataset


def test_every_figure_names_a_source_and_its_basis(dataset: aeruca.dataset.Dataset) -> None:
    keys = {source.key for source in dataset.sources}
    for figure in dataset.figures:
        assert figure.source in keys, figure
        assert figure.basis in {"looked-up", "memory", "derived", "estimated"}, figure
        if figure.basis == "derived" and figure.chosen:
            assert figure.place or figure.note, figure


def test_a_file_extends_the_data_set_and_leaves_the_old_alone(
    dataset: aeruca.dataset.Dataset, tmp_path: Path
) -> None:
    file = tmp_path / "own.toml"
    file.write_text(
        '[[source]]\nkey = "own2026"\ntext = "Own measurement, invented for this test"\n\n'
        '[[onset]]\nid = "own"\ntitle = "own limit"\nlow_rh_percent = 38\nhigh_rh_percent = 40\n'
        'source = "own2026"\nbasis = "derived"\nreason = "test"\n'
    )
    extended = aeruca.extend_dataset(dataset, str(file))
    assert extended.onset_band("own").high_rh_percent == 40
    assert extended.content_hash != dataset.content_hash
    assert len(dataset.onset_bands) + 1 == len(extended.onset_bands)
    file.write_text(file.read_text().replace("title", "titel"))
    with pytest.raises(aeruca.FileError, match="'titel' was found in its place"):
        aeruca.extend_dataset(dataset, str(file))


def test_molar_masses() -> None:
    assert aeruca.dataset.molar_mass_g_per_mol("CuCl2.2H2O") == pytest.approx(170.48, abs=0.01)
    with pytest.raises(aeruca.InputError, match="a chemical formula"):
        aeruca.dataset.molar_mass_g_per_mol("copper")


DATA = Path(__file__).resolve().parents[2] / "data"
COMPUTED = re.compile(r"\b(derived|doubled|tripled) here\b|^arithmetic here")


def records(name: str, kind: str) -> list[dict[str, object]]:
    tomllib = pytest.importorskip("tomllib")  # since Python 3.11
    return list(tomllib.loads((DATA / name).read_text(encoding="utf-8"))[kind])


def test_what_was_computed_here_says_so() -> None:
    """`looked-up` is a promise: a figure worked out from what was read is `derived`."""
    for one in [*records("reactions.toml", "reaction"), *records("species.toml", "energy")]:
        note, place = str(one.get("note", "")), str(one.get("place", ""))
        computed = COMPUTED.search(note) is not None or (
            one["quantity"] == "gibbs_energy" and "dGf computed here" in note
        )
        if one["quantity"] != "log10_k":
            computed = computed or "dHr and dCp here follow" in note
        if computed:
            assert one["basis"] == "derived", one["id"]
            assert "weakest input" in note, one["id"]
            assert "here" in place + note, one["id"]


def test_what_was_looked_up_alone_in_its_row_quotes_it() -> None:
    for one in records("species.toml", "energy"):
        note = str(one.get("note", ""))
        if one["basis"] == "looked-up" and ("recalled" in note or "mixed row" in note):
            assert note.startswith("this figure was looked up"), one["id"]


def test_electrodes_say_whose_tolerance_it_is() -> None:
    figures = records("electrodes.toml", "figure")
    electrodes = [one for one in figures if one["quantity"] == "electrode_potential"]
    assert len(electrodes) == 15
    for one in electrodes:
        assert "V is our" in str(one["note"]), one["id"]
