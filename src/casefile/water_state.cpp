#include "casefile/water_state.hpp"

#include <algorithm>
#include <array>

#include "aeruca/water.hpp"
#include "base/text.hpp"

namespace aeruca::detail {
namespace {

struct Ion {
  const char* name;  // as the data set writes it
  const char* words;
  Reading CaseWater::*reading;
};

constexpr std::array<Ion, 9> kIons{{
    {"Cl(-)", "chloride", &CaseWater::chloride},
    {"HCO3(-)", "bicarbonate", &CaseWater::bicarbonate},
    {"SO4(2-)", "sulfate", &CaseWater::sulfate},
    {"NO3(-)", "nitrate", &CaseWater::nitrate},
    {"Na(+)", "sodium", &CaseWater::sodium},
    {"K(+)", "potassium", &CaseWater::potassium},
    {"Ca(2+)", "calcium", &CaseWater::calcium},
    {"Mg(2+)", "magnesium", &CaseWater::magnesium},
    {"Cu(2+)", "copper", &CaseWater::copper},
}};

// Relative standard uncertainty where the laboratory states none.
constexpr double kUsualRelative = 0.05;
constexpr double kUsualPh = 0.1;

double shifted(const Reading& reading, double shift) {
  const double uncertainty =
      std::isnan(reading.uncertainty) ? kUsualRelative * reading.value : reading.uncertainty;
  return std::max(0.0, reading.value + shift * uncertainty);
}

double shift_of(const Ion& ion, const WaterShift& shift) {
  const std::string_view name = ion.words;
  if (name == "chloride") return shift.chloride;
  return name == "copper" ? shift.copper : 0.0;
}

// mg/L to mol per kg of water: one litre is taken to hold the mass of a litre of pure water, which
// is right to 0.1 % for fresh water and 1.2 % too dilute for sea water.
double molality(const Dataset& dataset, const std::string& ion, double mg_per_l,
                double temperature_c) {
  return mg_per_l / dataset.at(ion).molar_mass_g_per_mol / density_kg_per_m3(temperature_c);
}

struct Question {
  EquilibriumOptions options;
  EquilibriumInput input;
};

// Ions below their detection limit count as absent, but copper at its limit: saturation is then "at
// most".
void add_ions(const CaseWater& water, const WaterShift& shift, const Dataset& dataset,
              Question& question, WaterState& state) {
  for (const Ion& ion : kIons) {
    const Reading& reading = water.*(ion.reading);
    if (!reading.given()) state.absent.emplace_back(ion.words);
    const bool copper = std::string_view(ion.words) == "copper";
    if (copper && !state.potential.known) continue;
    double mg_per_l = reading.detected() ? shifted(reading, shift_of(ion, shift)) : 0.0;
    if (copper && !std::isnan(reading.below)) {
      mg_per_l = reading.below;
      state.copper_is_limit = true;
    }
    if (!(mg_per_l > 0) || !dataset.contains(ion.name)) continue;
    state.has_copper = state.has_copper || copper;
    const std::string component = std::string_view(ion.name) == "HCO3(-)" ? "CO3(2-)" : ion.name;
    question.options.components.push_back(component);
    question.input.totals_mol_per_kg[ion.name] =
        molality(dataset, ion.name, mg_per_l, water.temperature_c);
  }
}

double coefficient(const Dataset& dataset, const Species& species, std::string_view component) {
  return species.components[dataset.component_index(component)];
}

// Alkalinity carried by carbonate: 2 for each CO3(2-) less 1 for each proton on it.
double carbonate_alkalinity(const Dataset& dataset, const EquilibriumResult& result) {
  double alkalinity = 0;
  for (std::size_t i = 0; i < result.species.size(); ++i) {
    const Species& species = dataset.at(result.species[i]);
    const double carbonate = coefficient(dataset, species, "CO3(2-)");
    if (carbonate > 0) {
      alkalinity += result.molality[i] * (2 * carbonate - coefficient(dataset, species, "H(+)"));
    }
  }
  return alkalinity;
}

// What carbon dioxide under pressure could hold at most; beyond it pH and bicarbonate contradict
// each other.
constexpr double kMostCarbonate = 2;

// A laboratory's bicarbonate is a titration: the total carbonate is raised until its alkalinity
// agrees.
EquilibriumResult solve_to_alkalinity(const Question& question, const DatasetPointer& dataset) {
  const Equilibrium system(dataset, question.options);
  EquilibriumInput input = question.input;
  EquilibriumResult result = system.solve(input);
  const auto measured = question.input.totals_mol_per_kg.find("HCO3(-)");
  if (measured == question.input.totals_mol_per_kg.end()) return result;
  constexpr int kRounds = 30;
  for (int round = 0; round < kRounds && result.status == Status::converged; ++round) {
    const double ratio = measured->second / carbonate_alkalinity(*dataset, result);
    if (std::abs(ratio - 1) < 1e-9) break;
    double& total = input.totals_mol_per_kg["HCO3(-)"];
    total *= ratio;
    if (total > kMostCarbonate) {
      result.status = Status::infeasible;
      result.message = "bicarbonate as given cannot be at this pH: it would ask for more than " +
                       format_number(kMostCarbonate) + " mol/kg of carbon dioxide";
      return result;
    }
    result = system.solve(input);
  }
  return result;
}

double charge_error_percent(const Dataset& dataset, const EquilibriumResult& result) {
  double cations = 0;
  double anions = 0;
  for (std::size_t i = 0; i < result.species.size(); ++i) {
    const double charge = dataset.at(result.species[i]).charge * result.molality[i];
    (charge > 0 ? cations : anions) += std::abs(charge);
  }
  return 100 * (cations - anions) / (cations + anions);
}

}  // namespace

Potential potential_of(const CaseFile& file, const CaseWater& water, const std::string& key,
                       const Dataset& dataset) {
  Potential potential;
  potential.known = water.aerated || !std::isnan(water.eh_mv);
  if (water.aerated)
    potential.said = "open to air: 0.21 bar of oxygen in place of a measured potential";
  if (std::isnan(water.eh_mv)) return potential;
  potential.eh_v = water.eh_mv / 1000;
  potential.uncertainty_v =
      std::isnan(water.eh_uncertainty_mv) ? 0.02 : water.eh_uncertainty_mv / 1000;
  potential.said = format_number(water.eh_mv) + " mV against hydrogen";
  if (water.reference_electrode.empty()) return potential;
  std::vector<std::string> known;
  for (const Figure& figure : dataset.figures) {
    if (figure.quantity != kElectrodeQuantity) continue;
    known.push_back(figure.id);
    if (figure.id != water.reference_electrode) continue;
    potential.eh_v += figure.value;
    // The electrodes drift by up to 1 mV per K away from 25 degrees C (saturated silver chloride).
    const double drift_v = 0.001 * std::abs(water.temperature_c - 25);
    potential.uncertainty_v =
        std::hypot(potential.uncertainty_v, std::hypot(figure.uncertainty, drift_v));
    potential.figure = figure.id;
    potential.said = format_number(water.eh_mv) + " mV against " + figure.subject +
                     ", which stands " + format_number(figure.value) + " V above hydrogen";
    if (drift_v > 0) {
      potential.said += "; the electrode's value of 25 degrees C is used at " +
                        format_number(water.temperature_c) +
                        ", with up to 1 mV/K in the uncertainty";
    }
    return potential;
  }
  refuse_name(file, key + ".reference_electrode", water.reference_electrode, known);
}

WaterState solve_water(const CaseWater& water, const Potential& potential,
                       const DatasetPointer& dataset, const WaterShift& shift) {
  WaterState state;
  state.potential = potential;
  state.temperature_c = water.temperature_c;
  Question question;
  question.options.temperature_c = water.temperature_c;
  question.options.missing_enthalpy = MissingEnthalpy::keep_25c;
  question.options.redox = water.aerated ? Redox::oxygen : Redox::eh;
  const double ph_uncertainty = std::isnan(water.ph.uncertainty) ? kUsualPh : water.ph.uncertainty;
  question.input.ph = water.ph.value + shift.ph * ph_uncertainty;
  if (!std::isnan(potential.eh_v))
    question.input.eh_v = potential.eh_v + shift.eh * potential.uncertainty_v;
  add_ions(water, shift, *dataset, question, state);
  state.result = solve_to_alkalinity(question, dataset);
  if (water.aerated) state.potential.eh_v = state.result.eh_v;
  state.charge_error_percent = charge_error_percent(*dataset, state.result);
  return state;
}

}  // namespace aeruca::detail
