#include "equilibrium/degenerate.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

namespace aeruca::detail {

namespace {

constexpr double kSaturated = 1e-8;  // ln; what the certificate lets pass
constexpr double kNothing = 1e-9;    // coefficient of an exchange, of small whole numbers
constexpr double kNoAmount = 1e-14;  // mol/kg

using Eigen::Index;
using Eigen::MatrixXd;

struct Saturated {
  std::size_t phase = 0;
  bool can_shrink = false;  // there is some of it
};

bool all_tied(const std::vector<Saturated>& solids, const Assemblage& there) {
  return std::all_of(solids.begin(), solids.end(), [&](const Saturated& one) {
    return std::find(there.solids.begin(), there.solids.end(), one.phase) != there.solids.end();
  });
}

std::vector<Saturated> saturated_solids(const Chemistry& chemistry, const Assemblage& there,
                                        double ln_water) {
  std::vector<Saturated> all;
  for (std::size_t s = 0; s < chemistry.phases.size(); ++s) {
    if (chemistry.phases.value(s, there.lambda.data(), ln_water) < -kSaturated) continue;
    const auto place = std::find(there.solids.begin(), there.solids.end(), s);
    const bool present =
        place != there.solids.end() &&
        there.amounts[static_cast<std::size_t>(place - there.solids.begin())] > kNoAmount;
    all.push_back({s, present});
  }
  return all;
}

}  // namespace

std::vector<std::size_t> replaceable_solids(const Chemistry& chemistry, const Assemblage& there,
                                            double ln_water) {
  const std::vector<Saturated> solids = saturated_solids(chemistry, there, ln_water);
  // The solids that are tied are independent, apart from what is held: without one more there is
  // no exchange.
  if (solids.size() < 2 || all_tied(solids, there)) return {};
  // Exchanges x with sum_s a_s x_s + sum_k p_k r_k = 0: reservoirs may give either sign.
  const auto rows = static_cast<Index>(chemistry.columns());
  const auto count = static_cast<Index>(solids.size());
  MatrixXd held(rows, count + static_cast<Index>(chemistry.pinned.size()));
  for (Index c = 0; c < held.cols(); ++c) {
    const bool is_solid = c < count;
    const double* row = is_solid ? chemistry.phases.row(solids[static_cast<std::size_t>(c)].phase)
                                 : chemistry.pinned.row(static_cast<std::size_t>(c - count));
    for (Index j = 0; j < rows; ++j) {
      const auto column = static_cast<std::size_t>(j);
      held(j, c) = column == chemistry.charge_column ? 0 : row[column];
    }
  }
  Eigen::FullPivLU<MatrixXd> factors(held);
  factors.setThreshold(kNothing);
  if (factors.dimensionOfKernel() == 0) return {};
  const MatrixXd kernel = factors.kernel();
  std::vector<char> moves(solids.size(), 0);
  for (Index e = 0; e < kernel.cols(); ++e) {
    for (const double sign : {1.0, -1.0}) {
      bool possible = true;
      for (Index s = 0; s < count; ++s) {
        possible = possible && (sign * kernel(s, e) > -kNothing ||
                                solids[static_cast<std::size_t>(s)].can_shrink);
      }
      for (Index s = 0; possible && s < count; ++s) {
        if (std::abs(kernel(s, e)) > kNothing) moves[static_cast<std::size_t>(s)] = 1;
      }
    }
  }
  std::vector<std::size_t> named;
  for (std::size_t s = 0; s < solids.size(); ++s) {
    if (moves[s] != 0) named.push_back(solids[s].phase);
  }
  return named;
}

}  // namespace aeruca::detail
