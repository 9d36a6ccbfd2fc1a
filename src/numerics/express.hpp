#pragma once

// Rows of numbers written as combinations of other rows.

#include <optional>
#include <vector>

namespace aeruca::detail {

using Row = std::vector<double>;

/// Coefficients b with  rows[i] = sum_k b[i][k] basis[k];  `basis` square. Empty when it is
/// singular.
[[nodiscard]] std::optional<std::vector<Row>> express(const std::vector<Row>& rows,
                                                      const std::vector<Row>& basis);

}  // namespace aeruca::detail
