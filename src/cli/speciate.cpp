#include <cstdint>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "aeruca/analysis.hpp"
#include "aeruca/render.hpp"
#include "base/text.hpp"
#include "cli/commands.hpp"

namespace aeruca::cli {
namespace {

struct Request {
  std::vector<std::string> totals, gases, left_out, inert;
  std::string alkalinity, electrode, assign_charge;
  std::string missing_enthalpy = "estimate";
  std::string solids = "none";
  std::string model = "sit";
  double temperature_c = 25;
  double ph = 7;
  double eh_v = 0;
  double ph_uncertainty = 0;
  double potential_mv = 0;
  double potential_uncertainty_mv = 0;
  double oxygen_bar = 0.21;
  double density = 0;
  double conductivity = 0;
  int draws = 0;
  std::uint64_t seed = 1;
  bool charge_balance = false;
  bool conserved = false;
  bool several_starts = false;
  const Option* ph_given = nullptr;
  const Option* eh_given = nullptr;
  const Option* potential_given = nullptr;
  const Option* ph_uncertainty_given = nullptr;
  const Option* potential_uncertainty_given = nullptr;
  const Option* oxygen_given = nullptr;
  const Option* density_given = nullptr;
  const Option* conductivity_given = nullptr;
  const Option* draws_given = nullptr;
  const Option* seed_given = nullptr;
};

const char* const kTotalForm = R"(NAME=AMOUNT, such as "Cu(2+)=1e-3" or "Cl(-)=50 mg/L")";

// A negative number is no reading; it goes on, to be refused with its range.
std::optional<Amount> signed_amount(std::string_view text) {
  if (auto amount = parse_amount(text)) return amount;
  const auto number = detail::parse_number(text.substr(0, text.find(' ')));
  if (!number) return std::nullopt;
  const std::size_t space = text.find(' ');
  const std::string_view unit = space == std::string_view::npos ? "" : text.substr(space + 1);
  return Amount{{*number, kNotGiven, kNotGiven}, std::string(detail::trim(unit))};
}

// "chloride=640 +/- 30 mg/L"; a number alone is in mol/kg.
AnalysedIon parse_total(const std::string& text) {
  const std::size_t equals = text.find('=');
  if (equals == std::string::npos) throw InputError("--total", text, kTotalForm);
  const auto amount = signed_amount(detail::trim(std::string_view(text).substr(equals + 1)));
  if (!amount) throw InputError("--total", text, kTotalForm);
  AnalysedIon ion{std::string(detail::trim(std::string_view(text).substr(0, equals))), *amount};
  if (ion.amount.unit.empty()) ion.amount.unit = "mol/kg";
  if (!is_amount_unit(ion.amount.unit)) {
    throw InputError("--total", text,
                     "an amount in mol/kg (the default) or " + detail::join(amount_units(), ", "));
  }
  return ion;
}

std::pair<std::string, double> parse_gas(const std::string& text) {
  const std::size_t equals = text.find('=');
  const char* const form = R"(NAME=BAR, such as "CO2(g)=4.2e-4")";
  if (equals == std::string::npos) throw InputError("--gas", text, form);
  std::string_view right = detail::trim(std::string_view(text).substr(equals + 1));
  if (right.ends_with(" bar")) right = detail::trim(right.substr(0, right.size() - 4));
  const auto bar = detail::parse_number(right);
  if (!bar) throw InputError("--gas", text, form);
  return {std::string(detail::trim(std::string_view(text).substr(0, equals))), *bar};
}

void refuse_second(bool is_new, const char* option, const std::string& name) {
  if (!is_new)
    throw UsageError(option, "'" + name + "' is given twice; accepted is each name once");
}

void add_totals(const Request& request, WaterAnalysis& analysis) {
  std::set<std::string> names;
  for (const auto& text : request.totals) {
    analysis.ions.push_back(parse_total(text));
    refuse_second(names.insert(analysis.ions.back().name).second, "--total",
                  analysis.ions.back().name);
  }
  for (const auto& text : request.gases) {
    const auto gas = parse_gas(text);
    refuse_second(analysis.held_gas_bar.insert(gas).second, "--gas", gas.first);
  }
  if (!request.alkalinity.empty())
    analysis.alkalinity = amount_from(request.alkalinity, "--alkalinity");
}

WaterAnalysis analysis_of(const Request& request) {
  WaterAnalysis analysis;
  analysis.temperature_c = request.temperature_c;
  add_totals(request, analysis);
  if (!request.charge_balance) analysis.ph.value = request.ph;
  if (request.ph_uncertainty_given->count() > 0) analysis.ph.uncertainty = request.ph_uncertainty;
  if (request.eh_given->count() > 0) analysis.potential_mv = 1000 * request.eh_v;
  if (request.potential_given->count() > 0) analysis.potential_mv = request.potential_mv;
  if (request.potential_uncertainty_given->count() > 0)
    analysis.potential_uncertainty_mv = request.potential_uncertainty_mv;
  analysis.reference_electrode = request.electrode;
  if (request.oxygen_given->count() > 0) analysis.oxygen_bar = request.oxygen_bar;
  if (request.density_given->count() > 0) analysis.density_kg_per_l = request.density;
  if (request.conductivity_given->count() > 0)
    analysis.conductivity_us_per_cm = request.conductivity;
  analysis.charge_assigned_to = request.assign_charge;
  return analysis;
}

EquilibriumOptions options_of(const Request& request) {
  EquilibriumOptions options;
  options.activity = activity_model_from(request.model);
  options.left_out = request.left_out;
  options.inert = request.inert;
  options.missing_enthalpy = missing_enthalpy_of(request.missing_enthalpy);
  if (request.charge_balance) options.acidity = Acidity::charge_balance;
  if (request.conserved) options.redox = Redox::conserved;
  if (request.several_starts) options.starts = Starts::several;
  if (request.solids != "none") options.precipitation = Precipitation::allowed;
  if (request.solids != "none" && request.solids != "all") {
    for (const auto part : detail::split(request.solids, ','))
      options.allowed_solids.emplace_back(detail::trim(part));
  }
  return options;
}

void check(const Request& request) {
  if (request.charge_balance && request.ph_given->count() > 0) {
    throw UsageError("--ph", "accepted is either --ph or --charge-balance, not both");
  }
  if (!request.charge_balance && request.ph_given->count() == 0) {
    throw UsageError("--ph",
                     "is missing; accepted is --ph VALUE, or --charge-balance to have "
                     "the pH follow from the charge");
  }
  if (request.ph_uncertainty_given->count() > 0 &&
      (request.charge_balance || !(request.ph_uncertainty >= 0))) {
    throw UsageError("--ph-uncertainty", "accepted is 0 or more, beside a --ph");
  }
  const auto ways = request.eh_given->count() + request.potential_given->count() +
                    request.oxygen_given->count() + (request.conserved ? 1U : 0U);
  if (ways != 1) {
    throw UsageError(
        "--eh, --potential, --oxygen, --conserved",
        std::to_string(ways) +
            " given; accepted is exactly one: the potential, the oxygen of the air, or electrons "
            "kept as weighed in");
  }
  if (!request.electrode.empty() && request.potential_given->count() == 0) {
    throw UsageError("--electrode",
                     "is given without --potential; accepted is an electrode beside a "
                     "potential as read");
  }
  if (request.seed_given->count() > 0 && request.draws_given->count() == 0) {
    throw UsageError("--seed", "is given without --draws; accepted is a seed beside draws");
  }
  for (const std::string& name : request.left_out) {
    if (name == "H2O" || name == "H(+)")
      throw InputError("--leave-out", name,
                       "a species or solid other than H2O and H(+), which every water holds");
  }
}

void run(const Request& request, Context& context) {
  check(request);
  const auto dataset = context.dataset();
  Speciation water = speciation_of(
      solve(analyse(analysis_of(request), *dataset, options_of(request)), dataset), *dataset);
  const EquilibriumResult& result = water.solved.result;
  if (request.draws_given->count() > 0)
    water.ranges = ranges_of(water.solved, dataset, {request.draws, request.seed});
  if (context.json) {
    context.out << to_json(water, *dataset);
  } else {
    context.out << speciation_text(water.solved, *dataset);
    if (water.ranges && result.status == Status::converged)
      context.out << ranges_text(*water.ranges, water, *dataset);
  }
  if (result.status == Status::converged && result.certificate.holds()) return;
  context.err << "aeruca: " << result.message << '\n';
  context.exit_code = kNoAnswer;
}

}  // namespace

void add_speciate(Command& app, Context& context) {
  auto request = std::make_shared<Request>();
  Command* command = app.add_subcommand(
      "speciate", "What a water holds: dissolved species, solids that form, gases");
  command
      ->add_option("--total", request->totals,
                   "ion or other ingredient and its amount, such as \"Cu(2+)=1e-3\" (mol/kg), "
                   "\"chloride=640 mg/L\" or \"sulfate=2 mmol/L\"; repeatable")
      ->repeatable();
  command->add_option("--alkalinity", request->alkalinity,
                      "as titrated, such as \"310 mg/L\" (as HCO3), \"5 mmol/L\" or \"250 mg/L as "
                      "CaCO3\"; the carbonate follows from it");
  request->ph_given = command->add_option("--ph", request->ph, "pH, -2 to 16");
  request->ph_uncertainty_given =
      command->add_option("--ph-uncertainty", request->ph_uncertainty,
                          "one standard uncertainty of a measured pH; left out: 0.1");
  command->add_flag("--charge-balance", request->charge_balance,
                    "let the pH follow from the charge balance");
  request->eh_given = command->add_option("--eh", request->eh_v,
                                          "potential, V against the standard hydrogen electrode");
  request->potential_given = command->add_option("--potential", request->potential_mv,
                                                 "potential as read, mV, against --electrode");
  request->potential_uncertainty_given =
      command->add_option("--potential-uncertainty", request->potential_uncertainty_mv,
                          "one standard uncertainty of a measured potential, mV; left out: 20");
  command->add_option("--electrode", request->electrode,
                      "reference electrode of --potential, such as ag-agcl-3m; left out: hydrogen");
  request->oxygen_given =
      command->add_option("--oxygen", request->oxygen_bar, "fugacity of oxygen, bar (air: 0.21)");
  command->add_flag("--conserved", request->conserved,
                    "electrons as weighed in: give copper by valence (Cu(+), Cu(2+), copper) and "
                    "oxygen as O2(aq)");
  command->add_flag("--several-starts", request->several_starts,
                    "seek the answer from four starts and tell whether another was found: an "
                    "activity model far outside its range, or a hydrate, may have two");
  command
      ->add_option("--gas", request->gases,
                   "gas held at a fugacity in bar, such as \"CO2(g)=4.2e-4\"; repeatable")
      ->repeatable();
  request->density_given = command->add_option(
      "--density", request->density, "kg/L of the water as analysed, for amounts per litre");
  request->conductivity_given =
      command->add_option("--conductivity", request->conductivity,
                          "uS/cm at 25 degrees C, to be compared with the ions found");
  command->add_option("--assign-charge", request->assign_charge,
                      "ion that takes up the imbalance of charge, such as sodium");
  command->add_option("--solids", request->solids,
                      "solids allowed to form: all, none (the default), or names joined by commas");
  command->add_option("--leave-out", request->left_out, "species or solid left out; repeatable")
      ->repeatable();
  command
      ->add_option("--inert", request->inert,
                   "ion counted without its acid or base, where the data set (that of "
                   "--data) has no constant for it; repeatable")
      ->repeatable();
  command->add_option("--model", request->model, "activity model: ideal, dilute, sit or pitzer");
  command->add_option("--temperature", request->temperature_c, "degrees C, 0 to 50");
  command->add_option("--missing-enthalpy", request->missing_enthalpy, kMissingEnthalpyHelp);
  request->draws_given = command->add_option(
      "--draws", request->draws,
      "draw the constants so many times (100 to 100000) and tell the ranges that follow, how "
      "probable each solid is, and which constants carry the doubt");
  request->seed_given = command->add_option("--seed", request->seed, "of the draws; left out: 1");
  command->callback([request, &context] { run(*request, context); });
}

}  // namespace aeruca::cli
