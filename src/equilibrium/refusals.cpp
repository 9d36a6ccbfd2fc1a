#include "equilibrium/refusals.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca::detail {

namespace {

// A pair without parameters is off by about 2 beta0 m in ln gamma, m that of the more abundant ion;
// tabulated beta0 lie between -0.1 and 0.5 kg/mol. Below 0.1 mol/kg that is within 0.1, the
// uncertainty of many constants.
constexpr double kMuch = 0.1;      // mol/kg
constexpr double kNoTrace = 0.01;  // share of a component's dissolved amount
constexpr std::size_t kMostNamed = 6;
constexpr std::size_t kFirstOfMass = 2;  // column after hydrogen and the electron

// By system species.
struct Presence {
  std::vector<double> molality;
  std::vector<char> counts;  // holds more than a trace of some component, or is much itself
};

Presence presence_of(const WaterSystem& system, const Water& water,
                     std::span<const double> molality) {
  const std::size_t n = system.species.names.size();
  const std::size_t columns = system.columns.size();
  const Expressions& rows = system.species.expressions;
  Presence presence{std::vector<double>(n, 0), std::vector<char>(n, 0)};
  std::vector<double> dissolved(columns, 0);
  for (std::size_t i = 0; i < molality.size(); ++i) {
    const std::size_t s = water.species[i];
    presence.molality[s] = molality[i];
    for (std::size_t j = kFirstOfMass; j < columns; ++j)
      dissolved[j] += rows.row(s)[j] * molality[i];
  }
  for (const std::size_t s : water.species) {
    bool counts = presence.molality[s] >= kMuch;
    for (std::size_t j = kFirstOfMass; j < columns; ++j) {
      const double held = rows.row(s)[j] * presence.molality[s];
      counts = counts || (held > 0 && held >= kNoTrace * dissolved[j]);
    }
    presence.counts[s] = counts ? 1 : 0;
  }
  return presence;
}

}  // namespace

void refuse_unknown_acids(const WaterSystem& system, std::span<const double> totals) {
  for (std::size_t j = 0; j < totals.size(); ++j) {
    if (system.lacks_acid[j] == 0 || !(totals[j] > 0)) continue;
    const std::string& name = system.columns[j];
    throw InputError("total of " + name, totals[j],
                     "0, because " + system.dataset->at(name).proton_partner +
                         " has no constant in the data set and the pH would come out wrong; add "
                         "it to the data, or name " +
                         name + " as inert to count it as an ion only");
  }
}

std::vector<MissingPair> pairs_that_matter(const WaterSystem& system, const Water& water,
                                           std::span<const double> molality) {
  std::vector<MissingPair> pairs;
  // Nothing at 0.1 mol/kg, nothing to look for.
  const bool much =
      std::any_of(molality.begin(), molality.end(), [](double m) { return m >= kMuch; });
  if (system.missing_pairs.empty() || !much) return pairs;
  const Presence presence = presence_of(system, water, molality);
  for (const MissingPair& pair : system.missing_pairs) {
    if (presence.counts[pair.cation] == 0 || presence.counts[pair.anion] == 0) continue;
    if (std::max(presence.molality[pair.cation], presence.molality[pair.anion]) >= kMuch)
      pairs.push_back(pair);
  }
  return pairs;
}

std::string pairs_in_words(const WaterSystem& system, const std::vector<MissingPair>& pairs) {
  std::vector<std::string> names;
  for (std::size_t k = 0; k < std::min(pairs.size(), kMostNamed); ++k) {
    names.push_back(say("activity.pair", {{"one", system.species.names[pairs[k].cation]},
                                          {"other", system.species.names[pairs[k].anion]}}));
  }
  if (pairs.size() > kMostNamed)
    names.push_back(say("equilibrium.no_parameters.more",
                        {{"count", std::to_string(pairs.size() - kMostNamed)}}));
  return say(
      "equilibrium.no_parameters",
      {{"model", std::string(to_string(system.options.activity))}, {"pairs", join(names, ", ")}});
}

}  // namespace aeruca::detail
