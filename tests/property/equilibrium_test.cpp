// Laws of the equilibrium solver on seeded random waters: every certificate holds, the answer does
// not depend on the order or splitting of what went in, and it moves the way thermodynamics says.

#include "aeruca/equilibrium.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "catch.hpp"
#include "seeded.hpp"

using namespace aeruca;
using namespace aeruca::test;

namespace {

double random_total(Random& random) {
  return std::pow(10, uniform(random, -12, std::log10(6.0)));
}

// Ingredients by component, other ways of bringing copper in last.
const std::vector<std::string> kIngredients{"Cu(2+)", "Cl(-)",   "Na(+)",   "K(+)",   "Mg(2+)",
                                            "Ca(2+)", "CO3(2-)", "SO4(2-)", "NO3(-)", "NH4(+)"};

std::vector<std::string> solid_names(const Dataset& dataset) {
  std::vector<std::string> names;
  for (const Species& species : dataset.species) {
    if (species.kind == PhaseKind::solid && std::isfinite(species.log10_k))
      names.push_back(species.name);
  }
  return names;
}

EquilibriumOptions random_system(Random& random, const std::vector<std::string>& solids) {
  EquilibriumOptions options;
  const double model = uniform(random, 0, 3);
  options.activity = model < 1   ? ActivityModel::ideal
                     : model < 2 ? ActivityModel::dilute
                                 : ActivityModel::sit;
  const double redox = uniform(random, 0, 3);
  options.redox = redox < 1.5 ? Redox::eh : redox < 2.25 ? Redox::oxygen : Redox::conserved;
  if (!chance(random, 0.6)) options.acidity = Acidity::charge_balance;
  const double allowed = uniform(random, 0, 3);
  if (allowed < 1) options.precipitation = Precipitation::allowed;
  if (allowed >= 1 && allowed < 2) {
    const double share = uniform(random, 0, 1);
    for (const auto& name : solids) {
      if (chance(random, share)) options.allowed_solids.push_back(name);
    }
    if (!options.allowed_solids.empty()) options.precipitation = Precipitation::allowed;
  }
  return options;
}

struct Waters {
  std::vector<std::string> ingredients;
  std::vector<double> totals, ph, redox;
  std::vector<std::string> gases;    // held
  std::vector<double> fugacity_bar;  // by water and gas
  std::size_t count = 0;
};

Waters random_waters(Random& random, const EquilibriumOptions& options, std::size_t count) {
  Waters waters;
  waters.count = count;
  waters.ingredients = kIngredients;
  if (options.redox == Redox::conserved) {
    for (const char* name : {"copper", "nantokite", "Cu(+)", "O2(aq)"})
      waters.ingredients.emplace_back(name);
  }
  // Carbon dioxide of the air beside a fixed pH of 9 or more would mean up to 10^8 mol/kg
  // carbonate: no water, so no case.
  const bool gas = chance(random, 0.15);
  if (gas) waters.gases = {"CO2(g)"};
  const double ph_most = gas ? 8 : 15;
  for (std::size_t r = 0; r < count; ++r) {
    for (std::size_t k = 0; k < waters.ingredients.size(); ++k) {
      waters.totals.push_back(chance(random, 0.55) ? random_total(random) : 0);
    }
    if (gas) waters.fugacity_bar.push_back(std::pow(10, uniform(random, -5, 0)));
    waters.ph.push_back(uniform(random, -1, ph_most));
    waters.redox.push_back(options.redox == Redox::oxygen ? std::pow(10, uniform(random, -8, 0))
                                                          : uniform(random, -1, 1.5));
  }
  return waters;
}

EquilibriumRows rows_of(const EquilibriumOptions& options, const Waters& waters) {
  EquilibriumRows rows{waters.count, waters.ingredients, waters.totals};
  if (options.acidity == Acidity::given_ph) rows.ph = waters.ph;
  if (options.redox == Redox::eh) rows.eh_v = waters.redox;
  if (options.redox == Redox::oxygen) rows.oxygen_bar = waters.redox;
  rows.gases = waters.gases;
  rows.fugacity_bar = waters.fugacity_bar;
  return rows;
}

EquilibriumInput one_water(const EquilibriumOptions& options, const Waters& waters, std::size_t r) {
  EquilibriumInput input;
  const std::size_t k = waters.ingredients.size();
  for (std::size_t c = 0; c < k; ++c)
    input.totals_mol_per_kg[waters.ingredients[c]] = waters.totals[r * k + c];
  if (options.acidity == Acidity::given_ph) input.ph = waters.ph[r];
  if (options.redox == Redox::eh) input.eh_v = waters.redox[r];
  if (options.redox == Redox::oxygen) input.oxygen_bar = waters.redox[r];
  for (std::size_t g = 0; g < waters.gases.size(); ++g)
    input.fugacity_bar[waters.gases[g]] = waters.fugacity_bar[r * waters.gases.size() + g];
  return input;
}

std::string describe(const EquilibriumOptions& options, const EquilibriumInput& input) {
  std::string text =
      std::string(to_string(options.activity)) + ", redox " +
      std::to_string(static_cast<int>(options.redox)) +
      (input.ph ? ", pH " + std::to_string(*input.ph) : ", neutral") + ", Eh or O2 " +
      std::to_string(input.eh_v.value_or(input.oxygen_bar.value_or(0))) + ", solids " +
      (options.precipitation == Precipitation::none ? "none"
       : options.allowed_solids.empty()             ? "all"
                                        : std::to_string(options.allowed_solids.size()));
  for (const auto& [name, value] : input.totals_mol_per_kg) {
    if (value > 0) text += ", " + name + " " + std::to_string(value);
  }
  return text;
}

}  // namespace

