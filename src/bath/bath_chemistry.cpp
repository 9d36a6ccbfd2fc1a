#include "aeruca/bath_chemistry.hpp"

#include <cmath>

#include "bath/bath_question.hpp"
#include "uncertainty/alternatives.hpp"
#include "uncertainty/combination.hpp"

namespace aeruca {
namespace {

using detail::atoms_in;
using detail::BathQuestion;
using DatasetPointer = std::shared_ptr<const Dataset>;

constexpr double kPlenty = 0.05;  // mol per kg of a solid: more than any bath takes up

// a solid + b copper = main form, where copper changes its charge, for one formula of the form:
//   copper      a atoms + b     = copper of the form
//   electrons   a electrons + 2 b = electrons of the form
detail::Balance dissolution(const Dataset& dataset, const Species& solid, const Species& form) {
  const double copper = atoms_in(dataset, form, "Cu(2+)");
  const double in_solid = atoms_in(dataset, solid, "Cu(2+)");
  const double a = (2 * copper - atoms_in(dataset, form, "e(-)")) /
                   (2 * in_solid - atoms_in(dataset, solid, "e(-)"));
  return {{form.name, 1}, {solid.name, -a}, {"copper", -(copper - in_solid * a)}};
}

}  // namespace

std::string_view to_string(BathAir air) {
  return air == BathAir::open ? "open" : "shut out";
}

EquilibriumResult bath_water(const DatasetPointer& dataset, const BathMakeup& bath, BathAir air) {
  BathQuestion question = detail::question_of(*dataset, bath);
  if (air == BathAir::open) question.gases["CO2(g)"] = kAirCarbonDioxideBar;
  return detail::solved(question, dataset);
}

CopperOverSolid copper_over(const DatasetPointer& dataset, const BathMakeup& bath,
                            const std::string& solid, BathAir air) {
  const Species& offered = dataset->at(solid);
  if (!(atoms_in(*dataset, offered, "Cu(2+)") > 0) || offered.kind != PhaseKind::solid)
    throw InputError("solid", solid, "a solid that holds copper");
  BathQuestion question = detail::question_of(*dataset, bath);
  question.components = {"Cu(2+)"};
  question.totals[solid] = kPlenty;
  question.solids = {solid};
  question.redox = air == BathAir::open ? Redox::oxygen : Redox::conserved;
  if (air == BathAir::shut_out) {
    question.totals["copper"] = kPlenty;
    question.solids.emplace_back("copper");
  }
  const EquilibriumResult result = detail::solved(question, dataset);
  CopperOverSolid copper;
  copper.solid = solid;
  copper.air = air;
  copper.temperature_c = bath.temperature_c;
  copper.status = result.status;
  copper.message = result.message;
  copper.warnings = result.warnings;
  copper.remarks = result.remarks;
  copper.figures = result.figures;
  copper.estimated_heats = result.estimated_heats;
  if (result.status != Status::converged) return copper;
  copper.mg_per_l = detail::dissolved_mg_per_l(*dataset, result, "Cu(2+)");
  copper.main_form = detail::main_form_of(*dataset, result, "Cu(2+)");
  const detail::Balance balance = dissolution(*dataset, offered, dataset->at(copper.main_form));
  const double there = bath.temperature_c;
  copper.factor = std::pow(10.0, 2 * detail::stated_uncertainty(*dataset, balance, there));
  copper.other_factor = std::pow(10.0, detail::widest_change(*dataset, balance, there));
  return copper;
}

}  // namespace aeruca
