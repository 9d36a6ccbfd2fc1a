#pragma once

/// \file
/// Is it worth changing the bath: what 1, 2, 4 ... baths of one treatment leave inside.
///
/// Question answered: with the time of a treatment given, how much less stays in the body when that
/// time is divided into more baths, each as large as the first or all from one volume?
///
/// Words and model are those of `bath.hpp`: reduced time tau, and alpha, bath volume over K times
/// volume of the body. All baths are clean and equally long. Two floors bound every answer: n baths
/// in endless time leave (1 + alpha)^-n, and endless fresh water leaves what diffusion inside the
/// body alone holds back. Accuracy: that of `bath_series`, 1e-10 of the load.
///
/// The finding is worded by a rule of our own: where the most baths divide what is left by less
/// than 1.1, against the fewest, changing hardly gains anything.

#include <cstddef>
#include <limits>
#include <span>
#include <string>
#include <vector>

#include "aeruca/bath.hpp"

namespace aeruca {

/// Whether each bath has the stated volume, or that volume is divided over the baths.
enum class BathLiquid { each, divided };

/// One way of dividing the treatment.
struct BathPlan {
  std::size_t baths = 0;
  double alpha = 0;        ///< of each bath
  double left = 0;         ///< fraction of load
  double equilibrium = 0;  ///< the least these baths could leave in endless time, (1+alpha)^-n
};

struct BathComparison {
  std::vector<BathPlan> plans;  ///< in the order asked
  double endless_left = 0;      ///< fraction of load left by endless fresh water in the same time
  /// What the fewest baths leave over what the most leave; infinity: nothing left
  double gain = 1;
  std::string finding;  ///< what that means, one sentence
};

/// `counts` baths, 1 to 1000 each, in the reduced time `total_tau` (above 0); `alpha` is that of
/// each bath, or of all of them together when the liquid is divided. Throws InputError as
/// bath_series, and for no count at all.
[[nodiscard]] BathComparison compare_bath_counts(const PorousBody& body, double alpha,
                                                 double total_tau,
                                                 std::span<const std::size_t> counts,
                                                 BathLiquid liquid = BathLiquid::each);

}  // namespace aeruca
