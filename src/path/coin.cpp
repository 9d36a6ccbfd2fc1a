// A copper coin under salt water that is open to air.

#include <cmath>

#include "aeruca/ready_paths.hpp"
#include "aeruca/water.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "path/supply.hpp"

namespace aeruca {
namespace {

using detail::format_number;
using detail::say;
using DatasetPointer = std::shared_ptr<const Dataset>;

constexpr double kAirOxygenBar = 0.2095, kAirCarbonDioxideBar = 4.2e-4;

void want(const char* parameter, double value, double low, double high, const char* unit) {
  if (value >= low && value <= high) return;
  throw InputError(parameter, value,
                   format_number(low) + " to " + format_number(high) + " " + unit);
}

void check(const CoinRequest& request) {
  want("salt_mol_per_kg", request.salt_mol_per_kg, 0.01, 5, "mol/kg");
  want("days", request.days, 1e-6, 3650, "days");
  want("water_mm", request.water_mm, 1e-3, 1000, "mm");
  want("temperature_c", request.temperature_c, 5, 45, "degrees C");
}

double water_kg_per_m2(const CoinRequest& request) {
  return request.water_mm / 1000 * density_kg_per_m3(request.temperature_c);
}

ReactionPath aerated(const CoinRequest& request, const std::string& solid, double mol_per_kg) {
  ReactionPath path;
  path.kind = PathKind::aerate;
  path.system.redox = Redox::conserved;
  path.system.acidity = Acidity::charge_balance;
  path.system.precipitation = Precipitation::allowed;
  path.system.temperature_c = request.temperature_c;
  path.system.components = {"Cu(2+)", "Cl(-)", "Na(+)", "CO3(2-)"};
  path.system.left_out = {"tenorite", "spertiniite"};
  path.start.totals_mol_per_kg = {{solid, mol_per_kg}, {"halite", request.salt_mol_per_kg}};
  path.start.fugacity_bar = {{"CO2(g)", kAirCarbonDioxideBar}};
  path.gas = "O2(g)";
  path.gas_bar = kAirOxygenBar;
  return path;
}

RateCheck rate_check(const Dataset& dataset, const CoinRequest& request, const PathResult& path,
                     const PathSupply& supply) {
  RateCheck check;
  if (path.progress.empty()) return check;
  const double kg_per_m2 = water_kg_per_m2(request);
  const double oxygen = detail::oxygen_in_water(dataset, kAirOxygenBar, request.temperature_c) /
                        density_kg_per_m3(request.temperature_c);  // mol/kg
  const double depth = request.water_mm / 1000;
  check.diffusion_min =
      depth * depth / (2 * detail::oxygen_diffusivity(dataset, request.temperature_c)) / 60;
  try {
    check.k_kg_per_mol_min =
        copper_one_oxidation(dataset, CopperOneMedium::sodium_chloride, path.ph.back(),
                             request.temperature_c, path.ionic_strength.back());
  } catch (const InputError&) {
    return check;  // outside its range the published rate says nothing
  }
  check.half_life_min = std::log(2) / (check.k_kg_per_mol_min * oxygen);
  // Four copper(I) use up one oxygen.
  const double used_per_day =
      check.k_kg_per_mol_min * path.dissolved_cu1.back() * oxygen / 4 * kg_per_m2 * 24 * 60;
  check.capacity_over_supply = used_per_day / oxygen_supply(dataset, supply);
  return check;
}

std::string order_text(const PathResult& path) {
  std::vector<std::string> order;
  for (const PathEvent& event : path.events)
    if (event.change == PathChange::appears) order.push_back(event.solid);
  return order.empty() ? say("word.none") : detail::join(order, ", ");
}

void add_words(const CoinRequest& request, CoinPath& coin) {
  const auto nm = [](double value) { return detail::significant_text(value, 2); };
  coin.read = {say("path.coin.order",
                   {{"first", order_text(coin.at_metal)}, {"then", order_text(coin.film)}}),
               say("path.coin.most", {{"days", format_number(request.days, 3)},
                                      {"depth_mm", format_number(request.water_mm, 3)},
                                      {"cuprite_nm", nm(coin.cuprite_nm)},
                                      {"metal_nm", nm(coin.metal_nm)}}),
               say("path.coin.dark"), say("path.coin.practice")};
  const RateCheck& rate = coin.rate;
  coin.read.push_back(
      std::isnan(rate.half_life_min)
          ? say("path.coin.no_rate")
          : say(rate.capacity_over_supply > 1 ? "path.coin.supply_limits" : "path.coin.rate_limits",
                {{"half_life_min", format_number(rate.half_life_min, 2)},
                 {"diffusion_min", format_number(rate.diffusion_min, 2)},
                 {"ratio", detail::significant_text(rate.capacity_over_supply, 2)}}));
  coin.left_out = {say("path.left_out.kinetics"), say("path.coin.left_out.slow"),
                   say("path.coin.left_out.still"), say("path.coin.left_out.rate")};
}

}  // namespace

CoinPath coin_in_salt_water(const DatasetPointer& dataset, const CoinRequest& request) {
  check(request);
  PathSupply supply;
  supply.kind = SupplyKind::oxygen_layer;
  supply.depth_mm = request.water_mm;
  supply.oxygen_bar = kAirOxygenBar;
  supply.temperature_c = request.temperature_c;
  CoinPath coin;
  coin.oxygen_mol_per_m2 = oxygen_supply(*dataset, supply) * request.days;
  // 4 Cu + O2 = 2 Cu2O
  coin.cuprite_nm = thickness_nm(*dataset, "cuprite", 2 * coin.oxygen_mol_per_m2);
  coin.metal_nm = thickness_nm(*dataset, "copper", 4 * coin.oxygen_mol_per_m2);
  const double oxygen_per_kg = coin.oxygen_mol_per_m2 / water_kg_per_m2(request);
  const double plenty = 8 * oxygen_per_kg + 0.1;
  ReactionPath metal = aerated(request, "copper", plenty);
  metal.to = oxygen_per_kg;
  coin.at_metal = follow_path(dataset, metal);
  coin.film = follow_path(dataset, aerated(request, "cuprite", 2 * oxygen_per_kg));
  coin.rate = rate_check(*dataset, request, coin.at_metal, supply);
  add_words(request, coin);
  return coin;
}

}  // namespace aeruca
