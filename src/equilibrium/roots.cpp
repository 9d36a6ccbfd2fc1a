#include "equilibrium/roots.hpp"

#include <algorithm>
#include <cmath>

#include "aeruca/constants.hpp"

namespace aeruca::detail {

namespace {

constexpr double kSame = 1e-6;  // in every potential and ln a(H2O): the answers are good to 1e-9

bool same(const Root& a, const Root& b) {
  if (std::abs(a.ln_water - b.ln_water) > kSame) return false;
  return std::equal(a.lambda.begin(), a.lambda.end(), b.lambda.begin(), b.lambda.end(),
                    [](double x, double y) { return std::abs(x - y) <= kSame; });
}

}  // namespace

Root root_of(const Chemistry& chemistry, const Workplace& place) {
  const Solver& solver = place.solver;
  Root root{solver.lambda, solver.ln_water, 0, 1 / kWaterMolarMass};
  for (std::size_t j = 0; j < chemistry.columns(); ++j) {
    if (j != chemistry.charge_column) root.of_totals += chemistry.totals[j] * solver.lambda[j];
  }
  for (std::size_t i = 0; i < solver.molality.size(); ++i)
    root.water += chemistry.species.water[i] * solver.molality[i];
  const auto solids = solver.ties.phases();
  for (std::size_t k = 0; k < solids.size(); ++k)
    root.water += chemistry.phases.water[solids[k]] * solver.amount[k];
  return root;
}

double gibbs_difference(const Root& a, const Root& b) {
  const double supplied = std::max(a.ln_water, b.ln_water);
  return a.of_totals + a.water * (a.ln_water - supplied) -
         (b.of_totals + b.water * (b.ln_water - supplied));
}

void Roots::add(const Chemistry& chemistry, const Workplace& place) {
  ++starts_;
  if (!place.certificate.holds()) return;
  Root root = root_of(chemistry, place);
  const auto is_same = [&](const Root& one) { return same(one, root); };
  if (std::none_of(found_.begin(), found_.end(), is_same)) found_.push_back(std::move(root));
}

void Roots::tell(const Chemistry& chemistry, Workplace& kept) const {
  Certificate& certificate = kept.certificate;
  certificate.starts = starts_;
  certificate.answers = static_cast<int>(found_.size());
  certificate.next_answer = kNotGiven;
  if (!certificate.holds()) return;
  const Root own = root_of(chemistry, kept);
  for (const Root& root : found_) {
    if (!same(root, own))
      certificate.next_answer = std::fmin(certificate.next_answer, gibbs_difference(root, own));
  }
}

}  // namespace aeruca::detail
