#include "equilibrium/moved_system.hpp"

#include <algorithm>
#include <cmath>

#include "aeruca/constants.hpp"

namespace aeruca::detail {
namespace {

void move_members(Members& members, const std::vector<double>& unmoved,
                  std::span<const double> log10_changes) {
  auto& constant = members.expressions.constant;
  for (std::size_t i = 0; i < constant.size(); ++i)
    constant[i] = unmoved[i] + kLn10 * log10_changes[members.index[i]];
}

void read_values(const SparseExpressions& rows, std::span<const double> lambda, double ln_water,
                 std::vector<double>& values) {
  values.resize(rows.size());
  for (std::size_t i = 0; i < rows.size(); ++i) values[i] = rows.log10_value(i, lambda, ln_water);
}

}  // namespace

MovedSystem::MovedSystem(std::shared_ptr<const Dataset> dataset, const EquilibriumOptions& options)
    : system_(make_system(std::move(dataset), options)),
      species_(system_.species.expressions.constant),
      phases_(system_.phases.expressions.constant),
      solids_(system_.solids.expressions.constant),
      gases_(system_.gases.expressions.constant) {}

void MovedSystem::move(std::span<const double> log10_changes) {
  move_members(system_.species, species_, log10_changes);
  move_members(system_.phases, phases_, log10_changes);
  move_members(system_.solids, solids_, log10_changes);
  move_members(system_.gases, gases_, log10_changes);
  system_.solid_rows.take_constants(system_.solids.expressions);
  system_.gas_rows.take_constants(system_.gases.expressions);
  place_.water.made = false;  // the rows of the water hold constants
}

Status MovedSystem::solve(std::span<const double> totals, const HeldWater& held) {
  fill_water(system_, totals, held, place_.water);
  solve_as_asked(system_, held, place_);
  return place_.status;
}

void MovedSystem::read(MovedAnswer& answer) {
  const Water& water = place_.water;
  const Solver& solver = place_.solver;
  const auto& values = place_.inspection.values;
  answer.molality.assign(system_.species.names.size(), 0);
  answer.log10_molality.assign(system_.species.names.size(), kAbsent);
  for (std::size_t i = 0; i < water.species.size(); ++i) {
    answer.molality[water.species[i]] = solver.molality[i];
    answer.log10_molality[water.species[i]] = solver.u[i] / kLn10;
  }
  lambda_.assign(system_.columns.size(), kAbsent);
  for (std::size_t f = 0; f < water.column.size(); ++f) lambda_[water.column[f]] = solver.lambda[f];
  read_values(system_.gas_rows, lambda_, values.ln_water_activity, answer.log10_fugacity);
  read_solids(answer);
  answer.ionic_strength = values.ionic_strength;
  answer.ph = -lambda_[WaterSystem::kHydrogen] / kLn10;
  answer.eh_v = -lambda_[WaterSystem::kElectron] / kLn10 * system_.nernst_v;
}

void MovedSystem::read_solids(MovedAnswer& answer) {
  read_values(system_.solid_rows, lambda_, place_.inspection.values.ln_water_activity,
              answer.saturation_index);
  answer.solid_mol_per_kg.assign(system_.phases.names.size(), 0);
  const auto tied = place_.solver.ties.phases();
  for (std::size_t k = 0; k < tied.size(); ++k)
    answer.solid_mol_per_kg[place_.water.phases[tied[k]]] =
        place_.solver.amount[k] * place_.solvent_kg;
}

}  // namespace aeruca::detail
