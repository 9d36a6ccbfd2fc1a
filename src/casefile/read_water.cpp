#include "casefile/read_water.hpp"

#include <array>
#include <utility>

#include "aeruca/bath_chemistry.hpp"

namespace aeruca::detail {
namespace {

constexpr Limits kMilligramsPerLitre{0, 500000};

// How the end of a key says its unit; longer ends first.
constexpr std::array<std::pair<std::string_view, const char*>, 7> kUnitEnds{{
    {"_mg_per_l_as_caco3", "mg/L as CaCO3"},
    {"_mg_per_l", "mg/L"},
    {"_ug_per_l", "ug/L"},
    {"_mmol_per_l", "mmol/L"},
    {"_mg_per_kg", "mg/kg"},
    {"_mmol_per_kg", "mmol/kg"},
    {"_mol_per_kg", "mol/kg"},
}};

void add_reading(Section& section, const std::string& key, const std::string& word,
                 const char* unit, WaterAnalysis& analysis) {
  const Reading reading = section.reading(key, kMilligramsPerLitre);
  if (!reading.given()) return;
  if (word == "alkalinity") {
    if (analysis.alkalinity.reading.given())
      section.refuse(key, "a second alkalinity; accepted is one");
    analysis.alkalinity = {reading, unit};
  } else {
    analysis.ions.push_back({word, {reading, unit}});
  }
}

void read_ions(Section& section, WaterAnalysis& analysis) {
  for (const char* word : {"chloride", "bicarbonate", "sulfate", "nitrate", "sodium", "potassium",
                           "calcium", "magnesium", "copper"}) {
    add_reading(section, std::string(word) + "_mg_per_l", word, "mg/L", analysis);
  }
  for (const std::string& key : section.keys_not_asked()) {
    for (const auto& [end, unit] : kUnitEnds) {
      if (!key.ends_with(end)) continue;
      add_reading(section, key, key.substr(0, key.size() - end.size()), unit, analysis);
      break;
    }
  }
}

std::optional<double> given(double value) {
  return std::isnan(value) ? std::nullopt : std::optional<double>(value);
}

void read_potential(Section& section, WaterAnalysis& analysis) {
  analysis.potential_mv = given(section.number("eh_mv", {-1500, 1500}, kNotGiven));
  analysis.potential_uncertainty_mv =
      given(section.number("eh_uncertainty_mv", {0, 500}, kNotGiven));
  analysis.reference_electrode = section.text("reference_electrode");
  if (section.flag("aerated")) analysis.oxygen_bar = kAirOxygenBar;
  if (analysis.oxygen_bar && analysis.potential_mv) {
    section.refuse("aerated",
                   "true beside eh_mv; accepted is either a measured eh_mv or aerated = true");
  }
  if (analysis.potential_mv) return;
  const std::string beside = "given without a reading; accepted is ";
  if (!analysis.reference_electrode.empty())
    section.refuse("reference_electrode", beside + "a reference_electrode beside eh_mv");
  if (analysis.potential_uncertainty_mv)
    section.refuse("eh_uncertainty_mv", beside + "an eh_uncertainty_mv beside eh_mv");
}

}  // namespace

CaseWater read_water(Section section) {
  CaseWater water;
  WaterAnalysis& analysis = water.analysis;
  water.name = section.text("name");
  analysis.temperature_c = section.number("temperature_c", {0, 50}, 25);
  analysis.ph = section.reading("ph", {0, 14});
  read_potential(section, analysis);
  const auto dioxide = given(section.number("carbon_dioxide_bar", {1e-6, 1}, kNotGiven));
  if (dioxide) analysis.held_gas_bar["CO2(g)"] = *dioxide;
  analysis.density_kg_per_l = given(section.number("density_kg_per_l", {0.9, 2.5}, kNotGiven));
  analysis.conductivity_us_per_cm =
      given(section.number("conductivity_us_per_cm", {0.01, 1e6}, kNotGiven));
  analysis.charge_assigned_to = section.text("charge_assigned_to");
  read_ions(section, analysis);
  section.finish();
  return water;
}

}  // namespace aeruca::detail
