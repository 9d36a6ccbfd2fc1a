#include "numerics/express.hpp"

#include <Eigen/Dense>

namespace aeruca::detail {

namespace {

// Stoichiometric coefficients are small whole numbers or simple fractions: what is left is
// rounding.
double cleaned(double value) {
  const double rounded = std::round(value * 12) / 12;
  return std::abs(value - rounded) < 1e-12 ? rounded : value;
}

}  // namespace

std::optional<std::vector<Row>> express(const std::vector<Row>& rows,
                                        const std::vector<Row>& basis) {
  const auto n = static_cast<Eigen::Index>(basis.size());
  Eigen::MatrixXd columns(n, n);  // each basis row stands as a column
  for (Eigen::Index k = 0; k < n; ++k)
    columns.col(k) =
        Eigen::Map<const Eigen::VectorXd>(basis[static_cast<std::size_t>(k)].data(), n);
  const Eigen::FullPivLU<Eigen::MatrixXd> factors(columns);
  if (!factors.isInvertible()) return std::nullopt;
  std::vector<Row> coefficients;
  for (const Row& row : rows) {
    const Eigen::VectorXd found = factors.solve(Eigen::Map<const Eigen::VectorXd>(row.data(), n));
    Row& out = coefficients.emplace_back(found.data(), found.data() + n);
    for (double& value : out) value = cleaned(value);
  }
  return coefficients;
}

}  // namespace aeruca::detail
