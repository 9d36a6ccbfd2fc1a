#include "equilibrium/refusals.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca::detail {

namespace {

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

std::vector<DoubtfulPair> doubtful_pairs(const WaterSystem& system, const Water& water,
                                         std::span<const double> molality, double least) {
  std::vector<DoubtfulPair> pairs;
  const auto could = [&](double m) { return m * system.largest_estimate >= least; };
  if (std::none_of(molality.begin(), molality.end(), could)) return pairs;
  const Presence presence = presence_of(system, water, molality);
  const auto left_in_doubt = [&](std::size_t one, std::size_t other) {
    return presence.counts[one] != 0 ? presence.molality[other] : 0.0;
  };
  for (const EstimatedPair& pair : system.estimated_pairs) {
    const double most = pair.uncertainty * std::max(left_in_doubt(pair.cation, pair.anion),
                                                    left_in_doubt(pair.anion, pair.cation));
    if (most >= least) pairs.push_back({pair.cation, pair.anion, most});
  }
  std::stable_sort(pairs.begin(), pairs.end(), [](const DoubtfulPair& a, const DoubtfulPair& b) {
    return a.log10_gamma > b.log10_gamma;
  });
  return pairs;
}

namespace {

template <class InWords>
std::string listed(const WaterSystem& system, const std::vector<DoubtfulPair>& pairs,
                   const char* sentence, InWords in_words) {
  std::vector<std::string> names;
  for (std::size_t k = 0; k < std::min(pairs.size(), kMostNamed); ++k) {
    const std::string both =
        say("activity.pair", {{"one", system.species.names[pairs[k].cation]},
                              {"other", system.species.names[pairs[k].anion]}});
    names.push_back(in_words(both, pairs[k].log10_gamma));
  }
  if (pairs.size() > kMostNamed)
    names.push_back(say("equilibrium.no_parameters.more",
                        {{"count", std::to_string(pairs.size() - kMostNamed)}}));
  return say(sentence, {{"model", std::string(to_string(system.options.activity))},
                        {"pairs", join(names, ", ")}});
}

}  // namespace

std::string no_parameters_in_words(const WaterSystem& system,
                                   const std::vector<DoubtfulPair>& pairs) {
  return listed(system, pairs, "equilibrium.no_parameters",
                [](const std::string& both, double) { return both; });
}

std::string estimates_in_words(const WaterSystem& system, const std::vector<DoubtfulPair>& pairs) {
  return listed(system, pairs, "equilibrium.warning.estimated",
                [](const std::string& both, double doubt) {
                  return say("equilibrium.warning.estimated.pair",
                             {{"pair", both}, {"log10", format_number(doubt, 2)}});
                });
}

}  // namespace aeruca::detail
