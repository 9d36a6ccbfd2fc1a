#pragma once

// What becomes of an answer when another published constant is taken in place of the chosen one.

#include <cstddef>
#include <string>

#include "stability/system.hpp"
#include "uncertainty/alternatives.hpp"

namespace aeruca::detail {

/// By how much one other figure narrows a gap at most, and which figure that is.
struct Narrowing {
  double log10 = 0;    // per copper atom; 0: no other figure narrows it
  std::string figure;  // its id
};

/// How far other published figures, one at a time, move a gap (left less right) down and up.
struct GapShift {
  double lowest = 0, highest = 0;  // log10 per copper atom; 0: none does
  std::string lowest_figure, highest_figure;
};

[[nodiscard]] GapShift shift_of_gap(const Alternatives& alternatives, const System& system,
                                    const Regime& regime, std::size_t left, std::size_t right);

[[nodiscard]] Narrowing narrowing(const Alternatives& alternatives, const System& system,
                                  const Regime& regime, std::size_t left, std::size_t right);

}  // namespace aeruca::detail
