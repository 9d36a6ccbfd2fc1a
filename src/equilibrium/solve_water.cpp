// One water from matrices to a certified answer: the usual way first; where its answer does not
// hold or may not be the only one, the way from dilution, and the better of what is found.

#include <algorithm>
#include <cmath>
#include <numeric>

#include "aeruca/constants.hpp"
#include "equilibrium/bounds.hpp"
#include "equilibrium/failure.hpp"
#include "equilibrium/grow.hpp"
#include "equilibrium/impossible.hpp"
#include "equilibrium/refusals.hpp"
#include "equilibrium/roots.hpp"
#include "equilibrium/workplace.hpp"

namespace aeruca::detail {

namespace {

constexpr double kWaterMoles = 1 / kWaterMolarMass;  // mol in 1 kg
constexpr double kNearHydrate = 0.5;  // of the salt that all water would be bound by, as a hydrate

double dissolved_moles(const Solver& solver) {
  return std::accumulate(solver.molality.begin(), solver.molality.end(), 0.0);
}

void inspect(const WaterSystem& system, Workplace& place) {
  const Solver& solver = place.solver;
  place.certificate = Certificate{};
  if (place.status == Status::converged) {
    const Answer answer{solver.lambda,   solver.u,
                        solver.molality, solver.ties.phases(),
                        solver.amount,   system.options.acidity == Acidity::charge_balance};
    place.certificate = certify(place.water.chemistry, *system.activity,
                                system.species.names.size(), answer, place.inspection);
  } else {
    place.certificate.mass_balance = kNotGiven;  // holds nothing
  }
  place.too_much = place.status == Status::converged && dissolved_moles(solver) > kMostMolality;
  if (place.too_much) place.certificate.mass_balance = kNotGiven;
  place.refused = place.status == Status::converged && !place.certificate.holds();
  if (place.refused) place.status = Status::iteration_limit;
}

// mol/kg of a component in the solution.
double dissolved_of(const Chemistry& chemistry, const Solver& solver, std::size_t column) {
  double sum = 0;
  for (std::size_t i = 0; i < solver.molality.size(); ++i)
    sum += chemistry.species.row(i)[column] * solver.molality[i];
  return sum;
}

// Past its own composition (9.25 mol/kg for a salt with 6 H2O) more of a hydrate makes a solution
// less saturated with it, by the equation of Gibbs and Duhem: there a second answer without the
// solid may stand beside the one with it.
bool may_have_another(const Chemistry& chemistry, const Solver& solver) {
  if (solver.ln_water < kVeryConcentrated) return true;
  for (std::size_t s = 0; s < chemistry.phases.size(); ++s) {
    const double water = chemistry.phases.water[s];
    if (water <= 0) continue;
    bool enough = true;  // of each of its components
    for (std::size_t j = 0; enough && j < chemistry.columns(); ++j) {
      const double row = chemistry.phases.row(s)[j];
      if (chemistry.kind[j] == ColumnKind::mass && row > 0)
        enough = dissolved_of(chemistry, solver, j) > row * second_answer_moles(water);
    }
    if (enough) return true;
  }
  return false;
}

bool better(const Chemistry& chemistry, const Workplace& a, const Workplace& b) {
  if (a.certificate.holds() != b.certificate.holds()) return a.certificate.holds();
  if (!a.certificate.holds()) return false;
  return gibbs_difference(root_of(chemistry, a), root_of(chemistry, b)) < -1e-9;
}

// An answer that rests on estimates too rough to carry it is none.
void refuse_rough_estimates(const WaterSystem& system, Workplace& place) {
  const auto pairs = doubtful_pairs(system, place.water, place.solver.molality, kTooDoubtful);
  if (pairs.empty()) return;
  place.status = Status::no_parameters;
  place.message = no_parameters_in_words(system, pairs);
  place.certificate.mass_balance = kNotGiven;  // holds nothing
}

}  // namespace

double second_answer_moles(double water) {
  return kNearHydrate * kWaterMoles / water;
}

void solve_near(const WaterSystem& system, Workplace& place) {
  const Chemistry& chemistry = place.water.chemistry;
  Solver& solver = place.solver;
  // The answer may have been found for a chemistry on the way to this one.
  solver.chemistry = &chemistry;
  solver.ties = ties_on(chemistry, solver.ties.phases());
  solver.iterations = 0;
  place.message.clear();
  place.status = solver.refine(1, system.options.iteration_limit);
  inspect(system, place);
  place.certificate.iterations = solver.iterations;
}

void solve_water(const WaterSystem& system, Workplace& place) {
  const Chemistry& chemistry = place.water.chemistry;
  const Activity* model = system.activity.get();
  const std::size_t model_species = system.species.names.size();
  const int limit = system.options.iteration_limit;
  place.way_end = {};
  place.message.clear();
  place.solver.prepare(chemistry, model, model_species);
  place.status = place.solver.solve(limit);
  inspect(system, place);
  Roots roots;
  const auto try_also = [&](auto way) {
    if (roots.starts() == 0) roots.add(chemistry, place);
    Workplace other = place;
    other.status = way(other);
    other.solver.iterations += place.solver.iterations;
    inspect(system, other);
    roots.add(chemistry, other);
    if (other.way_end.share > 0) place.way_end = other.way_end;
    const bool more_is_known = other.too_much && !place.certificate.holds();
    if (more_is_known || better(chemistry, other, place)) place = std::move(other);
  };
  if (place.status == Status::infeasible) {
    explain(system, place);
    return;
  }
  const auto come_from = [&](Beginning beginning, FirstPh first_ph) {
    try_also([&](Workplace& other) {
      return grow(other.solver, chemistry, *model, model_species, limit, beginning, first_ph,
                  other.scaled, other.way_end);
    });
  };
  const auto come_from_ideal = [&] {
    try_also([&](Workplace& other) {
      other.solver.prepare(chemistry, model, model_species);
      return other.solver.solve_from_ideal(limit);
    });
  };
  const bool several = system.options.starts == Starts::several;
  const auto ends_for_good = [&] { return place.way_end.share > 0 && !place.way_end.turns; };
  const bool nearly_unstable = place.certificate.stability < kNearlyUnstable;
  if (several || nearly_unstable || !place.certificate.holds() ||
      may_have_another(chemistry, place.solver))
    come_from(Beginning::dilution, FirstPh::as_asked);
  if (several || (nearly_unstable && place.certificate.holds()))
    come_from(Beginning::concentration, FirstPh::as_asked);
  if (several) come_from_ideal();
  if (!place.certificate.holds() && !ends_for_good() && system.options.acidity == Acidity::given_ph)
    come_from(Beginning::dilution, FirstPh::neutral);
  if (!place.certificate.holds() && !ends_for_good() && !several) come_from_ideal();
  if (roots.starts() > 0) roots.tell(chemistry, place);
  if (place.status == Status::converged) refuse_rough_estimates(system, place);
  explain(system, place);
  place.certificate.iterations = place.solver.iterations;
}

}  // namespace aeruca::detail
