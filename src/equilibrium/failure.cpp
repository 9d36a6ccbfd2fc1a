#include "equilibrium/failure.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "base/text.hpp"
#include "equilibrium/impossible.hpp"
#include "equilibrium/refusals.hpp"

namespace aeruca::detail {

namespace {

using Words = std::optional<std::string>;

std::string model_of(const WaterSystem& system) {
  return std::string(to_string(system.options.activity)) + " activity model";
}

Words too_high(const WaterSystem& system, const Workplace& place) {
  const auto found = held_too_high(place.water.chemistry);
  if (!found) return std::nullopt;
  std::string who = system.species.names[place.water.species[found->first]];
  if (found->second != kNone)
    who += " and " + system.species.names[place.water.species[found->second]] + " together";
  return "what is held would need more than " + format_number(kMostMolality, 4) +
         " mol per kg of water: the pH, the Eh and the gases ask for " + who + " at 10^" +
         format_number(std::log10(found->molality), 3) + " mol/kg, were the solution ideal";
}

Words endless(const WaterSystem& system, const Workplace& place) {
  const std::size_t solid = endless_solid(place.water.chemistry);
  if (solid == kNone) return std::nullopt;
  return "what is held keeps " + system.phases.names[place.water.phases[solid]] +
         " supersaturated, so that it would form without end";
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
                                 ? "positive charge"
                                 : system.columns[place.water.column[j]];
    parts.push_back((std::abs(weight - 1) < 1e-9 ? "" : format_number(weight, 4) + " ") + name);
  }
  return join(parts, " + ");
}

Words balances(const WaterSystem& system, const Workplace& place) {
  const auto weights = contradicting_balances(place.water.chemistry);
  if (weights.empty()) return std::nullopt;
  const std::string asked = side(system, place, weights, -1);
  const std::string holding = side(system, place, weights, 1);
  if (holding.empty())
    return "the balances cannot hold: nothing that may be there takes up " + asked;
  return "the balances cannot hold: what was weighed in asks for more " + asked + " than " +
         holding + " can hold in anything that may be there";
}

// What was weighed in, were the solution ideal: that has one answer, and it is certain.
Words no_parameters(const WaterSystem& system, const Workplace& place) {
  if (system.missing_pairs.empty()) return std::nullopt;
  Solver solver;
  solver.prepare(place.water.chemistry, system.activity.get(), system.species.names.size());
  if (solver.ideal_answer(system.options.iteration_limit) != Status::converged) return std::nullopt;
  const auto pairs = pairs_that_matter(system, place.water, solver.molality);
  if (pairs.empty()) return std::nullopt;
  return "no answer was found, and " + pairs_in_words(system, pairs);
}

// Where the way from dilution ends, and whether the solution there is one of ions of one sign,
// which a held pH or gas asks for when nothing else is there to balance them.
std::string way_that_ends(const WayEnd& end) {
  constexpr double kOneSign = 0.5;  // of all charge
  std::string words = "coming from dilution it " + std::string(end.turns ? "turns back" : "ends") +
                      " at " + format_number(100 * end.share, 3) + " % of what is asked";
  if (std::isfinite(end.ph)) words += " and pH " + format_number(end.ph, 3);
  if (std::abs(end.charge) > kOneSign * end.all_charge)
    words += ", where ions of one sign (" + format_number(end.charge, 3) +
             " mol of charge in a kg of water) have nothing to balance them";
  return words;
}

std::string too_much(const WaterSystem& system, const Workplace& place) {
  const auto& molality = place.solver.molality;
  const auto most = std::max_element(molality.begin(), molality.end()) - molality.begin();
  return "what is asked would need more than " + format_number(kMostMolality, 4) +
         " mol dissolved in a kg of water, most of it " +
         system.species.names[place.water.species[static_cast<std::size_t>(most)]];
}

Words unstable(const WaterSystem& system, const Workplace& place) {
  const Certificate& c = place.certificate;
  const std::string no = "the " + model_of(system) + " has no stable solution here: ";
  if (place.too_much) return no + too_much(system, place);
  if (place.refused && !(c.stability > 0))
    return no +
           "what fulfils the balances would fall apart (smallest second derivative of its "
           "Gibbs energy " +
           format_number(c.stability, 3) + ", scaled to 1 where ideal)";
  if (place.refused && c.water_activity > 1)
    return no + "it puts the water activity at " + format_number(c.water_activity, 3) + ", above 1";
  if (place.way_end.share > 0) return no + way_that_ends(place.way_end);
  return std::nullopt;
}

std::string plainly(const Workplace& place) {
  if (place.refused) return "an answer was found but its certificate does not hold";
  if (place.status == Status::singular) return "no answer: the equations became singular";
  return "no answer within the iteration limit";
}

}  // namespace

void explain(const WaterSystem& system, Workplace& place) {
  if (place.status == Status::converged || place.status == Status::no_parameters) return;
  if (place.status == Status::infeasible) {
    place.message =
        "what is held contradicts itself: two of pH, Eh and the gases fix the same potential";
    return;
  }
  for (const auto proof : {&balances, &endless, &too_high}) {
    const Words words = proof(system, place);
    if (!words) continue;
    place.status = Status::infeasible;
    place.message = *words;
    return;
  }
  if (const Words pairs = no_parameters(system, place)) {
    place.status = Status::no_parameters;
    place.message = *pairs;
    return;
  }
  const Words words = unstable(system, place);
  if (words) place.status = Status::unstable;
  place.message = words ? *words : plainly(place);
}

}  // namespace aeruca::detail
