// A batch, which goes in lanes, against waters solved alone, and against itself in another order, in
// other groups and on other threads: AERUCA_SEEDED_CASES waters, up to a million.

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "aeruca/equilibrium.hpp"
#include "catch.hpp"
#include "seeded.hpp"

using namespace aeruca;
using namespace aeruca::test;

namespace {

constexpr std::size_t kChunk = 2500;  // of one system; enough for several threads

const std::vector<std::string> kMetals{"Cu(2+)",  "Cl(-)",   "Na(+)",  "K(+)",
                                       "CO3(2-)", "SO4(2-)", "Ca(2+)", "Mg(2+)"};
const std::vector<std::string> kSea{"Na(+)",  "Cl(-)",   "K(+)",   "Mg(2+)",
                                    "Ca(2+)", "SO4(2-)", "CO3(2-)"};

EquilibriumOptions random_system(Random& random) {
  EquilibriumOptions options;
  options.activity = static_cast<ActivityModel>(static_cast<int>(uniform(random, 0, 4)));
  // Pitzer's parameters are those of sea water; of copper's complexes most are missing.
  const bool sea = options.activity == ActivityModel::pitzer && chance(random, 0.7);
  const auto& ions = sea ? kSea : kMetals;
  const auto count =
      static_cast<std::size_t>(uniform(random, 2, static_cast<double>(ions.size()) + 1));
  options.components.assign(ions.begin(), ions.begin() + static_cast<std::ptrdiff_t>(count));
  options.redox = chance(random, 0.75)  ? Redox::eh
                  : chance(random, 0.6) ? Redox::oxygen
                                        : Redox::conserved;
  if (chance(random, 0.4)) options.acidity = Acidity::charge_balance;
  if (chance(random, 0.5)) options.precipitation = Precipitation::allowed;
  return options;
}

struct Waters {
  std::vector<std::string> ingredients;
  std::vector<double> totals, ph, redox;
  Redox held = Redox::eh;
  bool neutral = false;  // the pH follows from the charge

  Waters(Random& random, const EquilibriumOptions& options, std::size_t n)
      : ingredients(options.components),
        held(options.redox),
        neutral(options.acidity == Acidity::charge_balance) {
    if (held == Redox::conserved) ingredients.push_back("O2(aq)");  // it, or copper, holds them
    for (std::size_t r = 0; r < n; ++r) {
      // One in twenty is far from dilute; one component in ten is absent.
      const double high = chance(random, 0.05) ? 0.7 : -0.3;
      for (const auto& name : ingredients) {
        const bool trace = name == "Cu(2+)" || name == "O2(aq)";
        const double amount = ten_to(random, trace ? -7 : -5, trace ? -2 : high);
        totals.push_back(chance(random, 0.1) ? 0 : amount);
      }
      ph.push_back(uniform(random, 1, 13));
      redox.push_back(held == Redox::oxygen ? ten_to(random, -6, 0) : uniform(random, -0.4, 0.8));
    }
  }
  [[nodiscard]] std::size_t size() const { return ph.size(); }

