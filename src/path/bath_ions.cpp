#include "path/bath_ions.hpp"

#include <vector>

#include "aeruca/errors.hpp"
#include "base/text.hpp"

namespace aeruca::detail {

std::map<std::string, double> bath_ions(const Dataset& dataset, const std::string& salt,
                                        double mol_per_l) {
  std::map<std::string, double> ions;
  if (salt == "water") return ions;
  std::vector<std::string> names{"water"};
  for (const BathSalt& one : dataset.bath_salts) {
    names.push_back(one.name);
    if (one.name != salt) continue;
    for (const auto& [ion, count] : one.ions)
      if (ion != "OH(-)") ions[ion] = count * mol_per_l;
    return ions;
  }
  throw InputError("salt", salt, join(names, ", "));
}

bool holds_carbonate(const std::map<std::string, double>& ions) {
  return ions.contains("CO3(2-)") || ions.contains("HCO3(-)");
}

}  // namespace aeruca::detail
