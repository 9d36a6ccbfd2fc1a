#pragma once

// Linear programs of a few rows: which amounts, none negative, meet the balances at most value.

#include <cstddef>
#include <optional>
#include <vector>

namespace aeruca::detail {

/// Maximises  value . x  under  sum_j column_j x_j = right,  x >= 0.
struct LinearProgram {
  std::size_t rows = 0;
  std::vector<double> columns;  ///< (variables, rows) row-major: one column after the other
  std::vector<double> right;    ///< (rows)
  std::vector<double> value;    ///< (variables)
};

struct LinearOptimum {
  std::vector<double> amount;  ///< (variables)
  /// (rows): of one more of each right side. No variable is worth more than its price, those with
  /// an amount are worth just that: with the balances a proof of the optimum.
  std::vector<double> price;
  bool degenerate = false;  ///< a variable of the basis is 0, so that other prices serve as well
};

/// By the simplex method in two phases with Bland's rule (Bland 1977, Mathematics of Operations
/// Research 2, 103), factored anew at every step. Rows that follow from others are allowed; their
/// price is one of many. Nothing where the balances cannot be met (to `tolerance` of the largest
/// right side) or where the value has no bound.
[[nodiscard]] std::optional<LinearOptimum> maximise(const LinearProgram& program,
                                                    double tolerance = 1e-9);

}  // namespace aeruca::detail
