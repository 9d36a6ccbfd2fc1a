#include "uncertainty/combination.hpp"

#include <algorithm>
#include <cmath>

namespace aeruca::detail {
namespace {

std::size_t number_of(const std::string& name, std::vector<std::string>& names) {
  const auto found = std::find(names.begin(), names.end(), name);
  const auto number = static_cast<std::size_t>(found - names.begin());
  if (found == names.end()) names.push_back(name);
  return number;
}

}  // namespace

double stated_uncertainty(const Dataset& dataset, const Balance& balance, double temperature_c) {
  std::vector<std::string> names;
  std::vector<double> sum;
  for (const auto& [name, count] : balance) {
    const Errors errors = errors_of(dataset, dataset.at(name), temperature_c, names);
    sum.resize(names.size());
    for (const auto& [number, error] : errors) sum[number] += count * error;
  }
  double squares = 0;
  for (const double each : sum) squares += each * each;
  return std::sqrt(squares);
}

Errors errors_of(const Dataset& dataset, const Species& species, double temperature_c,
                 std::vector<std::string>& names) {
  Errors errors;
  if (species.constant_terms.empty() && species.log10_k_uncertainty > 0)
    errors.emplace_back(number_of("constant of " + species.name, names),
                        species.log10_k_uncertainty);
  for (const auto& [figure, coefficient] : Dataset::terms_at(species, temperature_c)) {
    const double spread = dataset.figure(figure).uncertainty;
    if (spread > 0) errors.emplace_back(number_of(figure, names), coefficient * spread);
  }
  return errors;
}

}  // namespace aeruca::detail
