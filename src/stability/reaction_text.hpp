#pragma once

// A reaction as it is written: whole numbers, "2 nantokite + H2O = cuprite + 2 H(+) + 2 Cl(-)".

#include <string>
#include <vector>

namespace aeruca::detail {

/// A species and how many of it.
struct Term {
  double count = 1;
  std::string name;
};

/// "2 nantokite + H2O"
[[nodiscard]] std::string side_text(const std::vector<Term>& terms);

/// Smallest factor that makes every count a whole number; 1 when none up to 60 does.
[[nodiscard]] double whole_factor(const std::vector<double>& counts);

}  // namespace aeruca::detail
