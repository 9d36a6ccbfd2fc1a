#include "equilibrium/certify.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "numerics/dense.hpp"

namespace aeruca {

bool Certificate::holds() const {
  return mass_balance <= 1e-9 && charge_balance <= 1e-9 && supersaturation <= 1e-8 &&
         smallest_phase >= 0 && std::abs(duality_gap) <= 1e-9 && activity_error <= 1e-9;
}

namespace detail {

namespace {

constexpr std::size_t kMost = 32;

// Net and absolute contributions to every balance: dissolved, solid, less the total.
struct Balances {
  double net[kMost] = {};
  double absolute[kMost] = {};
  void add(const double* row, double amount, std::size_t columns) {
    for (std::size_t j = 0; j < columns; ++j) {
      net[j] += row[j] * amount;
      absolute[j] += std::abs(row[j] * amount);
    }
  }
};

Balances balances(const Chemistry& chemistry, const Answer& answer) {
  Balances sum;
  const std::size_t columns = chemistry.columns();
  for (std::size_t i = 0; i < answer.molality.size(); ++i) {
    sum.add(chemistry.species.row(i), answer.molality[i], columns);
  }
  for (std::size_t k = 0; k < answer.solids.size(); ++k) {
    sum.add(chemistry.phases.row(answer.solids[k]), answer.amounts[k], columns);
  }
  for (std::size_t j = 0; j < columns; ++j) {
    sum.net[j] -= chemistry.totals[j];
    sum.absolute[j] += std::abs(chemistry.totals[j]);
  }
  return sum;
}

// What the reservoirs of the pinned potentials gave: their own balances tell, the others are
// tested.
bool settle_reservoirs(const Chemistry& chemistry, Balances& sum) {
  const std::size_t n = chemistry.pinned.size();
  double matrix[kMost * kMost] = {};
  double given[kMost] = {};
  std::size_t order[kMost] = {};
  for (std::size_t r = 0; r < n; ++r) {
    given[r] = -sum.net[chemistry.pinned_column[r]];
    for (std::size_t k = 0; k < n; ++k) {
      matrix[r * kMost + k] = chemistry.pinned.row(k)[chemistry.pinned_column[r]];
    }
  }
  if (!lu_factor(matrix, n, kMost, order)) return false;
  lu_solve(matrix, n, kMost, order, given, 1, 1);
  for (std::size_t k = 0; k < n; ++k)
    sum.add(chemistry.pinned.row(k), given[k], chemistry.columns());
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

}  // namespace

Certificate certify(const Chemistry& chemistry, const Activity& activity, std::size_t model_species,
                    const Answer& answer, Inspection& room) {
  Certificate certificate;
  const std::size_t columns = chemistry.columns();
  if (columns > kMost) {
    certificate.mass_balance = INFINITY;
    return certificate;
  }
  room.model_molality.assign(model_species, 0);
  for (std::size_t i = 0; i < answer.molality.size(); ++i) {
    room.model_molality[chemistry.slot[i]] = answer.molality[i];
  }
  activity.evaluate(room.model_molality, room.values);
  const double ln_water = room.values.ln_water_activity;

  Balances sum = balances(chemistry, answer);
  if (!settle_reservoirs(chemistry, sum)) certificate.mass_balance = INFINITY;
  for (std::size_t j = 0; j < columns; ++j) {
    // Where the pH follows from the charge, that balance stands for the one of hydrogen.
    if (j == chemistry.charge_column || j == chemistry.neutral_column || sum.absolute[j] == 0)
      continue;
    certificate.mass_balance =
        std::max(certificate.mass_balance, std::abs(sum.net[j]) / sum.absolute[j]);
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
    gap += m * (difference - 1 + std::exp(-difference));
    size += m * (1 + std::abs(answer.ln_molality[i]));
  }
  double highest = chemistry.phases.size() == 0 ? 0 : -INFINITY;
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
    gap += answer.lambda[j] * sum.net[j];
    size += std::abs(answer.lambda[j]) * sum.absolute[j];
  }
  certificate.supersaturation = highest;
  certificate.duality_gap = size > 0 ? gap / size : 0;
  return certificate;
}

}  // namespace detail
}  // namespace aeruca
