#pragma once

// Waters over two axes, and the assemblage that holds the copper of each.

#include <map>
#include <memory>
#include <span>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include "aeruca/totals_fields.hpp"
#include "numerics/polygon.hpp"

namespace aeruca::detail {

/// Throws InputError.
void check_totals_options(const TotalsFieldOptions& options);
[[nodiscard]] bool runs(const TotalsFieldOptions& options, Condition condition);
/// To which a boundary is traced, in axis units.
[[nodiscard]] double tolerance_of(Condition condition);
/// What is held, in one line.
[[nodiscard]] std::string held_text(const TotalsFieldOptions& options);

/// The copper solids that are there, by place in Equilibrium::allowed_solids(); where none is, the
/// dissolved species with most copper, by place in Equilibrium::species(); where there is no
/// answer, neither.
struct CopperHolder {
  std::vector<std::size_t> solids;
  std::size_t dissolved = 0;
  bool answered = true;

  friend bool operator<(const CopperHolder& a, const CopperHolder& b) {
    return std::tie(a.solids, a.dissolved, a.answered) <
           std::tie(b.solids, b.dissolved, b.answered);
  }
};

class TotalsSystem {
 public:
  /// Throws as totals_field_diagram.
  TotalsSystem(std::shared_ptr<const Dataset> dataset, const TotalsFieldOptions& options);

  /// Numbers of the assemblages at points in axis units, one at least; the same number for the same
  /// one.
  void labels_at(std::span<const Point> points, std::span<int> labels);
  [[nodiscard]] const CopperHolder& assemblage(int label) const {
    return assemblages_[static_cast<std::size_t>(label)];
  }
  /// "cuprite + nantokite"
  [[nodiscard]] std::string name_of(int label) const;
  [[nodiscard]] const Equilibrium& equilibrium() const { return equilibrium_; }
  [[nodiscard]] const Dataset& dataset() const { return *dataset_; }
  [[nodiscard]] const std::shared_ptr<const Dataset>& shared_dataset() const { return dataset_; }
  [[nodiscard]] const TotalsFieldOptions& options() const { return options_; }
  [[nodiscard]] EquilibriumResult solve(Point at) const;
  [[nodiscard]] std::size_t solved() const { return solved_; }

 private:
  [[nodiscard]] EquilibriumOptions equilibrium_options() const;
  [[nodiscard]] EquilibriumInput input_at(Point at) const;
  [[nodiscard]] CopperHolder assemblage_of(const EquilibriumBatch& batch, std::size_t row,
                                           double copper) const;

  std::shared_ptr<const Dataset> dataset_;
  TotalsFieldOptions options_;
  Equilibrium equilibrium_;
  std::vector<double> in_solid_, in_species_;  // copper atoms
  std::vector<CopperHolder> assemblages_;
  std::map<CopperHolder, int> numbers_;
  std::size_t solved_ = 0;
};

/// The reaction between two assemblages, with the forms that predominate in a water; empty where
/// more than one solid comes or goes.
[[nodiscard]] std::string reaction_between(const TotalsSystem& system, const CopperHolder& left,
                                           const CopperHolder& right,
                                           const EquilibriumResult& water);

}  // namespace aeruca::detail
