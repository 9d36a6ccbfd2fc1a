#include "stability/reaction_text.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/number_text.hpp"
#include "base/text.hpp"

namespace aeruca::detail {

namespace {

bool nearly_whole(double value) {
  return std::abs(value - std::round(value)) < 1e-6;
}

}  // namespace

double whole_factor(const std::vector<double>& counts) {
  for (int factor = 1; factor <= 60; ++factor) {
    if (std::all_of(counts.begin(), counts.end(),
                    [&](double c) { return nearly_whole(c * factor); })) {
      long divisor = 0;
      for (const double c : counts) divisor = std::gcd(divisor, std::lround(c * factor));
      return static_cast<double>(factor) / static_cast<double>(std::max(divisor, 1L));
    }
  }
  return 1;
}

std::string side_text(const std::vector<Term>& terms) {
  std::vector<std::string> parts;
  parts.reserve(terms.size());
  for (const Term& term : terms)
    parts.push_back((std::abs(term.count - 1) < 1e-9 ? "" : format_number(term.count) + " ") +
                    term.name);
  return join(parts, " + ");
}

}  // namespace aeruca::detail
