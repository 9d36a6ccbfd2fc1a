// What is said of a bath and what it does.

#include <algorithm>
#include <cmath>

#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "bath/bath_recipe.hpp"

namespace aeruca::detail {
namespace {

std::string ph_text(double ph) {
  return fixed_text(ph, 2);
}

// Trace amounts of a metal or a chloride need no more than that they are traces.
std::string two(double value) {
  return significant_text_above(1e-4, value, 2);
}

std::string whole(double percent) {
  return fixed_text(percent, 0);
}

std::string two_or_none(double value) {
  return value == 0 ? "0" : two(value);
}

void add_ph(const BathRecipe& recipe, BathChemistry& bath) {
  const BathPh* fresh = bath.ph_of("fresh");
  const BathPh* open = bath.ph_of("open");
  const BathPh* covered = bath.ph_of("covered");
  if (fresh == nullptr || open == nullptr || covered == nullptr) return;
  bath.read.push_back(say("bath.chemistry.fresh", {{"ph", ph_text(fresh->ph.value)},
                                                   {"low", ph_text(fresh->ph.low)},
                                                   {"high", ph_text(fresh->ph.high)}}));
  const bool loses = open->moved_mmol_per_l < 0;
  bath.read.push_back(say(loses ? "bath.chemistry.open_loses" : "bath.chemistry.open_gains",
                          {{"mmol_per_l", format_number(std::abs(open->moved_mmol_per_l), 3)},
                           {"ph", ph_text(open->ph.value)},
                           {"low", ph_text(open->ph.low)},
                           {"high", ph_text(open->ph.high)}}));
  bath.read.push_back(
      say("bath.chemistry.covered", {{"litres", format_number(recipe.headspace_l_per_l, 3)},
                                     {"ph", ph_text(covered->ph.value)}}));
}

void add_blank(const BathRecipe& recipe, BathChemistry& bath) {
  const WithinRange& blank = bath.blank_mg_per_l;
  if (std::isnan(blank.value)) {
    bath.read.push_back(say("bath.chemistry.blank_not_known"));
    return;
  }
  bath.read.push_back(say("bath.chemistry.blank", {{"mg_per_l", two_or_none(blank.value)},
                                                   {"low", two_or_none(blank.low)},
                                                   {"high", two_or_none(blank.high)},
                                                   {"mg", two_or_none(bath.blank_mg.value)}}));
  if (!bath.blank_lacks.empty()) {
    bath.read.push_back(say(bath.blank_lacks.front() == "water"
                                ? "bath.chemistry.blank_lacks_water"
                                : "bath.chemistry.blank_lacks_reagent"));
  }
  const bool water = !std::isnan(recipe.water_chloride_mg_per_l);
  if (water && std::isnan(recipe.water_chloride_error_mg_per_l))
    bath.read.push_back(say("bath.chemistry.blank_no_error"));
}

std::string becomes(const NantokiteBath& row) {
  return row.solids.empty() ? say("bath.chemistry.all_dissolved") : join(row.solids, ", ");
}

void add_nantokite(BathChemistry& bath) {
  for (const NantokiteBath& row : bath.nantokite) {
    if (row.status != Status::converged) continue;
    const std::string air = !row.solids_left_out.empty()  ? say("bath.chemistry.air_observed")
                            : row.air == AirContact::open ? say("bath.chemistry.air_open")
                                                          : say("bath.chemistry.air_shut");
    bath.read.push_back(
        say("bath.chemistry.nantokite", {{"air", air},
                                         {"solids", becomes(row)},
                                         {"released", whole(row.released_percent)},
                                         {"locked", whole(row.locked_percent)},
                                         {"kept", whole(row.kept_percent)},
                                         {"mg_per_l", format_number(row.chloride_mg_per_l, 3)}}));
  }
  if (std::isnan(bath.locked_percent.low)) return;
  if (bath.locked_percent.high < 0.5) {
    bath.read.push_back(say("bath.chemistry.none_locked"));
    return;
  }
  bath.read.push_back(say("bath.chemistry.locked", {{"low", whole(bath.locked_percent.low)},
                                                    {"high", whole(bath.locked_percent.high)}}));
}

void add_carried_off(BathChemistry& bath) {
  for (const CarriedOff& metal : bath.carried_off) {
    const bool mass = !std::isnan(metal.percent_of_mass.value);
    const std::string share =
        mass ? say("bath.chemistry.share", {{"percent", two(metal.percent_of_mass.value)},
                                            {"low", two(metal.percent_of_mass.low)},
                                            {"high", two(metal.percent_of_mass.high)}})
             : "";
    const std::string air = metal.air.empty()     ? ""
                            : metal.air == "open" ? say("solution.copper_over.in_air")
                                                  : say("solution.copper_over.no_air");
    bath.read.push_back(say("bath.chemistry.carried_off", {{"metal", metal.metal},
                                                           {"solid", metal.solid},
                                                           {"air", air},
                                                           {"mg_per_l", two(metal.mg_per_l.value)},
                                                           {"low", two(metal.mg_per_l.low)},
                                                           {"high", two(metal.mg_per_l.high)},
                                                           {"mg", two(metal.mg.value)},
                                                           {"share", share}}));
  }
}

void add_metal_warnings(const BathRecipe& recipe, BathChemistry& bath) {
  for (const CarriedOff& metal : bath.carried_off) {
    if (metal.metal == "copper") continue;
    bath.cautions.push_back(say("bath.chemistry.metal_warning",
                                {{"metal", metal.metal}, {"high", two(metal.mg.high)}}));
  }
  const bool lead =
      std::find(recipe.metals.begin(), recipe.metals.end(), "lead") != recipe.metals.end();
  if (lead && bath.salt == "water") bath.cautions.push_back(say("bath.chemistry.lead_in_water"));
}

}  // namespace

void add_words(const Dataset& dataset, const BathRecipe& recipe, BathChemistry& bath) {
  add_blank(recipe, bath);
  add_ph(recipe, bath);
  add_nantokite(bath);
  add_carried_off(bath);
  add_metal_warnings(recipe, bath);
  bath.left_out = {say("path.left_out.kinetics"), say("bath.chemistry.left_out.saturation")};
  const bool carbonate = bath.salt.find("carbonate") != std::string::npos;
  if (carbonate && !dataset.contains("chalconatronite"))
    bath.left_out.push_back(say("solution.remark.sodium_copper_carbonate"));
}

}  // namespace aeruca::detail
