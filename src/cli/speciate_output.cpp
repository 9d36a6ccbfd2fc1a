#include "cli/speciate_output.hpp"
#include "render/json_number.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

#include "aeruca/speciation.hpp"

namespace aeruca::cli {
namespace {

using Json = nlohmann::ordered_json;
using detail::number_or_null;

bool answered(const EquilibriumResult& result) {
  return result.status == Status::converged && result.certificate.holds();
}

Json certificate_json(const Certificate& certificate) {
  return {{"holds", certificate.holds()},
          {"mass_balance", certificate.mass_balance},
          {"charge_balance", certificate.charge_balance},
          {"supersaturation", certificate.supersaturation},
          {"smallest_phase", certificate.smallest_phase},
          {"duality_gap", certificate.duality_gap},
          {"activity_error", certificate.activity_error},
          {"stability", certificate.stability},
          {"water_activity", certificate.water_activity},
          {"iterations", certificate.iterations}};
}

// Every dissolved species of the data set, so that the keys are those of any water; null where the
// ingredients are not there.
void species_json(const EquilibriumResult& result, const Dataset& dataset, Json& out) {
  for (const Species& species : dataset.species) {
    if (species.kind == PhaseKind::aqueous && std::isfinite(species.log10_k))
      out[species.name] = {
          {"molality_mol_per_kg", 0.0}, {"log10_molality", nullptr}, {"log10_activity", nullptr}};
  }
  for (std::size_t i = 0; i < result.species.size(); ++i) {
    out[result.species[i]] = {{"molality_mol_per_kg", result.molality[i]},
                              {"log10_molality", number_or_null(result.log10_molality[i])},
                              {"log10_activity", number_or_null(result.log10_activity[i])}};
  }
}

void answer_json(const EquilibriumResult& result, const Dataset& dataset, Json& out) {
  out["ph"] = result.ph;
  out["pe"] = result.pe;
  out["eh_v"] = result.eh_v;
  out["ionic_strength_mol_per_kg"] = result.ionic_strength;
  out["water_activity"] = result.water_activity;
  out["charge_mol_per_kg"] = result.charge_mol_per_kg;
  species_json(result, dataset, out["species"]);
  out["solids_mol_per_kg"] = Json::object();
  for (std::size_t s = 0; s < result.allowed_solids.size(); ++s)
    out["solids_mol_per_kg"][result.allowed_solids[s]] = result.solid_mol_per_kg[s];
  out["saturation_index"] = result.saturation_index;
  for (std::size_t g = 0; g < result.gases.size(); ++g)
    out["log10_fugacity_bar"][result.gases[g]] = number_or_null(result.log10_fugacity[g]);
}

Json shares_json(const EquilibriumResult& result, const Dataset& dataset) {
  Json all = Json::object();
  for (const ElementShares& element : shares_by_element(result, dataset)) {
    Json forms = Json::object();
    for (const ElementForm& form : element.forms) forms[form.name] = form.percent;
    all[element.word] = {
        {"component", element.component}, {"mol_per_kg", element.mol_per_kg}, {"percent", forms}};
  }
  return all;
}

Json needs_json(const EquilibriumResult& result, const Dataset& dataset) {
  Json all = Json::object();
  for (const SolidNeed& need : solid_needs(result, dataset)) {
    Json times = Json::object();
    for (const auto& [ingredient, factor] : need.needs) times[ingredient] = factor;
    if (!times.empty()) all[need.name] = times;
  }
  return all;
}

// What the analysis gave, and how well its readings agree with each other.
void analysis_json(const SolvedWater& solved, Json& out) {
  const AnalysedWater& water = solved.water;
  out["totals_mol_per_kg"] = water.input.totals_mol_per_kg;
  out["charge"] = {{"cations_eq_per_kg", number_or_null(solved.charge.cations)},
                   {"anions_eq_per_kg", number_or_null(solved.charge.anions)},
                   {"error_percent", number_or_null(solved.charge.error_percent)},
                   {"assigned_to", water.charge_assigned_to},
                   {"assigned_mol_per_kg", solved.charge.assigned_mol_per_kg}};
  out["alkalinity_mol_per_kg"] = number_or_null(solved.alkalinity_mol_per_kg);
  out["conductivity"] = {{"us_per_cm", number_or_null(solved.conductivity.us_per_cm)},
                         {"uncounted_percent", solved.conductivity.uncounted_percent},
                         {"said", solved.conductivity.said},
                         {"figures", solved.conductivity.figures}};
  out["saturation_index_uncertainty"] = solved.index_uncertainty;
  out["potential"] = water.potential ? water.potential->said : "";
  out["not_given"] = water.missing;
  out["below_limit"] = water.below_limit;
  out["at_limit"] = water.at_limit;
  out["assumed"] = water.assumed;
}

}  // namespace

void print_speciation_json(const SolvedWater& solved, const Dataset& dataset, std::ostream& out) {
  const EquilibriumResult& result = solved.result;
  const EquilibriumOptions& options = solved.water.options;
  Json json;
  json["status"] = to_string(result.status);
  json["message"] = result.message;
  json["activity_model"] = to_string(options.activity);
  json["temperature_c"] = options.temperature_c;
  json["certificate"] = certificate_json(result.certificate);
  if (answered(result)) {
    answer_json(result, dataset, json);
    json["elements"] = shares_json(result, dataset);
    json["needs"] = needs_json(result, dataset);
    analysis_json(solved, json);
  }
  json["warnings"] = result.warnings;
  json["remarks"] = result.remarks;
  json["figures"] = result.figures;
  json["data_set"] = {{"version", dataset.version}, {"content_hash", dataset.content_hash}};
  out << json.dump(2) << '\n';
}

}  // namespace aeruca::cli
