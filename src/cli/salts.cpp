// aeruca salts: at which humidity each salt dissolves in water from the air, computed beside
// measured; what a mixture is at every humidity.

#include <algorithm>
#include <cmath>
#include <memory>
#include <optional>

#include "aeruca/brine.hpp"
#include "aeruca/errors.hpp"
#include "aeruca/hydration.hpp"
#include "aeruca/mixture.hpp"
#include "aeruca/salt_analysis.hpp"
#include "base/text.hpp"
#include "cli/commands.hpp"
#include "render/mixture_text.hpp"
#include "render/salts_text.hpp"

namespace aeruca::cli {
namespace {

struct Request {
  std::string salt;
  std::vector<std::string> ions;
  std::string analysis, assign_charge;
  double temperature_c = 25.0;
  std::string pitzer_set;
  std::optional<double> molality;
  bool onset = false;
  bool alone = true;  // nothing beside --onset
};

void show_onset(const Dataset& dataset, Context& context) {
  context.out << (context.json ? detail::onset_json(dataset) : detail::onset_text(dataset));
}

void show_solution(const Request& request, const Dataset& dataset, Context& context) {
  const SaltSolution solution = single_salt(dataset, request.salt, *request.molality,
                                            request.temperature_c, request.pitzer_set);
  context.out << (context.json ? detail::solution_json(solution, dataset)
                               : detail::solution_text(solution, dataset));
}

// "chloride=640 mg/kg"
AnalysedIon ion_from(const std::string& text) {
  const std::size_t equals = text.find('=');
  if (equals == std::string::npos || equals == 0)
    throw InputError("--ion", text, "NAME=AMOUNT, such as \"chloride=640 mg/kg\"");
  return {std::string(detail::trim(std::string_view(text).substr(0, equals))),
          amount_from(detail::trim(std::string_view(text).substr(equals + 1)), "--ion")};
}

void show_mixture(const Request& request, const std::shared_ptr<const Dataset>& dataset,
                  Context& context) {
  constexpr int kFirst = 5;
  constexpr int kLast = 98;
  std::vector<AnalysedIon> found;
  if (!request.analysis.empty()) found = read_salt_analysis(request.analysis);
  for (const std::string& text : request.ions) found.push_back(ion_from(text));
  const SaltAnalysis analysis = analyse_salts(found, *dataset, request.assign_charge);
  MixtureOptions options;
  options.temperature_c = request.temperature_c;
  std::vector<double> humidities;
  for (int rh = kFirst; rh <= kLast; ++rh) humidities.push_back(rh);
  const MixtureSweep sweep = SaltMixture(dataset, analysis.ions, options).sweep(humidities);
  context.out << (context.json ? detail::mixture_json(analysis, sweep, *dataset)
                               : detail::mixture_text(analysis, sweep, *dataset));
  const bool all = std::all_of(sweep.states.begin(), sweep.states.end(),
                               [](const auto& state) { return state.status == Status::converged; });
  if (!all) context.exit_code = kNoAnswer;
}

void show_salts(const Request& request, const Dataset& dataset, Context& context) {
  std::vector<Deliquescence> found;
  for (const auto& salt : dataset.salts) {
    if (!request.salt.empty() && &salt != &dataset.salt(request.salt)) continue;
    found.push_back(deliquescence(dataset, salt.solid, request.temperature_c, request.pitzer_set));
  }
  const bool none = std::all_of(found.begin(), found.end(),
                                [](const auto& d) { return std::isnan(d.rh_percent); });
  if (none) context.exit_code = kNoAnswer;
  if (request.salt.empty()) {
    context.out << (context.json ? detail::salts_json(found, dataset)
                                 : detail::salts_text(found, request.temperature_c, dataset));
    return;
  }
  const Deliquescence& salt = found.front();
  const auto hydration = hydration_changes(dataset, salt.solid, request.temperature_c);
  context.out << (context.json ? detail::salt_json(salt, hydration, dataset)
                               : detail::salt_text(salt, hydration, dataset));
}

void run(const Request& request, Context& context) {
  const auto dataset = context.dataset();
  if (request.onset && !request.alone) {
    throw UsageError("--onset", "goes with no salt and no other option of salts");
  }
  if (request.onset) return show_onset(*dataset, context);
  const bool mixture = !request.ions.empty() || !request.analysis.empty();
  if (mixture && (!request.salt.empty() || request.molality || !request.pitzer_set.empty()))
    throw UsageError("salts", "a mixture goes with no single salt, --molality or --set");
  if (!mixture && !request.assign_charge.empty())
    throw UsageError("--assign-charge", "needs the ions of a mixture: --ion or --analysis");
  if (request.salt.empty() && (request.molality || !request.pitzer_set.empty())) {
    throw UsageError("salts", "--molality and --set need the name of one salt");
  }
  if (std::isnan(request.temperature_c))
    throw InputError("--temperature", request.temperature_c, "0 to 50 degrees C");
  if (mixture) return show_mixture(request, dataset, context);
  if (request.molality) return show_solution(request, *dataset, context);
  show_salts(request, *dataset, context);
}

}  // namespace

void add_salts(Command& app, Context& context) {
  auto request = std::make_shared<Request>();
  Command* command =
      app.add_subcommand("salts", "humidity at which salts, and mixtures of them, dissolve");
  command->add_option("salt", request->salt,
                      "one salt in detail: mineral (halite) or formula (NaCl)");
  command->add_option("--temperature", request->temperature_c, "degrees C, 0 to 50 (default 25)");
  command->add_option("--set", request->pitzer_set, "Pitzer set to use in place of the chosen one");
  command->add_option("--molality", request->molality,
                      "the solution of this strength instead (mol/kg)");
  command
      ->add_option("--ion", request->ions,
                   "an ion of a mixture and its amount, such as \"chloride=640 mg/kg\": solids and "
                   "brine at every humidity; repeatable")
      ->repeatable();
  command->add_option("--analysis", request->analysis,
                      "the ions of a mixture from a table with the columns ion,amount");
  command->add_option("--assign-charge", request->assign_charge,
                      "ion that takes up an imbalance of charge (default: the side in excess, in "
                      "proportion)");
  command->add_flag("--onset", request->onset, "published humidity limits for bronze disease");
  command->callback([request, command, &context] {
    request->alone = command->count_all() == 2;  // the command and --onset
    run(*request, context);
  });
}

}  // namespace aeruca::cli
