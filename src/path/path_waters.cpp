#include "path/path_waters.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "base/text.hpp"

namespace aeruca::detail {
namespace {

// In solution these are all one total, however the carbonate was weighed in.
constexpr std::array kCarbonates{"CO3(2-)", "HCO3(-)", "CO2(aq)"};

double carbonate_of(const std::map<std::string, double>& totals) {
  double sum = 0;
  for (const char* name : kCarbonates)
    if (const auto found = totals.find(name); found != totals.end()) sum += found->second;
  return sum;
}

// The carbonate of a water that is to give some off, as one ingredient.
void gather_carbonate(std::map<std::string, double>& totals) {
  const double sum = carbonate_of(totals);
  for (const char* name : kCarbonates) totals.erase(name);
  totals["CO3(2-)"] = sum;
}

}  // namespace

std::string dissolved_gas(const std::string& gas) {
  return gas.substr(0, gas.size() - 3) + "(aq)";
}

PathWaters::PathWaters(DatasetPointer dataset, ReactionPath path)
    : dataset_(std::move(dataset)), path_(std::move(path)) {
  check_path(path_);
  path_.system.threads = 1;
  if (path_.kind == PathKind::aerate && path_.gas == "CO2(g)")
    gather_carbonate(path_.start.totals_mol_per_kg);
  if (path_.kind == PathKind::dry) set_dry_start();
  system_ = std::make_unique<Equilibrium>(dataset_, path_.system);
  set_range();
  std::set<std::string> names;
  for (const double end : {from_, from_ + (to_ - from_) / 2})
    for (const auto& [name, amount] : totals(end)) names.insert(name);
  ingredients_.assign(names.begin(), names.end());
}

// From the water activity that the water has by itself, a hair drier: at that of a saturated
// solution any amount of water would do.
void PathWaters::set_dry_start() {
  const EquilibriumResult start = Equilibrium(dataset_, path_.system).solve(path_.start);
  const double own = start.status == Status::converged ? start.water_activity : 1 - 1e-9;
  from_ = own - 1e-6 * (1 - own);
  path_.system.solvent = Solvent::water_activity;
  if (!(*path_.to < from_))
    throw InputError("to", *path_.to,
                     "a water activity below " + format_number(own, 6) + ", that of the start");
}

void PathWaters::set_range() {
  to_ = path_.to.value_or(0);
  if (path_.kind == PathKind::dilute || path_.kind == PathKind::change_bath) from_ = 1;
  if (path_.kind == PathKind::heat) from_ = path_.system.temperature_c;
  if (path_.kind != PathKind::aerate) return;
  direction_ = log10_gas(0) < std::log10(*path_.gas_bar) ? 1 : -1;
  to_ *= direction_;
}

std::map<std::string, double> PathWaters::totals(double progress) const {
  std::map<std::string, double> totals = path_.start.totals_mol_per_kg;
  if (path_.kind == PathKind::titrate)
    for (const auto& [name, amount] : path_.added) totals[name] += amount * progress;
  if (path_.kind == PathKind::aerate) {
    const std::string into = path_.gas == "CO2(g)" ? "CO3(2-)" : dissolved_gas(path_.gas);
    totals[into] = std::max(totals[into] + progress, 0.0);
  }
  if (path_.kind != PathKind::dilute) return totals;
  for (auto& [name, amount] : totals) amount /= progress;
  for (const auto& [name, amount] : path_.added) totals[name] += amount * (progress - 1) / progress;
  return totals;
}

EquilibriumInput PathWaters::input(double progress) const {
  EquilibriumInput input = path_.start;
  input.totals_mol_per_kg = totals(progress);
  if (path_.kind == PathKind::dry) input.water_activity = progress;
  return input;
}

EquilibriumResult PathWaters::solve(double progress) const {
  if (path_.kind != PathKind::heat) return system_->solve(input(progress));
  EquilibriumOptions there = path_.system;
  there.temperature_c = progress;
  return Equilibrium(dataset_, there).solve(input(progress));
}

EquilibriumBatch PathWaters::solve_many(const std::vector<double>& progress,
                                        const BatchChoice& choice) const {
  const std::size_t n = progress.size();
  std::vector<double> amounts;
  for (const double at : progress) {
    const std::map<std::string, double> given = totals(at);
    for (const std::string& name : ingredients_)
      amounts.push_back(given.contains(name) ? given.at(name) : 0.0);
  }
  std::vector<std::string> gases;
  std::vector<double> fugacities;
  for (const auto& [name, bar] : path_.start.fugacity_bar) gases.push_back(name);
  for (std::size_t i = 0; i < n; ++i)
    for (const auto& [name, bar] : path_.start.fugacity_bar) fugacities.push_back(bar);
  const auto column = [n](std::optional<double> value) {
    return value ? std::vector<double>(n, *value) : std::vector<double>{};
  };
  const std::vector<double> ph = column(path_.start.ph);
  const std::vector<double> eh = column(path_.start.eh_v);
  const std::vector<double> oxygen = column(path_.start.oxygen_bar);
  EquilibriumRows rows;
  rows.count = n;
  rows.ingredients = ingredients_;
  rows.totals_mol_per_kg = amounts;
  rows.ph = ph;
  rows.eh_v = eh;
  rows.oxygen_bar = oxygen;
  rows.gases = gases;
  rows.fugacity_bar = fugacities;
  if (path_.kind == PathKind::dry) rows.water_activity = progress;
  if (path_.kind == PathKind::heat) rows.temperature_c = progress;
  return system_->solve_many(rows, choice);
}

double PathWaters::scale(double progress) const {
  return path_.kind == PathKind::dilute ? progress : 1;
}

double PathWaters::log10_gas(double progress) const {
  const EquilibriumResult result = solve(progress);
  if (result.status != Status::converged) return kNotGiven;
  const auto found = std::find(result.gases.begin(), result.gases.end(), path_.gas);
  if (found == result.gases.end()) throw InputError("gas", path_.gas, "a gas of the components");
  return result.log10_fugacity[static_cast<std::size_t>(found - result.gases.begin())];
}

}  // namespace aeruca::detail
