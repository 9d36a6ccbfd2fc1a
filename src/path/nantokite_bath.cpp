// What baths make of nantokite, shut off from air and open to it, with every solid and without those
// that were not observed.

#include <algorithm>
#include <cmath>

#include "aeruca/ready_paths.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "path/bath_ions.hpp"

namespace aeruca {
namespace {

using detail::format_number;
using detail::say;
using DatasetPointer = std::shared_ptr<const Dataset>;
using Totals = std::map<std::string, double>;

constexpr double kAirOxygenBar = 0.2095;

// A bath by the ions it brings; hydroxide follows from the charge.
struct Bath {
  std::string name;
  double mol_per_l;
  Totals ions;
  double temperature_c = 25;
};

std::vector<Bath> baths() {
  std::vector<Bath> all{{"water", 0, {}, 25}};
  const auto carbonate = [&](const std::string& name, double c, double sodium, double carbon) {
    all.push_back({name, c, {{"Na(+)", sodium * c}, {"CO3(2-)", carbon * c}}, 25});
  };
  carbonate("sodium sesquicarbonate", 0.0442, 3, 2);  // 1 % w/v
  carbonate("sodium sesquicarbonate", 0.221, 3, 2);   // 5 % w/v
  carbonate("sodium carbonate", 0.0943, 2, 1);        // 1 % w/v of Na2CO3
  carbonate("sodium carbonate", 0.472, 2, 1);         // 5 % w/v
  for (const double c : {0.01, 0.1, 0.2, 0.5})
    all.push_back({"sodium hydroxide", c, {{"Na(+)", c}}, 25});
  return all;
}

enum class Solids { all, observed };

std::vector<std::string> not_observed() {
  return {"tenorite", "spertiniite"};
}

EquilibriumResult solved(const DatasetPointer& dataset, const Bath& bath, double nantokite,
                         AirContact air, Solids solids) {
  EquilibriumOptions options;
  const bool open = air == AirContact::open;
  options.temperature_c = bath.temperature_c;
  options.redox = open ? Redox::oxygen : Redox::conserved;
  options.acidity = Acidity::charge_balance;
  options.precipitation = Precipitation::allowed;
  options.components = {"Cu(2+)", "Cl(-)", "Na(+)"};
  if (detail::holds_carbonate(bath.ions)) options.components.emplace_back("CO3(2-)");
  if (solids == Solids::observed) options.left_out = not_observed();
  EquilibriumInput input;
  input.totals_mol_per_kg = bath.ions;
  input.totals_mol_per_kg["nantokite"] = nantokite;
  if (open) input.oxygen_bar = kAirOxygenBar;
  return Equilibrium(dataset, options).solve(input);
}

double in_one(const Dataset& dataset, const std::string& solid, const char* component) {
  return dataset.at(solid).components[dataset.component_index(component)];
}

void read_answer(const Dataset& dataset, const EquilibriumResult& result, double nantokite,
                 NantokiteBath& row) {
  row.ph = result.ph;
  std::vector<std::pair<double, std::string>> copper;
  double locked = 0;
  double kept = 0;
  for (const auto& [solid, amount] : result.formed()) {
    copper.emplace_back(amount * in_one(dataset, solid, "Cu(2+)"), solid);
    const double chloride = amount * in_one(dataset, solid, "Cl(-)");
    (solid == "nantokite" ? kept : locked) += chloride;
  }
  std::sort(copper.rbegin(), copper.rend());
  for (const auto& [amount, solid] : copper) row.solids.push_back(solid);
  row.locked_percent = 100 * locked / nantokite;
  row.kept_percent = 100 * kept / nantokite;
  row.released_percent = 100 - row.locked_percent - row.kept_percent;
}

NantokiteBath row_of(const DatasetPointer& dataset, const Bath& bath, double nantokite,
                     AirContact air, Solids solids) {
  const EquilibriumResult result = solved(dataset, bath, nantokite, air, solids);
  NantokiteBath row;
  row.bath = bath.name;
  row.mol_per_l = bath.mol_per_l;
  row.air = air;
  if (solids == Solids::observed) row.solids_left_out = detail::join(not_observed(), ", ");
  row.status = result.status;
  row.message = result.message;
  if (result.status != Status::converged) return row;
  read_answer(*dataset, result, nantokite, row);
  row.chloride_mg_per_l =
      row.released_percent / 100 * nantokite * dataset->at("Cl(-)").molar_mass_g_per_mol * 1000;
  return row;
}

std::vector<NantokiteBath> rows_of(const DatasetPointer& dataset, const Bath& bath,
                                   double nantokite) {
  return {row_of(dataset, bath, nantokite, AirContact::shut_out, Solids::all),
          row_of(dataset, bath, nantokite, AirContact::open, Solids::all),
          row_of(dataset, bath, nantokite, AirContact::open, Solids::observed)};
}

double mol_of(const Dataset& dataset, double nantokite_g_per_l) {
  if (!(nantokite_g_per_l >= 0.001 && nantokite_g_per_l <= 10))
    throw InputError("nantokite_g_per_l", nantokite_g_per_l, "0.001 to 10 g/L");
  return nantokite_g_per_l / dataset.at("nantokite").molar_mass_g_per_mol;
}

void add_words(NantokiteInBaths& all) {
  all.read = {
      say("path.nantokite_bath.shut"), say("path.nantokite_bath.base"),
      say("path.nantokite_bath.observed", {{"low", format_number(all.observed_low_percent, 2)},
                                           {"high", format_number(all.observed_high_percent, 2)}}),
      say("path.nantokite_bath.reading", {{"all_mg_per_l", format_number(all.all_mg_per_l, 4)},
                                          {"g_per_l", format_number(all.nantokite_g_per_l, 3)}})};
  all.left_out = {say("path.left_out.kinetics"), say("path.nantokite_bath.left_out.sodium"),
                  say("path.nantokite_bath.left_out.object")};
}

}  // namespace

std::string_view to_string(AirContact air) {
  return air == AirContact::open ? "open" : "shut out";
}

NantokiteInBaths nantokite_in_baths(const DatasetPointer& dataset, double nantokite_g_per_l) {
  const double nantokite = mol_of(*dataset, nantokite_g_per_l);
  NantokiteInBaths all;
  all.nantokite_g_per_l = nantokite_g_per_l;
  all.all_mg_per_l = nantokite * dataset->at("Cl(-)").molar_mass_g_per_mol * 1000;
  all.observed_low_percent = dataset->figure("nantokite-in-hydroxide.released-low").value;
  all.observed_high_percent = dataset->figure("nantokite-in-hydroxide.released-high").value;
  for (const Bath& bath : baths()) {
    for (const NantokiteBath& row : rows_of(dataset, bath, nantokite)) all.baths.push_back(row);
  }
  add_words(all);
  return all;
}

std::vector<NantokiteBath> nantokite_in_bath(const DatasetPointer& dataset,
                                             const NantokiteBathRequest& request) {
  const double nantokite = mol_of(*dataset, request.nantokite_g_per_l);
  const Bath bath{request.salt, request.mol_per_l,
                  detail::bath_ions(*dataset, request.salt, request.mol_per_l),
                  request.temperature_c};
  return rows_of(dataset, bath, nantokite);
}

}  // namespace aeruca
