"""Fields at fixed totals: closed, tiling, where the equilibrium says, and refused by name."""

import itertools
import re

import numpy as np
import pytest
from shapely.geometry import Point, Polygon
from shapely.ops import unary_union

import aeruca
from aeruca.totals_fields import TotalsFields, ready_view, ready_views, totals_fields

WATERS = {
    "sea salt": {"totals": {"Cu(2+)": 1e-3, "Cl(-)": 0.5, "Na(+)": 0.5}},
    "open to air": {
        "totals": {"Cu(2+)": 1e-4, "Cl(-)": 0.01},
        "gases": {"CO2(g)": 4e-4},
        "x": ("pH", 4.0, 9.5),
    },
    "chloride": {
        "totals": {"Cu(2+)": 1e-3},
        "oxygen_bar": 0.21,
        "x": ("pH", 4.0, 9.5),
        "y": ("total Cl(-)", -5.0, 0.0),
    },
    "copper": {
        "totals": {"Cl(-)": 0.1},
        "ph": 6.0,
        "x": ("total Cu(2+)", -6.0, -0.5),
        "y": ("Eh", -0.3, 0.7),
    },
    "cold": {
        "totals": {"Cu(2+)": 1e-3, "Cl(-)": 0.1},
        "eh_v": 0.45,
        "x": ("pH", 4.0, 9.0),
        "y": ("temperature", 2.0, 40.0),
        "cells": 16,
    },
    "drying": {
        "totals": {"Cu(2+)": 1e-3, "halite": 0.2},
        "eh_v": 0.4,
        "x": ("pH", 3.0, 9.0),
        "y": ("water activity", 0.8, 0.995),
        "cells": 16,
    },
}


def shapes(diagram):
    """Return the fields as polygons of a general-purpose library, holes and all."""
    found = {}
    for field in diagram.fields:
        rings = [Polygon(outline) for outline in field.outlines]
        area = unary_union([ring for ring in rings if ring.exterior.is_ccw])
        for ring in rings:
            if not ring.exterior.is_ccw:
                area = area.difference(ring)
        found[field.species] = area
    return found


def frame_of(diagram):
    (_, x0, x1), (_, y0, y1) = diagram.x_axis, diagram.y_axis
    return Polygon([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])


@pytest.fixture(scope="module", params=WATERS)
def water(request):
    model = TotalsFields(**WATERS[request.param])
    return model, model.diagram()


def test_fields_are_valid_polygons_that_tile_the_frame(water):
    _, diagram = water
    frame = frame_of(diagram)
    areas = shapes(diagram)
    for name, area in areas.items():
        assert area.is_valid, name
        assert area.area / frame.area == pytest.approx(diagram.field(name).area_fraction, abs=1e-9)
    assert sum(area.area for area in areas.values()) == pytest.approx(frame.area, rel=1e-9)
    assert unary_union(list(areas.values())).area == pytest.approx(frame.area, rel=1e-9)


# Every point of a field, but for those nearer to its edge than the tolerance, is what it says.
def test_a_field_is_what_the_equilibrium_says_there(water):
    model, diagram = water
    (_, x0, x1), (_, y0, y1) = diagram.x_axis, diagram.y_axis
    rng = np.random.default_rng(5)
    x, y = rng.uniform(x0, x1, 400), rng.uniform(y0, y1, 400)
    told = model.at(x, y)
    areas = shapes(diagram)
    wrong = []
    for name, px, py in zip(told, x, y, strict=True):
        near = Point(px, py).buffer(0.002 * min(x1 - x0, y1 - y0))
        if name not in areas or not areas[name].intersects(near):
            wrong.append((name, px, py))
    assert wrong == []


def test_edges_lie_where_the_label_changes(water):
    model, diagram = water
    (x_title, x0, x1), (y_title, y0, y1) = diagram.x_axis, diagram.y_axis
    step = {"Eh": 1e-4, "water": 1e-4, "temperature": 0.01}
    dx, dy = (step.get(title.split(" ")[0], 1e-3) for title in (x_title, y_title))
    checked = 0
    for edge in diagram.edges:
        scaled = edge.line / (dx, dy)
        for a, b in itertools.pairwise(scaled):
            along = b - a
            length = np.hypot(*along)
            if length < 20:
                continue
            middle, normal = 0.5 * (a + b), np.array([-along[1], along[0]]) / length
            # Tolerance 1; a narrow field may lie between, or end before that.
            left, right = ((middle + side * 1.2 * normal) * (dx, dy) for side in (1, -1))
            inside = all(x0 < p[0] < x1 and y0 < p[1] < y1 for p in (left, right))
            if not inside:
                continue
            on_left, on_right = model.at([left[0], right[0]], [left[1], right[1]])
            assert on_left != edge.right, (middle * (dx, dy), edge)
            assert on_right != edge.left, (middle * (dx, dy), edge)
            checked += 1
    assert checked > 3


def counted(side):
    """Return (count, name) of each term of one side of a reaction."""
    for term in side.split(" + "):
        found = re.fullmatch(r"(?:([\d.]+) )?(\S.*)", term)
        yield float(found[1] or 1), found[2]


