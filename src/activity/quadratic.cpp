#include "activity/quadratic.hpp"

#include <algorithm>

#include "aeruca/constants.hpp"

namespace aeruca::detail {

QuadraticExcess::QuadraticExcess(std::vector<double> charge, LimitingLaw law,
                                 std::vector<double> interaction)
    : charge_(std::move(charge)), law_(law), interaction_(std::move(interaction)) {
  const std::size_t n = charge_.size();
  for (const double z : charge_) square_.push_back(z * z);
  if (interaction_.empty()) interaction_.assign(n * n, 0);
  for (std::size_t i = 0; i < n; ++i) {
    of_itself_.push_back(interaction_[i * n + i]);
    for (std::size_t j = i + 1; j < n; ++j) {
      if (interaction_[i * n + j] != 0) pairs_.push_back({i, j, interaction_[i * n + j]});
    }
  }
}

LimitingLaw::Values QuadraticExcess::law_at(double ionic_strength) const {
  return law_.a == 0 ? LimitingLaw::Values{} : law_.at(ionic_strength);
}

// ln gamma_i = E_i - z_i^2 D with E_i = sum_j epsilon_ij m_j, and
// ln a(w) = -M_w (sum m + sum m ln gamma - 1/2 sum m E + F).
void QuadraticExcess::evaluate_values(std::span<const double> molality, ActivityValues& out) const {
  begin(molality, charge_, out);
  const auto law = law_at(out.ionic_strength);
  const std::size_t n = charge_.size();
  for (std::size_t i = 0; i < n; ++i) out.ln_gamma[i] = of_itself_[i] * molality[i];
  for (const auto& [i, j, epsilon] : pairs_) {
    out.ln_gamma[i] += epsilon * molality[j];
    out.ln_gamma[j] += epsilon * molality[i];
  }
  double sum = 0;
  double pairs = 0;  // sum_i sum_j epsilon m m, each pair twice
  double excess = 0;
  for (std::size_t i = 0; i < n; ++i) {
    sum += molality[i];
    pairs += molality[i] * out.ln_gamma[i];
    out.ln_gamma[i] -= square_[i] * law.d;
    excess += molality[i] * out.ln_gamma[i];
  }
  out.ln_water_activity = -kWaterMolarMass * (sum + excess - (0.5 * pairs - law.f));
}

// d ln gamma_i / d m_j = epsilon_ij - z_i^2 z_j^2 D'(I) / 2; of ln a(w), with E_j = ln gamma_j +
// z_j^2 D, -M_w (1 + E_j - z_j^2 D' I).
void QuadraticExcess::evaluate_slopes(std::span<const double> molality, ActivityValues& out) const {
  const std::size_t n = charge_.size();
  if (law_.a == 0 && pairs_.empty()) {  // ideal
    std::fill(out.ln_water_by_molality.begin(), out.ln_water_by_molality.end(), -kWaterMolarMass);
    std::fill(out.ln_gamma_by_molality.begin(), out.ln_gamma_by_molality.end(), 0.0);
    return;
  }
  const auto law = law_at(out.ionic_strength);
  for (std::size_t i = 0; i < n; ++i) {
    const double per_kg = out.ln_gamma[i] + square_[i] * (law.d - law.slope * out.ionic_strength);
    out.ln_water_by_molality[i] = -kWaterMolarMass * (1 + per_kg);
    if (molality[i] == 0) continue;
    const double* row = interaction_.data() + i * n;
    double* slope = out.ln_gamma_by_molality.data() + i * n;
    const double factor = -0.5 * square_[i] * law.slope;
    for (std::size_t j = 0; j < n; ++j) slope[j] = row[j] + factor * square_[j];
  }
}

void QuadraticExcess::evaluate(std::span<const double> molality, ActivityValues& out) const {
  evaluate_values(molality, out);
  const auto law = law_at(out.ionic_strength);
  evaluate_slopes(molality, out);
  // Of those that are not there as well.
  const std::size_t n = charge_.size();
  for (std::size_t i = 0; i < n; ++i) {
    if (molality[i] != 0) continue;
    for (std::size_t j = 0; j < n; ++j) {
      out.ln_gamma_by_molality[i * n + j] =
          interaction_[i * n + j] - 0.5 * square_[i] * square_[j] * law.slope;
    }
  }
}

}  // namespace aeruca::detail
