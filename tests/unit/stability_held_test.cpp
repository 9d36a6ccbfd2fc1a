// What is held at a point, its errors and its forms; lines of water; edges in several stretches.

#include <cmath>
#include <vector>

#include "aeruca/constants.hpp"
#include "aeruca/errors.hpp"
#include "aeruca/stability.hpp"
#include "catch.hpp"
#include "copper_dataset.hpp"
#include "numerics/normal.hpp"
#include "stability/diagram.hpp"

using namespace aeruca;
using aeruca::test::small_copper_dataset;
using aeruca::test::SmallDataset;

namespace {

// A ligand X with a dimer, X2, of constant 10^4, and a solid CuX of constant 10^8.
double copper_over_solid(double log10_ligand) {
  SmallDataset set({"H2O", "H(+)", "e(-)", "Cu(2+)", "X(-)"});
  set.dissolved("X2(2-)", {{"X(-)", 2}}, 4);
  set.solid("CuX", {{"Cu(2+)", 1}, {"X(-)", 1}}, 8);
  FieldOptions options;
  options.log10_ligand["X(-)"] = log10_ligand;
  options.only = {"CuX"};
  return stable_at(set.done(), options, 7, 0).log10_copper_ii;
}

}  // namespace

// The form that leaves the ligand the lower potential is the one there is: X(-) with a(X) = 1e-5, for
// the dimer would ask for 10^-4.5; at 1e-3 the dimer, with a(X) = 10^-3.5.
TEST_CASE("of a ligand with a dimer each form counts its atoms of the ligand") {
  CHECK(std::abs(copper_over_solid(-5) - (-8 + 5)) < 1e-12);
  CHECK(std::abs(copper_over_solid(-3) - (-8 + 3.5)) < 1e-12);
}

TEST_CASE("the activity of water is no more than that of pure water") {
  FieldOptions options;
  options.log10_water = 0.5;
  CHECK_THROWS_AS(field_diagram(small_copper_dataset(), options), InputError);
  options.log10_water = -0.1;
  CHECK_FALSE(field_diagram(small_copper_dataset(), options).fields.empty());
}

// 2 H2O = O2 + 4 H(+) + 4 e(-) with 0.02 in log10 K: a quarter of it per electron, in volts.
TEST_CASE("the line of oxygen is as sure as its constant, per electron") {
  const FieldDiagram diagram = field_diagram(small_copper_dataset(), {});
  REQUIRE(diagram.water_lines.size() == 2);
  const WaterLine& oxygen = diagram.water_lines[1];
  REQUIRE(oxygen.gas == "O2(g)");
  CHECK(std::abs(oxygen.line.uncertainty - 0.02 / 4 * nernst_slope_v(25)) < 1e-12);
}

// The solid takes its ligand from the acid HX that is held, and the constants of both rest on one
// figure: what it is off by cancels, and the solid is first in every sample though its lead over the
// bare ion is a third of the figure's uncertainty. On a figure of its own it would be in 63 of 100.
TEST_CASE("what is held and a candidate owe to one figure cancels in the samples too") {
  SmallDataset set({"H2O", "H(+)", "e(-)", "Cu(2+)", "X(-)"});
  set.dissolved("HX(aq)", {{"X(-)", 1}, {"H(+)", 1}}, 5).constant_terms = {{"shared", 1}};
  set.solid("CuX", {{"Cu(2+)", 1}, {"X(-)", 1}}, 7.1).constant_terms = {{"own", 1}};
  Dataset data = *set.done();
  for (const char* id : {"shared", "own"}) {
    Figure figure;
    figure.id = id;
    figure.uncertainty = 0.3;
    data.figures.push_back(figure);
  }
  data.index_names();
  const auto share_of_solid = [&](const std::string& figure) {
    Dataset changed = data;
    for (Species& species : changed.species) {
      if (species.name == "CuX") species.constant_terms = {{figure, 1}};
    }
    FieldOptions options;
    options.log10_activity["HX(aq)"] = -3;  // a(X) = 10^-1 at pH 7, so that 10^-6 of copper is near
    options.only = {"Cu(2+)", "CuX"};
    const FieldModel model(std::make_shared<const Dataset>(changed), options);
    const PointAnswer at = model.at(7, 0);
    REQUIRE(at.species == "CuX");
    REQUIRE(std::abs(at.gap_log10 - 0.1) < 1e-9);
    const std::vector<double> x{7};
    const std::vector<double> y{0};
    const std::vector<double> shares = model.probabilities(x, y, 20000, 5);
    return shares[model.candidates()[0] == "CuX" ? 0 : 1];
  };
  CHECK(share_of_solid("shared") == 1);
  const double apart = detail::normal_below(0.1 / std::hypot(0.3, 0.3));
  CHECK(std::abs(share_of_solid("own") - apart) < 4 * 0.5 / std::sqrt(20000.0));
}

TEST_CASE("an edge that a vertex cuts in two is one edge still") {
  const detail::System system = detail::make_system(small_copper_dataset(), {});
  const detail::Frame frame(system.options);
  const detail::Alternatives others(*system.dataset, system.options.temperature_c);
  detail::Subdivision net = detail::tile_frame(system, frame);
  const std::vector<Edge> whole = detail::edges_of(system, frame, net, others);
  const std::size_t count = net.segments.size();
  for (std::size_t s = 0; s < count; ++s) {
    const detail::Segment segment = net.segments[s];
    const detail::Point2 a = net.vertices[segment.from];
    const detail::Point2 b = net.vertices[segment.to];
    net.vertices.push_back({0.5 * (a.x + b.x), 0.5 * (a.y + b.y)});
    net.segments[s].to = net.vertices.size() - 1;
    net.segments.push_back({net.vertices.size() - 1, segment.to, segment.left, segment.right});
  }
  const std::vector<Edge> cut = detail::edges_of(system, frame, net, others);
  REQUIRE(cut.size() == whole.size());
  for (std::size_t i = 0; i < cut.size(); ++i) {
    CHECK(cut[i].reaction == whole[i].reaction);
    CHECK(cut[i].from.x == whole[i].from.x);
    CHECK(cut[i].from.y == whole[i].from.y);
    CHECK(cut[i].to.x == whole[i].to.x);
    CHECK(cut[i].to.y == whole[i].to.y);
  }
}