TEST_CASE("every one of 100 000 random waters is solved and certified, or has no stable solution") {
  const auto dataset = default_dataset();
  const std::vector<std::string> solids = solid_names(*dataset);
  Random random(20240229);
  const std::size_t per_system = 100;
  const long systems = std::max(1L, seeded_cases(100000) / static_cast<long>(per_system));
  long solved = 0;
  long without_solution = 0;  // at the edge of the specific-ion model, acid sulfate above all
  long too_rough = 0;         // mol/kg of ions whose coefficients are estimated
  for (long s = 0; s < systems; ++s) {
    const EquilibriumOptions options = random_system(random, solids);
    const Equilibrium equilibrium(dataset, options);
    const Waters waters = random_waters(random, options, per_system);
    const auto batch = equilibrium.solve_many(rows_of(options, waters));
    for (std::size_t r = 0; r < waters.count; ++r) {
      if (batch.certified[r] != 0) {
        ++solved;
        continue;
      }
      const auto input = one_water(options, waters, r);
      const auto result = equilibrium.solve(input);
      if (result.status == Status::unstable) {
        ++without_solution;
        CHECK(options.activity != ActivityModel::ideal);
        continue;
      }
      if (result.status == Status::no_parameters) {
        ++too_rough;
        CHECK(options.activity != ActivityModel::ideal);
        CHECK(result.message.find("more than a factor of ten") != std::string::npos);
        continue;
      }
      CAPTURE(s, r, describe(options, input), result.message, result.certificate.mass_balance,
              result.certificate.charge_balance, result.certificate.supersaturation,
              result.certificate.smallest_phase, result.certificate.duality_gap,
              result.certificate.activity_error, result.certificate.iterations);
      CHECK(false);
    }
  }
  CHECK(solved + without_solution + too_rough == systems * static_cast<long>(per_system));
  CHECK(too_rough <= solved / 50);
  // At most 1 in 1000; a shortened set is judged with the scatter of a count of its size besides.
  const double most = static_cast<double>(solved) / 1000;
  CHECK(static_cast<double>(without_solution) <= most + (systems < 1000 ? 3 * std::sqrt(most) : 0));
}

