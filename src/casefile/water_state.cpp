#include "casefile/water_state.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca::detail {
namespace {

// The key of the file that a parameter of an analysis came from: its own name, with a unit behind.
std::string key_of(const CaseFile& file, const std::string& water, const std::string& parameter) {
  const std::string begin = water + "." + parameter;
  for (const auto& [key, line] : file.lines) {
    if (key.starts_with(begin)) return key;
  }
  return water;
}

std::string key_with_value(const CaseFile& file, const std::string& water,
                           const UnknownName& problem) {
  if (problem.kind == "reference electrode") return water + ".reference_electrode";
  const std::string key = key_of(file, water, problem.name);
  return key == water ? water + ".charge_assigned_to" : key;
}

[[noreturn]] void refuse(const CaseFile& file, const std::string& key, const Dataset& dataset,
                         const UnknownName& problem) {
  const bool electrode = problem.kind == "reference electrode";
  refuse_name(file, key_with_value(file, key, problem), problem.name,
              electrode ? reference_electrodes(dataset) : ion_words(dataset));
}

SolvedWater solved(const CaseFile& file, const WaterAnalysis& analysis, const std::string& key,
                   const DatasetPointer& dataset) {
  EquilibriumOptions options;
  options.inert = dataset->without_proton_partner();  // the pH is measured; a warning names them
  try {
    return solve(analyse(analysis, *dataset, options), dataset);
  } catch (const UnknownName& problem) {
    refuse(file, key, *dataset, problem);
  } catch (const InputError& problem) {
    const std::string at = key_of(file, key, problem.parameter);
    const std::string named = at == key ? problem.parameter + " = " : "";
    throw file.fault(at, named + problem.value + "; accepted is " + problem.accepted);
  }
}

Potential potential_of(const SolvedWater& solved) {
  Potential potential;
  const auto& measured = solved.water.potential;
  const bool air = solved.water.options.redox == Redox::oxygen;
  potential.known = air || measured.has_value();
  if (measured) {
    potential.eh_v = measured->eh_v;
    potential.uncertainty_v = measured->uncertainty_v;
    potential.said = measured->said;
  }
  if (air) {
    potential.eh_v = solved.result.eh_v;
    potential.said = say("stable.eh.open_to_air",
                         {{"oxygen_bar", format_number(*solved.water.input.oxygen_bar)}});
  }
  return potential;
}

bool holds(const std::vector<std::string>& names, std::string_view name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

}  // namespace

void check_names(const CaseFile& file, const WaterAnalysis& analysis, const std::string& key,
                 const Dataset& dataset) {
  try {
    if (analysis.potential_mv) static_cast<void>(hydrogen_potential(analysis, dataset));
    for (const AnalysedIon& ion : analysis.ions)
      static_cast<void>(ingredient_named(ion.name, dataset));
  } catch (const UnknownName& problem) {
    refuse(file, key, dataset, problem);
  }
}

SolvedCaseWater solve_water(const CaseFile& file, const WaterAnalysis& analysis,
                            const std::string& key, const DatasetPointer& dataset) {
  SolvedCaseWater state;
  static_cast<SolvedWater&>(state) = solved(file, analysis, key, dataset);
  state.potential = potential_of(state);
  const auto copper = state.water.input.totals_mol_per_kg.find("Cu(2+)");
  state.has_copper = copper != state.water.input.totals_mol_per_kg.end() && copper->second > 0;
  state.copper_is_limit = holds(state.water.at_limit, "Cu(2+)");
  return state;
}

}  // namespace aeruca::detail
