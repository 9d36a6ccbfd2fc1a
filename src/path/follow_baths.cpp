// From bath to bath: what is solid goes on whole, of the solution what clings to it.

#include <cmath>

#include "base/text.hpp"
#include "base/words.hpp"
#include "path/follow.hpp"

namespace aeruca::detail {
namespace {

constexpr double kTrace = 1e-30;  // mol/kg; less is no total

// The pH of a neutral water follows from its other ions.
bool carried(const std::string& species) {
  return species != "H(+)" && species != "OH(-)" && species != "H2O" && species != "e(-)";
}

std::map<std::string, double> next_totals(const EquilibriumResult& bath, const ReactionPath& path) {
  const double kept = path.carried_over.value_or(0);
  std::map<std::string, double> totals;
  for (const auto& [solid, amount] : bath.formed()) totals[solid] += amount;
  for (const auto& [name, amount] : path.added) totals[name] += (1 - kept) * amount;
  for (std::size_t i = 0; i < bath.species.size(); ++i)
    if (carried(bath.species[i])) totals[bath.species[i]] += kept * bath.molality[i];
  std::erase_if(totals, [](const auto& one) { return !(one.second > kTrace); });
  return totals;
}

PathPoint point_of(const PathWaters& waters, const std::vector<std::string>& components,
                   const EquilibriumResult& bath, double progress) {
  const Dataset& dataset = waters.dataset();
  PathPoint point;
  point.progress = progress;
  point.answered = true;
  point.solids = bath.solid_mol_per_kg;
  point.ph = bath.ph;
  point.eh_v = bath.eh_v;
  point.ionic_strength = bath.ionic_strength;
  point.water_activity = bath.water_activity;
  point.solvent_kg = bath.solvent_kg;
  for (const std::string& component : components) {
    const std::size_t j = dataset.component_index(component);
    double sum = 0;
    for (std::size_t i = 0; i < bath.species.size(); ++i)
      sum += dataset.at(bath.species[i]).components[j] * bath.molality[i];
    point.dissolved.push_back(sum);
  }
  for (std::size_t i = 0; i < bath.species.size(); ++i)
    point.dissolved_cu1 += copper_one_of(dataset, dataset.at(bath.species[i])) * bath.molality[i];
  return point;
}

void add_changes(const PathWaters& waters, const PathPoint& before, const PathPoint& now,
                 std::vector<PathEvent>& events) {
  const auto& solids = waters.system().allowed_solids();
  for (std::size_t s = 0; s < solids.size(); ++s) {
    if ((before.solids[s] > 0) == (now.solids[s] > 0)) continue;
    events.push_back({now.solids[s] > 0 ? PathChange::appears : PathChange::disappears, solids[s],
                      now.progress, 1, now.ph, now.eh_v});
  }
}

}  // namespace

PathResult follow_baths(const PathWaters& waters) {
  const PathPoints points(waters);
  EquilibriumInput input = waters.path().start;
  std::vector<PathPoint> followed;
  std::vector<PathEvent> events;
  EquilibriumResult bath;
  const auto baths = static_cast<int>(waters.to());
  for (int number = 1; number <= baths; ++number) {
    bath = waters.system().solve(input);
    if (bath.status != Status::converged) break;
    followed.push_back(point_of(waters, points.components(), bath, number));
    if (number > 1) add_changes(waters, followed[followed.size() - 2], followed.back(), events);
    input.totals_mol_per_kg = next_totals(bath, waters.path());
  }
  PathResult result = result_of(waters, points, followed);
  result.events = std::move(events);
  result.status = bath.status;
  if (bath.status != Status::converged)
    result.message = say("path.ended", {{"progress", std::to_string(followed.size() + 1)},
                                        {"unit", result.unit},
                                        {"why", bath.message}});
  result.warnings = bath.warnings;
  return result;
}

}  // namespace aeruca::detail
