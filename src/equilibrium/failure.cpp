#include "equilibrium/failure.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "base/text.hpp"
#include "base/words.hpp"
#include "equilibrium/impossible.hpp"
#include "equilibrium/refusals.hpp"

namespace aeruca::detail {

namespace {

using Said = std::optional<std::string>;

Said too_high(const WaterSystem& system, const Workplace& place) {
  const auto found = held_too_high(place.water.chemistry);
  if (!found) return std::nullopt;
  const LeastMolality least = least_molality(place.water.chemistry, *found);
  if (!(least.in_pure_water > kMostMolality)) return std::nullopt;
  const bool proven =
      system.options.activity == ActivityModel::ideal && least.in_any_ideal > kMostMolality;
  std::string who = system.species.names[place.water.species[found->first]];
  if (found->second != kNone)
    who = say("equilibrium.together",
              {{"one", who}, {"other", system.species.names[place.water.species[found->second]]}});
  const double molality = proven ? least.in_any_ideal : least.in_pure_water;
  return say(proven ? "equilibrium.held_too_high.proven" : "equilibrium.held_too_high",
             {{"most", format_number(kMostMolality, 4)},
              {"species", who},
              {"log10_molality", format_number(std::log10(molality), 3)}});
}

Said endless(const WaterSystem& system, const Workplace& place) {
  const std::size_t solid = endless_solid(place.water.chemistry);
  if (solid == kNone) return std::nullopt;
  return say("equilibrium.endless", {{"solid", system.phases.names[place.water.phases[solid]]}});
}

// Parts of the balances with weights of one sign, as an amount of components.
std::string side(const WaterSystem& system, const Workplace& place,
                 const std::vector<double>& weights, double sign) {
  double largest = 0;
  for (const double weight : weights) largest = std::max(largest, std::abs(weight));
  std::vector<std::string> parts;
  for (std::size_t j = 0; j < weights.size(); ++j) {
    const double weight = sign * weights[j] / largest;
    if (weight < 1e-9) continue;
    const std::string name = j == place.water.chemistry.charge_column
                                 ? say("equilibrium.positive_charge")
                                 : system.columns[place.water.column[j]];
    parts.push_back((std::abs(weight - 1) < 1e-9 ? "" : format_number(weight, 4) + " ") + name);
  }
  return join(parts, " + ");
}

Said balances(const WaterSystem& system, const Workplace& place) {
  const auto weights = contradicting_balances(place.water.chemistry);
  if (weights.empty()) return std::nullopt;
  const std::string asked = side(system, place, weights, -1);
  const std::string holding = side(system, place, weights, 1);
  if (holding.empty()) return say("equilibrium.balances.nothing", {{"asked", asked}});
  return say("equilibrium.balances.too_little", {{"asked", asked}, {"holding", holding}});
}

// What was weighed in, were the solution ideal: that has one answer, and it is certain.
Said no_parameters(const WaterSystem& system, const Workplace& place) {
  if (system.estimated_pairs.empty()) return std::nullopt;
  Solver solver;
  solver.prepare(place.water.chemistry, system.activity.get(), system.species.names.size());
  if (solver.ideal_answer(system.options.iteration_limit) != Status::converged) return std::nullopt;
  const auto pairs = doubtful_pairs(system, place.water, solver.molality, kTooDoubtful);
  if (pairs.empty()) return std::nullopt;
  return say("equilibrium.no_answer.pairs", {{"pairs", no_parameters_in_words(system, pairs)}});
}

// Where the way from dilution ends, and whether the solution there is one of ions of one sign,
// which a held pH or gas asks for when nothing else is there to balance them.
std::string way_that_ends(const WayEnd& end) {
  constexpr double kOneSign = 0.5;  // of all charge
  const bool one_sign = std::abs(end.charge) > kOneSign * end.all_charge;
  return say(
      end.turns ? "equilibrium.way.turns" : "equilibrium.way.ends",
      {{"percent", format_number(100 * end.share, 3)},
       {"ph",
        std::isfinite(end.ph) ? say("equilibrium.way.ph", {{"ph", format_number(end.ph, 3)}}) : ""},
       {"charge",
        one_sign ? say("equilibrium.way.one_sign", {{"mol", format_number(end.charge, 3)}}) : ""}});
}

std::string too_much(const WaterSystem& system, const Workplace& place) {
  const auto& molality = place.solver.molality;
  const auto most = std::max_element(molality.begin(), molality.end()) - molality.begin();
  return say(
      "equilibrium.too_much",
      {{"most", format_number(kMostMolality, 4)},
       {"species", system.species.names[place.water.species[static_cast<std::size_t>(most)]]}});
}

Said unstable(const WaterSystem& system, const Workplace& place) {
  const Certificate& c = place.certificate;
  const auto none = [&](std::string why) {
    return say("equilibrium.unstable", {{"model", std::string(to_string(system.options.activity))},
                                        {"reason", std::move(why)}});
  };
  if (place.too_much) return none(too_much(system, place));
  if (place.refused && !(c.stability > 0))
    return none(say("equilibrium.falls_apart", {{"stability", format_number(c.stability, 3)}}));
  if (place.refused && c.water_activity > 1)
    return none(
        say("equilibrium.water_above_1", {{"water_activity", format_number(c.water_activity, 3)}}));
  if (place.way_end.share > 0) return none(way_that_ends(place.way_end));
  return std::nullopt;
}

std::string plainly(const Workplace& place) {
  if (place.refused) return say("equilibrium.no_answer.certificate");
  if (place.status == Status::singular) return say("equilibrium.no_answer.singular");
  return say("equilibrium.no_answer.iterations");
}

}  // namespace

void explain(const WaterSystem& system, Workplace& place) {
  if (place.status == Status::converged || place.status == Status::no_parameters) return;
  if (place.status == Status::infeasible) {
    place.message = say("equilibrium.contradiction");
    return;
  }
  for (const auto reason : {&balances, &endless, &too_high}) {
    const Said words = reason(system, place);
    if (!words) continue;
    place.status = Status::infeasible;
    place.message = *words;
    return;
  }
  if (const Said pairs = no_parameters(system, place)) {
    place.status = Status::no_parameters;
    place.message = *pairs;
    return;
  }
  const Said words = unstable(system, place);
  if (words) place.status = Status::unstable;
  place.message = words ? *words : plainly(place);
}

}  // namespace aeruca::detail
