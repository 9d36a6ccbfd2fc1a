// From the readings of an analysis to the options and totals of a solver.

#include <algorithm>
#include <array>
#include <cmath>

#include "analysis/amount.hpp"
#include "analysis/composition.hpp"
#include "analysis/words.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca {
namespace {

using namespace detail;

// What a usual analysis holds; one that is not given is said and taken as absent.
constexpr std::array<const char*, 9> kMajor{"Cl(-)", "HCO3(-)", "SO4(2-)", "NO3(-)", "Na(+)",
                                            "K(+)",  "Ca(2+)",  "Mg(2+)",  "Cu(2+)"};

constexpr double kNominalEh = 0.4;  // V; stands where nothing that is left depends on it

const char* const kCarbonDioxide = "CO2(g)";

bool holds(const Dataset& dataset, const std::string& species, std::string_view component) {
  return held_of(dataset, dataset.at(species), component) != 0;
}

// Of carbonate, water and protons alone: nothing but a total of carbonate.
bool only_carbonate(const Dataset& dataset, const std::string& name) {
  const Species& species = dataset.at(name);
  for (std::size_t j = 0; j < dataset.components.size(); ++j) {
    const std::string& component = dataset.components[j];
    const bool water = component == "H2O" || component == "H(+)";
    if (species.components[j] != 0 && !water && component != "CO3(2-)") return false;
  }
  return holds(dataset, name, "CO3(2-)");
}

// The acid taken by carbonate in a laboratory's words, which titrates it; by the name of the data
// set it is a total, and takes none here.
double acid_taken_by(std::string_view written, const std::string& name) {
  if (trim(written) == name) return 0;
  if (name == "CO3(2-)") return 2;
  return name == "HCO3(-)" ? 1 : 0;
}

class Analyst {
 public:
  Analyst(const WaterAnalysis& analysis, const Dataset& dataset, EquilibriumOptions options)
      : analysis_(analysis), dataset_(dataset) {
    water_.options = std::move(options);
    water_.options.temperature_c = analysis.temperature_c;
    water_.analysis = analysis;
  }

  AnalysedWater done() {
    check();
    set_acidity();
    set_redox();
    for (const AnalysedIon& ion : analysis_.ions) take(ion);
    take_alkalinity();
    set_totals();
    hold_gases();
    set_charge();
    set_components();
    name_missing();
    return std::move(water_);
  }

 private:
  // A total before litres are known.
  struct Total {
    std::string name;  // empty: the alkalinity
    Told told;
  };

  void check() const {
    const double t = analysis_.temperature_c;
    if (!(t >= 0 && t <= 50)) throw InputError("temperature_c", t, "0 to 50 degrees C");
    if (analysis_.density_kg_per_l &&
        !(*analysis_.density_kg_per_l >= 0.9 && *analysis_.density_kg_per_l <= 2.5)) {
      throw InputError("density_kg_per_l", *analysis_.density_kg_per_l, "0.9 to 2.5 kg/L");
    }
    if (analysis_.potential_uncertainty_mv && !(*analysis_.potential_uncertainty_mv >= 0)) {
      throw InputError("potential_uncertainty_mv", *analysis_.potential_uncertainty_mv,
                       "0 mV or more");
    }
    if (analysis_.conductivity_us_per_cm && !(*analysis_.conductivity_us_per_cm > 0)) {
      throw InputError("conductivity_us_per_cm", *analysis_.conductivity_us_per_cm,
                       "above 0 uS/cm");
    }
  }

  void set_acidity() {
    if (water_.options.acidity == Acidity::charge_balance) {
      if (analysis_.ph.given())
        throw InputError("ph", to_string(analysis_.ph), "no pH where it follows from the charge");
      return;
    }
    if (!analysis_.ph.detected()) throw InputError("ph", to_string(analysis_.ph), "-2 to 16");
    water_.input.ph = analysis_.ph.value;
  }

  void set_redox() {
    if (!analysis_.potential_mv && !analysis_.reference_electrode.empty()) {
      throw InputError("reference_electrode", analysis_.reference_electrode,
                       "a reference electrode beside a potential only");
    }
    if (!analysis_.potential_mv && analysis_.potential_uncertainty_mv) {
      throw InputError("potential_uncertainty_mv", *analysis_.potential_uncertainty_mv,
                       "an uncertainty beside a potential only");
    }
    if (analysis_.potential_mv && analysis_.oxygen_bar) {
      throw InputError("oxygen_bar", *analysis_.oxygen_bar, "either a potential or oxygen held");
    }
    if (water_.options.redox == Redox::conserved) {
      if (analysis_.potential_mv || analysis_.oxygen_bar)
        throw InputError("redox", "conserved", "no potential and no oxygen beside it");
      return;
    }
    water_.options.redox = analysis_.oxygen_bar ? Redox::oxygen : Redox::eh;
    if (analysis_.oxygen_bar) water_.input.oxygen_bar = *analysis_.oxygen_bar;
    if (analysis_.oxygen_bar) return;
    water_.input.eh_v = kNominalEh;
    if (!analysis_.potential_mv) return;
    water_.potential = hydrogen_potential(analysis_, dataset_);
    water_.input.eh_v = water_.potential->eh_v;
    if (!water_.potential->figure.empty()) water_.figures.push_back(water_.potential->figure);
  }

