#pragma once

// Moles of copper(I) drown the trace of copper(II) and hydrogen by which alone the potential is
// known. So each component is counted at the valence that most of it has, and the balance of
// electrons says what is above and below: e less v times the component, for whole numbers v.

#include <cstddef>
#include <span>
#include <vector>

#include "equilibrium/chemistry.hpp"

namespace aeruca::detail {

/// Balances over the free potentials, and what is in them.
struct FreeBalances {
  std::span<const double> reduced;    ///< (species, free)
  std::span<const double> molality;   ///< (species)
  std::span<const double> totals;     ///< (free)
  std::span<const std::size_t> free;  ///< (free) column of each
  std::span<const ColumnKind> kind;   ///< (columns)
};

struct ValenceBalance {
  std::size_t place = kNone;      ///< of the electrons, when this balance stands for theirs
  std::vector<double> electrons;  ///< of a species, beyond those of the usual valences
  double total = 0;

  /// Takes the place of the balance of electrons where it holds far less than that.
  void choose(const FreeBalances& balances);
};

}  // namespace aeruca::detail