  [[nodiscard]] EquilibriumRows rows(std::size_t first, std::size_t n) const {
    const std::size_t k = ingredients.size();
    EquilibriumRows given;
    given.count = n;
    given.ingredients = ingredients;
    given.totals_mol_per_kg = std::span(totals).subspan(first * k, n * k);
    if (!neutral) given.ph = std::span(ph).subspan(first, n);
    if (held == Redox::eh) given.eh_v = std::span(redox).subspan(first, n);
    if (held == Redox::oxygen) given.oxygen_bar = std::span(redox).subspan(first, n);
    return given;
  }
  [[nodiscard]] EquilibriumInput input(std::size_t r) const {
    EquilibriumInput one;
    if (!neutral) one.ph = ph[r];
    if (held == Redox::eh) one.eh_v = redox[r];
    if (held == Redox::oxygen) one.oxygen_bar = redox[r];
    for (std::size_t c = 0; c < ingredients.size(); ++c)
      one.totals_mol_per_kg[ingredients[c]] = totals[r * ingredients.size() + c];
    return one;
  }
  [[nodiscard]] Waters reversed() const {
    Waters back = *this;
    const std::size_t k = ingredients.size();
    for (std::size_t r = 0; r < size(); ++r) {
      const std::size_t from = size() - 1 - r;
      std::copy_n(totals.begin() + static_cast<std::ptrdiff_t>(from * k), k,
                  back.totals.begin() + static_cast<std::ptrdiff_t>(r * k));
      back.ph[r] = ph[from];
      back.redox[r] = redox[from];
    }
    return back;
  }
};

using Batch = Equilibrium::Batch;

bool same_bits(double a, double b) {
  return a == b || (std::isnan(a) && std::isnan(b));
}

// Row `r` of one and row `s` of the other, in everything that is told.
bool same_row(const Equilibrium& system, const Batch& a, std::size_t r, const Batch& b,
              std::size_t s) {
  const std::size_t n = system.species().size();
  const std::size_t k = system.allowed_solids().size();
  bool same = a.status[r] == b.status[s] && a.certified[r] == b.certified[s] &&
              same_bits(a.ph[r], b.ph[s]) && same_bits(a.eh_v[r], b.eh_v[s]) &&
              same_bits(a.ionic_strength[r], b.ionic_strength[s]) &&
              same_bits(a.water_activity[r], b.water_activity[s]);
  for (std::size_t i = 0; i < n; ++i)
    same = same && same_bits(a.log10_molality[r * n + i], b.log10_molality[s * n + i]);
  for (std::size_t i = 0; i < k; ++i)
    same = same && same_bits(a.solid_mol_per_kg[r * k + i], b.solid_mol_per_kg[s * k + i]);
  return same;
}

struct Tally {
  long waters = 0, answered = 0, other_status = 0, order = 0, grouping = 0, threads = 0;
  double worst = 0, worst_solid = 0;
  std::string where;
};

// In reverse, in pieces of random length, and on several threads.
void against_itself(Random& random, const EquilibriumOptions& options, const Waters& waters,
                    const Equilibrium& system, const Batch& whole, Tally& tally) {
  const std::size_t n = waters.size();
  const Batch back = system.solve_many(waters.reversed().rows(0, n));
  EquilibriumOptions wide = options;
  wide.threads = 3;
  const Batch threaded = Equilibrium(default_dataset(), wide).solve_many(waters.rows(0, n));
  for (std::size_t r = 0; r < n; ++r) {
    tally.order += same_row(system, whole, r, back, n - 1 - r) ? 0 : 1;
    tally.threads += same_row(system, whole, r, threaded, r) ? 0 : 1;
  }
  for (std::size_t first = 0; first < n;) {
    const auto length = std::min(static_cast<std::size_t>(uniform(random, 1, 200)), n - first);
    const Batch part = system.solve_many(waters.rows(first, length));
    for (std::size_t r = 0; r < length; ++r)
      tally.grouping += same_row(system, whole, first + r, part, r) ? 0 : 1;
    first += length;
  }
}

void against_single(const EquilibriumOptions& options, const Waters& waters,
                    const Equilibrium& system, const Batch& whole, Tally& tally) {
  const std::size_t n = system.species().size();
  const std::size_t k = system.allowed_solids().size();
  for (std::size_t r = 0; r < waters.size(); ++r) {
    const auto one = system.solve(waters.input(r));
    ++tally.waters;
    if (static_cast<int>(one.status) != whole.status[r] ||
        (one.status == Status::converged) != (whole.certified[r] == 1)) {
      ++tally.other_status;
      continue;
    }
    if (one.status != Status::converged) continue;
    ++tally.answered;
    double worst = 0;
    for (std::size_t i = 0; i < n; ++i) {
      const double other = whole.log10_molality[r * n + i];
      if (std::isfinite(other) || std::isfinite(one.log10_molality[i]))
        worst = std::max(worst, std::abs(other - one.log10_molality[i]));
    }
    for (std::size_t i = 0; i < k; ++i)
      tally.worst_solid = std::max(
          tally.worst_solid, std::abs(whole.solid_mol_per_kg[r * k + i] - one.solid_mol_per_kg[i]));
    if (worst <= tally.worst) continue;
    tally.worst = worst;
    tally.where = std::string(to_string(options.activity)) + ", pH " + std::to_string(one.ph) +
                  (waters.neutral ? " of the charge, I " : ", I ") +
                  std::to_string(one.ionic_strength);
  }
}

}  // namespace

TEST_CASE("a batch agrees with waters alone, whatever order, groups and threads", "[lanes]") {
  Random random(20);
  const long wanted = seeded_cases(20'000, 1'000'000);
  Tally tally;
  while (tally.waters < wanted) {
    EquilibriumOptions options = random_system(random);
    options.threads = 1;
    const Equilibrium system(default_dataset(), options);
    const auto n = std::min(kChunk, static_cast<std::size_t>(wanted - tally.waters));
    const Waters waters(random, options, n);
    const Batch whole = system.solve_many(waters.rows(0, n));
    against_itself(random, options, waters, system, whole, tally);
    against_single(options, waters, system, whole, tally);
  }
  INFO(tally.waters << " waters, " << tally.answered << " answered; worst log10 " << tally.worst
                    << " at " << tally.where << "; worst solid " << tally.worst_solid << " mol/kg");
  CHECK(tally.other_status == 0);
  CHECK(tally.order == 0);
  CHECK(tally.grouping == 0);
  CHECK(tally.threads == 0);
  CHECK(tally.worst < 1e-10);
  CHECK(tally.worst_solid < 1e-9);
  CHECK(tally.answered > tally.waters / 2);
}
