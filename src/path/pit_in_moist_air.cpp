// Nantokite that humid air reaches: what it draws, frees and locks.

#include <cmath>
#include <numbers>

#include "aeruca/ready_paths.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca {
namespace {

using detail::format_number;
using detail::say;

void check(const PitInMoistAirRequest& request) {
  const auto want = [](const char* parameter, double value, double low, double high) {
    if (!(value >= low && value <= high))
      throw InputError(parameter, value, format_number(low) + " to " + format_number(high));
  };
  want("nantokite_mg", request.nantokite_mg, 1e-6, 1e6);
  want("metal_mg", request.metal_mg, 0, 1e6);
  want("water_g_per_mol", request.water_g_per_mol, 200, 1e6);
}

double molar_mass(const Dataset& dataset, const char* name) {
  return dataset.at(name).molar_mass_g_per_mol;
}

PathResult in_moisture(const std::shared_ptr<const Dataset>& dataset, double nantokite_mol_per_kg,
                       double metal_mol_per_kg) {
  ReactionPath path;
  path.kind = PathKind::aerate;
  path.system.redox = Redox::conserved;
  path.system.acidity = Acidity::charge_balance;
  path.system.precipitation = Precipitation::allowed;
  path.system.components = {"Cu(2+)", "Cl(-)"};
  path.start.totals_mol_per_kg = {{"nantokite", nantokite_mol_per_kg}};
  if (metal_mol_per_kg > 0) path.start.totals_mol_per_kg["copper"] = metal_mol_per_kg;
  path.gas = "O2(g)";
  path.gas_bar = 0.2095;
  return follow_path(dataset, path);
}

// Eq 1 of the header, for n mol of nantokite.
void by_equation(const Dataset& dataset, double n, PitInMoistAir& air) {
  air.oxygen_ug_per_mg =
      1000 * molar_mass(dataset, "O2(g)") / (4 * molar_mass(dataset, "nantokite"));
  air.oxygen_ug = n / 4 * molar_mass(dataset, "O2(g)") * 1e6;
  air.acid_umol = n / 2 * 1e6;
  air.trihydroxychloride_mg = n / 2 * molar_mass(dataset, "clinoatacamite") * 1000;
  air.freed_percent = 50;
}

// The k-th cycle eats n / 2^k of metal: n (1 - 2^-k) after k of them.
void count_cycles(double n, double metal, const Dataset& dataset, PitInMoistAir& air) {
  air.most_metal_mg = n * molar_mass(dataset, "copper") * 1000;
  air.cycles_free = metal / n;
  if (metal < n) air.cycles_locking = -std::log2(1 - metal / n);
}

double dissolved_percent(const PathResult& path, double nantokite_mol_per_kg) {
  if (path.progress.empty()) return kNotGiven;
  return 100 * path.dissolved_of("Cl(-)").back() / nantokite_mol_per_kg;
}

void add_words(const PitInMoistAirRequest& request, PitInMoistAir& air) {
  air.read = {
      say("path.nantokite_air.draws", {{"oxygen_ug", format_number(air.oxygen_ug, 3)},
                                       {"per_mg", format_number(air.oxygen_ug_per_mg, 3)},
                                       {"acid_umol", format_number(air.acid_umol, 3)}}),
      say("path.nantokite_air.alone",
          {{"dissolved_percent", format_number(air.dissolved_percent, 3)},
           {"ph",
            air.alone.ph.empty() ? say("word.not_known") : format_number(air.alone.ph.back(), 2)}}),
      say("path.nantokite_air.metal"),
      std::isnan(air.cycles_locking)
          ? say("path.nantokite_air.locked_first",
                {{"most_mg", format_number(air.most_metal_mg, 3)},
                 {"metal_mg", format_number(request.metal_mg, 3)},
                 {"cycles", format_number(air.cycles_free, 2)}})
          : say("path.nantokite_air.metal_gone", {{"metal_mg", format_number(request.metal_mg, 3)},
                                                  {"locking", format_number(air.cycles_locking, 2)},
                                                  {"cycles", format_number(air.cycles_free, 2)}}),
      say("path.nantokite_air.humidity")};
  air.left_out = {say("path.left_out.kinetics"), say("path.nantokite_air.left_out.water")};
}

}  // namespace

double nantokite_of_pit_mg(const Dataset& dataset, double diameter_mm) {
  if (!(diameter_mm > 0 && diameter_mm <= 100))
    throw InputError("diameter_mm", diameter_mm, "above 0 to 100 mm");
  const double volume_mm3 = std::numbers::pi / 12 * diameter_mm * diameter_mm * diameter_mm;
  return volume_mm3 * dataset.mineral("nantokite").density_g_per_cm3;
}

PitInMoistAir pit_in_moist_air(const std::shared_ptr<const Dataset>& dataset,
                               const PitInMoistAirRequest& request) {
  check(request);
  const double n = request.nantokite_mg / 1000 / molar_mass(*dataset, "nantokite");
  const double metal = request.metal_mg / 1000 / molar_mass(*dataset, "copper");
  PitInMoistAir air;
  by_equation(*dataset, n, air);
  count_cycles(n, metal, *dataset, air);
  const double per_kg = 1000 / request.water_g_per_mol;
  air.alone = in_moisture(dataset, per_kg, 0);
  air.beside_metal = in_moisture(dataset, per_kg, per_kg * metal / n);
  air.dissolved_percent = dissolved_percent(air.alone, per_kg);
  add_words(request, air);
  return air;
}

}  // namespace aeruca
