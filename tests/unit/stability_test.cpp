#include "aeruca/stability.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "catch.hpp"
#include "copper_dataset.hpp"

using namespace aeruca;
using aeruca::test::contains;
using aeruca::test::small_copper_dataset;

namespace {

std::set<std::string> names_of(const FieldDiagram& diagram) {
  std::set<std::string> names;
  for (const Field& field : diagram.fields) names.insert(field.species);
  return names;
}

const Edge* edge_between(const FieldDiagram& diagram, const std::string& a, const std::string& b) {
  for (const Edge& edge : diagram.edges) {
    if ((edge.left == a && edge.right == b) || (edge.left == b && edge.right == a)) return &edge;
  }
  return nullptr;
}

FieldOptions sea_water() {
  FieldOptions options;
  options.log10_activity["Cl(-)"] = -0.44;
  return options;
}

double area(const Polygon& polygon) {
  double twice = 0;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Point a = polygon[i];
    const Point b = polygon[(i + 1) % polygon.size()];
    twice += a.x * b.y - b.x * a.y;
  }
  return twice / 2;
}

}  // namespace

TEST_CASE("copper and water: the fields of the text books") {
  const FieldDiagram diagram = field_diagram(small_copper_dataset(), {});
  CHECK(names_of(diagram) == std::set<std::string>{"Cu(2+)", "Cu(+)", "Cu(OH)3(-)", "Cu(OH)4(2-)",
                                                   "copper", "cuprite", "tenorite"});
  const Edge* edge = edge_between(diagram, "cuprite", "Cu(2+)");
  REQUIRE(edge);
  CHECK(edge->reaction == "2 Cu(2+) + 2 e(-) + H2O = cuprite + 2 H(+)");
  CHECK(edge->line.text == "Eh = 0.2106 + 0.0592 pH + 0.0592 log10 a(Cu(2+))");
  CHECK(std::abs(edge->log10_k - 7.12) < 1e-9);
  CHECK(std::abs(edge->line.intercept - (0.2106 - 6 * 0.05916)) < 1e-4);
}

TEST_CASE("an upright edge is given as a pH") {
  const FieldDiagram diagram = field_diagram(small_copper_dataset(), {});
  const Edge* edge = edge_between(diagram, "tenorite", "Cu(2+)");
  REQUIRE(edge);
  CHECK(edge->line.vertical);
  CHECK(std::abs(edge->line.vertical_x - 6.82) < 1e-9);
  CHECK(edge->line.text == "pH = 3.820 - 0.500 log10 a(Cu(2+))");
  CHECK(std::abs(edge->line.uncertainty - 0.05) < 1e-12);
}

TEST_CASE("fields are counter-clockwise, tile the frame and hold their label") {
  FieldOptions options = sea_water();
  options.log10_ligand = {{"CO3(2-)", -2}, {"SO4(2-)", -2}};
  const FieldDiagram diagram = field_diagram(small_copper_dataset(), options);
  const double whole = 14 * 2.4;
  double by_pieces = 0, by_outlines = 0;
  for (const Field& field : diagram.fields) {
    for (const Polygon& piece : field.pieces) by_pieces += area(piece);
    for (const Polygon& outline : field.outlines) by_outlines += area(outline);
    CHECK(field.area_fraction > 0);
    CHECK(field.label_room > 0);
    CHECK(stable_at(small_copper_dataset(), options, field.label.x, field.label.y).species ==
          field.species);
  }
  CHECK(std::abs(by_pieces / whole - 1) < 1e-12);
  CHECK(std::abs(by_outlines / whole - 1) < 1e-12);
}

TEST_CASE("an edge keeps its left-hand field on the left") {
  const auto dataset = small_copper_dataset();
  for (const Edge& edge : field_diagram(dataset, sea_water()).edges) {
    const double dx = edge.to.x - edge.from.x, dy = edge.to.y - edge.from.y;
    const Point middle{(edge.from.x + edge.to.x) / 2, (edge.from.y + edge.to.y) / 2};
    // Left of the direction, measured in frame units.
    const double nx = -dy / 2.4 * 14, ny = dx / 14 * 2.4;
    CHECK(stable_at(dataset, sea_water(), middle.x + 1e-4 * nx, middle.y + 1e-4 * ny).species ==
          edge.left);
    CHECK(stable_at(dataset, sea_water(), middle.x - 1e-4 * nx, middle.y - 1e-4 * ny).species ==
          edge.right);
  }
}

