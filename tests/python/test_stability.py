"""Stability fields from Python: arrays, names, pictures, bad input."""

import builtins

import matplotlib as mpl
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

mpl.use("agg")

import aeruca
from aeruca import FieldModel, field_diagram, stable_at
from aeruca.display import (
    reaction_text,
    sentence_text,
    species_html,
    species_mathtext,
    species_text,
)
from aeruca.drawing.fields import contrast, field_colours

SEA = {"Cl(-)": -0.44}


def shoelace(points):
    x, y = np.asarray(points).T
    return 0.5 * np.sum(x * np.roll(y, -1) - y * np.roll(x, -1))


def test_copper_and_water_has_the_fields_of_the_text_books():
    names = {field.species for field in field_diagram().fields}
    assert {"copper", "cuprite", "tenorite", "Cu(2+)"} <= names


def test_outlines_tile_the_frame():
    diagram = field_diagram(log10_activity=SEA, log10_ligand={"CO3(2-)": -2})
    total = sum(shoelace(outline) for field in diagram.fields for outline in field.outlines)
    assert total == pytest.approx(14 * 2.4, rel=1e-12)
    assert sum(field.area_fraction for field in diagram.fields) == pytest.approx(1, rel=1e-12)


def test_an_edge_knows_its_reaction_line_and_sources():
    edge = next(e for e in field_diagram().edges if {e.left, e.right} == {"copper", "cuprite"})
    assert edge.reaction == "cuprite + 2 e(-) + 2 H(+) = 2 copper + H2O"
    assert edge.line.slope == pytest.approx(-0.05916, abs=1e-5)
    assert edge.line.intercept == pytest.approx(0.463, abs=1e-3)
    assert edge.figures
    assert 0 < edge.line.uncertainty < 0.002  # the error of E0(Cu(2+)/Cu) is shared and cancels


@settings(max_examples=40, deadline=None)
@given(
    chloride=st.floats(-6, 0.5),
    copper=st.floats(-9, 0),
    ph=st.floats(0.01, 13.99),
    eh=st.floats(-0.99, 1.39),
)
def test_point_and_field_agree(chloride, copper, ph, eh):
    from matplotlib.path import Path

    model = FieldModel(log10_activity={"Cl(-)": chloride}, log10_copper=copper)
    answer = model.stable_at(ph, eh)
    if answer.gap_log10 < 1e-9:
        return
    field = model.diagram().field(answer.species)
    inside = [Path(outline).contains_point((ph, eh)) for outline in field.outlines]
    assert sum(inside) % 2 == 1


def test_points_broadcast_and_nan_passes_through():
    answers = stable_at(np.array([[5.0], [9.0], [np.nan]]), [0.0, 0.5], log10_activity=SEA)
    assert answers.species.shape == (3, 2)
    assert answers.species[1, 1] == "tenorite"
    assert list(answers.species[2]) == ["", ""]
    assert np.isnan(answers.gap_kj_per_mol_copper[2]).all()
    assert answers.decided.dtype == bool


def test_one_point_gives_plain_values():
    answer = stable_at(9, 0.5)
    assert (answer.species, answer.runner_up) == ("tenorite", "spertiniite")
    assert isinstance(answer.gap_log10, float)
    assert answer.gap_kj_per_mol_copper == pytest.approx(answer.gap_log10 * 5.708, rel=1e-4)
    assert answer.decided is True


def test_polymorphs_within_their_uncertainty_are_not_decided():
    answer = stable_at(5, 0.8, log10_activity=SEA, only=["clinoatacamite", "atacamite"])
    assert answer.decided is False


@pytest.mark.parametrize(
    ("options", "error", "part"),
    [
        ({"x": ("pH", 9, 3)}, aeruca.InputError, "low before high"),
        ({"x": ("pH", float("nan"), 3)}, aeruca.InputError, "x axis (pH)"),
        ({"x": ("Cl-", -4, 14), "ph": 7}, aeruca.UnknownName, "no species named 'Cl-'"),
        ({"log10_activity": {"Cl-": -1}}, aeruca.UnknownName, "nearest is 'Cl(-)'"),
        ({"log10_activity": {"Cl(-)": float("nan")}}, aeruca.InputError, "log10_activity of Cl(-)"),
        ({"log10_ligand": {"carbonate": -1}}, aeruca.UnknownName, "no component named"),
        ({"left_out": ["tenorit"]}, aeruca.UnknownName, "nearest is 'tenorite'"),
        ({"left_out": "tenorite"}, aeruca.InputError, "list of names"),
        ({"only": ["malachite"]}, aeruca.InputError, "an activity is missing"),
        ({"only": ["halite"]}, aeruca.InputError, "hold copper"),
        ({"temperature_c": 70}, aeruca.InputError, "0 to 50"),
        ({"log10_copper": 9}, aeruca.InputError, "log10_copper"),
        ({"eh_v": 0.3}, aeruca.InputError, "one place"),
    ],
)
def test_wrong_options_are_refused_in_one_sentence(options, error, part):
    with pytest.raises(error) as caught:
        field_diagram(**options)
    assert part in str(caught.value)
    assert "\n" not in str(caught.value)


