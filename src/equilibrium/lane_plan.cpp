#include "equilibrium/lane_plan.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "activity/pitzer_sums.hpp"
#include "activity/quadratic.hpp"
#include "aeruca/constants.hpp"
#include "equilibrium/ties.hpp"
#include "equilibrium/workplace.hpp"
#include "numerics/dense.hpp"
#include "numerics/scalar.hpp"

namespace aeruca::detail {

namespace {

// The free potentials; that of hydrogen last where the charge decides on it, so that elimination
// comes to it when all others have answered.
void order_free(const Chemistry& chemistry, const Ties& ties, LanePlan& plan) {
  plan.hydrogen_open = chemistry.charge_column != kNone;
  plan.unbalanced = chemistry.acid_column();
  plan.free_column.assign(ties.free().begin(), ties.free().end());
  const auto end = std::remove(plan.free_column.begin(), plan.free_column.end(), plan.unbalanced);
  if (end == plan.free_column.end()) return;
  *end = plan.unbalanced;
  plan.hydrogen = plan.free - 1;
}

void take_acid(const Chemistry& chemistry, LanePlan& plan) {
  if (plan.hydrogen == kNone) return;
  for (std::size_t i = 0; i < plan.species; ++i)
    plan.acid.push_back(acid_share(chemistry, plan.free_column, plan.hydrogen,
                                   plan.reduced.data() + i * plan.free, chemistry.charge[i]));
}

// The rows with the tied potentials taken out. They depend on which are tied, not on where.
void take_out_ties(const Chemistry& chemistry, const Ties& ties, LanePlan& plan) {
  const std::size_t columns = plan.columns;
  std::vector<std::size_t> place;  // of each of ties.free() in free_column
  for (const std::size_t j : ties.free()) {
    const auto found = std::find(plan.free_column.begin(), plan.free_column.end(), j);
    place.push_back(static_cast<std::size_t>(found - plan.free_column.begin()));
  }
  std::vector<double> reduced(plan.free);
  plan.reduced.assign(plan.species * plan.free, 0);
  plan.reduced_water.assign(plan.species, 0);
  for (std::size_t i = 0; i < plan.species; ++i) {
    ties.reduce_row(chemistry.species.row(i), chemistry.species.water[i], reduced.data(),
                    plan.reduced_water[i]);
    for (std::size_t f = 0; f < plan.free; ++f) plan.reduced[i * plan.free + place[f]] = reduced[f];
  }
  plan.free_totals.assign(plan.free * columns, 0);
  Chemistry unit = chemistry;
  for (std::size_t j = 0; j < columns; ++j) {
    std::fill(unit.totals.begin(), unit.totals.end(), 0.0);
    unit.totals[j] = 1;
    ties.reduce_totals(unit, reduced);
    for (std::size_t f = 0; f < plan.free; ++f)
      plan.free_totals[place[f] * columns + j] = reduced[f];
  }
}

// The same chemistry and solids with other constants of what is tied.
Ties ties_with(Chemistry& chemistry, const Ties& like, std::span<const double> constants) {
  const std::size_t pinned = chemistry.pinned.size();
  std::copy_n(constants.begin(), pinned, chemistry.pinned.constant.begin());
  for (std::size_t k = 0; k < like.phases().size(); ++k)
    chemistry.phases.constant[like.phases()[k]] = constants[pinned + k];
  return like.with_constants(chemistry);
}

// The tied potentials: each constant in turn set to 1 tells what it does.
void follow_ties(const Chemistry& chemistry, const Ties& ties, LanePlan& plan) {
  const std::size_t tied = plan.tied;
  Chemistry unit = chemistry;
  std::vector<double> constants(tied, 0);
  std::vector<double> lambda(plan.columns);
  const auto tied_part = [&](std::size_t k) { return -lambda[plan.tied_column[k]]; };
  plan.tie_pin.assign(tied * tied, 0);
  plan.tie_row.assign(tied * plan.free, 0);
  plan.tie_water.assign(tied, 0);
  for (std::size_t r = 0; r < tied; ++r) {
    constants.assign(tied, 0);
    constants[r] = 1;
    std::fill(lambda.begin(), lambda.end(), 0.0);
    ties_with(unit, ties, constants).complete(lambda, 0);
    for (std::size_t k = 0; k < tied; ++k) plan.tie_pin[k * tied + r] = tied_part(k);
  }
  constants.assign(tied, 0);
  const Ties bare = ties_with(unit, ties, constants);
  std::fill(lambda.begin(), lambda.end(), 0.0);
  bare.complete(lambda, 1);
  for (std::size_t k = 0; k < tied; ++k) plan.tie_water[k] = tied_part(k);
  for (std::size_t f = 0; f < plan.free; ++f) {
    std::fill(lambda.begin(), lambda.end(), 0.0);
    lambda[plan.free_column[f]] = 1;
    bare.complete(lambda, 0);
    for (std::size_t k = 0; k < tied; ++k) plan.tie_row[k * plan.free + f] = tied_part(k);
  }
  plan.pin.assign(plan.species * tied, 0);
  for (std::size_t i = 0; i < plan.species; ++i) {
    for (std::size_t k = 0; k < tied; ++k) {
      const double share = chemistry.species.row(i)[plan.tied_column[k]];
      if (share == 0) continue;
      for (std::size_t r = 0; r < tied; ++r)
        plan.pin[i * tied + r] -= share * plan.tie_pin[k * tied + r];
    }
  }
}

// What each of the first `count` tied rows gave, from the balances that they open: the inverse of
// the rows there.
bool invert_tied(const Chemistry& chemistry, const LanePlan& plan, std::size_t count,
                 std::vector<double>& inverse) {
  std::vector<double> matrix(count * count);
  std::vector<std::size_t> order(count);
  inverse.assign(count * count, 0);
  for (std::size_t r = 0; r < count; ++r) {
    inverse[r * count + r] = 1;
    for (std::size_t k = 0; k < count; ++k) {
      const double* row = k < plan.pinned ? chemistry.pinned.row(k)
                                          : chemistry.phases.row(plan.solids[k - plan.pinned]);
      matrix[r * count + k] = row[plan.tied_column[r]];
    }
  }
  if (!lu_factor(matrix.data(), count, count, order.data())) return false;
  lu_solve(matrix.data(), count, count, order.data(), inverse.data(), count, count);
  return true;
}

void copy(const Expressions& from, std::vector<double>& rows, std::vector<double>& constant,
          std::vector<double>& water) {
  rows = from.rows;
  constant = from.constant;
  water = from.water;
}

// See may_have_another in solve_water.cpp, whose bound no water below these can reach.
void bound_second_answers(const Chemistry& chemistry, LanePlan& plan) {
  const double infinite = std::numeric_limits<double>::infinity();
  plan.second_answer.assign(plan.columns, infinite);
  for (std::size_t s = 0; s < chemistry.phases.size(); ++s) {
    if (chemistry.phases.water[s] <= 0) continue;
    for (std::size_t j = 0; j < plan.columns; ++j) {
      const double row = chemistry.phases.row(s)[j];
      if (chemistry.kind[j] != ColumnKind::mass || row <= 0) continue;
      plan.second_answer[j] =
          std::min(plan.second_answer[j], row * second_answer_moles(chemistry.phases.water[s]));
    }
  }
}

void take_quadratic(const QuadraticExcess& model, const Water& water, LanePlan& plan) {
  const std::size_t whole = model.charge().size();
  plan.law_a = model.law().a;
  plan.law_b = model.law().b;
  plan.law_c = model.law().c;
  const auto epsilon = [&](std::size_t i, std::size_t j) {
    return model.interaction()[water.species[i] * whole + water.species[j]];
  };
  for (std::size_t i = 0; i < plan.species; ++i) {
    bool any = false;
    for (std::size_t j = 0; j < plan.species; ++j) any = any || epsilon(i, j) != 0;
    if (any) (plan.charge[i] > 0 ? plan.cations : plan.anions).push_back(i);
  }
  for (const std::size_t i : plan.cations) {
    for (const std::size_t j : plan.anions) plan.interaction.push_back(epsilon(i, j));
  }
}

// False for a system too large.
bool take_model(const Activity& activity, const Water& water, LanePlan& plan) {
  plan.charge = water.chemistry.charge;
  if (const auto* pitzer = dynamic_cast<const Pitzer*>(&activity)) {
    plan.pitzer = PitzerTable(pitzer->system(), water.species);
    return plan.species <= kMostSpecies;
  }
  take_quadratic(dynamic_cast<const QuadraticExcess&>(activity), water, plan);
  return std::max(plan.cations.size(), plan.anions.size()) <= kMostIons;
}

}  // namespace

std::size_t LanePlan::scratch(std::size_t width) const {
  const std::size_t few = anions.size();
  const PitzerView view = pitzer.view();
  const std::size_t dense = view.species * (2 * view.species + free + 3);
  return width * (6 * species + species * (free + 3) + 7 * free + free * free + 3 * columns + tied +
                  few * few + few * (free + 3) + dense + PitzerSums<Scalar>::room(view));
}

LaneView LanePlan::view() const {
  return {species,
          columns,
          free,
          phases,
          pinned,
          tied,
          cations.size(),
          anions.size(),
          hydrogen,
          unbalanced,
          hydrogen_open,
          constant.data(),
          pin.data(),
          reduced.data(),
          reduced_water.data(),
          free_totals.data(),
          free_column.data(),
          tied_column.data(),
          solids.data(),
          cations.data(),
          anions.data(),
          tie_pin.data(),
          tie_row.data(),
          tie_water.data(),
          gave.data(),
          row.data(),
          row_constant.data(),
          row_water.data(),
          phase.data(),
          phase_constant.data(),
          phase_water.data(),
          acid.data(),
          pinned_row.data(),
          reservoir.data(),
          second_answer.data(),
          charge.data(),
          interaction.data(),
          electron.data(),
          mass.data(),
          law_a,
          law_b,
          law_c,
          pitzer.view()};
}

std::optional<LanePlan> make_lane_plan(const WaterSystem& system, const Water& water,
                                       const Ties& ties) {
  const Chemistry& chemistry = water.chemistry;
  LanePlan plan;
  plan.species = chemistry.species.size();
  plan.columns = chemistry.columns();
  plan.free = ties.free().size();
  plan.pinned = chemistry.pinned.size();
  plan.tied = ties.pivots().size();
  plan.phases = chemistry.phases.size();
  order_free(chemistry, ties, plan);
  plan.tied_column.assign(ties.pivots().begin(), ties.pivots().end());
  plan.solids.assign(ties.phases().begin(), ties.phases().end());
  for (const std::size_t s : plan.solids)
    plan.tied_constant.push_back(chemistry.phases.constant[s]);
  plan.constant = chemistry.species.constant;
  if (plan.free > kMostFree) return std::nullopt;
  take_out_ties(chemistry, ties, plan);
  take_acid(chemistry, plan);
  follow_ties(chemistry, ties, plan);
  if (!invert_tied(chemistry, plan, plan.tied, plan.gave) ||
      !invert_tied(chemistry, plan, plan.pinned, plan.reservoir)) {
    return std::nullopt;
  }
  copy(chemistry.species, plan.row, plan.row_constant, plan.row_water);
  copy(chemistry.phases, plan.phase, plan.phase_constant, plan.phase_water);
  plan.pinned_row = chemistry.pinned.rows;
  for (const ColumnKind kind : chemistry.kind) {
    plan.electron.push_back(kind == ColumnKind::electron ? 1 : 0);
    plan.mass.push_back(kind == ColumnKind::mass ? 1 : 0);
  }
  bound_second_answers(chemistry, plan);
  if (!take_model(*system.activity, water, plan)) return std::nullopt;
  return plan;
}

}  // namespace aeruca::detail
