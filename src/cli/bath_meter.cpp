// aeruca bath meter: conductivity and TDS, and what they say of chloride.

#include <cmath>
#include <memory>
#include <string>

#include "aeruca/bath_meter.hpp"
#include "aeruca/weigh_out.hpp"
#include "cli/bath_words.hpp"
#include "render/describe_bath_making.hpp"
#include "render/json.hpp"

namespace aeruca::cli {
namespace {

struct MeterWords {
  MeterRequest request;
  std::string salt;
  double percent = kNotGiven;
  double mol_per_l = kNotGiven;
  double sought_mg_per_l = kNotGiven;

  [[nodiscard]] MeterAnswer answer(Context& context) {
    if (salt.empty()) {
      if (!std::isnan(mol_per_l)) throw UsageError("--mol-per-l needs --salt");
      if (!std::isnan(percent)) throw UsageError("--percent needs --salt");
      if (!std::isnan(sought_mg_per_l)) throw UsageError("--sought-mg-per-l needs --salt");
      return chloride_by_meter(*context.dataset(), request);
    }
    if (std::isnan(mol_per_l) && std::isnan(percent))
      throw UsageError("--salt needs --percent or --mol-per-l");
    if (!std::isnan(sought_mg_per_l)) request.chloride_sought_mg_per_l = sought_mg_per_l;
    BathMakeup bath;
    bath.salt = salt;
    bath.mol_per_l =
        std::isnan(percent) ? mol_per_l : strength_mol_per_l(*context.dataset(), salt, percent);
    bath.temperature_c = request.temperature_c;
    return chloride_by_meter(context.dataset(), request, bath);
  }
};

// Errors name the options as they were typed.
MeterAnswer answer_of(MeterWords& words, Context& context) {
  try {
    return words.answer(context);
  } catch (const InputError& problem) {
    const bool strength = problem.parameter == "mol_per_l" || problem.parameter == "strength";
    if (strength && !std::isnan(words.percent))
      throw InputError("--percent", words.percent, problem.accepted);
    if (problem.parameter == "chloride_sought_mg_per_l")
      throw InputError("--sought-mg-per-l", problem.value, problem.accepted);
    if (problem.parameter == "temperature_c")
      throw InputError("--temperature", problem.value, problem.accepted);
    if (problem.parameter == "conductivity_us_per_cm, tds_mg_per_l")
      throw InputError("--conductivity-us-per-cm, --tds-mg-per-l", problem.value, problem.accepted);
    throw InputError(option_named(problem.parameter), problem.value, problem.accepted);
  }
}

}  // namespace

void add_bath_meter(Command* bath, Context& context) {
  auto words = std::make_shared<MeterWords>();
  Command* command = bath->add_subcommand(
      "meter", "what conductivity or a TDS pen says of chloride, and where it says nothing");
  MeterRequest& request = words->request;
  command->add_option("--conductivity-us-per-cm", request.conductivity_us_per_cm, "of the bath");
  command->add_option("--tds-mg-per-l", request.tds_mg_per_l, "in its place, of a TDS pen");
  command
      ->add_option("--temperature", request.temperature_c,
                   "degrees C of the bath, for a meter or pen that does not correct to 25")
      ->capture_default_str();
  command->add_option("--blank-us-per-cm", request.blank_us_per_cm, "of the fresh bath");
  command->add_option("--error-us-per-cm", request.error_us_per_cm,
                      "plus or minus of the meter, as its maker states it");
  command->add_option("--error-percent", request.error_percent,
                      "plus or minus of the meter in percent of each reading; both errors add up");
  command->add_option("--salt", words->salt, "bath salt; leave out for deionised water");
  auto* percent = command->add_option("--percent", words->percent, "its strength, % w/v");
  command->add_option("--mol-per-l", words->mol_per_l, "its strength, mol/L")->excludes(percent);
  command->add_option("--sought-mg-per-l", words->sought_mg_per_l,
                      "chloride to be seen in a bath of salt (default: 10)");
  command->callback([words, &context] {
    const MeterAnswer answer = answer_of(*words, context);
    if (!answer.carries) context.exit_code = kNoAnswer;
    if (context.json) {
      context.out << detail::document_text(detail::json_of(answer));
      return;
    }
    context.out << answer.sentence << '\n';
  });
}

}  // namespace aeruca::cli
