#include "aeruca/hydration.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "aeruca/constants.hpp"
#include "aeruca/errors.hpp"
#include "aeruca/not_given.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "brine/salt_model.hpp"
#include "uncertainty/combination.hpp"

namespace aeruca {
namespace {

constexpr double kBesideDegrees = 5.5;  // as for deliquescence

// The ions of one formula, whatever their order.
std::map<std::string, double> ions_of(const Salt& salt) {
  return {salt.ions.begin(), salt.ions.end()};
}

void require_pair(const Salt& upper, const Salt& lower) {
  if (ions_of(upper) != ions_of(lower))
    throw InputError("lower", lower.solid, "a hydrate of the ions of " + upper.solid);
  if (!(upper.waters > lower.waters))
    throw InputError("lower", lower.solid, "a solid with less water than " + upper.solid);
}

// The solid of the name, not the first of its salt.
const Salt& solid_named(const Dataset& dataset, std::string_view name) {
  for (const auto& salt : dataset.salts)
    if (salt.solid == name || salt.formula == name) return salt;
  return dataset.salt(name);
}

// Why the two constants do not say it; empty: they do.
std::string missing(const Dataset& dataset, const Salt& upper, const Salt& lower,
                    double temperature_c) {
  for (const auto& solid : {upper.solid, lower.solid}) {
    if (!dataset.contains(solid))
      return detail::say("brine.hydration.no_constant", {{"solid", solid}});
    if (!Dataset::log10_k_known_at(dataset.at(solid), temperature_c))
      return detail::say(
          "brine.hydration.no_heat",
          {{"solid", solid}, {"temperature_c", detail::format_number(temperature_c)}});
  }
  return {};
}

void compute(const Dataset& dataset, HydrationChange& change) {
  const double t = change.temperature_c;
  const double log10_k =
      dataset.log10_k(dataset.at(change.lower), t) - dataset.log10_k(dataset.at(change.upper), t);
  change.rh_percent = 100.0 * std::pow(10.0, log10_k / change.waters);
  const double error =
      detail::stated_uncertainty(dataset, {{change.lower, 1}, {change.upper, -1}}, t);
  change.rh_uncertainty_percent = change.rh_percent * kLn10 * error / change.waters;
}

double at(const Dataset& dataset, const HydrationChange& change, double temperature_c) {
  if (!change.not_known_because.empty() || temperature_c < 0 || temperature_c > 50)
    return kNotGiven;
  HydrationChange there = change;
  there.temperature_c = temperature_c;
  compute(dataset, there);
  return there.rh_percent;
}

std::vector<HumidityComparison> compare(const Dataset& dataset, const HydrationChange& change) {
  std::vector<HumidityComparison> beside;
  for (const auto& one : dataset.humidities) {
    if (one.equilibrium != "hydration" || one.solid != change.upper + "/" + change.lower) continue;
    if (!(std::abs(one.temperature_c - change.temperature_c) <= kBesideDegrees)) continue;
    const double difference = at(dataset, change, one.temperature_c) - one.rh_percent;
    const double stated = std::isnan(one.uncertainty_percent) ? 1.0 : one.uncertainty_percent;
    beside.push_back(
        {one, difference,
         std::abs(difference) > 2 * std::hypot(stated, change.rh_uncertainty_percent)});
  }
  std::stable_sort(beside.begin(), beside.end(), [&](const auto& a, const auto& b) {
    const auto rank = [&](const HumidityComparison& one) {
      return std::make_pair(one.measured.kind == "computed",
                            std::abs(one.measured.temperature_c - change.temperature_c));
    };
    return rank(a) < rank(b);
  });
  return beside;
}

// A change of which one solid is no salt of the data set, or that skips a hydrate.
HydrationChange of_literature(const Dataset& dataset, const std::string& upper,
                              const std::string& lower, double temperature_c) {
  const auto known = [&](const std::string& name) {
    return std::any_of(dataset.salts.begin(), dataset.salts.end(),
                       [&](const Salt& salt) { return salt.solid == name; });
  };
  if (known(upper) && known(lower)) return hydration_change(dataset, upper, lower, temperature_c);
  HydrationChange change;
  change.upper = upper;
  change.lower = lower;
  change.temperature_c = temperature_c;
  change.waters = change.rh_percent = change.rh_uncertainty_percent = kNotGiven;
  change.not_known_because =
      detail::say("brine.hydration.no_constant", {{"solid", known(upper) ? lower : upper}});
  change.measured = compare(dataset, change);
  return change;
}

}  // namespace

HydrationChange hydration_change(const Dataset& dataset, std::string_view upper,
                                 std::string_view lower, double temperature_c) {
  detail::require_temperature(temperature_c);
  const Salt& more = solid_named(dataset, upper);
  const Salt& less = solid_named(dataset, lower);
  require_pair(more, less);
  HydrationChange change;
  change.upper = more.solid;
  change.lower = less.solid;
  change.temperature_c = temperature_c;
  change.waters = more.waters - less.waters;
  change.rh_percent = change.rh_uncertainty_percent = kNotGiven;
  if (std::isnan(temperature_c)) return change;
  change.not_known_because = missing(dataset, more, less, temperature_c);
  if (change.not_known_because.empty()) compute(dataset, change);
  change.measured = compare(dataset, change);
  return change;
}

std::vector<HydrationChange> hydration_changes(const Dataset& dataset, std::string_view name,
                                               double temperature_c) {
  const std::string& solid = solid_named(dataset, name).solid;
  std::vector<HydrationChange> changes;
  std::set<std::string> told;
  for (const auto& [upper, lower] : hydration_pairs(dataset)) {
    if (upper != solid && lower != solid) continue;
    changes.push_back(hydration_change(dataset, upper, lower, temperature_c));
    told.insert(std::string(upper).append("/").append(lower));
  }
  for (const auto& one : dataset.humidities) {
    const std::size_t slash = one.solid.find('/');
    if (one.equilibrium != "hydration" || slash == std::string::npos) continue;
    const std::string upper = one.solid.substr(0, slash);
    const std::string lower = one.solid.substr(slash + 1);
    if ((upper != solid && lower != solid) || !told.insert(one.solid).second) continue;
    changes.push_back(of_literature(dataset, upper, lower, temperature_c));
  }
  return changes;
}

std::vector<std::pair<std::string, std::string>> hydration_pairs(const Dataset& dataset) {
  std::map<std::map<std::string, double>, std::vector<const Salt*>> families;
  for (const auto& salt : dataset.salts) families[ions_of(salt)].push_back(&salt);
  std::vector<std::pair<std::string, std::string>> pairs;
  for (auto& [ions, family] : families) {
    std::sort(family.begin(), family.end(),
              [](const Salt* a, const Salt* b) { return a->waters > b->waters; });
    for (std::size_t i = 1; i < family.size(); ++i)
      if (family[i - 1]->waters > family[i]->waters)
        pairs.emplace_back(family[i - 1]->solid, family[i]->solid);
  }
  return pairs;
}

}  // namespace aeruca