TEST_CASE("three or more fields meet at a corner") {
  const FieldDiagram diagram = field_diagram(small_copper_dataset(), {});
  const auto found =
      std::find_if(diagram.corners.begin(), diagram.corners.end(), [](const Corner& corner) {
        return std::count(corner.species.begin(), corner.species.end(), "tenorite") > 0 &&
               std::count(corner.species.begin(), corner.species.end(), "Cu(2+)") > 0;
      });
  REQUIRE(found != diagram.corners.end());
  CHECK(found->species == std::vector<std::string>{"Cu(2+)", "cuprite", "tenorite"});
  CHECK(std::abs(found->at.x - 6.82) < 1e-9);  // (7.64 + 6) / 2
}

TEST_CASE("candidates left out give way, with the reason") {
  FieldOptions options = sea_water();
  options.left_out = {{"tenorite", ""}, {"nantokite", "for a test"}};
  const FieldDiagram diagram = field_diagram(small_copper_dataset(), options);
  CHECK(names_of(diagram).contains("spertiniite"));
  CHECK_FALSE(names_of(diagram).contains("tenorite"));
  CHECK(diagram.left_out[0].reason == "forms slowly near room temperature");
  CHECK(diagram.left_out[1].reason == "for a test");
}

TEST_CASE("polymorphs within their uncertainty are named as rivals") {
  const FieldDiagram diagram = field_diagram(small_copper_dataset(), sea_water());
  const auto field =
      std::find_if(diagram.fields.begin(), diagram.fields.end(),
                   [](const Field& each) { return each.species == "clinoatacamite"; });
  REQUIRE(field != diagram.fields.end());
  REQUIRE(field->rivals.size() == 1);
  CHECK(field->rivals[0].species == "atacamite");
  CHECK(std::abs(field->rivals[0].gap_log10 - 0.01) < 1e-12);
  CHECK(std::abs(field->rivals[0].gap_uncertainty_log10 - std::sqrt(2 * 0.2 * 0.2) / 2) < 1e-12);
}

TEST_CASE("of exactly equal candidates the earlier in the data set takes the field") {
  test::SmallDataset set({"H2O", "H(+)", "e(-)", "Cu(2+)"});
  set.solid("first", {{"Cu(2+)", 1}, {"e(-)", 2}}, 11.39);
  set.solid("second", {{"Cu(2+)", 1}, {"e(-)", 2}}, 11.39);
  const auto dataset = set.done();
  const FieldDiagram diagram = field_diagram(dataset, {});
  CHECK(names_of(diagram) == std::set<std::string>{"Cu(2+)", "first"});
  const PointAnswer answer = stable_at(dataset, {}, 7, -0.5);
  CHECK(answer.species == "first");
  CHECK(answer.runner_up == "second");
  CHECK(answer.gap_log10 == 0);
  CHECK_FALSE(answer.decided);
}

TEST_CASE("errors owed to the same figure cancel between two candidates") {
  const auto dataset = [](bool shared) {
    test::SmallDataset set({"H2O", "H(+)", "e(-)", "Cu(2+)"});
    set.solid("a", {{"Cu(2+)", 1}, {"e(-)", 2}}, 11, 0.5).constant_terms = {{"F1", 1}};
    set.solid("b", {{"Cu(2+)", 1}, {"e(-)", 1}}, 6, 0.5).constant_terms = {
        {shared ? "F1" : "F2", 1}, {"F3", 1}};
    auto copy = std::make_shared<Dataset>(*set.done());
    for (const char* id : {"F1", "F2", "F3"}) {
      Figure figure;
      figure.id = id;
      figure.uncertainty = id == std::string("F3") ? 0.3 : 0.4;
      copy->figures.push_back(figure);
    }
    copy->index_names();
    return std::shared_ptr<const Dataset>(copy);
  };
  FieldOptions options;
  options.only = {"a", "b"};
  const double apart = stable_at(dataset(false), options, 7, 0).uncertainty_log10;
  const double together = stable_at(dataset(true), options, 7, 0).uncertainty_log10;
  CHECK(std::abs(apart - std::sqrt(0.16 + 0.16 + 0.09)) < 1e-12);
  CHECK(std::abs(together - 0.3) < 1e-12);
}

TEST_CASE("the gap at a point is the affinity of the reaction there") {
  // 2 CuO + 2 H+ + 2 e- = Cu2O + H2O, log10 K 22.40: at pH 9 and Eh 0.3 V
  FieldOptions options;
  options.only = {"cuprite", "tenorite"};
  const PointAnswer answer = stable_at(small_copper_dataset(), options, 9, 0.3);
  const double affinity = 22.40 - 2 * 9 - 2 * 0.3 / 0.0591597;
  CHECK(answer.species == "tenorite");
  CHECK(std::abs(answer.gap_log10 + affinity / 2) < 1e-4);
  CHECK(std::abs(answer.gap_kj_per_mol_copper - answer.gap_log10 * 5.708) < 1e-3);
  CHECK(answer.decided);
}

