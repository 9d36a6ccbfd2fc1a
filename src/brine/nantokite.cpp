#include "aeruca/nantokite.hpp"

#include <cmath>

#include "aeruca/errors.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "uncertainty/combination.hpp"

namespace aeruca {
namespace {

constexpr double kAirOxygenBar = 0.21;

using detail::Balance;

// Products count above 0; water is a component and has no constant of its own.
double log10_k_of(const Dataset& dataset, const Balance& reaction) {
  double sum = 0;
  for (const auto& [name, count] : reaction) sum += count * dataset.at(name).log10_k;
  return sum;
}

}  // namespace

NantokiteInAir nantokite_in_air(const Dataset& dataset, double rh_percent) {
  if (!(rh_percent > 0 && rh_percent <= 100))
    throw InputError("rh_percent", rh_percent, "above 0 to 100 % RH");
  const Balance dry{{"nantokite", -2}, {"O2(g)", -0.5}, {"tenorite", 1}, {"tolbachite", 1}};
  const Balance moist{
      {"nantokite", -3}, {"O2(g)", -0.75}, {"clinoatacamite", 1}, {"tolbachite", 1}};
  const double log10_oxygen = std::log10(kAirOxygenBar);
  NantokiteInAir found;
  found.rh_percent = rh_percent;
  const double dry_k = log10_k_of(dataset, dry);
  found.log10_affinity_dry = dry_k + 0.5 * log10_oxygen;
  found.log10_oxygen_dry = -dry_k / 0.5;
  found.log10_affinity_moist =
      log10_k_of(dataset, moist) + 0.75 * log10_oxygen + 1.5 * std::log10(rh_percent / 100);
  found.uncertainty_log10 = detail::stated_uncertainty(dataset, dry, 25);
  found.limits = dataset.onset_bands;
  found.said = detail::say("brine.nantokite.said",
                           {{"affinity", detail::format_number(found.log10_affinity_dry, 3)},
                            {"uncertainty", detail::format_number(found.uncertainty_log10, 2)},
                            {"oxygen", detail::format_number(found.log10_oxygen_dry, 3)}});
  return found;
}

}  // namespace aeruca
