// A bath that loses carbon dioxide to the air, or takes it up.

#include <cmath>

#include "aeruca/constants.hpp"
#include "aeruca/ready_paths.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "path/bath_ions.hpp"

namespace aeruca {
namespace {

using detail::format_number;
using detail::say;

constexpr double kLitreAtmosphere = 1e5 * 1e-3;  // Pa m3 in a bar litre

void check(const CarbonateBathRequest& request) {
  const auto want = [](const char* parameter, double value, double low, double high) {
    if (!(value >= low && value <= high))
      throw InputError(parameter, value, format_number(low) + " to " + format_number(high));
  };
  const bool water = request.salt == "water";
  if (water && request.mol_per_l != 0)
    throw InputError("mol_per_l", request.mol_per_l, "0 for water");
  if (!water) want("mol_per_l", request.mol_per_l, 1e-6, 2);
  want("carbon_dioxide_bar", request.carbon_dioxide_bar, 1e-6, 1);
  want("headspace_l_per_l", request.headspace_l_per_l, 0, 100);
}

void check_carbonate(const Dataset& dataset, const std::string& name) {
  std::vector<std::string> names;
  for (const BathSalt& salt : dataset.bath_salts) {
    if (!detail::holds_carbonate(detail::bath_ions(dataset, salt.name, 1))) continue;
    if (salt.name == name) return;
    names.push_back(salt.name);
  }
  throw InputError("salt", name, "one with carbonate: " + detail::join(names, ", "));
}

ReactionPath open_path(const Dataset& dataset, const CarbonateBathRequest& request) {
  ReactionPath path;
  path.kind = PathKind::aerate;
  path.system.acidity = Acidity::charge_balance;
  path.system.precipitation = Precipitation::allowed;
  path.system.temperature_c = request.temperature_c;
  path.system.components = {"Na(+)", "CO3(2-)"};
  path.start.eh_v = 0.4;  // nothing in it changes its charge: any potential gives the same answer
  path.start.totals_mol_per_kg = detail::bath_ions(dataset, request.salt, request.mol_per_l);
  path.gas = "CO2(g)";
  path.gas_bar = request.carbon_dioxide_bar;
  return path;
}

// Under a lid the air takes what it holds: moved = -(f - f of the air) V / (R T) per litre of bath.
void cover(const CarbonateBathRequest& request, CarbonateBathPath& bath) {
  const PathResult& path = bath.open;
  const double per_bar = request.headspace_l_per_l * kLitreAtmosphere /
                         (kGasConstant * (request.temperature_c + kZeroCelsius));
  const auto excess = [&](std::size_t i) {
    const double bar = std::pow(10, path.log10_gas_bar[i]);
    return path.progress[i] + (bar - request.carbon_dioxide_bar) * per_bar;
  };
  for (std::size_t i = 0; i + 1 < path.progress.size(); ++i) {
    const double here = excess(i);
    const double next = excess(i + 1);
    if (here * next > 0) continue;
    const double share = here == next ? 0 : here / (here - next);
    bath.covered_moved_mmol_per_l =
        1000 * (path.progress[i] + share * (path.progress[i + 1] - path.progress[i]));
    bath.covered_ph = path.ph[i] + share * (path.ph[i + 1] - path.ph[i]);
    return;
  }
}

void add_words(const CarbonateBathRequest& request, CarbonateBathPath& bath) {
  const auto ph = [](double value) { return detail::fixed_text(value, 2); };
  const bool loses = bath.moved_mmol_per_l < 0;
  bath.read = {
      say(loses ? "path.carbonate_bath.loses" : "path.carbonate_bath.takes_up",
          {{"mmol_per_l", format_number(std::abs(bath.moved_mmol_per_l), 3)},
           {"fresh_ph", ph(bath.fresh_ph)},
           {"open_ph", ph(bath.open_ph)}}),
      say("path.carbonate_bath.covered", {{"litres", format_number(request.headspace_l_per_l, 3)},
                                          {"covered_ph", ph(bath.covered_ph)}})};
  bath.left_out = {say("path.left_out.kinetics"), say("path.carbonate_bath.left_out.lid")};
}

}  // namespace

CarbonateBathPath carbonate_bath_in_air(const std::shared_ptr<const Dataset>& dataset,
                                        const CarbonateBathRequest& request) {
  check_carbonate(*dataset, request.salt);
  return bath_in_air(dataset, request);
}

CarbonateBathPath bath_in_air(const std::shared_ptr<const Dataset>& dataset,
                              const CarbonateBathRequest& request) {
  check(request);
  CarbonateBathPath bath;
  bath.open = follow_path(dataset, open_path(*dataset, request));
  if (bath.open.progress.empty()) return bath;
  bath.fresh_ph = bath.open.ph.front();
  bath.open_ph = bath.open.ph.back();
  bath.moved_mmol_per_l = 1000 * bath.open.progress.back();
  cover(request, bath);
  add_words(request, bath);
  return bath;
}

}  // namespace aeruca
