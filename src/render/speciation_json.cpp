#include "aeruca/render.hpp"
#include "render/describe_analysis.hpp"
#include "render/describe_ranges.hpp"
#include "render/json.hpp"

namespace aeruca {
namespace {

using detail::Json;
using detail::json_of;

// Every dissolved species of the data set, so that the keys are those of any water; null where the
// ingredients are not there.
Json every_species(const Json& found, const Dataset& dataset) {
  Json all = Json::object();
  for (const Species& species : dataset.species) {
    if (species.kind == PhaseKind::aqueous && std::isfinite(species.log10_k))
      all[species.name] = {
          {"molality_mol_per_kg", 0.0}, {"log10_molality", nullptr}, {"log10_activity", nullptr}};
  }
  all.update(found);
  return all;
}

Json needs_of(const std::vector<SolidNeed>& solids) {
  Json all = Json::object();
  for (const SolidNeed& solid : solids) {
    if (!solid.needs.empty()) all[solid.name] = json_of(solid.needs);
  }
  return all;
}

}  // namespace

std::string to_json(const Speciation& speciation, const Dataset& dataset) {
  const EquilibriumResult& result = speciation.solved.result;
  Json json = json_of(result);
  json.update(json_of(speciation));
  if (result.status == Status::converged && result.certificate.holds()) {
    json["species"] = every_species(json["species"], dataset);
    json["needs"] = needs_of(speciation.solids);
    if (speciation.ranges) json["ranges"] = json_of(*speciation.ranges);
  } else {
    Json said = Json::object();
    for (const char* key : {"status", "message", "activity_model", "temperature_c", "certificate",
                            "warnings", "remarks", "estimated_heats", "figures"})
      said[key] = json[key];
    json = std::move(said);
  }
  json["data_set"] = detail::data_set_json(dataset);
  return detail::document_text(json);
}

}  // namespace aeruca
