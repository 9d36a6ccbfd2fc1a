#include <algorithm>
#include <cmath>
#include <tuple>

#include "aeruca/brine.hpp"
#include "aeruca/errors.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "brine/measured.hpp"
#include "brine/salt_model.hpp"
#include "brine/saturated.hpp"

namespace aeruca {
namespace {

using detail::format_number;
using detail::SaltModel;
using detail::Saturated;
using detail::say;

constexpr double kUnstatedHumidityError = 1.0;  // % RH, for a measurement that states none
constexpr double kBesideDegrees = 5.5;          // measured humidities this near are shown
// Vapour non-ideality (below 0.1 % of the humidity at room temperature) and the misfit of any set
// to its own data: no computed humidity is held better known. Our estimate, see brine.hpp.
constexpr double kLeftOut = 0.1;  // % RH

// ---- uncertainty

struct Part {
  double value;
  std::string text;
};

double stated_uncertainty(const MeasuredHumidity& measured) {
  return std::isnan(measured.uncertainty_percent) ? kUnstatedHumidityError
                                                  : measured.uncertainty_percent;
}

double combine(const std::vector<Part>& parts) {
  double sum = 0;
  for (const auto& part : parts) sum += part.value * part.value;
  return std::sqrt(sum);
}

std::vector<Part> uncertainty_parts(const Saturated& computed, const SaltModel& model) {
  const bool measured = computed.basis == SaturationBasis::solubility;
  const double m = measured ? computed.molality_measured : computed.molality_constant;
  const auto state = model.at(m);
  const double osmotic = model.osmotic_uncertainty(m);
  const double by_osmotic =
      computed.rh_percent * std::abs(state.ln_water) / state.osmotic * osmotic;
  const double by_solubility =
      computed.rh_percent * std::abs(state.ln_water_slope) * computed.solubility_error * m;
  return {
      {by_osmotic, say("brine.uncertainty.osmotic", {{"rh_percent", format_number(by_osmotic, 2)},
                                                     {"osmotic", format_number(osmotic, 2)}})},
      {by_solubility, say("brine.uncertainty.solubility",
                          {{"rh_percent", format_number(by_solubility, 2)},
                           {"percent", format_number(100.0 * computed.solubility_error, 2)}})},
      {kLeftOut, say("brine.uncertainty.left_out", {{"rh_percent", format_number(kLeftOut)}})}};
}

// Where the measured humidity was fitted, no more is known than the measurement itself tells.
double fitted_uncertainty(const std::vector<HumidityComparison>& measured) {
  if (measured.empty()) return 0;
  const auto& best = measured.front();
  return std::max(std::abs(best.difference_percent), stated_uncertainty(best.measured));
}

struct Uncertainty {
  double value = kNotGiven;
  std::string from;
};

Uncertainty uncertainty_of(const Saturated& computed, const Salt& salt, double temperature_c,
                           const std::vector<HumidityComparison>& measured) {
  if (computed.basis == SaturationBasis::not_known) return {};
  const auto parts = uncertainty_parts(computed, SaltModel(salt, *computed.set, temperature_c));
  const double combined = combine(parts);
  const double fitted = salt.humidity_in_fit ? fitted_uncertainty(measured) : 0.0;
  if (fitted > combined) {
    return {fitted, say("brine.uncertainty.fitted")};
  }
  std::vector<std::string> texts;
  texts.reserve(parts.size());
  for (const auto& part : parts) texts.push_back(part.text);
  return {combined, say("brine.uncertainty.combined", {{"parts", detail::join(texts, ", ")}})};
}

// ---- comparison and warnings

std::vector<HumidityComparison> compare(const Dataset& dataset, const Salt& salt,
                                        double temperature_c, std::string_view asked) {
  std::vector<HumidityComparison> beside;
  for (auto& measured : detail::humidities_of(dataset, salt.solid)) {
    const double at = measured.temperature_c;
    if (!(std::abs(at - temperature_c) <= kBesideDegrees)) continue;
    const bool computable = at >= 0 && at <= 50;
    const double rh =
        computable ? detail::saturated_solution(dataset, salt, at, asked).rh_percent : kNotGiven;
    const double difference = rh - measured.rh_percent;
    beside.push_back({std::move(measured), difference, false});
  }
  const auto order = [&](const HumidityComparison& one) {
    const MeasuredHumidity& m = one.measured;
    const int rank = m.kind == "evaluated" ? 0 : m.kind == "measured" ? 1 : 2;
    return std::make_tuple(m.doubtful, rank, std::abs(m.temperature_c - temperature_c),
                           std::isnan(m.uncertainty_percent), stated_uncertainty(m));
  };
  std::stable_sort(beside.begin(), beside.end(),
                   [&](const auto& a, const auto& b) { return order(a) < order(b); });
  return beside;
}

void mark_disagreements(Deliquescence& out) {
  for (auto& one : out.measured) {
    const double both = std::hypot(out.rh_uncertainty_percent, stated_uncertainty(one.measured));
    one.disagrees = std::abs(one.difference_percent) > 2.0 * both;
  }
}

void warn(const Saturated& computed, const Salt& salt, Deliquescence& out) {
  auto& warnings = out.warnings;
  if (salt.humidity_in_fit) {
    warnings.push_back(say("brine.warning.in_fit"));
  }
  if (computed.set == nullptr) return;
  const PitzerBinary& set = *computed.set;
  const double highest = SaltModel(salt, set, out.temperature_c).molality_max();
  const bool measured = computed.basis == SaturationBasis::solubility;
  const double m = measured ? computed.molality_measured : computed.molality_constant;
  if (m > highest) {
    warnings.push_back(say("brine.warning.beyond_set", {{"molality", format_number(m, 4)},
                                                        {"highest", format_number(highest, 4)},
                                                        {"set", set.id}}));
  }
  if (std::isnan(set.osmotic_uncertainty)) {
    warnings.push_back(say("brine.warning.no_uncertainty", {{"set", set.id}}));
  }
  for (const auto& one : out.measured) {
    if (one.disagrees) {
      warnings.push_back(
          say("brine.warning.disagrees",
              {{"kind", one.measured.kind},
               {"source", one.measured.source},
               {"rh_percent", format_number(std::abs(one.difference_percent), 2)},
               {"doubt", one.measured.doubtful ? say("brine.warning.doubtful") : ""}}));
    }
  }
}

std::vector<std::string> sources_of(const Dataset& dataset, const Salt& salt,
                                    const Saturated& computed) {
  std::vector<std::string> keys;
  const auto add = [&](const std::string& key) {
    if (!key.empty() && std::find(keys.begin(), keys.end(), key) == keys.end()) keys.push_back(key);
  };
  add(salt.source);
  for (const auto& figure : dataset.figures) {
    if (figure.id.rfind(salt.solid + ".solubility.", 0) == 0) add(figure.source);
  }
  if (computed.set != nullptr) add(computed.set->source);
  return keys;
}

Deliquescence blank(const Salt& salt, double temperature_c) {
  Deliquescence out;
  out.salt = salt.formula;
  out.solid = salt.solid;
  out.temperature_c = temperature_c;
  out.rh_percent = out.rh_uncertainty_percent = kNotGiven;
  out.molality_measured = out.molality_from_constant = out.rh_from_constant_percent = kNotGiven;
  out.humidity_in_fit = salt.humidity_in_fit;
  out.note = salt.note;
  return out;
}

}  // namespace

std::string_view to_string(SaturationBasis basis) {
  switch (basis) {
    case SaturationBasis::solubility:
      return "solubility";
    case SaturationBasis::constant:
      return "constant";
    case SaturationBasis::not_known:
      break;
  }
  return "not known";
}

Deliquescence deliquescence(const Dataset& dataset, std::string_view name, double temperature_c,
                            std::string_view pitzer_set) {
  const Salt& salt = dataset.salt(name);
  detail::require_temperature(temperature_c);
  Deliquescence out = blank(salt, temperature_c);
  if (std::isnan(temperature_c)) {
    out.not_known_because = say("brine.not_known.temperature");
    return out;
  }
  const Saturated computed = detail::saturated_solution(dataset, salt, temperature_c, pitzer_set);
  out.rh_percent = computed.rh_percent;
  out.basis = computed.basis;
  out.not_known_because = computed.not_known_because;
  out.molality_measured = computed.molality_measured;
  out.molality_from_constant = computed.molality_constant;
  out.rh_from_constant_percent = computed.rh_constant;
  out.measured = compare(dataset, salt, temperature_c, pitzer_set);
  if (computed.set != nullptr) out.pitzer_set = computed.set->id;
  out.sources = sources_of(dataset, salt, computed);
  const Uncertainty uncertainty = uncertainty_of(computed, salt, temperature_c, out.measured);
  out.rh_uncertainty_percent = uncertainty.value;
  out.uncertainty_from = uncertainty.from;
  mark_disagreements(out);
  warn(computed, salt, out);
  return out;
}

DeliquescenceCurve deliquescence_curve(const Dataset& dataset, std::string_view name,
                                       std::span<const double> temperature_c,
                                       std::string_view pitzer_set) {
  const Salt& salt = dataset.salt(name);
  DeliquescenceCurve curve;
  for (const double t : temperature_c) {
    detail::require_temperature(t);
    const Saturated point =
        std::isnan(t) ? Saturated{} : detail::saturated_solution(dataset, salt, t, pitzer_set);
    std::vector<HumidityComparison> measured;
    if (salt.humidity_in_fit && !std::isnan(t)) measured = compare(dataset, salt, t, pitzer_set);
    curve.rh_percent.push_back(point.rh_percent);
    curve.rh_uncertainty_percent.push_back(uncertainty_of(point, salt, t, measured).value);
    if (curve.not_known_because.empty()) curve.not_known_because = point.not_known_because;
  }
  return curve;
}

std::vector<std::string> computable_salts(const Dataset& dataset) {
  std::vector<std::string> names;
  for (const auto& salt : dataset.salts) {
    if (detail::saturated_solution(dataset, salt, 25.0, "").basis != SaturationBasis::not_known)
      names.push_back(salt.solid);
  }
  return names;
}

}  // namespace aeruca
