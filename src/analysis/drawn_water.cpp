#include "analysis/drawn_water.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace aeruca::detail {

MovedWater::MovedWater(const SolvedWater& solved, const std::shared_ptr<const Dataset>& dataset,
                       const EquilibriumOptions& options)
    : moved_(dataset, options), held_(held_of(moved_.system(), solved.water.input)) {
  const WaterSystem& system = moved_.system();
  std::map<std::string, double> totals = solved.water.input.totals_mol_per_kg;
  // A neutral water has none of the ion yet that would take up its charge.
  const std::string& ion = solved.water.charge_assigned_to;
  if (!ion.empty()) totals.emplace(ion, 0);
  for (const auto& [name, amount] : totals) {
    ingredients_.push_back(name);
    undrawn_.push_back(amount);
    add_ingredient(system, name, 1, made_.emplace_back(system.columns.size(), 0.0));
  }
  for (const std::size_t s : system.species.index)
    shares_.push_back(alkalinity_share(*dataset, dataset->species[s]));
}

void MovedWater::start(std::span<const double> log10_changes) {
  moved_.move(log10_changes);
  moles_ = undrawn_;
}

bool MovedWater::solve() {
  sum_.assign(system().columns.size(), 0);
  for (std::size_t c = 0; c < made_.size(); ++c) {
    for (std::size_t j = 0; j < sum_.size(); ++j) sum_[j] += made_[c][j] * moles_[c];
  }
  if (moved_.solve(sum_, held_) != Status::converged) return false;
  moved_.read(answer_);
  return true;
}

Alkalinity MovedWater::alkalinity() const {
  Alkalinity sum;
  for (std::size_t i = 0; i < shares_.size(); ++i) shares_[i].add(answer_.molality[i], sum);
  return sum;
}

ChargeBalance MovedWater::charge() const {
  ChargeBalance balance{0, 0, kNotGiven, 0};
  for (std::size_t i = 0; i < shares_.size(); ++i) {
    const double charge = system().charge[i] * answer_.molality[i];
    (charge > 0 ? balance.cations : balance.anions) += std::abs(charge);
  }
  return balance;
}

double& MovedWater::total(const std::string& ingredient) {
  const auto found = std::find(ingredients_.begin(), ingredients_.end(), ingredient);
  return moles_[static_cast<std::size_t>(found - ingredients_.begin())];
}

DrawnWater::DrawnWater(const SolvedWater& solved, const std::shared_ptr<const Dataset>& dataset)
    : water_(solved.water), dataset_(*dataset), whole_(solved, dataset, solved.water.options) {
  const bool sought = titrated_alkalinity(water_) || !water_.charge_assigned_to.empty();
  if (sought && allows_solids(water_.options))
    bare_.emplace(solved, dataset, without_solids(water_.options));
}

bool DrawnWater::seek(MovedWater& water) const {
  Titration titration(water, titrated_alkalinity(water_));
  if (!titration.find_carbonate()) return false;
  const std::string& ion = water_.charge_assigned_to;
  return ion.empty() || titration.assign_charge(ion, dataset_.at(ion).charge);
}

bool DrawnWater::solve(std::span<const double> log10_changes) {
  whole_.start(log10_changes);
  if (!bare_) return seek(whole_);
  bare_->start(log10_changes);
  if (!seek(*bare_)) return false;
  whole_.take_totals(*bare_);
  return whole_.solve();
}

}  // namespace aeruca::detail
