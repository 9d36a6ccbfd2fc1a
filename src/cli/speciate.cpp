#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "aeruca/equilibrium.hpp"
#include "base/text.hpp"
#include "cli/commands.hpp"
#include "cli/speciate_output.hpp"

namespace aeruca::cli {
namespace {

struct Request {
  std::vector<std::string> totals, gases, left_out;
  std::string solids = "none";
  std::string model = "sit";
  double temperature_c = 25;
  double ph = 7;
  double eh_v = 0.4;
  double oxygen_bar = 0.21;
  bool charge_balance = false;
  bool conserved = false;
  bool keep_25c = false;
  const CLI::Option* ph_given = nullptr;
  const CLI::Option* eh_given = nullptr;
  const CLI::Option* oxygen_given = nullptr;
};

struct NamedAmount {
  std::string name;
  double value = 0;
  std::string unit;
};

// "Cl(-)=50 mg/L" -> name, number, unit ("" when left out).
NamedAmount parse_amount(const std::string& text, const std::string& option,
                         const std::string& accepted) {
  const std::size_t equals = text.find('=');
  if (equals == std::string::npos) throw InputError(option, text, accepted);
  const std::string_view right = detail::trim(std::string_view(text).substr(equals + 1));
  const std::size_t space = right.find(' ');
  const auto value = detail::parse_number(right.substr(0, space));
  if (!value) throw InputError(option, text, accepted);
  NamedAmount amount;
  amount.name = std::string(detail::trim(std::string_view(text).substr(0, equals)));
  amount.value = *value;
  if (space != std::string_view::npos) amount.unit = std::string(detail::trim(right.substr(space)));
  return amount;
}

double mol_per_kg(const NamedAmount& amount, const Dataset& dataset, const std::string& text) {
  const std::string& unit = amount.unit;
  if (unit.empty() || unit == "mol/kg") return amount.value;
  if (unit == "mmol/kg") return 1e-3 * amount.value;
  const double molar_mass = dataset.at(amount.name).molar_mass_g_per_mol;
  if (unit == "g/kg") return amount.value / molar_mass;
  if (unit == "mg/kg" || unit == "mg/L" || unit == "mg/l" || unit == "ppm")
    return 1e-3 * amount.value / molar_mass;
  throw InputError("--total", text,
                   "an amount in mol/kg (the default), mmol/kg, g/kg, mg/kg or mg/L");
}

EquilibriumInput input_of(const Request& request, const Dataset& dataset,
                          std::vector<std::string>& notes) {
  EquilibriumInput input;
  input.ph = request.ph;
  input.eh_v = request.eh_v;
  input.oxygen_bar = request.oxygen_bar;
  for (const auto& text : request.totals) {
    const auto amount =
        parse_amount(text, "--total", "NAME=AMOUNT, such as \"Cu(2+)=1e-3\" or \"Cl(-)=50 mg/L\"");
    if (!input.totals_mol_per_kg.emplace(amount.name, mol_per_kg(amount, dataset, text)).second)
      throw CLI::ValidationError(
          "--total", "'" + amount.name + "' is given twice; accepted is each name once");
    if (amount.unit == "mg/L" || amount.unit == "mg/l" || amount.unit == "ppm") {
      notes.push_back(text +
                      " is taken per kilogram of water, as if a litre held 1 kg: good to 1 % up to "
                      "some 5 g/L of salts");
    }
  }
  for (const auto& text : request.gases) {
    const auto gas = parse_amount(text, "--gas", "NAME=BAR, such as \"CO2(g)=4.2e-4\"");
    if (!gas.unit.empty() && gas.unit != "bar")
      throw InputError("--gas", text, "a fugacity in bar");
    if (!input.fugacity_bar.emplace(gas.name, gas.value).second)
      throw CLI::ValidationError("--gas",
                                 "'" + gas.name + "' is given twice; accepted is each name once");
  }
  return input;
}

EquilibriumOptions options_of(const Request& request) {
  EquilibriumOptions options;
  options.activity = activity_model_from(request.model);
  options.temperature_c = request.temperature_c;
  options.left_out = request.left_out;
  options.missing_enthalpy = request.keep_25c ? MissingEnthalpy::keep_25c : MissingEnthalpy::refuse;
  options.fixed_ph = !request.charge_balance;
  options.redox = request.conserved                   ? Redox::conserved
                  : request.oxygen_given->count() > 0 ? Redox::oxygen
                                                      : Redox::eh;
  if (request.solids == "all") {
    options.all_phases = true;
  } else if (request.solids != "none") {
    for (const auto part : detail::split(request.solids, ','))
      options.phases.emplace_back(detail::trim(part));
  }
  return options;
}

void check(const Request& request) {
  if (request.charge_balance && request.ph_given->count() > 0) {
    throw CLI::ValidationError("--ph", "accepted is either --ph or --charge-balance, not both");
  }
  if (!request.charge_balance && request.ph_given->count() == 0) {
    throw CLI::ValidationError("--ph",
                               "is missing; accepted is --ph VALUE, or --charge-balance to have "
                               "the pH follow from the charge");
  }
  const auto ways =
      request.eh_given->count() + request.oxygen_given->count() + (request.conserved ? 1U : 0U);
  if (ways != 1) {
    throw CLI::ValidationError(
        "--eh, --oxygen, --conserved",
        std::to_string(ways) +
            " given; accepted is exactly one: the potential, the oxygen of the air, or electrons "
            "kept as weighed in");
  }
  for (const std::string& name : request.left_out) {
    if (name == "H2O" || name == "H(+)")
      throw InputError("--leave-out", name,
                       "a species or solid other than H2O and H(+), which every water holds");
  }
}

// What the activity model assumes, for the species that make up the water rather than all it could
// hold.
std::vector<std::string> remarks_of_leading(const EquilibriumResult& result,
                                            const EquilibriumOptions& options,
                                            const Dataset& dataset) {
  constexpr double kLeading = 1e-3;  // of the ionic strength
  std::vector<std::string> leading;
  for (std::size_t i = 0; i < result.species.size(); ++i) {
    if (result.molality[i] >= kLeading * result.ionic_strength)
      leading.push_back(result.species[i]);
  }
  return make_activity(options.activity, dataset, leading, options.temperature_c)->remarks();
}

void run(const Request& request, Context& context) {
  check(request);
  const auto dataset = context.dataset();
  const EquilibriumOptions options = options_of(request);
  std::vector<std::string> notes;
  const EquilibriumInput input = input_of(request, *dataset, notes);
  EquilibriumResult result = Equilibrium(dataset, options).solve(input);
  result.warnings.insert(result.warnings.end(), notes.begin(), notes.end());
  result.remarks = remarks_of_leading(result, options, *dataset);
  if (context.json) {
    print_speciation_json(result, options, *dataset, context.out);
  } else {
    print_speciation(result, options, *dataset, context.out);
  }
  if (result.status == Status::converged && result.certificate.holds()) return;
  context.err << "aeruca: " << result.message << '\n';
  context.exit_code = kNoAnswer;
}

}  // namespace

void add_speciate(CLI::App& app, Context& context) {
  auto request = std::make_shared<Request>();
  CLI::App* command = app.add_subcommand(
      "speciate", "What a water holds: dissolved species, solids that form, gases");
  command
      ->add_option("--total", request->totals,
                   "ingredient and amount per kg of water, such as \"Cu(2+)=1e-3\" (mol/kg) or "
                   "\"Cl(-)=50 mg/L\"; repeatable")
      ->take_all()
      ->allow_extra_args(false);
  request->ph_given = command->add_option("--ph", request->ph, "pH, -2 to 16");
  command->add_flag("--charge-balance", request->charge_balance,
                    "let the pH follow from the charge balance");
  request->eh_given = command->add_option("--eh", request->eh_v,
                                          "potential, V against the standard hydrogen electrode");
  request->oxygen_given =
      command->add_option("--oxygen", request->oxygen_bar, "fugacity of oxygen, bar (air: 0.21)");
  command->add_flag("--conserved", request->conserved,
                    "electrons as weighed in: give copper by valence (Cu(+), Cu(2+), copper) and "
                    "oxygen as O2(aq)");
  command
      ->add_option("--gas", request->gases,
                   "gas held at a fugacity in bar, such as \"CO2(g)=4.2e-4\"; repeatable")
      ->take_all()
      ->allow_extra_args(false);
  command->add_option("--solids", request->solids,
                      "solids allowed to form: all, none (the default), or names joined by commas");
  command->add_option("--leave-out", request->left_out, "species or solid left out; repeatable")
      ->take_all()
      ->allow_extra_args(false);
  command->add_option("--model", request->model, "activity model: ideal, dilute, sit or pitzer");
  command->add_option("--temperature", request->temperature_c, "degrees C, 0 to 50");
  command->add_flag(
      "--keep-25c", request->keep_25c,
      "away from 25 degrees C, use the constant of 25 degrees C where the enthalpy is not known");
  command->callback([request, &context] { run(*request, context); });
}

}  // namespace aeruca::cli
