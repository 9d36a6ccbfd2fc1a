#include "activity/excess.hpp"

#include <algorithm>
#include <cmath>

#include "aeruca/constants.hpp"
#include "aeruca/errors.hpp"

namespace aeruca::detail {
namespace {

// ln(1 + y) - y + y^2/2, without cancellation near zero.
double log_remainder(double y) {
  if (y > 0.05) return std::log1p(y) - y + 0.5 * y * y;
  double sum = 0;
  for (int n = 14; n >= 3; --n) sum = 1.0 / n - y * sum;
  return y * y * y * sum;
}

}  // namespace

double root_of(double ionic_strength) {
  return std::max(std::sqrt(ionic_strength), 1e-12);
}

LimitingLaw::Values LimitingLaw::at(double ionic_strength) const {
  const double root = root_of(ionic_strength);
  const double denominator = 1.0 + b * root;
  Values values;
  values.d = a * (root / denominator - c * ionic_strength);
  values.slope = a * (0.5 / (root * denominator * denominator) - c);
  values.f =
      a * (4.0 / (b * b * b) * log_remainder(b * root) - c * ionic_strength * ionic_strength);
  return values;
}

std::vector<double> charges_of(const Dataset& dataset, std::span<const std::string> species) {
  std::vector<double> charges;
  charges.reserve(species.size());
  for (const auto& name : species) {
    const Species& entry = dataset.at(name);
    if (entry.kind != PhaseKind::aqueous) {
      throw InputError("species", name,
                       "a dissolved species; this is " + std::string(to_string(entry.kind)));
    }
    charges.push_back(entry.charge);
  }
  return charges;
}

void begin(std::span<const double> molality, std::span<const double> charge, ActivityValues& out) {
  const std::size_t n = charge.size();
  if (molality.size() != n) {
    throw InputError("molality", std::to_string(molality.size()) + " figures",
                     "one per species, " + std::to_string(n));
  }
  out.ln_gamma.resize(n);
  out.ln_gamma_by_molality.resize(n * n);
  out.ln_water_by_molality.resize(n);
  double twice = 0;
  for (std::size_t i = 0; i < n; ++i) twice += molality[i] * charge[i] * charge[i];
  out.ionic_strength = 0.5 * twice;
}

double ln_water_activity(std::span<const double> molality, double g,
                         std::span<const double> ln_gamma) {
  double sum = 0;
  double excess = 0;
  for (std::size_t i = 0; i < molality.size(); ++i) {
    sum += molality[i];
    excess += molality[i] * ln_gamma[i];
  }
  return -kWaterMolarMass * (sum + excess - g);
}

void finish_water(std::span<const double> molality, double g, ActivityValues& out) {
  const std::size_t n = molality.size();
  std::fill(out.ln_water_by_molality.begin(), out.ln_water_by_molality.end(), 1.0);
  for (std::size_t i = 0; i < n; ++i) {
    const double* row = out.ln_gamma_by_molality.data() + i * n;
    for (std::size_t j = 0; j < n; ++j) out.ln_water_by_molality[j] += molality[i] * row[j];
  }
  out.ln_water_activity = ln_water_activity(molality, g, out.ln_gamma);
  for (double& slope : out.ln_water_by_molality) slope *= -kWaterMolarMass;
}

}  // namespace aeruca::detail