TEST_CASE("all candidates at a point stand behind the first by their gap to it alone") {
  const auto dataset = default_dataset();
  FieldOptions options = sea_water();
  const auto standings = FieldModel(dataset, options).standings(8, 0.1);
  const PointAnswer best = stable_at(dataset, options, 8, 0.1);
  REQUIRE(standings.size() == FieldModel(dataset, options).candidates().size());
  CHECK(standings[0].species == best.species);
  CHECK(standings[0].gap_log10 == 0);
  CHECK(standings[0].gap_uncertainty_log10 == 0);
  CHECK(standings[1].species == best.runner_up);
  for (std::size_t i = 1; i < standings.size(); ++i) {
    CAPTURE(standings[i].species);
    CHECK(standings[i].gap_log10 >= standings[i - 1].gap_log10);
    CHECK(standings[i].kind == dataset->at(standings[i].species).kind);
    options.only = {best.species, standings[i].species};
    const PointAnswer pair = stable_at(dataset, options, 8, 0.1);
    CHECK(std::abs(standings[i].gap_log10 - pair.gap_log10) < 1e-9);
    CHECK(std::abs(standings[i].gap_uncertainty_log10 - pair.uncertainty_log10) < 1e-9);
  }
  CHECK_THROWS_AS(FieldModel(dataset, sea_water()).standings(17, 0), InputError);
}

TEST_CASE("nantokite and cuprite change places at a pH that moves one for one with the chloride") {
  const auto dataset = default_dataset();
  FieldOptions held;
  held.log10_activity["Cl(-)"] = 0;
  const PhBoundary at_one = ph_boundary(dataset, "nantokite", "cuprite", held);
  // 2 nantokite + H2O = cuprite + 2 H(+) + 2 Cl(-)
  const double constant = dataset->at("nantokite").log10_k - dataset->at("cuprite").log10_k / 2;
  CHECK(std::abs(at_one.ph - constant) < 1e-9);
  CHECK(at_one.uncertainty > 0.01);
  CHECK_FALSE(at_one.figures.empty());
  held.log10_activity["Cl(-)"] = -2;
  held.ph = 7;  // of no effect: the axes are set
  const PhBoundary dilute = ph_boundary(dataset, "cuprite", "nantokite", held);
  CHECK(std::abs(dilute.ph - (constant - 2)) < 1e-9);
  held.log10_activity["Cl(-)"] = -30;
  CHECK(std::isnan(ph_boundary(dataset, "nantokite", "cuprite", held).ph));
  CHECK_THROWS_AS(ph_boundary(dataset, "copper", "cuprite", {}), InputError);
}

TEST_CASE("many points answer as one does, and NaN passes through") {
  const FieldModel model(small_copper_dataset(), sea_water());
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const std::vector<double> x{7, nan, 2, 12}, y{0.2, 0, nan, -0.2};
  const PointAnswers many = model.at_many(x, y);
  CHECK(many.species[1] == -1);
  CHECK(std::isnan(many.gap_log10[2]));
  for (const std::size_t i : {std::size_t{0}, std::size_t{3}}) {
    const PointAnswer one = model.at(x[i], y[i]);
    CHECK(model.candidates()[static_cast<std::size_t>(many.species[i])] == one.species);
    CHECK(model.candidates()[static_cast<std::size_t>(many.runner_up[i])] == one.runner_up);
    CHECK(many.gap_log10[i] == one.gap_log10);
    CHECK(many.uncertainty_log10[i] == one.uncertainty_log10);
    CHECK((many.decided[i] == 1) == one.decided);
    CHECK(many.spread_log10[i] == one.spread_log10);
  }
}

TEST_CASE("oxygen may stand in for Eh") {
  FieldOptions options = sea_water();
  options.y = axis_from("O2(g)", -80, 0);
  const FieldDiagram diagram = field_diagram(small_copper_dataset(), options);
  CHECK(names_of(diagram).contains("copper"));
  const Edge* edge = edge_between(diagram, "copper", "cuprite");
  REQUIRE(edge);
  CHECK(edge->reaction == "4 copper + O2(g) = 2 cuprite");
}

