#include "brine/saturated.hpp"

#include <algorithm>
#include <cmath>

#include "aeruca/constants.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "brine/saturation.hpp"

namespace aeruca::detail {
namespace {

constexpr double kHighestStretch =
    2.0;  // times the molality range of a set; beyond it nothing is said
constexpr double kSolubilityError = 0.005;  // relative: spread of the solubilities looked up twice
constexpr double kInterpolatedSolubilityError = 0.01;

Saturated not_known(std::string because) {
  Saturated none;
  none.not_known_because = std::move(because);
  return none;
}

std::string range_text(const std::vector<std::pair<double, double>>& table) {
  if (table.empty()) return say("brine.solubility.none");
  const std::string coldest = format_number(table.front().first);
  if (table.size() == 1) return say("brine.solubility.at", {{"temperature_c", coldest}});
  return say("brine.solubility.from_to",
             {{"low_c", coldest}, {"high_c", format_number(table.back().first)}});
}

bool is_node(const Salt& salt, double temperature_c) {
  return std::any_of(salt.solubility.begin(), salt.solubility.end(),
                     [&](const auto& point) { return point.first == temperature_c; });
}

// The saturated solution from the constant, which belongs to one set and to 25 degrees C.
void take_constant(const Dataset& dataset, const Salt& salt, double temperature_c,
                   std::string_view asked, Saturated& out) {
  if (temperature_c != 25.0 || std::isnan(salt.ln_k_25c)) return;
  const PitzerBinary* own = own_set(dataset, salt);
  if (own == nullptr || (!asked.empty() && asked != own->id)) return;
  const SaltModel model(salt, *own, temperature_c);
  out.molality_constant = saturation_molality(model, salt.ln_k_25c);
  if (out.molality_constant > kHighestStretch * model.molality_max()) {
    out.molality_constant = kNotGiven;
    return;
  }
  if (!std::isnan(out.molality_constant))
    out.rh_constant = 100.0 * std::exp(model.at(out.molality_constant).ln_water);
}

// ln K at a temperature from the heat and heat capacity of the data set; NaN where one is missing or
// estimated: nothing is said of a saturated solution from an estimate.
double ln_k_at(const Dataset& dataset, const Salt& salt, double temperature_c) {
  if (std::isnan(salt.ln_k_25c) || !dataset.contains(salt.solid)) return kNotGiven;
  const Species& solid = dataset.at(salt.solid);
  if (!Dataset::log10_k_known_at(solid, temperature_c) ||
      dataset.rests_on_estimate(solid, temperature_c))
    return kNotGiven;
  double sum = salt.waters * dataset.log10_k(dataset.at("H2O"), temperature_c) -
               dataset.log10_k(solid, temperature_c);
  for (const auto& [ion, count] : salt.ions)
    sum += count * dataset.log10_k(dataset.at(ion), temperature_c);
  return kLn10 * sum;
}

// d ln(product) / d ln(molality).
double product_slope(const SaltModel& model, double molality) {
  constexpr double kStep = 1e-4;
  return (model.ln_product(molality * (1 + kStep)) - model.ln_product(molality * (1 - kStep))) /
         (2 * kStep);
}

// Relative error of the molality that the stated uncertainty of ln K makes; 1 % when none is
// stated.
double constant_error(const Dataset& dataset, const Salt& salt, const SaltModel& model,
                      double molality) {
  for (const auto& figure : dataset.figures) {
    if (figure.id != salt.solid + ".ln_k" || std::isnan(figure.uncertainty)) continue;
    return figure.uncertainty / std::abs(product_slope(model, molality));
  }
  return kInterpolatedSolubilityError;
}

// Where no solubility is known, from the constant carried to the temperature, by its own set.
void take_constant_carried(const Dataset& dataset, const Salt& salt, const SaltModel& model,
                           double temperature_c, Saturated& out) {
  if (own_set(dataset, salt) != &model.set()) return;
  const double ln_k = ln_k_at(dataset, salt, temperature_c);
  const double molality = std::isnan(ln_k) ? kNotGiven : saturation_molality(model, ln_k);
  if (std::isnan(molality) || molality > kHighestStretch * model.molality_max()) return;
  const double error = kLn10 * dataset.log10_k_uncertainty(dataset.at(salt.solid), temperature_c);
  out.molality_constant = molality;
  out.rh_percent = out.rh_constant = 100.0 * std::exp(model.at(molality).ln_water);
  out.basis = SaturationBasis::constant;
  out.solubility_error =
      std::max(kInterpolatedSolubilityError, error / std::abs(product_slope(model, molality)));
}

const PitzerBinary* set_at(const Dataset& dataset, const Salt& salt, double temperature_c,
                           std::string_view asked) {
  if (asked.empty()) return set_for(dataset, salt, temperature_c);
  const PitzerBinary& set = set_named(dataset, asked);
  return holds_at(set, temperature_c) ? &set : nullptr;
}

Saturated from_solubility(Saturated out, const SaltModel& model, const Salt& salt,
                          double temperature_c) {
  out.rh_percent = 100.0 * std::exp(model.at(out.molality_measured).ln_water);
  out.basis = SaturationBasis::solubility;
  out.solubility_error =
      is_node(salt, temperature_c) ? kSolubilityError : kInterpolatedSolubilityError;
  if (!std::isnan(out.molality_constant)) {
    const double gap = std::abs(out.molality_constant / out.molality_measured - 1.0);
    out.solubility_error = std::max(out.solubility_error, gap);
  }
  return out;
}

}  // namespace

Saturated saturated_solution(const Dataset& dataset, const Salt& salt, double temperature_c,
                             std::string_view asked) {
  if (!is_single_salt(salt)) return not_known(say("brine.not_known.double_salt"));
  if (own_set(dataset, salt) == nullptr) {
    return not_known(say("brine.not_known.no_parameters", {{"solid", salt.solid}}));
  }
  Saturated out;
  take_constant(dataset, salt, temperature_c, asked, out);
  out.molality_measured = interpolate(salt.solubility, temperature_c);
  out.set = set_at(dataset, salt, temperature_c, asked);
  if (out.set == nullptr) {
    return not_known(say("brine.not_known.no_set",
                         {{"solid", salt.solid}, {"temperature_c", format_number(temperature_c)}}));
  }
  const SaltModel model(salt, *out.set, temperature_c);
  const double limit = kHighestStretch * model.molality_max();
  if (out.molality_measured > limit) {
    out.not_known_because =
        say("brine.not_known.too_strong", {{"molality", format_number(out.molality_measured, 4)},
                                           {"set", out.set->id},
                                           {"highest", format_number(model.molality_max(), 4)}});
    return out;
  }
  if (!std::isnan(out.molality_measured)) return from_solubility(out, model, salt, temperature_c);
  if (!std::isnan(out.rh_constant)) {
    out.rh_percent = out.rh_constant;
    out.basis = SaturationBasis::constant;
    out.solubility_error =
        std::max(kSolubilityError, constant_error(dataset, salt, model, out.molality_constant));
    return out;
  }
  take_constant_carried(dataset, salt, model, temperature_c, out);
  if (out.basis == SaturationBasis::constant) return out;
  out.not_known_because = say(
      std::isnan(salt.ln_k_25c) ? "brine.not_known.no_constant" : "brine.not_known.constant_of_25c",
      {{"solubility", range_text(salt.solubility)}});
  return out;
}

}  // namespace aeruca::detail
