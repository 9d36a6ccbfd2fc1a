// Laws of the stability fields, on seeded random data and options.

#include "aeruca/stability.hpp"

#include <algorithm>
#include <cmath>
#include <random>

#include "catch.hpp"
#include "copper_dataset.hpp"
#include "numerics/subdivision.hpp"

using namespace aeruca;

namespace {

using Random = std::mt19937_64;

double between(Random& random, double low, double high) {
  return std::uniform_real_distribution<double>(low, high)(random);
}
bool chance(Random& random, double probability) {
  return between(random, 0, 1) < probability;
}

double area(const Polygon& polygon) {
  double twice = 0;
  const Point o = polygon[0];
  for (std::size_t i = 2; i < polygon.size(); ++i) {
    const Point a = polygon[i - 1], b = polygon[i];
    twice += (a.x - o.x) * (b.y - o.y) - (b.x - o.x) * (a.y - o.y);
  }
  return twice / 2;
}

bool inside(const std::vector<Polygon>& outlines, Point p) {
  bool odd = false;
  for (const Polygon& outline : outlines) {
    for (std::size_t i = 0, j = outline.size() - 1; i < outline.size(); j = i++) {
      const Point a = outline[i], b = outline[j];
      if ((a.y > p.y) != (b.y > p.y) && p.x < (b.x - a.x) * (p.y - a.y) / (b.y - a.y) + a.x)
        odd = !odd;
    }
  }
  return odd;
}

void choose_axes(Random& random, FieldOptions& options) {
  const double low = between(random, -1, 7);
  options.x = axis_from("pH", low, low + between(random, 0.5, 9));
  const int kind = static_cast<int>(between(random, 0, 4));
  if (kind == 1) options.y = axis_from("Cl(-)", between(random, -8, -3), between(random, -2, 1));
  if (kind == 2)
    options.y = axis_from("dissolved copper", between(random, -14, -8), between(random, -6, 1));
  if (kind == 3) options.y = axis_from("CO2(g)", between(random, -9, -4), between(random, -3, 1));
  if (kind == 0) {
    const double eh = between(random, -1.2, 0.8);
    options.y = axis_from("Eh", eh, eh + between(random, 0.2, 2));
  } else {
    options.eh_v = between(random, -0.5, 1);
  }
  if (kind != 1 && chance(random, 0.7)) options.log10_activity["Cl(-)"] = between(random, -5, 0.7);
  if (kind != 3 && chance(random, 0.5)) options.log10_ligand["CO3(2-)"] = between(random, -6, 0);
  if (chance(random, 0.5)) options.log10_ligand["SO4(2-)"] = between(random, -6, 0);
}

FieldOptions random_options(Random& random, const Dataset& dataset) {
  FieldOptions options;
  choose_axes(random, options);
  options.log10_copper = between(random, -9, 0);
  for (const Species& species : dataset.species) {
    const bool copper = species.components[dataset.component_index("Cu(2+)")] > 0;
    if (copper && chance(random, 0.15)) options.left_out.push_back({species.name, ""});
  }
  return options;
}

// q of every candidate worked out afresh: from the definition, with the ligand forms by trial.
double q_by_hand(const Dataset& dataset, const FieldOptions& options, const Species& species,
                 double x, double y) {
  const double ph = x;
  double eh = options.eh_v.value_or(0), copper = options.log10_copper;
  std::map<std::string, double> log10_a;
  for (const auto& [name, value] : options.log10_activity) log10_a[name] = value;
  if (options.y.quantity == AxisQuantity::eh_v) eh = y;
  if (options.y.quantity == AxisQuantity::log10_copper) copper = y;
  if (options.y.name == "Cl(-)") log10_a["Cl(-)"] = y;
  if (options.y.name == "CO2(g)") log10_a["CO3(2-)"] = y - 18.149 + 2 * ph;
  log10_a["H2O"] = 0;
  log10_a["H(+)"] = -ph;
  log10_a["e(-)"] = -eh / (2.302585092994046 * 8.31446261815324 * 298.15 / 96485.33212331001);
  const auto held = [&](const char* ligand,
                        std::initializer_list<std::pair<double, double>> forms) {
    if (!options.log10_ligand.contains(ligand)) return;
    double largest = -1e300;  // log10 of the largest form over the bare ligand
    for (const auto& [log10_k, protons] : forms)
      largest = std::max(largest, log10_k - protons * ph);
    log10_a[ligand] = options.log10_ligand.at(ligand) - largest;
  };
  held("CO3(2-)", {{0, 0}, {10.329, 1}, {16.681, 2}});
  held("SO4(2-)", {{0, 0}, {1.98, 1}});
  double sum = species.log10_k - (species.kind == PhaseKind::aqueous ? copper : 0);
  for (std::size_t j = 0; j < dataset.components.size(); ++j) {
    if (species.components[j] != 0 && dataset.components[j] != "Cu(2+)")
      sum += species.components[j] * log10_a.at(dataset.components[j]);
  }
  return sum / species.components[dataset.component_index("Cu(2+)")];
}

}  // namespace

