#pragma once

// One water as numbers: expressions linear in the component potentials, and totals. Private to the
// equilibrium part; made by Equilibrium from names, or by a test directly.

#include <algorithm>
#include <cstddef>
#include <limits>
#include <vector>

namespace aeruca::detail {

/// value(i) = constant(i) + water(i) ln a(H2O) + row(i) . lambda; lambda(j) = ln a(component j).
struct Expressions {
  std::size_t columns = 0;
  std::vector<double> rows;  ///< row-major, pitch `columns`
  std::vector<double> constant, water;

  [[nodiscard]] std::size_t size() const { return constant.size(); }
  [[nodiscard]] const double* row(std::size_t i) const { return rows.data() + i * columns; }
  void clear(std::size_t width);
  void add(const double* coefficients, double constant_term, double water_coefficient);
  [[nodiscard]] double value(std::size_t i, const double* lambda, double ln_water) const;
};

enum class ColumnKind { mass, hydrogen, electron };

inline constexpr std::size_t kNone = static_cast<std::size_t>(-1);

/// A molality for the activity model: of a species that is there never 0, though it be below every
/// number.
inline double there(double molality) {
  return std::max(molality, std::numeric_limits<double>::min());
}

struct Chemistry {
  Expressions species;                     ///< ln activity of the dissolved species
  std::vector<double> charge;              ///< of the species
  std::vector<std::size_t> slot;           ///< position of each species in the activity model
  Expressions phases;                      ///< ln saturation of the solids allowed to form
  Expressions pinned;                      ///< held at zero: given pH, Eh, fugacities
  std::vector<std::size_t> pinned_column;  ///< component whose balance each of them opens
  std::vector<double> totals;         ///< mol/kg by column; those of opened balances do not matter
  std::vector<ColumnKind> kind;       ///< of the columns
  std::size_t charge_column = kNone;  ///< column whose balance is replaced by electroneutrality

  std::size_t neutral_column = kNone;  ///< column whose total is whatever makes the water neutral
  std::vector<double> column_charge;   ///< of the components
  std::vector<double> oxidisable;      ///< electrons that a mole of each component can give at most

  [[nodiscard]] std::size_t columns() const { return totals.size(); }
  /// Column of hydrogen where its potential follows from the charge; else kNone.
  [[nodiscard]] std::size_t acid_column() const {
    return charge_column != kNone ? charge_column : neutral_column;
  }
};

}  // namespace aeruca::detail
