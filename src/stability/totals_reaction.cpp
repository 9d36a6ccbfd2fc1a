// What happens where one assemblage gives way to another.

#include <algorithm>
#include <cmath>

#include "numerics/express.hpp"
#include "stability/reaction_text.hpp"
#include "stability/totals_system.hpp"

namespace aeruca::detail {

namespace {

constexpr double kBalanced = 1e-8;

std::vector<std::size_t> only_in(const std::vector<std::size_t>& a,
                                 const std::vector<std::size_t>& b) {
  std::vector<std::size_t> rest;
  std::set_difference(a.begin(), a.end(), b.begin(), b.end(), std::back_inserter(rest));
  return rest;
}

// The one that goes on the way from left to right and the one that comes: solids, or where none is
// the dissolved form or a solid that stays. Empty where more than one does.
std::vector<std::string> what_changes(const TotalsSystem& system, const CopperHolder& left,
                                      const CopperHolder& right) {
  if (!left.answered || !right.answered) return {};
  const auto& solids = system.equilibrium().allowed_solids();
  const auto& species = system.equilibrium().species();
  const auto goes = only_in(left.solids, right.solids);
  const auto comes = only_in(right.solids, left.solids);
  if (goes.size() > 1 || comes.size() > 1) return {};
  const auto name = [&](const std::vector<std::size_t>& changed, const CopperHolder& all) {
    if (!changed.empty()) return solids[changed.front()];
    return all.solids.empty() ? species[all.dissolved] : solids[all.solids.front()];
  };
  return {name(goes, left), name(comes, right)};
}

// Water, protons, electrons, and of every other component the dissolved form that predominates.
std::vector<std::string> predominant(const TotalsSystem& system, const EquilibriumResult& water) {
  const Dataset& dataset = system.dataset();
  std::vector<std::string> basis;
  for (const std::string& component : system.equilibrium().options().components) {
    if (component == "Cu(2+)") continue;
    const std::size_t j = dataset.component_index(component);
    std::string most = component;
    double molality = -1;
    for (std::size_t i = 0; i < water.species.size(); ++i) {
      const Species& species = dataset.at(water.species[i]);
      const bool copper = species.components[dataset.component_index("Cu(2+)")] != 0;
      if (copper || species.components[j] <= 0 || !(water.molality[i] > molality)) continue;
      molality = water.molality[i];
      most = species.name;
    }
    basis.push_back(most);
  }
  for (const char* always : {"H2O", "H(+)", "e(-)"}) basis.emplace_back(always);
  return basis;
}

// Its coefficients over copper, the other components of the system, water, protons, electrons.
Row row_of(const TotalsSystem& system, const std::string& name) {
  const Dataset& dataset = system.dataset();
  const std::vector<double>& counts = dataset.at(name).components;
  Row row{counts[dataset.component_index("Cu(2+)")]};
  for (const std::string& component : system.equilibrium().options().components) {
    if (component != "Cu(2+)") row.push_back(counts[dataset.component_index(component)]);
  }
  for (const char* always : {"H2O", "H(+)", "e(-)"})
    row.push_back(counts[dataset.component_index(always)]);
  return row;
}

// Electrons, else protons, on the left-hand side.
bool is_turned(const std::vector<Term>& terms) {
  for (const char* name : {"e(-)", "H(+)"}) {
    for (const Term& term : terms) {
      if (term.name == name) return term.count < 0;
    }
  }
  return false;
}

// Counts below 0 stand on the right.
std::string written(std::vector<Term> terms) {
  std::erase_if(terms, [](const Term& term) { return std::abs(term.count) < kBalanced; });
  std::vector<double> counts;
  counts.reserve(terms.size());
  for (const Term& term : terms) counts.push_back(term.count);
  const double factor = whole_factor(counts) * (is_turned(terms) ? -1 : 1);
  std::vector<Term> left;
  std::vector<Term> right;
  for (const Term& term : terms) {
    const double count = factor * term.count;
    (count > 0 ? left : right).push_back({std::abs(count), term.name});
  }
  return side_text(left) + " = " + side_text(right);
}

}  // namespace

std::string reaction_between(const TotalsSystem& system, const CopperHolder& left,
                             const CopperHolder& right, const EquilibriumResult& water) {
  const std::vector<std::string> changes = what_changes(system, left, right);
  if (changes.empty() || changes[0] == changes[1] || water.status != Status::converged) return "";
  std::vector<std::string> basis = predominant(system, water);
  basis.insert(basis.begin(), changes[1]);
  std::vector<Row> rows;
  rows.reserve(basis.size());
  for (const std::string& name : basis) rows.push_back(row_of(system, name));
  const auto counts = express({row_of(system, changes[0])}, rows);
  if (!counts) return "";
  std::vector<Term> terms{{1, changes[0]}};
  for (std::size_t k = 0; k < basis.size(); ++k) terms.push_back({-counts->front()[k], basis[k]});
  return written(std::move(terms));
}

}  // namespace aeruca::detail
