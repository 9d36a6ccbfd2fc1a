#include "aeruca/bath_recipe.hpp"

#include <algorithm>
#include <cmath>

#include "aeruca/errors.hpp"
#include "aeruca/ranges.hpp"
#include "bath/bath_question.hpp"
#include "bath/bath_recipe.hpp"

namespace aeruca {
namespace {

using DatasetPointer = std::shared_ptr<const Dataset>;

constexpr double kBetweenScales = 0.02;  // the conventional pH of buffers against -log10 a(H(+))
constexpr int kDraws = 200;

void want(bool met, const char* parameter, double value, const char* accepted) {
  if (!met) throw InputError(parameter, value, accepted);
}

void check_numbers(const BathRecipe& recipe) {
  want(recipe.volume_l > 0 && recipe.volume_l <= 1e6, "volume_l", recipe.volume_l,
       "above 0 to 1e+06 litres");
  want(recipe.temperature_c >= 0 && recipe.temperature_c <= 50, "temperature_c",
       recipe.temperature_c, "0 to 50 degrees C");
  want(std::isnan(recipe.object_mass_g) || recipe.object_mass_g > 0, "object_mass_g",
       recipe.object_mass_g, "above 0");
  const double water = recipe.water_chloride_mg_per_l;
  want(std::isnan(water) || (water >= 0 && water <= 1e5), "water_chloride_mg_per_l", water,
       "0 to 1e+05 mg/L");
  const double error = recipe.water_chloride_error_mg_per_l;
  want(std::isnan(error) || (error >= 0 && error <= water), "water_chloride_error_mg_per_l", error,
       "0 to water_chloride_mg_per_l, beside it");
}

void check_water(const BathRecipe& recipe) {
  const auto nothing = [](bool none, const char* parameter, const std::string& given) {
    if (!none) throw InputError(parameter, given, "nothing beside water");
  };
  nothing(std::isnan(recipe.percent_w_v), "percent_w_v", "a strength");
  nothing(std::isnan(recipe.mol_per_l), "mol_per_l", "a strength");
  nothing(recipe.form.empty(), "form", recipe.form);
  nothing(std::isnan(recipe.reagent_chloride_percent), "reagent_chloride_percent", "a figure");
}

void check_salt(const BathRecipe& recipe) {
  if (std::isnan(recipe.percent_w_v) == std::isnan(recipe.mol_per_l))
    throw InputError("strength", std::isnan(recipe.percent_w_v) ? "nothing" : "both",
                     "either percent_w_v or mol_per_l");
  if (!recipe.form.empty()) return;
  want(std::isnan(recipe.reagent_chloride_percent), "reagent_chloride_percent",
       recipe.reagent_chloride_percent, "a form beside it, for the grams decide");
  want(recipe.purity_percent == 100, "purity_percent", recipe.purity_percent,
       "a form beside it, for the grams decide");
}

WeighOutRequest weighing_of(const Dataset& dataset, const BathRecipe& recipe) {
  WeighOutRequest request;
  request.salt = recipe.salt;
  const bool molar = std::isnan(recipe.percent_w_v);
  request.unit = molar ? StrengthUnit::mol_per_l : StrengthUnit::percent_w_v;
  request.strength = molar ? recipe.mol_per_l : recipe.percent_w_v;
  request.volume_l = recipe.volume_l;
  // Strength and solubility are the same whatever stands on the shelf.
  request.form = recipe.form.empty() ? shelf_forms(dataset, recipe.salt).front() : recipe.form;
  request.purity_percent = recipe.purity_percent;
  if (!std::isnan(recipe.reagent_chloride_percent))
    request.reagent_chloride_percent = recipe.reagent_chloride_percent;
  request.temperature_c = recipe.temperature_c;
  return request;
}

WithinRange times(const WithinRange& one, double factor) {
  return {one.value * factor, one.low * factor, one.high * factor};
}

void add_blank(const BathRecipe& recipe, double reagent_mg_per_l, BathChemistry& bath) {
  const bool water = !std::isnan(recipe.water_chloride_mg_per_l);
  const bool reagent = !std::isnan(recipe.reagent_chloride_percent) || bath.salt == "water";
  if (!reagent) bath.blank_lacks.emplace_back("reagent");
  if (!water) bath.blank_lacks.emplace_back("water");
  if (!water && (!reagent || bath.salt == "water")) return;
  const double of_water = water ? recipe.water_chloride_mg_per_l : 0;
  const double error =
      std::isnan(recipe.water_chloride_error_mg_per_l) ? 0 : recipe.water_chloride_error_mg_per_l;
  bath.blank_mg_per_l = {of_water + reagent_mg_per_l, of_water - error,
                         of_water + error + reagent_mg_per_l};
  bath.blank_mg = times(bath.blank_mg_per_l, bath.volume_l);
}

void make_up(const DatasetPointer& dataset, const BathRecipe& recipe, BathChemistry& bath) {
  bath.volume_l = recipe.volume_l;
  bath.temperature_c = recipe.temperature_c;
  if (is_plain_water(recipe.salt)) {
    check_water(recipe);
    bath.salt = "water";
    return add_blank(recipe, 0, bath);
  }
  check_salt(recipe);
  const WeighOut weighed = weigh_out(*dataset, weighing_of(*dataset, recipe));
  bath.salt = weighed.salt;
  bath.mol_per_l = weighed.mol_per_l;
  bath.percent_w_v = weighed.percent_w_v;
  bath.dissolves = weighed.dissolves;
  bath.solubility_words = weighed.solubility_words;
  bath.cautions = weighed.cautions;
  if (!recipe.form.empty()) {
    bath.form = weighed.form;
    bath.reagents = weighed.reagents;
  }
  add_blank(recipe, weighed.blank_mg_per_l, bath);
}

void note(const std::vector<std::string>& from, std::vector<std::string>& to) {
  for (const std::string& one : from)
    if (std::find(to.begin(), to.end(), one) == to.end()) to.push_back(one);
}

void note_status(Status status, const std::string& message, BathChemistry& bath) {
  if (status == Status::converged || bath.status != Status::converged) return;
  bath.status = status;
  bath.message = message;
}

// How far below and above its value the pH may lie.
struct Apart {
  double below = kBetweenScales, above = kBetweenScales;
};

Apart doubt_of(detail::BathQuestion question, const DatasetPointer& dataset) {
  const EquilibriumResult answer = detail::solved(question, dataset);
  if (answer.status != Status::converged) return {kNotGiven, kNotGiven};
  DrawOptions draws;
  draws.draws = kDraws;
  draws.threads = 1;
  draws.spreads = Spreads::as_published;
  double low = answer.ph;
  double high = answer.ph;
  const WaterRanges ranges = ranges_of(question.input(), question.options(), dataset, draws);
  if (ranges.ph) {
    low = std::min(low, ranges.ph->as_published.percentile_2_5);
    high = std::max(high, ranges.ph->as_published.percentile_97_5);
  }
  question.activity = ActivityModel::pitzer;
  const EquilibriumResult other = detail::solved(question, dataset);
  if (other.status == Status::converged && other.warnings.empty()) {
    low = std::min(low, other.ph);
    high = std::max(high, other.ph);
  }
  return {answer.ph - low + kBetweenScales, high - answer.ph + kBetweenScales};
}

WithinRange about(double ph, const Apart& doubt) {
  return {ph, ph - doubt.below, ph + doubt.above};
}

void add_ph(const DatasetPointer& dataset, const BathRecipe& recipe, BathChemistry& bath) {
  const CarbonateBathPath path =
      bath_in_air(dataset, {bath.salt, bath.mol_per_l, recipe.temperature_c,
                            recipe.carbon_dioxide_bar, recipe.headspace_l_per_l});
  note_status(path.open.status, path.open.message, bath);
  note(path.open.warnings, bath.warnings);
  note(path.open.figures, bath.figures);
  if (path.open.status != Status::converged) return;
  detail::BathQuestion question =
      detail::question_of(*dataset, {bath.salt, bath.mol_per_l, recipe.temperature_c});
  const Apart fresh = doubt_of(question, dataset);
  question.gases["CO2(g)"] = recipe.carbon_dioxide_bar;
  const Apart open = doubt_of(question, dataset);
  bath.ph = {{"fresh", about(path.fresh_ph, fresh), 0},
             {"covered", about(path.covered_ph, fresh), path.covered_moved_mmol_per_l},
             {"open", about(path.open_ph, open), path.moved_mmol_per_l}};
}

void add_nantokite(const DatasetPointer& dataset, const BathRecipe& recipe, BathChemistry& bath) {
  const double g_per_l = std::isnan(recipe.nantokite_g) ? 1 : recipe.nantokite_g / recipe.volume_l;
  if (!(g_per_l >= 0.001 && g_per_l <= 10))
    throw InputError("nantokite_g", recipe.nantokite_g, "0.001 to 10 g for each litre of bath");
  bath.nantokite_g_per_l = g_per_l;
  bath.nantokite =
      nantokite_in_bath(dataset, {bath.salt, bath.mol_per_l, g_per_l, recipe.temperature_c});
  for (const NantokiteBath& row : bath.nantokite) {
    note_status(row.status, row.message, bath);
    if (row.status != Status::converged) continue;
    bath.locked_percent.low = std::fmin(bath.locked_percent.low, row.locked_percent);
    bath.locked_percent.high = std::fmax(bath.locked_percent.high, row.locked_percent);
    if (!row.solids_left_out.empty()) bath.locked_percent.value = row.locked_percent;
  }
}

void add_amounts(const BathRecipe& recipe, CarriedOff& metal) {
  metal.mg = times(metal.mg_per_l, recipe.volume_l);
  if (!std::isnan(recipe.object_mass_g))
    metal.percent_of_mass = times(metal.mg, 0.1 / recipe.object_mass_g);
}

void add_copper(const DatasetPointer& dataset, const BathRecipe& recipe, BathChemistry& bath) {
  const bool carbonate = bath.salt.find("carbonate") != std::string::npos;
  std::vector<std::pair<std::string, BathAir>> solids{{"cuprite", BathAir::shut_out},
                                                      {"tenorite", BathAir::open}};
  if (carbonate) solids.emplace_back("malachite", BathAir::open);
  if (carbonate && dataset->contains("chalconatronite"))
    solids.emplace_back("chalconatronite", BathAir::open);
  const BathMakeup makeup{bath.salt, bath.mol_per_l, recipe.temperature_c};
  for (const auto& [solid, air] : solids) {
    if (!dataset->contains(solid)) continue;
    const CopperOverSolid over = copper_over(dataset, makeup, solid, air);
    note_status(over.status, over.message, bath);
    note(over.warnings, bath.warnings);
    note(over.figures, bath.figures);
    if (over.status != Status::converged) continue;
    const double factor = std::max(over.factor, over.other_factor);
    CarriedOff copper;
    copper.metal = "copper";
    copper.solid = solid;
    copper.air = to_string(air);
    copper.main_form = over.main_form;
    copper.mg_per_l = {over.mg_per_l, over.mg_per_l / factor, over.mg_per_l * factor};
    add_amounts(recipe, copper);
    bath.carried_off.push_back(copper);
  }
}

void add_metals(const DatasetPointer& dataset, const BathRecipe& recipe, BathChemistry& bath) {
  const BathMakeup makeup{bath.salt, bath.mol_per_l, recipe.temperature_c};
  for (const std::string& name : recipe.metals) {
    CarriedOff metal = detail::metal_in_bath(dataset, makeup, name);
    if (metal.solid.empty()) continue;
    add_amounts(recipe, metal);
    bath.carried_off.push_back(metal);
  }
}

}  // namespace

const BathPh* BathChemistry::ph_of(std::string_view state) const {
  const auto found =
      std::find_if(ph.begin(), ph.end(), [&](const BathPh& one) { return one.state == state; });
  return found == ph.end() ? nullptr : &*found;
}

BathChemistry chemistry_of_bath(const DatasetPointer& dataset, const BathRecipe& recipe) {
  check_numbers(recipe);
  BathChemistry bath;
  make_up(dataset, recipe, bath);
  add_ph(dataset, recipe, bath);
  add_nantokite(dataset, recipe, bath);
  add_copper(dataset, recipe, bath);
  add_metals(dataset, recipe, bath);
  detail::add_words(*dataset, recipe, bath);
  return bath;
}

}  // namespace aeruca
