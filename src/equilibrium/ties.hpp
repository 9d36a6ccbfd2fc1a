#pragma once

// Equalities among the potentials: a pinned potential, or a solid that is present. Each removes one
// potential (its pivot), so what is left is a smooth convex problem without constraints, and the
// balance of the pivot gives the amount of the solid.

#include <cstddef>
#include <span>
#include <vector>

#include "equilibrium/chemistry.hpp"

namespace aeruca::detail {

class Ties {
 public:
  /// Only the pinned equalities. False when they depend on each other.
  bool reset(const Chemistry& chemistry);
  /// Adds a solid. False (and no change) when its row depends on those already there.
  bool add_phase(const Chemistry& chemistry, std::size_t phase);
  /// The same solids, each on the balance that holds least of what it is made of: `holds` by column.
  void choose_again(const Chemistry& chemistry, std::span<const double> holds);
  /// Keeps every solid but the one at `position` of phases().
  void drop_phase(const Chemistry& chemistry, std::size_t position);

  /// Takes in a solid whose row is a combination y of those tied, in place of the one that its
  /// formation uses up first (least amount / y among y > 0). False when it would use up none.
  bool exchange_phase(const Chemistry& chemistry, std::size_t phase,
                      std::span<const double> amounts);

  [[nodiscard]] std::span<const std::size_t> phases() const { return phases_; }
  [[nodiscard]] std::span<const std::size_t> free() const { return free_; }
  /// The columns whose potentials are tied: of the pinned, then of the solids.
  [[nodiscard]] std::span<const std::size_t> pivots() const { return pivots_; }
  /// The same ties under the constants of another chemistry with the same rows.
  [[nodiscard]] Ties with_constants(const Chemistry& chemistry) const;
  [[nodiscard]] bool holds_phase(std::size_t phase) const;

  /// Sets the pivots of `lambda` from its free potentials.
  void complete(std::span<double> lambda, double ln_water) const;
  /// Direction of the pivots for a direction of the free potentials (written into the full vector).
  void complete_direction(std::span<double> direction) const;
  /// Row over the free potentials, and coefficient of ln a(H2O), of an expression.
  void reduce_row(const double* row, double water, double* reduced, double& reduced_water) const;
  /// Totals over the free potentials; of acid_column() the charge that is missing in the others.
  void reduce_totals(const Chemistry& chemistry, std::vector<double>& reduced) const;
  /// Amounts of the solids (and, before them, of the pinned reservoirs) from the balances of the
  /// pivots. `dissolved` is sum_i a_i m_i by column. False when singular.
  bool amounts(const Chemistry& chemistry, std::span<const double> dissolved,
               std::vector<double>& out);

 private:
  bool add_row(const Chemistry& chemistry, const double* row, double constant, double water,
               std::size_t column);
  std::size_t choose_pivot(const Chemistry& chemistry, const double* original,
                           const double* reduced) const;
  void list_free();
  void fill_pivots(const Chemistry& chemistry);
  bool factor_pivots(const Chemistry& chemistry);
  bool weigh_balances(const Chemistry& chemistry, std::span<const double> dissolved,
                      std::span<const double> amounts);

  std::vector<double> matrix_;  // of the pivots, pivots_.size() square
  std::vector<double> holds_;   // by column, empty: what was weighed in
  std::vector<double> size_;    // of the balances of the pivots
  std::vector<std::size_t> order_, kept_;
  std::size_t columns_ = 0;
  std::size_t pinned_ = 0;
  std::vector<double> rows_;  // Gauss-Jordan form, pitch columns_
  std::vector<double> constant_, water_;
  std::vector<std::size_t> pivots_, phases_, free_;
  std::vector<char> is_pivot_;
  std::vector<double> scratch_;
};

/// Of a species, from its row over the free columns: charge less what the balances other than
/// number `hydrogen` hold of it. Of a strong ion nothing is left, so that in the logarithm of a
/// balance acids and bases alone answer to the pH.
[[nodiscard]] double acid_share(const Chemistry& chemistry, std::span<const std::size_t> free,
                                std::size_t hydrogen, const double* reduced, double charge);

/// The ties of these solids under the potentials that a chemistry holds.
[[nodiscard]] Ties ties_on(const Chemistry& chemistry, std::span<const std::size_t> phases);

}  // namespace aeruca::detail