TEST_CASE("chloride and pH may be the axes, at a set Eh") {
  FieldOptions options;
  options.x = axis_from("pH", 2, 12);
  options.y = axis_from("Cl(-)", -5, 0.5);
  options.eh_v = 0.25;
  options.log10_copper = -1;
  const FieldDiagram diagram = field_diagram(small_copper_dataset(), options);
  const Edge* edge = edge_between(diagram, "tenorite", "clinoatacamite");
  REQUIRE(edge);
  CHECK(edge->line.text == "log10 a(Cl(-)) = -7.940 + pH");
}

TEST_CASE("the activity of dissolved copper may be an axis") {
  FieldOptions options;
  options.y = axis_from("dissolved copper", -12, 0);
  options.eh_v = 0.5;
  const FieldDiagram diagram = field_diagram(small_copper_dataset(), options);
  const Edge* edge = edge_between(diagram, "tenorite", "Cu(2+)");
  REQUIRE(edge);
  CHECK(edge->line.text == "log10 a(dissolved copper) = 7.640 - 2.000 pH");
}

TEST_CASE("a wrong diagram is refused in one sentence") {
  const auto dataset = small_copper_dataset();
  const auto refused = [&](const FieldOptions& options, const std::string& part) {
    CHECK_THROWS_WITH(FieldModel(dataset, options), contains(part));
  };
  FieldOptions options;
  options.x.low = 9, options.x.high = 3;
  refused(options, "x axis (pH) = 9 to 3: accepted is a range within -2 to 16, low before high");
  options = {};
  options.y.high = std::nan("");
  refused(options, "y axis (Eh) = -1 to not known");
  options = {};
  options.y = options.x;
  refused(options, "one place");
  options = {};
  options.ph = 7;
  refused(options, "one place");
  options = {};
  options.y = axis_from("Cl(-)", -4, 0);
  refused(options, "eh_v = not given");
  options = {};
  options.x = axis_from("Cl(-)", -4, 0);
  refused(options, "ph = not given");
  options = {};
  options.log10_activity["Cl(--)"] = -1;
  CHECK_THROWS_AS(FieldModel(dataset, options), UnknownName);
  refused(options, "nearest is 'Cl(-)'");
  options = {};
  options.log10_activity["CuCl2(-)"] = -6;
  refused(options, "species without copper");
  options = {};
  options.log10_activity["Cl(-)"] = std::nan("");
  refused(options, "log10_activity of Cl(-)");
  options = {};
  options.log10_activity = {{"CO2(g)", -3.4}, {"HCO3(-)", -3}};
  refused(options, "exactly one value for each of the components");
  options = {};
  options.log10_activity["CO2(g)"] = -3.4;
  options.log10_ligand["CO3(2-)"] = -3;
  refused(options, "already fixed");
  options = {};
  options.log10_ligand["CO3"] = -3;
  CHECK_THROWS_AS(FieldModel(dataset, options), UnknownName);
  options = {};
  options.left_out = {{"tenorit", ""}};
  refused(options, "nearest is 'tenorite'");
  options = {};
  options.only = {"malachite"};
  refused(options, "an activity is missing");
  options = {};
  options.log10_copper = 7;
  refused(options, "log10_copper = 7");
  options = {};
  options.temperature_c = 60;
  refused(options, "temperature_c = 60");
  options = {};
  options.temperature_c = 10;
  CHECK_THROWS_WITH(FieldModel(small_copper_dataset(), options),
                    contains("leave out those without an enthalpy"));
  options = {};
  options.coverage = 0;
  refused(options, "coverage");
}

TEST_CASE("away from 25 degrees C what has no enthalpy may be left out, and is named") {
  FieldOptions options;
  options.temperature_c = 10;
  options.only = {"Cu(2+)", "cuprite"};
  options.missing_enthalpy = MissingEnthalpy::leave_out;
  const FieldDiagram diagram = field_diagram(small_copper_dataset(), options);
  CHECK(names_of(diagram) == std::set<std::string>{"Cu(2+)"});
  REQUIRE(diagram.left_out.size() == 1);
  CHECK(diagram.left_out[0].name == "cuprite");
  CHECK_THAT(diagram.left_out[0].reason, contains("enthalpy is not known"));
  const auto said = std::find_if(
      diagram.warnings.begin(), diagram.warnings.end(), [](const std::string& warning) {
        return warning.find("at 25 degrees C they hold fields here: cuprite") != std::string::npos;
      });
  CHECK(said != diagram.warnings.end());
}

TEST_CASE("a wrong point is refused") {
  const FieldModel model(small_copper_dataset(), {});
  CHECK_THROWS_AS(model.at(std::nan(""), 0), InputError);
  CHECK_THROWS_AS(model.at(7, 3.5), InputError);
  const std::vector<double> two{1, 2}, one{0};
  CHECK_THROWS_AS(model.at_many(two, one), InputError);
}
