#include <algorithm>
#include <array>
#include <cmath>

#include "aeruca/brine.hpp"
#include "aeruca/constants.hpp"
#include "aeruca/errors.hpp"
#include "aeruca/not_given.hpp"
#include "aeruca/water.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "brine/salt_model.hpp"

namespace aeruca {
namespace detail {
namespace {

constexpr double kUncertaintyPerKelvin = 0.0003;
constexpr double kUncertaintyBeyondRange = 0.02;

struct Ions {
  std::string cation, anion;
  double cation_count = 0, anion_count = 0;
  int cation_charge = 0, anion_charge = 0;
};

Ions ions_of(const Salt& salt) {
  Ions ions;
  for (const auto& [name, count] : salt.ions) {
    const int charge = parse_formula(name).charge;
    const bool positive = charge > 0;
    (positive ? ions.cation : ions.anion) = name;
    (positive ? ions.cation_count : ions.anion_count) = count;
    (positive ? ions.cation_charge : ions.anion_charge) = charge;
  }
  return ions;
}

// Of the whole salt, no complexes beside it.
bool is_set_of(const PitzerBinary& set, const Salt& salt) {
  if (!set.complexes.empty()) return false;
  const auto has = [&](const std::string& ion) {
    return std::any_of(salt.ions.begin(), salt.ions.end(),
                       [&](const auto& one) { return one.first == ion; });
  };
  return has(set.cation) && has(set.anion);
}

PitzerSystem system_of(const Salt& salt, const PitzerBinary& set, double temperature_c) {
  if (!is_single_salt(salt)) {
    throw InputError("salt", salt.solid, "a salt of one cation and one anion");
  }
  if (!is_set_of(set, salt)) {
    throw InputError("pitzer_set", set.id, "a set of the ions of " + salt.solid);
  }
  const Ions ions = ions_of(salt);
  PitzerSystem system;
  system.charge = {static_cast<double>(ions.cation_charge), static_cast<double>(ions.anion_charge)};
  system.a_phi = debye_hueckel_slopes(temperature_c).a_phi;
  system.pairs = {pitzer_pair(set, 0, 1, -system.charge[0] * system.charge[1], temperature_c)};
  return system;
}

}  // namespace

bool is_single_salt(const Salt& salt) {
  if (salt.ions.size() != 2) return false;
  return parse_formula(salt.ions[0].first).charge * parse_formula(salt.ions[1].first).charge < 0;
}

const PitzerBinary& set_named(const Dataset& dataset, std::string_view id) {
  std::vector<std::string> known;
  for (const auto& set : dataset.pitzer) {
    if (set.id == id) return set;
    known.push_back(set.id);
  }
  throw UnknownName("Pitzer set", std::string(id), nearest_name(id, known));
}

bool holds_at(const PitzerBinary& set, double temperature_c) {
  return temperature_c >= set.temperature_min_c && temperature_c <= set.temperature_max_c;
}

const PitzerBinary* own_set(const Dataset& dataset, const Salt& salt) {
  const PitzerBinary* found = nullptr;
  for (const auto& set : dataset.pitzer) {
    if (set.id == salt.pitzer_set) return &set;
    if (is_set_of(set, salt) && (found == nullptr || (set.chosen && !found->chosen))) found = &set;
  }
  return found;
}

const PitzerBinary* set_for(const Dataset& dataset, const Salt& salt, double temperature_c) {
  const PitzerBinary* own = own_set(dataset, salt);
  if (own == nullptr || holds_at(*own, temperature_c)) return own;
  const PitzerBinary* other = nullptr;
  for (const auto& set : dataset.pitzer) {
    if (!is_set_of(set, salt) || !holds_at(set, temperature_c)) continue;
    if (other == nullptr || (set.chosen && !other->chosen)) other = &set;
  }
  return other;
}

void require_temperature(double temperature_c) {
  if (temperature_c < 0 || temperature_c > 50) {
    throw InputError("temperature_c", temperature_c, "0 to 50 degrees C");
  }
}

SaltModel::SaltModel(const Salt& salt, const PitzerBinary& set, double temperature_c)
    : set_(&set), model_(system_of(salt, set, temperature_c)), temperature_c_(temperature_c) {
  const Ions ions = ions_of(salt);
  cation_count_ = ions.cation_count;
  anion_count_ = ions.anion_count;
  waters_ = salt.waters;
  ionic_strength_per_molality_ = 0.5 * (cation_count_ * ions.cation_charge * ions.cation_charge +
                                        anion_count_ * ions.anion_charge * ions.anion_charge);
  molality_max_ = std::isnan(set.molality_max) ? kUnstatedMolality : set.molality_max;
}

SaltState SaltModel::at(double molality) const {
  thread_local ActivityValues values;
  const std::array<double, 2> m = {cation_count_ * molality, anion_count_ * molality};
  model_.evaluate(m, values);
  const double ions = cation_count_ + anion_count_;
  SaltState state;
  state.ionic_strength = values.ionic_strength;
  state.ln_water = values.ln_water_activity;
  state.ln_water_slope = cation_count_ * values.ln_water_by_molality[0] +
                         anion_count_ * values.ln_water_by_molality[1];
  state.ln_gamma = (cation_count_ * values.ln_gamma[0] + anion_count_ * values.ln_gamma[1]) / ions;
  if (molality > 0) state.osmotic = -state.ln_water / (kWaterMolarMass * ions * molality);
  return state;
}

double SaltModel::ln_product(double molality) const {
  const SaltState state = at(molality);
  return cation_count_ * std::log(cation_count_ * molality) +
         anion_count_ * std::log(anion_count_ * molality) +
         (cation_count_ + anion_count_) * state.ln_gamma + waters_ * state.ln_water;
}

double SaltModel::fit_uncertainty(double molality) const {
  if (set_->fitted.empty()) return kNotGiven;
  std::vector<double> slopes;
  for (const auto& field : set_->fitted) slopes.push_back(osmotic_slope(field, molality));
  double variance = 0;
  std::size_t place = 0;
  for (std::size_t i = 0; i < slopes.size(); ++i)
    for (std::size_t j = 0; j <= i; ++j)
      variance += (i == j ? 1 : 2) * slopes[i] * slopes[j] * set_->covariance[place++];
  return std::sqrt(std::max(0.0, variance));
}

// d phi / d field: the osmotic coefficient is linear in its parameters, and they are in theirs.
double SaltModel::osmotic_slope(std::string_view field, double molality) const {
  const double ions = cation_count_ + anion_count_;
  const double product = cation_count_ * anion_count_;
  const double root = std::sqrt(ionic_strength_per_molality_ * molality);
  const double second = 2 * molality * product / ions;
  const double from_25 = temperature_c_ - 25.0;
  const double temperature = field.ends_with("_per_k2")  ? from_25 * from_25
                             : field.ends_with("_per_k") ? from_25
                                                         : 1.0;
  if (field.starts_with("beta0")) return temperature * second;
  if (field.starts_with("beta1")) return temperature * second * std::exp(-set_->alpha1 * root);
  if (field.starts_with("beta2")) return temperature * second * std::exp(-set_->alpha2 * root);
  return temperature * 2 * molality * molality * std::pow(product, 1.5) / ions;
}

double SaltModel::osmotic_uncertainty(double molality) const {
  double stated = std::isnan(set_->osmotic_uncertainty) ? kUnstatedOsmoticUncertainty
                                                        : set_->osmotic_uncertainty;
  const double fit = fit_uncertainty(molality);
  if (std::isnan(fit)) {
    stated += kUncertaintyPerKelvin * std::abs(temperature_c_ - 25.0);
  } else {
    stated = std::hypot(stated, fit);
  }
  if (!(molality > molality_max_)) return stated;
  const double stretch = molality / molality_max_;
  return stated + kUncertaintyBeyondRange * (stretch * stretch - 1.0);
}

}  // namespace detail

namespace {

using detail::format_number;

const PitzerBinary& pick_set(const Dataset& dataset, const Salt& salt, std::string_view pitzer_set,
                             double temperature_c) {
  if (!pitzer_set.empty()) return detail::set_named(dataset, pitzer_set);
  const PitzerBinary* set = detail::set_for(dataset, salt, temperature_c);
  if (set == nullptr) set = detail::own_set(dataset, salt);
  if (set == nullptr)
    throw InputError("salt", salt.solid, "a salt with a Pitzer set in the data set");
  return *set;
}

void require_molality(double molality) {
  if (molality < 0 || molality > 30) throw InputError("molality", molality, "0 to 30 mol/kg");
}

std::vector<std::string> warnings_for(const detail::SaltModel& model, double molality,
                                      double temperature_c) {
  std::vector<std::string> warnings;
  const PitzerBinary& set = model.set();
  if (molality > model.molality_max()) {
    warnings.push_back(
        detail::say("brine.warning.above_set", {{"molality", format_number(molality, 4)},
                                                {"highest", format_number(model.molality_max(), 4)},
                                                {"set", set.id}}));
  }
  if (!detail::holds_at(set, temperature_c)) {
    warnings.push_back(
        detail::say("brine.warning.temperature",
                    {{"set", set.id}, {"temperature_c", format_number(temperature_c)}}));
  }
  if (std::isnan(set.osmotic_uncertainty)) {
    warnings.push_back(detail::say("brine.warning.no_uncertainty", {{"set", set.id}}));
  }
  return warnings;
}

}  // namespace

SaltSolution single_salt(const Dataset& dataset, std::string_view name, double molality,
                         double temperature_c, std::string_view pitzer_set) {
  const Salt& salt = dataset.salt(name);
  require_molality(molality);
  detail::require_temperature(temperature_c);
  const detail::SaltModel model(salt, pick_set(dataset, salt, pitzer_set, temperature_c),
                                temperature_c);
  const auto state = model.at(molality);
  SaltSolution solution;
  solution.solid = salt.solid;
  solution.anhydrous = salt.anhydrous;
  solution.pitzer_set = model.set().id;
  solution.molality = molality;
  solution.temperature_c = temperature_c;
  solution.ionic_strength = state.ionic_strength;
  solution.osmotic_coefficient = std::isnan(molality) ? molality : state.osmotic;
  solution.mean_activity_coefficient = std::exp(state.ln_gamma);
  solution.water_activity = std::exp(state.ln_water);
  solution.osmotic_uncertainty = model.osmotic_uncertainty(molality);
  solution.water_activity_uncertainty = solution.water_activity * std::abs(state.ln_water) /
                                        state.osmotic * solution.osmotic_uncertainty;
  solution.warnings = warnings_for(model, molality, temperature_c);
  return solution;
}

SaltCurve salt_curve(const Dataset& dataset, std::string_view name,
                     std::span<const double> molality, double temperature_c,
                     std::string_view pitzer_set) {
  const Salt& salt = dataset.salt(name);
  detail::require_temperature(temperature_c);
  const detail::SaltModel model(salt, pick_set(dataset, salt, pitzer_set, temperature_c),
                                temperature_c);
  SaltCurve curve;
  curve.pitzer_set = model.set().id;
  for (const double m : molality) {
    require_molality(m);
    const auto state = model.at(m);
    curve.osmotic_coefficient.push_back(std::isnan(m) ? m : state.osmotic);
    curve.mean_activity_coefficient.push_back(std::exp(state.ln_gamma));
    curve.water_activity.push_back(std::exp(state.ln_water));
  }
  return curve;
}

}  // namespace aeruca
