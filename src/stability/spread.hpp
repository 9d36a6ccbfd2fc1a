#pragma once

// What becomes of an answer when another published constant is taken in place of the chosen one.

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include "stability/system.hpp"

namespace aeruca::detail {

/// By how much one other figure narrows a gap at most, and which figure that is.
struct Narrowing {
  double log10 = 0;    // per copper atom; 0: no other figure narrows it
  std::string figure;  // its id
};

/// The other figures of the data set for the same reaction and quantity at the same conditions as a
/// chosen one. One at a time is put in its place; what both sides owe to it cancels.
class Alternatives {
 public:
  explicit Alternatives(const System& system);
  [[nodiscard]] Narrowing narrowing(const System& system, const Regime& regime, std::size_t left,
                                    std::size_t right) const;

 private:
  struct Other {
    double change;  // from the chosen figure, in its unit
    std::string id;
  };
  using Terms = std::vector<std::pair<std::size_t, double>>;  // number of the figure, coefficient
  std::vector<std::vector<Other>> others_;                    // by number of the chosen figure
  std::vector<Terms> terms_;  // by species of the data set; only figures with others
};

}  // namespace aeruca::detail
