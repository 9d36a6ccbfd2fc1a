#pragma once

// What the public class keeps and uses: the system, and a place to solve one water after the other.

#include <limits>
#include <span>
#include <string>
#include <vector>

#include "aeruca/equilibrium.hpp"
#include "aeruca/not_given.hpp"
#include "equilibrium/certify.hpp"
#include "equilibrium/grow.hpp"
#include "equilibrium/solver.hpp"
#include "equilibrium/system.hpp"

namespace aeruca {

namespace detail {

inline constexpr double kAbsent = -std::numeric_limits<double>::infinity();

/// Everything a solve needs besides the system; one per call, reused within a batch.
struct Workplace {
  Water water;
  Solver solver;
  Chemistry scaled;  // of the way from dilution
  Inspection inspection;
  Certificate certificate;
  Status status = Status::iteration_limit;  // converged only when the certificate holds
  bool refused = false;                     // the solver had an answer that its certificate refused
  bool too_much = false;                    // more dissolved than kMostMolality
  WayEnd way_end;                           // of the way from dilution
  std::string message;                      // why there is no answer
};

/// Solves and certifies the water that is in place.
void solve_water(const WaterSystem& system, Workplace& place);

/// mol/kg dissolved of a hydrate with `water` H2O from which a second answer may exist.
[[nodiscard]] double second_answer_moles(double water);

/// The amount of an ingredient. Throws InputError unless it is 0, or 1e-30 to 1000 mol/kg.
double checked_total(const std::string& name, double value);

/// The waters of a batch as given, checked for shape once.
struct Rows {
  const EquilibriumRows* given = nullptr;
  std::vector<std::vector<double>> made;  // components in one mole of each ingredient

  [[nodiscard]] std::span<const double> row(std::size_t r) const {
    const std::size_t k = given->ingredients.size();
    return given->totals_mol_per_kg.subspan(r * k, k);
  }
  [[nodiscard]] bool has_nan(std::size_t r) const;
  /// pH, Eh or oxygen of a row, checked as those of one water.
  [[nodiscard]] HeldWater held(const EquilibriumOptions& options, std::size_t r) const;
};

}  // namespace detail

struct Equilibrium::Impl {
  detail::WaterSystem system;

  void dissolved(const detail::Workplace& place, EquilibriumResult& result) const;
  void solids(const detail::Workplace& place, EquilibriumResult& result) const;
  void degenerate(const detail::Workplace& place, EquilibriumResult& result) const;
  void gases(const detail::Workplace& place, EquilibriumResult& result) const;
  void warnings(const detail::Workplace& place, EquilibriumResult& result) const;
  EquilibriumResult report(const detail::Workplace& place) const;
  void store(const detail::Workplace& place, std::size_t r, Batch& batch) const;
  void fill_row(const detail::Rows& rows, const detail::HeldGases& gases, std::size_t r,
                std::vector<double>& sum, detail::Water& water) const;
  /// Waters first to last - 1 into their rows of the batch; touches no other row.
  void solve_rows(const detail::Rows& rows, const detail::HeldGases& gases, std::size_t first,
                  std::size_t last, Batch& batch) const;
  double potential(const detail::Workplace& place, std::size_t column) const;
  std::vector<double> full_lambda(const detail::Workplace& place) const;
};

}  // namespace aeruca
