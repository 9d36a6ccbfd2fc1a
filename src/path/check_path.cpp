#include <cmath>

#include "base/choice.hpp"
#include "base/text.hpp"
#include "path/path_waters.hpp"

namespace aeruca::detail {
namespace {

std::string of_kind(const ReactionPath& path, const std::string& what) {
  return what + " for a path of kind '" + std::string(to_string(path.kind)) + "'";
}

void refuse_unless(bool fits, const ReactionPath& path, const std::string& parameter,
                   const std::string& given, const std::string& accepted) {
  if (!fits) throw InputError(parameter, given, of_kind(path, accepted));
}

void check_added(const ReactionPath& path) {
  const bool used = path.kind == PathKind::titrate || path.kind == PathKind::dilute ||
                    path.kind == PathKind::change_bath;
  refuse_unless(used || path.added.empty(), path, "added", "given", "nothing");
  refuse_unless(path.kind != PathKind::titrate || !path.added.empty(), path, "added", "nothing",
                "an ingredient or more");
  for (const auto& [name, amount] : path.added)
    if (!(amount >= 0 && amount <= 1000))
      throw InputError("added of " + name, amount, "0 to 1000 mol/kg");
}

void check_end(const ReactionPath& path) {
  if (!path.to) {
    refuse_unless(path.kind == PathKind::aerate, path, "to", "nothing", "the end of the progress");
    return;
  }
  const double to = *path.to;
  switch (path.kind) {
    case PathKind::titrate:
    case PathKind::aerate:
      refuse_unless(to > 0 && to <= 1000, path, "to", format_number(to), "above 0 to 1000");
      break;
    case PathKind::dilute:
      refuse_unless(to > 1 && to <= 1e9, path, "to", format_number(to), "above 1 to 1e9 kg");
      break;
    case PathKind::dry:
      refuse_unless(to > 0 && to < 1, path, "to", format_number(to),
                    "a water activity above 0, below 1");
      break;
    case PathKind::heat:
      refuse_unless(to >= 0 && to <= 50 && to != path.system.temperature_c, path, "to",
                    format_number(to), "0 to 50 degrees C, other than the start");
      break;
    case PathKind::change_bath:
      refuse_unless(to >= 1 && to <= 10000 && to == std::floor(to), path, "to", format_number(to),
                    "a number of baths, 1 to 10000");
  }
}

void check_gas(const ReactionPath& path) {
  if (path.kind != PathKind::aerate) {
    refuse_unless(path.gas.empty() && !path.gas_bar, path, "gas", path.gas, "nothing");
    return;
  }
  const bool oxygen = path.gas == "O2(g)";
  const bool carbonic = path.gas == "CO2(g)";
  refuse_unless(oxygen || carbonic, path, "gas", path.gas.empty() ? "nothing" : path.gas,
                "O2(g) or CO2(g)");
  refuse_unless(path.gas_bar && *path.gas_bar > 0 && *path.gas_bar <= 1000, path, "gas_bar",
                path.gas_bar ? format_number(*path.gas_bar) : "nothing",
                "the fugacity in the air, above 0 to 1000 bar,");
  refuse_unless(!oxygen || path.system.redox == Redox::conserved, path, "redox",
                std::string(to_string(path.system.redox)),
                "conserved (what oxygen is taken up must be counted)");
  refuse_unless(!carbonic || path.system.acidity == Acidity::charge_balance, path, "acidity",
                std::string(to_string(path.system.acidity)),
                "charge_balance (the pH answers to carbon dioxide)");
  if (path.start.fugacity_bar.contains(path.gas))
    throw InputError("fugacity_bar", path.gas, "other gases than the one taken up");
}

}  // namespace

void check_path(const ReactionPath& path) {
  check_added(path);
  check_end(path);
  check_gas(path);
  const bool baths = path.kind == PathKind::change_bath;
  refuse_unless(baths || !path.carried_over, path, "carried_over", "given", "nothing");
  refuse_unless(!path.carried_over || (*path.carried_over >= 0 && *path.carried_over <= 1), path,
                "carried_over", path.carried_over ? format_number(*path.carried_over) : "",
                "0 to 1");
  if (path.steps < 1 || path.steps > 100000) throw InputError("steps", path.steps, "1 to 100000");
  refuse_unless(path.system.solvent == Solvent::one_kg, path, "solvent",
                std::string(to_string(path.system.solvent)), "one_kg");
  refuse_unless(path.system.precipitation == Precipitation::allowed, path, "precipitation",
                std::string(to_string(path.system.precipitation)), "allowed");
}

}  // namespace aeruca::detail
