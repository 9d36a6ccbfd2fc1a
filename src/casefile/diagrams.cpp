#include "casefile/diagrams.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca::detail {
namespace {

// The frame of the report. Activities are held to two decimals, which is what they carry and what
// the conditions beside the picture print.
FieldOptions in_frame(FieldOptions options) {
  for (auto* held : {&options.log10_activity, &options.log10_ligand}) {
    for (auto& [name, value] : *held) value = std::round(100 * value) / 100;
  }

  options.x = {AxisQuantity::ph, "", 2, 12};
  options.y = {AxisQuantity::eh_v, "", -0.6, 1.0};
  return options;
}

}  // namespace

double log10_activity(const EquilibriumResult& result, const std::string& species) {
  const auto found = std::find(result.species.begin(), result.species.end(), species);
  if (found == result.species.end()) return kNotGiven;
  return result.log10_activity[static_cast<std::size_t>(found - result.species.begin())];
}

// Of whichever form of dissolved carbonate predominates; NaN without any.
double log10_carbonate(const EquilibriumResult& result) {
  double most = kNotGiven;
  for (const char* form : {"CO2(aq)", "HCO3(-)", "CO3(2-)"}) {
    const double activity = log10_activity(result, form);
    if (std::isfinite(activity) && !(activity <= most)) most = activity;
  }
  return most;
}

// The plane of pH and Eh at the activities of this water. Carbonate is held in its predominant
// form, so that the fields stay whole when their constants are those of another temperature than
// the water's.
FieldOptions fields_of(const SolvedCaseWater& state, double temperature_c) {
  FieldOptions options;
  options.temperature_c = temperature_c;
  for (const char* ligand : {"Cl(-)", "SO4(2-)"}) {
    const double activity = log10_activity(state.result, ligand);
    if (std::isfinite(activity)) options.log10_activity[ligand] = activity;
  }
  const double carbonate = log10_carbonate(state.result);
  if (!std::isnan(carbonate)) options.log10_ligand["CO3(2-)"] = carbonate;
  return options;
}

CaseWaterPoint point_of(const CaseWater& water, const SolvedCaseWater& state,
                        const std::string& name) {
  CaseWaterPoint point;
  point.name = name;
  point.temperature_c = water.analysis.temperature_c;
  point.ph = state.result.ph;
  if (state.potential.known) {
    point.eh_v = state.potential.eh_v;
    point.eh_uncertainty_v = state.potential.uncertainty_v;
  }
  for (const char* ligand : {"Cl(-)", "SO4(2-)"}) {
    const double activity = log10_activity(state.result, ligand);
    if (std::isfinite(activity)) point.log10_activity[ligand] = activity;
  }
  point.log10_carbonate = log10_carbonate(state.result);
  return point;
}

CaseDiagram diagram_of(const CaseWaterPoint& point, FieldOptions options,
                       const DatasetPointer& dataset) {
  return {point.name,
          field_diagram(dataset, in_frame(std::move(options))),
          point.ph,
          point.eh_v,
          point.eh_uncertainty_v,
          say("diagram.water.note")};
}

// In a pit the liquid is another: strong in chloride, full of copper, cut off from air. What is
// stable there is not what is stable in the water outside.
CaseDiagram pit_diagram(const CasePit& pit, const DatasetPointer& dataset) {
  FieldOptions options;
  options.log10_activity["Cl(-)"] = std::log10(pit.chloride_activity);
  options.log10_copper = std::log10(pit.copper_activity);
  CaseDiagram diagram;
  diagram.name = say("diagram.pit.name");
  diagram.fields = field_diagram(dataset, in_frame(options));
  diagram.note =
      say("diagram.pit.note",
          {{"chloride_activity", format_number(pit.chloride_activity)},
           {"copper_activity", format_number(pit.copper_activity)},
           {"origin", (pit.given ? say("diagram.pit.stated") : say("diagram.pit.assumed"))}});
  return diagram;
}

}  // namespace aeruca::detail
