#include <algorithm>
#include <cmath>

#include "path/follow.hpp"

namespace aeruca::detail {
namespace {

constexpr double kThere = 1e-12;  // mol/kg of a solid: less is rounding at its boundary
constexpr int kParts = 17;
constexpr int kRounds = 16;

double molality(double log10_molality) {
  return std::isfinite(log10_molality) ? std::pow(10, log10_molality) : 0;
}

}  // namespace

bool PathPoint::same_solids(const PathPoint& other) const {
  if (answered != other.answered) return false;
  for (std::size_t s = 0; s < solids.size(); ++s)
    if ((solids[s] > 0) != (other.solids[s] > 0)) return false;
  return true;
}

double copper_one_of(const Dataset& dataset, const Species& species) {
  const double copper = species.components[dataset.component_index("Cu(2+)")];
  return copper > 0 ? species.components[dataset.component_index("e(-)")] : 0;
}

PathPoints::PathPoints(const PathWaters& waters) : waters_(waters) {
  const Dataset& dataset = waters.dataset();
  std::vector<std::size_t> columns;
  for (std::size_t j = 0; j < dataset.components.size(); ++j) {
    const std::string& name = dataset.components[j];
    if (name == "H2O" || name == "H(+)" || name == "e(-)") continue;
    const auto& species = waters.system().species();
    const bool there = std::any_of(species.begin(), species.end(), [&](const std::string& one) {
      return dataset.at(one).components[j] != 0;
    });
    if (there) columns.push_back(j), components_.push_back(name);
  }
  for (const std::string& name : waters.system().species()) {
    const Species& species = dataset.at(name);
    std::vector<double> content;
    content.reserve(columns.size() + 1);
    for (const std::size_t j : columns) content.push_back(species.components[j]);
    content.push_back(copper_one_of(dataset, species));
    content_.push_back(std::move(content));
  }
  choice_.columns = {
      BatchColumn::log10_molality, BatchColumn::solid_mol_per_kg, BatchColumn::ph,
      BatchColumn::eh_v,           BatchColumn::ionic_strength,   BatchColumn::water_activity,
      BatchColumn::solvent_kg};
  if (waters.path().kind != PathKind::aerate) return;
  choice_.columns.push_back(BatchColumn::log10_fugacity);
  choice_.gases = {waters.path().gas};
}

// Molalities are per kg of the solvent that is there.
void PathPoints::read_dissolved(const EquilibriumBatch& batch, std::size_t row,
                                PathPoint& point) const {
  const double scale = waters_.scale(point.progress) * point.solvent_kg;
  std::vector<double> sums(components_.size() + 1, 0.0);
  for (std::size_t i = 0; i < content_.size(); ++i) {
    const double m = molality(batch.log10_molality[row * content_.size() + i]);
    for (std::size_t j = 0; j < sums.size(); ++j) sums[j] += content_[i][j] * m * scale;
  }
  point.dissolved_cu1 = sums.back();
  sums.pop_back();
  point.dissolved = std::move(sums);
}

std::vector<PathPoint> PathPoints::solve(const std::vector<double>& progress) const {
  const EquilibriumBatch batch = waters_.solve_many(progress, choice_);
  const std::size_t solids = batch.allowed_solids.size();
  std::vector<PathPoint> points(progress.size());
  for (std::size_t r = 0; r < points.size(); ++r) {
    PathPoint& point = points[r];
    point.progress = progress[r];
    point.solids.assign(solids, 0.0);
    point.dissolved.assign(components_.size(), 0.0);
    point.answered = batch.certified[r] != 0;
    if (!point.answered) continue;
    point.ph = batch.ph[r];
    point.eh_v = batch.eh_v[r];
    point.ionic_strength = batch.ionic_strength[r];
    point.water_activity = batch.water_activity[r];
    point.solvent_kg = batch.solvent_kg[r];
    if (!choice_.gases.empty()) point.log10_gas_bar = batch.log10_fugacity[r];
    const double scale = waters_.scale(point.progress);
    for (std::size_t s = 0; s < solids; ++s) {
      const double amount = batch.solid_mol_per_kg[r * solids + s];
      if (amount > kThere) point.solids[s] = amount * scale;
    }
    read_dissolved(batch, r, point);
  }
  return points;
}

std::pair<PathPoint, PathPoint> PathPoints::narrow(PathPoint before, PathPoint after, double within,
                                                   const Beyond& beyond) const {
  for (int round = 0; round < kRounds; ++round) {
    const double a = before.progress;
    const double b = after.progress;
    if (std::abs(b - a) <= within) break;
    std::vector<double> between;
    for (int i = 1; i < kParts; ++i) between.push_back(a + (b - a) * i / kParts);
    std::vector<PathPoint> points = solve(between);
    const auto first = std::find_if(points.begin(), points.end(), beyond);
    if (first != points.begin()) before = *(first - 1);
    if (first != points.end()) after = *first;
  }
  return {before, after};
}

}  // namespace aeruca::detail