  bool electrons_known() const {
    return water_.options.redox != Redox::eh || water_.potential.has_value();
  }

  // Whether water and protons alone make a form of the component that has other electrons, as Cu(+)
  // of Cu(2+).
  bool changes_valence(std::size_t component) const {
    return std::any_of(
        dataset_.species.begin(), dataset_.species.end(), [&](const Species& species) {
          if (species.components[component] == 0 || held_of(dataset_, species, "e(-)") == 0)
            return false;
          for (std::size_t j = 0; j < dataset_.components.size(); ++j) {
            if (j != component && species.components[j] != 0 &&
                !is_water_component(dataset_.components[j]))
              return false;
          }
          return true;
        });
  }

  bool depends_on_potential(const std::string& name) const {
    const Species& species = dataset_.at(name);
    for (std::size_t j = 0; j < dataset_.components.size(); ++j) {
      if (species.components[j] != 0 && !is_water_component(dataset_.components[j]) &&
          changes_valence(j))
        return true;
    }
    return false;
  }

  // What counts as found: below its limit an ion is absent, but copper is taken at it, for then an
  // index is "at most".
  double counted(const Amount& amount, const std::string& name) {
    if (amount.reading.detected()) return amount.reading.value;
    if (holds(dataset_, name, "Cu(2+)")) {
      water_.at_limit.push_back(name);
      return amount.reading.below;
    }
    water_.below_limit.push_back(name);
    return 0;
  }

  std::string name_of(const AnalysedIon& ion) const {
    // With electrons as weighed in, copper is the metal: `Cu(+)` and `Cu(2+)` are named apart.
    if (water_.options.redox == Redox::conserved && dataset_.contains(ion.name)) return ion.name;
    return ingredient_named(ion.name, dataset_);
  }

  void take(const AnalysedIon& ion) {
    const std::string name = name_of(ion);
    const double acid = acid_taken_by(ion.name, name);
    if (std::find(given_.begin(), given_.end(), name) != given_.end())
      throw InputError(ion.name, "given twice", "each ion once");
    given_.push_back(name);
    if (!ion.amount.reading.given())
      throw InputError(ion.name, "not given", "an amount such as 640 mg/L");
    if (!electrons_known() && depends_on_potential(name)) {
      water_.set_aside.push_back(name);
      return;
    }
    const double value = counted(ion.amount, name);
    Told told = told_of(value, ion.amount.unit, dataset_.at(name), ion.name);
    if (!ion.amount.reading.detected() && value == 0) return;
    if (acid > 0) {
      told.mol *= acid;
      add_alkalinity(told, ion.name);
      return;
    }
    totals_.push_back({name, told});
  }

  void add_alkalinity(const Told& told, const std::string& word) {
    if (analysis_.alkalinity.reading.given()) {
      throw InputError(word, "given beside alkalinity",
                       "either the alkalinity or the ions worked out from it");
    }
    totals_.push_back({"", told});
  }

  void take_alkalinity() {
    const Amount& alkalinity = analysis_.alkalinity;
    if (!alkalinity.reading.given()) return;
    if (!alkalinity.reading.detected()) {
      water_.below_limit.emplace_back("alkalinity");
      return;
    }
    totals_.push_back({"", alkalinity_told(alkalinity.reading.value, alkalinity.unit, dataset_)});
  }

  void set_totals() {
    std::vector<Told> amounts;
    bool litres = false;
    for (const Total& total : totals_) {
      amounts.push_back(total.told);
      litres = litres || total.told.per == Per::litre;
    }
    if (analysis_.density_kg_per_l && !litres) {
      throw InputError("density_kg_per_l", *analysis_.density_kg_per_l,
                       "a density beside amounts per litre only");
    }
    const WaterContent content = water_content(amounts, analysis_);
    for (const Total& total : totals_) {
      const double mol = molality(total.told, content);
      if (total.name.empty()) {
        water_.alkalinity_mol_per_kg = water_.alkalinity_mol_per_kg.value_or(0) + mol;
      } else {
        water_.input.totals_mol_per_kg[total.name] += mol;
      }
    }
    if (litres) say_litres(content);
    start_carbonate();
  }