TEST_CASE(
    "fields hold the points where their candidate is the best, for random options and points") {
  const auto dataset = test::small_copper_dataset();
  Random random(20260714);
  int compared = 0, near_edges = 0;
  for (int round = 0; round < 300; ++round) {
    const FieldOptions options = random_options(random, *dataset);
    const FieldDiagram diagram = field_diagram(dataset, options);
    for (int k = 0; k < 50; ++k) {
      const Point p{between(random, options.x.low, options.x.high),
                    between(random, options.y.low, options.y.high)};
      std::string best;
      double first = -1e300, second = -1e300;
      for (const std::string& name : diagram.candidates) {
        const double q = q_by_hand(*dataset, options, dataset->at(name), p.x, p.y);
        if (q > first)
          second = first, first = q, best = name;
        else
          second = std::max(second, q);
      }
      if (first - second < 1e-9) {
        ++near_edges;
        continue;
      }
      int holders = 0;
      for (const Field& field : diagram.fields) {
        if (!inside(field.outlines, p)) continue;
        ++holders;
        INFO("round " << round << " at " << p.x << ", " << p.y);
        CHECK(field.species == best);
      }
      CHECK(holders == 1);
      ++compared;
    }
  }
  CHECK(compared > 14000);
  CHECK(near_edges < 100);
}

TEST_CASE("fields tile the frame for random options") {
  const auto dataset = test::small_copper_dataset();
  Random random(7);
  for (int round = 0; round < 400; ++round) {
    const FieldOptions options = random_options(random, *dataset);
    const FieldDiagram diagram = field_diagram(dataset, options);
    const double whole = (options.x.high - options.x.low) * (options.y.high - options.y.low);
    double by_pieces = 0, by_outlines = 0, fractions = 0;
    for (const Field& field : diagram.fields) {
      fractions += field.area_fraction;
      for (const Polygon& piece : field.pieces) {
        CHECK(area(piece) > 0);
        by_pieces += area(piece);
      }
      for (const Polygon& outline : field.outlines) by_outlines += area(outline);
    }
    INFO("round " << round);
    CHECK(std::abs(by_pieces / whole - 1) < 1e-12);
    CHECK(std::abs(by_outlines / whole - 1) < 1e-12);
    CHECK(std::abs(fractions - 1) < 1e-12);
  }
}

TEST_CASE("every edge lies on its printed line and its two candidates are level there") {
  const auto dataset = test::small_copper_dataset();
  Random random(11);
  for (int round = 0; round < 200; ++round) {
    const FieldOptions options = random_options(random, *dataset);
    for (const Edge& edge : field_diagram(dataset, options).edges) {
      for (const Point p : {edge.from, edge.to}) {
        const double off = edge.line.vertical ? p.x - edge.line.vertical_x
                                              : p.y - edge.line.intercept - edge.line.slope * p.x;
        INFO(edge.reaction << "  " << edge.line.text);
        CHECK(std::abs(off) < 1e-7);
        const double left = q_by_hand(*dataset, options, dataset->at(edge.left), p.x, p.y);
        const double right = q_by_hand(*dataset, options, dataset->at(edge.right), p.x, p.y);
        CHECK(std::abs(left - right) < 1e-6);
      }
    }
  }
}

TEST_CASE("more dissolved copper never shrinks a solid's field") {
  const auto dataset = test::small_copper_dataset();
  double before = 0;
  for (double log10_copper = -9; log10_copper <= 0; log10_copper += 0.5) {
    FieldOptions options;
    options.log10_activity["Cl(-)"] = -0.44;
    options.log10_copper = log10_copper;
    double solids = 0;
    for (const Field& field : field_diagram(dataset, options).fields) {
      if (field.kind == PhaseKind::solid) solids += field.area_fraction;
    }
    CHECK(solids >= before - 1e-12);
    before = solids;
  }
}

TEST_CASE("random planes with many ties and shared corners tile the square") {
  using namespace aeruca::detail;
  Random random(3);
  const Polygon2 square{{0, 0}, {1, 0}, {1, 1}, {0, 1}};
  for (int round = 0; round < 2000; ++round) {
    std::vector<Plane> planes;
    const int count = 2 + static_cast<int>(between(random, 0, 20));
    // Small whole numbers give many equal, parallel and concurrent planes.
    for (int i = 0; i < count; ++i) {
      const auto whole = [&] { return std::round(between(random, -3, 3)); };
      planes.push_back({whole() / 2, whole(), whole()});
    }
    const auto parts = upper_envelope(planes, square);
    std::vector<Piece> pieces;
    double total = 0;
    for (std::size_t i = 0; i < parts.size(); ++i) {
      total += signed_area(parts[i]);
      if (!parts[i].empty()) pieces.push_back({parts[i], i % 3, 0});
    }
    CHECK(std::abs(total - 1) < 1e-12);
    const Subdivision net = subdivide(pieces);
    double merged = 0;
    for (const std::size_t label : {0U, 1U, 2U}) {
      for (const Polygon2& outline : net.outlines(label)) merged += signed_area(outline);
    }
    CHECK(std::abs(merged - 1) < 1e-12);
  }
}
