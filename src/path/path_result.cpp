#include <algorithm>
#include <array>
#include <cmath>

#include "base/choice.hpp"
#include "base/text.hpp"
#include "path/follow.hpp"

namespace aeruca {
namespace {

constexpr std::array<std::string_view, 6> kKinds = {"titrate", "aerate", "dilute",
                                                    "dry",     "heat",   "change_bath"};
constexpr std::array<std::string_view, 3> kChanges = {"appears", "disappears", "air_reached"};
constexpr std::array<std::string_view, 3> kSupplies = {"none", "oxygen_layer", "current"};

}  // namespace

std::string_view to_string(PathKind kind) {
  return kKinds[static_cast<std::size_t>(kind)];
}
std::string_view to_string(PathChange change) {
  return kChanges[static_cast<std::size_t>(change)];
}
std::string_view to_string(SupplyKind kind) {
  return kSupplies[static_cast<std::size_t>(kind)];
}
PathKind path_kind_from(std::string_view name) {
  return detail::choice_from<PathKind>(kKinds, "kind", name);
}

std::vector<double> PathResult::solid(std::string_view name) const {
  for (const PathAmount& one : solids)
    if (one.name == name) return one.mol_per_kg;
  std::vector<double> none(progress.size(), 0.0);
  return none;
}

const std::vector<double>& PathResult::dissolved_of(std::string_view component) const {
  std::vector<std::string> names;
  for (const PathAmount& one : dissolved) {
    if (one.name == component) return one.mol_per_kg;
    names.push_back(one.name);
  }
  throw UnknownName("component", std::string(component), detail::nearest_name(component, names));
}

std::optional<PathEvent> PathResult::appearance(std::string_view solid) const {
  for (const PathEvent& event : events)
    if (event.change == PathChange::appears && event.solid == solid) return event;
  return std::nullopt;
}

void PathResult::raise_if_failed() const {
  if (status != Status::converged) throw Error(message);
}

namespace detail {

std::string unit_of(PathKind kind) {
  constexpr std::array<std::string_view, 6> kUnits = {"", "mol/kg", "kg", "", "degrees C", "bath"};
  return std::string(kUnits[static_cast<std::size_t>(kind)]);
}

PathResult result_of(const PathWaters& waters, const PathPoints& points,
                     const std::vector<PathPoint>& followed) {
  PathResult result;
  result.kind = waters.path().kind;
  result.unit = unit_of(result.kind);
  for (const std::string& name : points.components()) result.dissolved.push_back({name, {}});
  std::vector<std::size_t> formed;  // in the order in which they come
  for (const PathPoint& point : followed) {
    result.progress.push_back(point.progress);
    result.ph.push_back(point.ph);
    result.eh_v.push_back(point.eh_v);
    result.ionic_strength.push_back(point.ionic_strength);
    result.water_activity.push_back(point.water_activity);
    result.solvent_kg.push_back(point.solvent_kg * waters.scale(point.progress));
    result.dissolved_cu1.push_back(point.dissolved_cu1);
    if (result.kind == PathKind::aerate) result.log10_gas_bar.push_back(point.log10_gas_bar);
    for (std::size_t j = 0; j < point.dissolved.size(); ++j)
      result.dissolved[j].mol_per_kg.push_back(point.dissolved[j]);
    for (std::size_t s = 0; s < point.solids.size(); ++s)
      if (point.solids[s] > 0 && std::find(formed.begin(), formed.end(), s) == formed.end())
        formed.push_back(s);
  }
  for (const std::size_t s : formed) {
    PathAmount amount{waters.system().allowed_solids()[s], {}};
    for (const PathPoint& point : followed) amount.mol_per_kg.push_back(point.solids[s]);
    result.solids.push_back(std::move(amount));
  }
  if (followed.empty() || result.kind == PathKind::change_bath) return result;
  const EquilibriumResult last = waters.solve(followed.back().progress);
  result.warnings = last.warnings;
  result.remarks = last.remarks;
  result.figures = last.figures;
  result.estimated_heats = last.estimated_heats;
  return result;
}

}  // namespace detail
}  // namespace aeruca