def test_reactions_on_edges_are_balanced(water):
    _, diagram = water
    dataset = aeruca.default_dataset()
    written = [edge.reaction for edge in diagram.edges if edge.reaction]
    assert written
    for reaction in written:
        left, right = reaction.split(" = ")
        sum_left, sum_right = (
            sum(count * np.array(dataset[name].components) for count, name in counted(side))
            for side in (left, right)
        )
        np.testing.assert_allclose(sum_left, sum_right, atol=1e-9, err_msg=reaction)


# Far from saturation of chloride and at low strength the totals diagram meets the exact one.
def test_edges_meet_those_at_fixed_activities_where_dilute():
    diagram = totals_fields(
        x=("pH", 5.0, 9.0),
        y=("Eh", -0.1, 0.6),
        totals={"Cu(2+)": 1e-6, "Cl(-)": 1e-5},
        activity="ideal",
    )
    exact = aeruca.field_diagram(
        x=("pH", 5.0, 9.0),
        y=("Eh", -0.1, 0.6),
        log10_activity={"Cl(-)": -5.0},
        log10_copper=-6.0,
    )
    for pair in (("cuprite", "copper"), ("tenorite", "cuprite")):
        (straight,) = [e for e in exact.edges if {e.left, e.right} == set(pair)]
        traced = [e for e in diagram.edges if {e.left, e.right} == set(pair)]
        for edge in traced:
            line = straight.line
            expected = line.intercept + line.slope * edge.line[:, 0]
            np.testing.assert_allclose(edge.line[:, 1], expected, atol=2e-4)


# log10 f(CO2) where malachite and tenorite change places does not hang on pH: 2 CuO + CO2 + H2O.
def test_malachite_meets_tenorite_at_one_fugacity():
    places = []
    for ph in (6.8, 7.2, 7.6):
        diagram = totals_fields(
            x=("CO2(g)", -5.0, 0.0),
            y=("total Cu(2+)", -4.0, -2.0),
            totals={},
            oxygen_bar=0.21,
            ph=ph,
        )
        (edge,) = [e for e in diagram.edges if {e.left, e.right} == {"malachite", "tenorite"}]
        assert np.ptp(edge.line[:, 0]) < 0.003
        places.append(edge.line[:, 0].mean())
    assert np.ptp(places) < 0.003


def test_mixed_assemblages_are_fields():
    pit = ready_view("pit")
    names = {field.species for field in pit.fields}
    assert {"copper + nantokite", "nantokite + cuprite", "tenorite + clinoatacamite"} <= names


@pytest.mark.parametrize("name", ready_views())
def test_ready_views_tile_their_frame(name):
    diagram = ready_view(name)
    assert sum(field.area_fraction for field in diagram.fields) == pytest.approx(1, abs=1e-9)
    assert len(ready_views()[name]) > 20


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"ph": 7.0}, "x = pH: accepted is a condition that is not held as well"),
        ({"oxygen_bar": 0.2}, "y = Eh / V vs SHE: accepted is a condition that is not held"),
        ({"y": ("pH", 0.0, 14.0)}, "another condition than that of the x axis, pH"),
        ({"x": ("oxygen", -60.0, 0.0)}, "another condition than that of the x axis"),
        ({"x": ("total Cl(-)", -5.0, 0.0)}, "not held as well"),
        ({"x": ("pH", 9.0, 3.0)}, "a range that rises within -2 to 16"),
        ({"x": ("Cl(-)", -5.0, 0.0)}, "total NAME"),
        ({"totals": {"Cl(-)": 0.1}}, "a total that holds copper"),
        ({"cells": 3}, "8 to 400"),
    ],
)
def test_contradictions_are_refused_in_one_sentence(asked, said):
    given = {"totals": {"Cu(2+)": 1e-3, "Cl(-)": 0.1}} | asked
    with pytest.raises(aeruca.InputError, match=re.escape(said)):
        totals_fields(**given)


def test_unknown_view_names_the_nearest():
    with pytest.raises(aeruca.UnknownName, match="nearest is 'chloride'"):
        ready_view("chlorid")


def test_what_has_no_answer_is_a_field_that_says_why():
    diagram = totals_fields(totals={"Cu(2+)": 1e-3}, gases={"CO2(g)": 1e-3}, x=("pH", 8.0, 14.0))
    assert diagram.field("no answer").area_fraction > 0.1
    assert any("has no answer" in warning for warning in diagram.warnings)


@pytest.mark.parametrize("size", [(7.6, 6.4), (4.0, 3.5)])
@pytest.mark.parametrize("name", ["pit", "chloride", "carbon_dioxide"])
def test_labels_neither_overlap_nor_leave_the_frame(name, size):
    pyplot = pytest.importorskip("matplotlib.pyplot")
    figure, axes = pyplot.subplots(figsize=size)
    ready_view(name).plot(axes, caption=False)
    figure.canvas.draw()
    boxes = [text.get_window_extent() for text in axes.texts if "1 bar" not in text.get_text()]
    frame = axes.get_window_extent()
    for k, box in enumerate(boxes):
        assert frame.x0 <= box.x0, k
        assert box.x1 <= frame.x1, k
        assert not any(box.overlaps(other) for other in boxes[:k])
    pyplot.close(figure)