namespace {

// Largest difference of ln molality between two answers of systems that list their species
// differently; species below 1e-20 of the largest are left out, rounding of the totals reaches them
// first.
double largest_difference(const EquilibriumResult& a, const EquilibriumResult& b) {
  double largest = 0;
  for (std::size_t i = 0; i < a.species.size(); ++i) {
    if (!(a.molality[i] > 1e-20)) continue;
    largest = std::max(largest, std::abs(std::log(a.molality[i] / b.molality_of(a.species[i]))));
  }
  return largest;
}

struct Case {
  EquilibriumOptions options;
  EquilibriumInput input;
};

double ph_of(Random& random) {
  return uniform(random, 2, 12);
}
double eh_of(Random& random) {
  return uniform(random, -0.4, 0.9);
}

// Waters without near-exact cancellation of two totals in one solid, which would turn the rounding
// of the input into more than 1e-9 of the answer.
Case ordinary_case(Random& random, const std::vector<std::string>& solids) {
  Case one{random_system(random, solids), {}};
  one.options.redox = chance(random, 0.5) ? Redox::eh : Redox::oxygen;
  for (const auto& name : kIngredients) {
    if (chance(random, 0.6))
      one.input.totals_mol_per_kg[name] = std::pow(10, uniform(random, -7, -0.5));
  }
  const double ph = ph_of(random);
  const double eh_v = eh_of(random);
  if (one.options.acidity == Acidity::given_ph) one.input.ph = ph;
  if (one.options.redox == Redox::eh) one.input.eh_v = eh_v;
  if (one.options.redox == Redox::oxygen) one.input.oxygen_bar = 0.21;
  return one;
}

EquilibriumResult certified(const Case& one) {
  auto result = Equilibrium(default_dataset(), one.options).solve(one.input);
  REQUIRE(result.status == Status::converged);
  REQUIRE(result.certificate.holds());
  return result;
}

}  // namespace

TEST_CASE("the order of components and solids does not matter") {
  const auto dataset = default_dataset();
  const auto solids = solid_names(*dataset);
  Random random(11);
  for (long turn = 0; turn < seeded_cases(300); ++turn) {
    Case one = ordinary_case(random, solids);
    for (const auto& [name, value] : one.input.totals_mol_per_kg)
      one.options.components.push_back(name);
    if (one.options.components.empty()) continue;
    if (one.options.precipitation == Precipitation::allowed && one.options.allowed_solids.empty())
      one.options.allowed_solids = solids;
    const auto first = certified(one);
    std::reverse(one.options.components.begin(), one.options.components.end());
    std::reverse(one.options.allowed_solids.begin(), one.options.allowed_solids.end());
    CHECK(largest_difference(first, certified(one)) < 1e-9);
  }
}

TEST_CASE("a total split into two ingredients is the same total") {
  const auto solids = solid_names(*default_dataset());
  Random random(12);
  for (long turn = 0; turn < seeded_cases(300); ++turn) {
    Case one = ordinary_case(random, solids);
    auto& totals = one.input.totals_mol_per_kg;
    const double salt = std::pow(10, uniform(random, -5, -1));
    const double copper = std::pow(10, uniform(random, -5, -1));
    const auto apart = totals;
    totals["halite"] = salt;
    totals["CuCl2(-)"] = copper;  // brings electrons too, which Eh or oxygen settle
    const auto split = certified(one);
    totals = apart;
    totals["Na(+)"] += salt;
    totals["Cl(-)"] += salt + 2 * copper;
    totals["Cu(2+)"] += copper;
    CHECK(largest_difference(certified(one), split) < 1e-9);
  }
}

