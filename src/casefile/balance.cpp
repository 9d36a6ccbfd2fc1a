#include "casefile/balance.hpp"
#include "dataset/alternatives.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace aeruca::detail {
namespace {

// Coefficient of each figure in log10 K.
std::map<std::string, double> figures_in(const Dataset& dataset, const Balance& balance) {
  std::map<std::string, double> sum;
  for (const auto& [name, count] : balance) {
    for (const auto& [figure, coefficient] : dataset.at(name).constant_terms)
      sum[figure] += count * coefficient;
  }
  return sum;
}

}  // namespace

double stated_uncertainty(const Dataset& dataset, const Balance& balance) {
  double squares = 0;
  for (const auto& [id, coefficient] : figures_in(dataset, balance)) {
    const double uncertainty = dataset.figure(id).uncertainty;
    if (uncertainty > 0) squares += std::pow(coefficient * uncertainty, 2);
  }
  return std::sqrt(squares);
}

double widest_change(const Dataset& dataset, const Balance& balance) {
  double widest = 0;
  for (const auto& [id, coefficient] : figures_in(dataset, balance)) {
    const Figure& chosen = dataset.figure(id);
    for (const Figure* other : alternatives(dataset, chosen))
      widest = std::max(widest, std::abs(coefficient * (other->value - chosen.value)));
  }
  return widest;
}

}  // namespace aeruca::detail
