#include "activity/quadratic.hpp"

namespace aeruca::detail {

QuadraticExcess::QuadraticExcess(std::vector<double> charge, LimitingLaw law,
                                 std::vector<double> interaction)
    : charge_(std::move(charge)), law_(law), interaction_(std::move(interaction)) {
  for (const double z : charge_) square_.push_back(z * z);
  if (interaction_.empty()) interaction_.assign(charge_.size() * charge_.size(), 0);
}

void QuadraticExcess::evaluate(std::span<const double> molality, ActivityValues& out) const {
  begin(molality, charge_, out);
  const auto law = law_.a == 0 ? LimitingLaw::Values{} : law_.at(out.ionic_strength);
  const std::size_t n = charge_.size();
  double pairs = 0;  // sum_i sum_j epsilon m m, each pair twice
  for (std::size_t i = 0; i < n; ++i) {
    const double* row = interaction_.data() + i * n;
    double* slope = out.ln_gamma_by_molality.data() + i * n;
    const double factor = -0.5 * square_[i] * law.slope;
    double sum = 0;
    for (std::size_t j = 0; j < n; ++j) {
      sum += row[j] * molality[j];
      slope[j] = row[j] + factor * square_[j];
    }
    out.ln_gamma[i] = sum - square_[i] * law.d;
    pairs += molality[i] * sum;
  }
  finish_water(molality, 0.5 * pairs - law.f, out);
}

}  // namespace aeruca::detail
