// From traced regions to fields, edges and corners.

#include "aeruca/totals_fields.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "numerics/trace_regions.hpp"
#include "stability/totals_system.hpp"

namespace aeruca {

namespace detail {

namespace {

// Axis units to and from steps of the tolerance, counted from the lower end.
class Steps {
 public:
  explicit Steps(const ConditionAxis& axis)
      : low_(axis.low), high_(axis.high), step_(tolerance_of(axis.condition)) {}

  [[nodiscard]] double count() const { return (high_ - low_) / step_; }
  [[nodiscard]] double at(double steps) const {
    return steps >= count() ? high_ : low_ + steps * step_;
  }

 private:
  double low_, high_, step_;
};

class Drawing {
 public:
  Drawing(std::shared_ptr<const Dataset> dataset, const TotalsFieldOptions& options)
      : system_(std::move(dataset), options), x_(options.x), y_(options.y) {}

  TotalsFieldDiagram run() {
    const TotalsFieldOptions& options = system_.options();
    plane_ = trace_regions([this](auto points, auto labels) { labels_at(points, labels); },
                           x_.count(), y_.count(), options.cells);
    diagram_.options = options;
    diagram_.conditions = held_text(options);
    for (const TracedRegion& region : plane_.regions) add_field(region);
    std::stable_sort(
        diagram_.fields.begin(), diagram_.fields.end(),
        [](const Field& a, const Field& b) { return a.area_fraction > b.area_fraction; });
    for (const TracedBoundary& boundary : plane_.boundaries) add_edge(boundary);
    for (const Junction& junction : plane_.junctions) add_corner(junction);
    add_water_lines();
    diagram_.solved = system_.solved();
    diagram_.figures.assign(figures_.begin(), figures_.end());
    diagram_.dataset_version = system_.dataset().version;
    diagram_.dataset_hash = system_.dataset().content_hash;
    return std::move(diagram_);
  }

 private:
  [[nodiscard]] Point to_axes(Point2 p) const { return {x_.at(p.x), y_.at(p.y)}; }
  [[nodiscard]] Point2 to_unit(Point2 p) const { return {p.x / x_.count(), p.y / y_.count()}; }
  [[nodiscard]] Point from_unit(Point2 p) const {
    return to_axes({p.x * x_.count(), p.y * y_.count()});
  }

  void labels_at(std::span<const Point2> points, std::span<int> labels) {
    std::vector<Point> at;
    at.reserve(points.size());
    for (const Point2 p : points) at.push_back(to_axes(p));
    system_.labels_at(at, labels);
  }

  // Of one solid or species its own data; of several those of the first.
  void describe(const CopperHolder& here, Field& field) const {
    if (!here.answered) return;
    const auto& solids = system_.equilibrium().allowed_solids();
    const std::string& name = here.solids.empty() ? system_.equilibrium().species()[here.dissolved]
                                                  : solids[here.solids.front()];
    const Species& species = system_.dataset().at(name);
    field.kind = species.kind;
    field.colour = species.colour;
    std::vector<std::string> formulas;
    for (const std::size_t s : here.solids)
      formulas.push_back(system_.dataset().at(solids[s]).formula);
    field.formula = here.solids.empty() ? species.formula : join(formulas, " + ");
  }

  void add_field(const TracedRegion& region) {
    Field field;
    field.species = system_.name_of(region.label);
    describe(system_.assemblage(region.label), field);
    std::vector<Polygon2> unit;
    for (const Polygon2& outline : region.outlines) {
      Polygon in_axes;
      unit.emplace_back();
      for (const Point2 p : outline) {
        in_axes.push_back(to_axes(p));
        unit.back().push_back(to_unit(p));
      }
      field.area_fraction += signed_area(unit.back());
      field.outlines.push_back(std::move(in_axes));
    }
    const InnerPoint inner = inner_point(unit);
    field.label = from_unit(inner.at);
    field.label_room = inner.room;
    take_notes(field);
    diagram_.fields.push_back(std::move(field));
  }

  // What the water in the middle of a field rests on.
  void take_notes(const Field& field) {
    const EquilibriumResult water = system_.solve(field.label);
    figures_.insert(water.figures.begin(), water.figures.end());
    if (field.species == kNoAnswer) {
      diagram_.warnings.push_back(
          say("fields.warning.no_answer",
              {{"share", format_number(100 * field.area_fraction, 2)}, {"reason", water.message}}));
    }
    for (const std::string& warning : water.warnings) {
      const std::string of_field =
          say("fields.warning.of_field", {{"field", field.species}, {"warning", warning}});
      diagram_.warnings.push_back(of_field);
    }
  }

  void add_edge(const TracedBoundary& boundary) {
    TracedEdge edge{system_.name_of(boundary.left), system_.name_of(boundary.right), {}, ""};
    for (const Point2 p : boundary.line) edge.line.push_back(to_axes(p));
    edge.reaction = reaction_between(system_, system_.assemblage(boundary.left),
                                     system_.assemblage(boundary.right),
                                     system_.solve(edge.line[edge.line.size() / 2]));
    diagram_.edges.push_back(std::move(edge));
  }

  void add_corner(const Junction& junction) {
    Corner corner{to_axes(junction.at), {}};
    for (const int label : junction.labels) corner.species.push_back(system_.name_of(label));
    if (corner.species.size() > 2) diagram_.corners.push_back(std::move(corner));
  }

  void add_water_lines() {
    const TotalsFieldOptions& options = system_.options();
    if (options.x.condition != Condition::ph || options.y.condition != Condition::eh_v) return;
    FieldOptions plain;
    plain.x = {AxisQuantity::ph, "", options.x.low, options.x.high};
    plain.y = {AxisQuantity::eh_v, "", options.y.low, options.y.high};
    plain.temperature_c = options.temperature_c;
    plain.only = {"Cu(2+)"};
    diagram_.water_lines = field_diagram(system_.shared_dataset(), plain).water_lines;
  }

  TotalsSystem system_;
  Steps x_, y_;
  TracedPlane plane_;
  TotalsFieldDiagram diagram_;
  std::set<std::string> figures_;
};

}  // namespace

}  // namespace detail

TotalsFieldDiagram totals_field_diagram(std::shared_ptr<const Dataset> dataset,
                                        const TotalsFieldOptions& options) {
  return detail::Drawing(std::move(dataset), options).run();
}

std::vector<std::string> assemblages_at(std::shared_ptr<const Dataset> dataset,
                                        const TotalsFieldOptions& options,
                                        std::span<const double> x, std::span<const double> y) {
  if (x.size() != y.size()) {
    throw InputError("y", std::to_string(y.size()) + " values",
                     std::to_string(x.size()) + " values, one for each x");
  }
  detail::TotalsSystem system(std::move(dataset), options);
  std::vector<Point> points;
  points.reserve(x.size());
  for (std::size_t k = 0; k < x.size(); ++k) points.push_back({x[k], y[k]});
  std::vector<int> labels(points.size());
  if (!points.empty()) system.labels_at(points, labels);
  std::vector<std::string> names;
  names.reserve(labels.size());
  for (const int label : labels) names.push_back(system.name_of(label));
  return names;
}

}  // namespace aeruca