  void say_litres(const WaterContent& content) {
    water_.water_kg_per_l = content.kg_per_l;
    water_.assumed.push_back(
        say(analysis_.density_kg_per_l ? "analysis.litre.by_density" : "analysis.litre.taken",
            {{"kg", format_number(content.kg_per_l, 4)}}));
  }

  // With CO2(g) held the carbonate follows from it and the titration is compared; without, the
  // titration is where the search begins.
  void start_carbonate() {
    const bool held = analysis_.held_gas_bar.contains(kCarbonDioxide);
    for (const auto& [name, total] : water_.input.totals_mol_per_kg) {
      if (!only_carbonate(dataset_, name) || !(total > 0)) continue;
      if (held)
        throw InputError(name, format_number(total), "either a total carbonate or CO2(g) held");
      if (water_.alkalinity_mol_per_kg)
        throw InputError(name, format_number(total),
                         "either a total carbonate or an alkalinity as titrated");
      water_.assumed.push_back(say("analysis.total_carbonate", {{"ion", name}}));
    }
    if (!water_.alkalinity_mol_per_kg || held || !(*water_.alkalinity_mol_per_kg > 0)) return;
    if (water_.options.acidity == Acidity::charge_balance) {
      throw InputError("alkalinity", format_number(*water_.alkalinity_mol_per_kg),
                       "an alkalinity with the pH given or CO2(g) held, for the charge balance "
                       "alone does not say how much carbonate there is");
    }
    water_.input.totals_mol_per_kg["HCO3(-)"] = *water_.alkalinity_mol_per_kg;
  }

  void hold_gases() { water_.input.fugacity_bar = analysis_.held_gas_bar; }

  void add_components(const std::string& name) {
    const Species& species = dataset_.at(name);
    std::vector<std::string>& all = water_.options.components;
    for (std::size_t j = 0; j < dataset_.components.size(); ++j) {
      const std::string& component = dataset_.components[j];
      if (species.components[j] != 0 && std::find(all.begin(), all.end(), component) == all.end())
        all.push_back(component);
    }
  }

  // Only what is there, so that nothing absent is asked for its constants. H(+) stands for "none":
  // an empty list means all.
  void set_components() {
    if (!water_.options.components.empty()) return;
    water_.options.components.emplace_back("H(+)");
    for (const auto& [name, total] : water_.input.totals_mol_per_kg) add_components(name);
    for (const auto& [gas, bar] : water_.input.fugacity_bar) add_components(gas);
    if (!water_.charge_assigned_to.empty()) add_components(water_.charge_assigned_to);
  }

  // An ion whose amount is open: not water's own, not decided by a titration or a gas, and of a
  // form that is known.
  bool may_take_charge(const std::string& name) const {
    const bool decided =
        water_.alkalinity_mol_per_kg || water_.input.fugacity_bar.contains(kCarbonDioxide);
    if (dataset_.at(name).charge == 0 || (decided && only_carbonate(dataset_, name))) return false;
    if (!electrons_known() && depends_on_potential(name)) return false;
    return std::any_of(dataset_.components.begin(), dataset_.components.end(),
                       [&](const std::string& component) {
                         return !is_water_component(component) && holds(dataset_, name, component);
                       });
  }

  void set_charge() {
    if (analysis_.charge_assigned_to.empty()) return;
    const std::string name = ingredient_named(analysis_.charge_assigned_to, dataset_);
    if (water_.options.acidity == Acidity::charge_balance || !may_take_charge(name)) {
      throw InputError("charge_assigned_to", analysis_.charge_assigned_to,
                       "an ion such as sodium or chloride, where the pH is given and nothing else "
                       "decides its amount");
    }
    water_.charge_assigned_to = name;
  }

  void name_missing() {
    for (const char* name : kMajor) {
      if (!dataset_.contains(name)) continue;
      const bool carbonate = std::string_view(name) == "HCO3(-)";
      const bool given = std::find(given_.begin(), given_.end(), name) != given_.end() ||
                         (carbonate && (analysis_.alkalinity.reading.given() ||
                                        analysis_.held_gas_bar.contains(kCarbonDioxide)));
      if (!given) water_.missing.push_back(ion_word(dataset_.at(name)));
    }
  }

  const WaterAnalysis& analysis_;
  const Dataset& dataset_;
  AnalysedWater water_;
  std::vector<Total> totals_;
  std::vector<std::string> given_;
};

}  // namespace

AnalysedWater analyse(const WaterAnalysis& analysis, const Dataset& dataset,
                      EquilibriumOptions options) {
  return Analyst(analysis, dataset, std::move(options)).done();
}

}  // namespace aeruca