def test_fields_away_from_25_c_without_an_enthalpy_are_estimated_or_refused(tmp_path):
    own = tmp_path / "own.toml"
    own.write_text(
        '[[reaction]]\nid = "H1C.enthalpy"\nequation = "Cu(2+) + 3 H2O = Cu(OH)3(-) + 3 H(+)"\n'
        'quantity = "enthalpy"\nvalue = 149.2\nunit = "kJ/mol"\nsource = "aeruca"\n'
        'place = "derived here: left out for a test"\nbasis = "derived"\nchosen = false\n'
        'reason = "left out for a test"\n'
    )
    data = aeruca.extend_dataset(aeruca.default_dataset(), str(own))
    with pytest.raises(aeruca.InputError, match="enthalpy"):
        field_diagram(dataset=data, temperature_c=10, missing_enthalpy="refuse")
    guess = field_diagram(dataset=data, temperature_c=10)
    assert "Cu(OH)3(-)" in guess.estimated_heats
    assert any("estimated by a rule" in text for text in guess.warnings)
    assert not any("25 degrees C" in text for text in guess.warnings)
    assert field_diagram(temperature_c=10).fields


@pytest.mark.parametrize("x", [None, "7", [7, None]])
def test_points_that_are_no_numbers_are_refused(x):
    with pytest.raises(aeruca.InputError, match=r"x = .*: accepted is a number"):
        stable_at(x, 0.3)


def test_shapes_that_do_not_fit_are_refused():
    with pytest.raises(ValueError, match="shape"):
        stable_at([1, 2, 3], [0.1, 0.2])


def test_a_field_that_is_not_there_names_those_that_are():
    with pytest.raises(KeyError, match="tenorite"):
        field_diagram().field("nantokite")


def test_other_temperatures_have_the_slope_and_the_uncertainty_of_theirs():
    known = ["copper", "cuprite", "tenorite", "Cu(2+)"]

    def edge(temperature_c):
        edges = field_diagram(temperature_c=temperature_c, only=known).edges
        return next(e for e in edges if {e.left, e.right} == {"copper", "cuprite"})

    cold = field_diagram(temperature_c=5, only=known)
    assert not any("25 degrees C" in warning for warning in cold.warnings)
    assert cold.estimated_heats == []
    slope = edge(5).line.slope
    assert slope == pytest.approx(-0.05519, abs=1e-5)  # ln(10) R T / F at 5 degrees C
    # The heats count in the uncertainty: a warning used to say that they did not.
    assert edge(5).log10_k_uncertainty > edge(25).log10_k_uncertainty
    assert edge(45).log10_k_uncertainty > edge(25).log10_k_uncertainty


def test_repr_and_html_name_fields_and_data_set():
    diagram = field_diagram(log10_activity=SEA)
    assert "cuprite" in repr(diagram)
    page = diagram._repr_html_()
    assert "CuCl<sub>2</sub><sup>−</sup>" in page
    assert "data set" in page


@pytest.mark.parametrize(
    ("name", "unicode", "html"),
    [
        ("CuCl2(-)", "CuCl₂⁻", "CuCl<sub>2</sub><sup>−</sup>"),
        ("Cu(OH)4(2-)", "Cu(OH)₄²⁻", "Cu(OH)<sub>4</sub><sup>2−</sup>"),
        ("Cu2(OH)2(2+)", "Cu₂(OH)₂²⁺", "Cu<sub>2</sub>(OH)<sub>2</sub><sup>2+</sup>"),
        ("Cu(OH)2(aq)", "Cu(OH)₂(aq)", "Cu(OH)<sub>2</sub>(aq)"),
        ("CuCl2.2H2O", "CuCl₂·2H₂O", "CuCl<sub>2</sub>·2H<sub>2</sub>O"),
        ("e(-)", "e⁻", "e<sup>−</sup>"),
        ("nantokite", "nantokite", "nantokite"),
    ],
)
def test_names_are_set_as_chemists_set_them(name, unicode, html):
    assert species_text(name) == unicode
    assert species_html(name) == html


