// aeruca bath chemistry: what a bath is made of, its pH, and what it does.

#include <cmath>
#include <memory>
#include <optional>
#include <string>

#include "aeruca/log_against_bath.hpp"
#include "cli/bath_words.hpp"
#include "render/bath_chemistry_text.hpp"
#include "render/describe_bath_chemistry.hpp"
#include "render/json.hpp"

namespace aeruca::cli {
namespace {

struct ChemistryWords {
  BathRecipe recipe;
  std::string log;
};

// Errors name the options as they were typed.
BathChemistry chemistry_of(const ChemistryWords& words, Context& context) try {
  return chemistry_of_bath(context.dataset(), words.recipe);
} catch (const InputError& problem) {
  const std::string& name = problem.parameter;
  const bool molar = !std::isnan(words.recipe.mol_per_l);
  if (name == "strength" && (problem.value == "nothing" || problem.value == "both"))
    throw InputError("--percent, --mol-per-l", problem.value, "either --percent or --mol-per-l");
  if (name == "mol_per_l" && !molar)
    throw InputError("--percent", words.recipe.percent_w_v, problem.accepted + " mol/L");
  if (name == "strength")
    throw InputError(molar ? "--mol-per-l" : "--percent", problem.value, problem.accepted);
  if (name == "percent_w_v") throw InputError("--percent", problem.value, problem.accepted);
  if (name == "temperature_c") throw InputError("--temperature", problem.value, problem.accepted);
  if (name == "metals") throw InputError("--metal", problem.value, problem.accepted);
  if (name == "salt") throw InputError("--salt", problem.value, problem.accepted);
  throw InputError(option_named(name), problem.value, problem.accepted);
}

void print(const BathChemistry& bath, const std::optional<LogAgainstBath>& log, Context& context) {
  if (context.json) {
    Json out = detail::json_of(bath);
    if (log) out["log"] = detail::json_of(*log);
    add_data_line(out, context);
    out["uses_dataset_figures"] = true;
    context.out << detail::document_text(out);
    return;
  }
  context.out << detail::chemistry_text(bath, *context.dataset());
  if (log) context.out << '\n' << detail::log_against_text(*log);
}

void add_makeup(Command* command, BathRecipe& recipe) {
  command
      ->add_option("--salt", recipe.salt,
                   "bath salt such as sodium carbonate or caustic soda, or deionised water")
      ->capture_default_str();
  auto* percent = command->add_option("--percent", recipe.percent_w_v, "strength, % w/v");
  command->add_option("--mol-per-l", recipe.mol_per_l, "strength, mol/L")->excludes(percent);
  command->add_option("--volume-l", recipe.volume_l, "litres of one filling")
      ->capture_default_str();
  command->add_option(
      "--form", recipe.form,
      "what stands on the shelf, such as washing soda; without it nothing is weighed");
  command->add_option("--purity-percent", recipe.purity_percent, "of each reagent")
      ->capture_default_str();
  command->add_option("--reagent-chloride-percent", recipe.reagent_chloride_percent,
                      "chloride by mass in the reagents at most, from the label");
  command->add_option("--water-chloride-mg-per-l", recipe.water_chloride_mg_per_l,
                      "chloride of the water the bath is made with");
  command->add_option("--water-chloride-error-mg-per-l", recipe.water_chloride_error_mg_per_l,
                      "plus or minus of that");
}

}  // namespace

void add_bath_chemistry(Command* bath, Context& context) {
  auto words = std::make_shared<ChemistryWords>();
  BathRecipe& recipe = words->recipe;
  Command* command = bath->add_subcommand(
      "chemistry", "what a bath is made of, its pH fresh and aged, and what it does to the object");
  add_makeup(command, recipe);
  command->add_option("--temperature", recipe.temperature_c, "degrees C of the bath")
      ->capture_default_str();
  command
      ->add_option("--carbon-dioxide-bar", recipe.carbon_dioxide_bar,
                   "of the air; a closed room may hold twice that of the open air")
      ->capture_default_str();
  command
      ->add_option("--headspace-l-per-l", recipe.headspace_l_per_l,
                   "air under the lid of a covered bath, litres for each litre")
      ->capture_default_str();
  command->add_option("--object-mass-g", recipe.object_mass_g,
                      "of the object, for the share of it that is carried off");
  command->add_option("--nantokite-g", recipe.nantokite_g,
                      "in the object (without it 1 g for each litre is taken)");
  command->add_option("--metal", recipe.metals, "lead or zinc, where the object holds it");
  command->add_option("--log", words->log,
                      "bath log whose pH and colour are compared with what the bath should be");
  command->callback([words, &context] {
    const BathChemistry chemistry = chemistry_of(*words, context);
    std::optional<LogAgainstBath> log;
    if (!words->log.empty()) {
      log = log_against_bath(read_bath_log(words->log), chemistry,
                             std::isnan(words->recipe.nantokite_g) ? NantokiteAcid::not_expected
                                                                   : NantokiteAcid::expected);
    }
    if (chemistry.status != Status::converged) context.exit_code = kNoAnswer;
    print(chemistry, log, context);
  });
}

}  // namespace aeruca::cli