TEST_CASE("a component that is not there changes nothing, whether it is listed or not") {
  const auto solids = solid_names(*default_dataset());
  Random random(13);
  for (long turn = 0; turn < seeded_cases(300); ++turn) {
    Case one = ordinary_case(random, solids);
    one.input.totals_mol_per_kg.erase("NH4(+)");
    const auto without = certified(one);
    one.input.totals_mol_per_kg["NH4(+)"] = 0;
    CHECK(largest_difference(without, certified(one)) == 0);
    // A trace of an ion that nothing binds: perchlorate.
    one.input.totals_mol_per_kg["ClO4(-)"] = 1e-14;
    if (one.options.acidity == Acidity::given_ph)
      CHECK(largest_difference(without, certified(one)) < 1e-9);
  }
}

TEST_CASE("a solid that formed, taken out and dissolved again, gives the same water") {
  const auto solids = solid_names(*default_dataset());
  Random random(14);
  long formed = 0;
  for (long turn = 0; turn < seeded_cases(400); ++turn) {
    Case one = ordinary_case(random, solids);
    if (one.options.redox != Redox::eh || one.options.acidity != Acidity::given_ph) continue;
    const auto first = certified(one);
    for (std::size_t s = 0; s < first.allowed_solids.size(); ++s) {
      if (first.solid_mol_per_kg[s] < 1e-9) continue;
      ++formed;
      Case more = one;  // more of a solid that is there already changes only its amount
      more.input.totals_mol_per_kg[first.allowed_solids[s]] += 0.5 * first.solid_mol_per_kg[s];
      const auto second = certified(more);
      CHECK(largest_difference(first, second) < 1e-9);
      const auto place = std::find(second.allowed_solids.begin(), second.allowed_solids.end(),
                                   first.allowed_solids[s]);
      const double now =
          second.solid_mol_per_kg[static_cast<std::size_t>(place - second.allowed_solids.begin())];
      CHECK(std::abs(now / first.solid_mol_per_kg[s] - 1.5) < 1e-8);
    }
  }
  if (seeded_cases(400) == 400) CHECK(formed > 30);
}

TEST_CASE(
    "at fixed activity coefficients more of a component raises its potential and never lowers it") {
  const auto solids = solid_names(*default_dataset());
  Random random(15);
  for (long turn = 0; turn < seeded_cases(400); ++turn) {
    Case one = ordinary_case(random, solids);
    one.options.activity = ActivityModel::ideal;
    one.options.acidity = Acidity::given_ph;
    one.options.redox = Redox::eh;
    one.input.ph = ph_of(random);
    one.input.eh_v = eh_of(random);
    one.input.oxygen_bar.reset();
    auto& totals = one.input.totals_mol_per_kg;
    if (totals.empty()) continue;
    for (auto& total : totals) total.second *= 1e-3;  // so that the water activity hardly moves
    auto chosen = totals.begin();
    std::advance(chosen, static_cast<long>(uniform(random, 0, static_cast<double>(totals.size()))));
    const auto before = certified(one);
    const auto at = [&](const EquilibriumResult& r) {
      const auto i =
          std::find(r.species.begin(), r.species.end(), chosen->first) - r.species.begin();
      return r.log10_activity[static_cast<std::size_t>(i)];
    };
    chosen->second *= 1 + uniform(random, 0.01, 2);
    const auto after = certified(one);
    CHECK(at(after) - at(before) > -1e-5);
  }
}

TEST_CASE("the pH that charge gives is the pH that leaves no charge") {
  const auto solids = solid_names(*default_dataset());
  Random random(16);
  for (long turn = 0; turn < seeded_cases(300); ++turn) {
    Case one = ordinary_case(random, solids);
    one.options.acidity = Acidity::charge_balance;
    one.input.ph.reset();
    const auto neutral = certified(one);
    one.options.acidity = Acidity::given_ph;
    one.input.ph = neutral.ph;
    if (!(neutral.ph > -2 && neutral.ph < 16)) continue;
    const auto given = certified(one);
    CAPTURE(turn, neutral.ph);
    CHECK(largest_difference(neutral, given) < 1e-7);  // the pH is rounded once on its way
    CHECK(std::abs(given.charge_mol_per_kg) < 1e-7 * std::max(1e-3, given.ionic_strength));
  }
}