def test_mathtext_and_sentences():
    assert species_mathtext("CuCl2(-)") == r"$\mathregular{CuCl_{2}{}^{-}}$"
    assert reaction_text("cuprite + 4 Cl(-) = 2 CuCl2(-)") == "cuprite + 4 Cl⁻ ⇌ 2 CuCl₂⁻"
    assert sentence_text("25 degrees C; log10 a(Cl(-)) = -2") == "25 °C; log₁₀ a(Cl⁻) = -2"


def test_probability_of_two_candidates_is_that_of_their_gap():
    from statistics import NormalDist

    model = FieldModel(log10_activity=SEA, only=["clinoatacamite", "tenorite"])
    x = np.array([7.0, 7.3, 7.5, 7.7, 8.2])
    shares = model.probabilities(x, 0.6, samples=20000)
    answer = model.stable_at(x, 0.6)
    sign = np.where(answer.species == "tenorite", 1, -1)
    expected = [
        NormalDist().cdf(s * g / u)
        for s, g, u in zip(sign, answer.gap_log10, answer.uncertainty_log10, strict=True)
    ]
    assert shares.sum(axis=-1) == pytest.approx(np.ones(5))
    tenorite = model.candidates.index("tenorite")
    assert shares[:, tenorite] == pytest.approx(np.array(expected), abs=0.015)  # 4 standard errors
    assert (shares == model.probabilities(x, 0.6, samples=20000)).all()
    assert (shares != model.probabilities(x, 0.6, samples=20000, seed=2)).any()


def test_probabilities_carry_nan_and_refuse_no_samples():
    model = FieldModel()
    assert np.isnan(model.probabilities(np.nan, 0.0)).all()
    with pytest.raises(aeruca.InputError, match="1 to 1 000 000"):
        model.probabilities(7, 0, samples=0)


CASES = {
    "water": {},
    "water at 1": {"log10_copper": 0},
    "chloride": {"log10_activity": {"Cl(-)": -2}},
    "sea": {"log10_activity": SEA},
    "sea without tenorite": {"log10_activity": SEA, "left_out": ["tenorite"]},
    "carbonate": {
        "log10_activity": {"Cl(-)": -2},
        "log10_ligand": {"CO3(2-)": -2, "SO4(2-)": -2},
        "log10_copper": -4,
    },
    "chloride and pH": {"x": ("pH", 2, 12), "y": ("Cl(-)", -5, 0.5), "eh_v": 0.25},
}


@pytest.mark.parametrize("options", CASES.values(), ids=CASES.keys())
def test_pictures_name_every_field_without_overlap(options):
    import matplotlib.pyplot as plt

    diagram = field_diagram(**options)
    ax = diagram.plot(uncertainty=True)
    ax.figure.canvas.draw()
    written = [text for text in ax.texts if text.get_zorder() == 6]
    shown = {text.get_text().split("\n")[0] for text in written}
    assert shown == {species_mathtext(field.species) for field in diagram.fields}
    boxes = [text.get_window_extent() for text in written]
    for i, box in enumerate(boxes):
        assert ax.get_window_extent().expanded(1.02, 1.02).contains(box.x0, box.y0)
        assert not any(box.overlaps(other) for other in boxes[i + 1 :])
    plt.close(ax.figure)


def test_solids_side_by_side_differ_in_lightness():
    diagram = field_diagram(log10_activity=SEA, log10_copper=-1)
    colours = field_colours(diagram)
    solid = {field.species for field in diagram.fields if field.kind == "solid"}
    for edge in diagram.edges:
        if {edge.left, edge.right} <= solid:
            assert contrast(colours[edge.left], colours[edge.right]) > 1.15, (edge.left, edge.right)


def test_without_matplotlib_the_message_says_what_to_install(monkeypatch):
    real = builtins.__import__

    def hidden(name, *args, **kwargs):
        if name.split(".")[0] == "matplotlib":
            raise ImportError(name)
        return real(name, *args, **kwargs)

    monkeypatch.setattr(builtins, "__import__", hidden)
    with pytest.raises(ImportError, match="pip install matplotlib"):
        field_diagram().plot()
