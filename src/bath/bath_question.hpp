#pragma once

// One bath as the equilibrium is asked about it: its salt, the solids it stands over, what is held.

#include <map>
#include <memory>
#include <string>
#include <vector>

#include "aeruca/bath_chemistry.hpp"

namespace aeruca::detail {

struct BathQuestion {
  std::map<std::string, double> totals;
  std::vector<std::string> solids;      ///< there in plenty; none: a clear bath
  std::vector<std::string> components;  ///< besides those of the salt
  std::map<std::string, double> gases;
  Redox redox = Redox::eh;
  ActivityModel activity = ActivityModel::sit;
  double temperature_c = 25;

  [[nodiscard]] EquilibriumOptions options() const;
  [[nodiscard]] EquilibriumInput input() const;
};

/// Throws InputError for a strength out of range, and as `bath_salt`.
[[nodiscard]] BathQuestion question_of(const Dataset& dataset, const BathMakeup& bath);

[[nodiscard]] EquilibriumResult solved(const BathQuestion& question,
                                       const std::shared_ptr<const Dataset>& dataset);

/// Atoms of a component in one formula.
[[nodiscard]] double atoms_in(const Dataset& dataset, const Species& species,
                              const std::string& component);
/// mg/L of a component in all dissolved forms.
[[nodiscard]] double dissolved_mg_per_l(const Dataset& dataset, const EquilibriumResult& result,
                                        const std::string& component);
/// The dissolved form that holds most of a component.
[[nodiscard]] std::string main_form_of(const Dataset& dataset, const EquilibriumResult& result,
                                       const std::string& component);

}  // namespace aeruca::detail
