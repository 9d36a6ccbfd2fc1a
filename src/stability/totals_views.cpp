// Views a conservator asks for.

#include <algorithm>

#include "aeruca/errors.hpp"
#include "aeruca/totals_fields.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca {

namespace {

constexpr double kAirOxygenBar = 0.21;
constexpr double kAirCarbonDioxideBar = 4.2e-4;

TotalsView view(std::string name, const ConditionAxis& x, const ConditionAxis& y,
                EquilibriumInput held) {
  TotalsView made;
  made.shows = detail::say("fields.view." + name);
  made.name = std::move(name);
  made.options.x = x;
  made.options.y = y;
  made.options.held = std::move(held);
  return made;
}

// Strong chloride and copper below a crust, the oxygen cut off.
TotalsView pit() {
  EquilibriumInput held;
  held.totals_mol_per_kg = {{"Cu(2+)", 0.3}, {"Cl(-)", 1.0}, {"Na(+)", 0.6}};
  return view("pit", {Condition::ph, "", 0, 9}, {Condition::eh_v, "", -0.4, 0.8}, held);
}

TotalsView chloride() {
  EquilibriumInput held;
  held.totals_mol_per_kg = {{"Cu(2+)", 1e-4}};
  held.oxygen_bar = kAirOxygenBar;
  held.fugacity_bar = {{"CO2(g)", kAirCarbonDioxideBar}};
  return view("chloride", {Condition::ph, "", 4, 9.5}, {Condition::log10_total, "Cl(-)", -6, 0},
              held);
}

TotalsView carbon_dioxide() {
  EquilibriumInput held;
  held.totals_mol_per_kg = {{"Cu(2+)", 1e-3}};
  held.oxygen_bar = kAirOxygenBar;
  held.ph = 7;
  return view("carbon_dioxide", {Condition::log10_fugacity, "CO2(g)", -5, 0},
              {Condition::log10_total, "Cl(-)", -6, 0}, held);
}

// Sodium sesquicarbonate, 5 % w/v (0.22 mol/L), with a little chloride and copper.
TotalsView bath() {
  EquilibriumInput held;
  held.totals_mol_per_kg = {
      {"Cu(2+)", 1e-4}, {"Cl(-)", 1e-3}, {"Na(+)", 0.664}, {"CO3(2-)", 0.442}};
  return view("bath", {Condition::ph, "", 8, 12}, {Condition::eh_v, "", -0.8, 0.6}, held);
}

}  // namespace

const std::vector<TotalsView>& totals_views() {
  static const std::vector<TotalsView> views{pit(), chloride(), carbon_dioxide(), bath()};
  return views;
}

const TotalsView& totals_view(std::string_view name) {
  std::string key(name);
  std::replace(key.begin(), key.end(), ' ', '_');
  std::vector<std::string> known;
  for (const TotalsView& each : totals_views()) {
    if (each.name == key) return each;
    known.push_back(each.name);
  }
  throw UnknownName("view", std::string(name), detail::nearest_name(key, known));
}

}  // namespace aeruca
