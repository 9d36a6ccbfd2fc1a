#include "equilibrium/certify.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "equilibrium/bounds.hpp"
#include "equilibrium/stability.hpp"
#include "numerics/dense.hpp"

namespace aeruca {

bool Certificate::holds() const {
  return mass_balance <= detail::kCertain && charge_balance <= detail::kCertain &&
         supersaturation <= detail::kCertainSaturation && smallest_phase >= 0 &&
         std::abs(duality_gap) <= detail::kCertain && activity_error <= detail::kCertain &&
         stability > 0 && water_activity <= 1;
}

namespace detail {

void Balances::clear(std::size_t columns) {
  net.assign(columns, 0);
  absolute.assign(columns, 0);
}

void Balances::add(const double* row, double amount) {
  for (std::size_t j = 0; j < net.size(); ++j) {
    const double part = row[j] * amount;
    net[j] += part;
    absolute[j] += std::abs(part);
  }
}

namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();

void add_up(const Chemistry& chemistry, const Answer& answer, Balances& sum) {
  sum.clear(chemistry.columns());
  for (std::size_t i = 0; i < answer.molality.size(); ++i) {
    sum.add(chemistry.species.row(i), answer.molality[i]);
  }
  for (std::size_t k = 0; k < answer.solids.size(); ++k) {
    sum.add(chemistry.phases.row(answer.solids[k]), answer.amounts[k]);
  }
  sum.add(chemistry.totals.data(), -1);
}

// What the reservoirs of the pinned potentials gave: their own balances tell, the others are
// tested.
bool settle_reservoirs(const Chemistry& chemistry, Inspection& room) {
  const std::size_t n = chemistry.pinned.size();
  room.reservoirs.resize(n * n);
  room.given.resize(n);
  room.order.resize(n);
  for (std::size_t r = 0; r < n; ++r) {
    room.given[r] = -room.sum.net[chemistry.pinned_column[r]];
    for (std::size_t k = 0; k < n; ++k) {
      room.reservoirs[r * n + k] = chemistry.pinned.row(k)[chemistry.pinned_column[r]];
    }
  }
  if (!lu_factor(room.reservoirs.data(), n, n, room.order.data())) return false;
  lu_solve(room.reservoirs.data(), n, n, room.order.data(), room.given.data(), 1, 1);
  for (std::size_t k = 0; k < n; ++k) room.sum.add(chemistry.pinned.row(k), room.given[k]);
  return true;
}

double charge_error(const Chemistry& chemistry, const Answer& answer) {
  double net = 0;
  double absolute = 0;
  for (std::size_t i = 0; i < answer.molality.size(); ++i) {
    net += chemistry.charge[i] * answer.molality[i];
    absolute += std::abs(chemistry.charge[i]) * answer.molality[i];
  }
  return absolute > 0 ? std::abs(net) / absolute : 0;
}

// d - 1 + e^-d.
double beyond_linear(double d) {
  constexpr double kNear = 1e-3;  // d^5 / 120 left out
  return std::abs(d) < kNear ? d * d * (1.0 / 2 - d * (1.0 / 6 - d / 24)) : d + std::expm1(-d);
}

}  // namespace

Certificate certify(const Chemistry& chemistry, const Activity& activity, std::size_t model_species,
                    const Answer& answer, Inspection& room) {
  Certificate certificate;
  const std::size_t columns = chemistry.columns();
  room.model_molality.assign(model_species, 0);
  for (std::size_t i = 0; i < answer.molality.size(); ++i) {
    room.model_molality[chemistry.slot[i]] = there(answer.molality[i]);
  }
  activity.evaluate_values(room.model_molality, room.values);
  activity.evaluate_slopes(room.model_molality, room.values);
  const double ln_water = room.values.ln_water_activity;

  certificate.water_activity = std::exp(ln_water);
  certificate.stability =
      solution_stability(chemistry.charge, chemistry.slot, answer.molality, room.values);

  add_up(chemistry, answer, room.sum);
  if (!settle_reservoirs(chemistry, room)) certificate.mass_balance = kInfinite;
  for (std::size_t j = 0; j < columns; ++j) {
    // Where the pH follows from the charge, that balance stands for the one of hydrogen.
    if (j == chemistry.charge_column || j == chemistry.neutral_column || room.sum.absolute[j] == 0)
      continue;
    certificate.mass_balance =
        std::max(certificate.mass_balance, std::abs(room.sum.net[j]) / room.sum.absolute[j]);
  }
  if (answer.neutral) certificate.charge_balance = charge_error(chemistry, answer);

  // gap = primal - dual = sum of m (ln m - u) - m + e^u >= 0, of n times the undersaturation, and
  // of the potentials times what the balances lack.
  double gap = 0;
  double size = 0;
  for (std::size_t i = 0; i < answer.molality.size(); ++i) {
    const double expected = chemistry.species.value(i, answer.lambda.data(), ln_water) -
                            room.values.ln_gamma[chemistry.slot[i]];
    const double difference = answer.ln_molality[i] - expected;
    certificate.activity_error = std::max(certificate.activity_error, std::abs(difference));
    const double m = answer.molality[i];
    gap += m * beyond_linear(difference);
    size += m * (1 + std::abs(answer.ln_molality[i]));
  }
  double highest = chemistry.phases.size() == 0 ? 0 : -kInfinite;
  for (std::size_t s = 0; s < chemistry.phases.size(); ++s) {
    highest = std::max(highest, chemistry.phases.value(s, answer.lambda.data(), ln_water));
  }
  for (std::size_t k = 0; k < answer.solids.size(); ++k) {
    const double value = chemistry.phases.value(answer.solids[k], answer.lambda.data(), ln_water);
    gap -= answer.amounts[k] * value;
    size += answer.amounts[k];
    if (answer.amounts[k] > 0) highest = std::max(highest, std::abs(value));
    if (k == 0 || answer.amounts[k] < certificate.smallest_phase) {
      certificate.smallest_phase = answer.amounts[k];
    }
  }
  for (std::size_t j = 0; j < columns; ++j) {
    if (j == chemistry.charge_column) continue;
    gap += answer.lambda[j] * room.sum.net[j];
    size += std::abs(answer.lambda[j]) * room.sum.absolute[j];
  }
  certificate.supersaturation = highest;
  certificate.duality_gap = size > 0 ? gap / size : 0;
  return certificate;
}

}  // namespace detail
}  // namespace aeruca
