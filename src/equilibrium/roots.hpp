#pragma once

// The answers found for one water, each a stable solution that its certificate holds for: how many
// differ, and how far the one that is kept lies below the others in Gibbs energy.

#include <cstddef>
#include <vector>

#include "equilibrium/workplace.hpp"

namespace aeruca::detail {

/// Gibbs energy over RT of what the water holds, as far as it differs between answers, mol per kg of
/// water given: totals times potentials, and the water, of which solids bind more in one answer than
/// in another, taken up or given off at the activity `ln_water_supplied`.
[[nodiscard]] double gibbs(const Chemistry& chemistry, const Workplace& place,
                           double ln_water_supplied);

/// How much lower the first of two answers lies, over RT; water is supplied at the activity of the
/// more dilute of the two.
[[nodiscard]] double gibbs_below(const Chemistry& chemistry, const Workplace& first,
                                 const Workplace& second);

class Roots {
 public:
  explicit Roots(const Chemistry& chemistry) : chemistry_(chemistry) {}
  /// One more way was gone; its answer counts when it holds and is not there yet.
  void add(const Workplace& place);
  /// Into the certificate of the answer that is kept: ways gone, answers that differ, and the gap to
  /// the next of them.
  void tell(Workplace& kept) const;

 private:
  struct Root {
    std::vector<double> lambda;
    double ln_water = 0;
    double own_gibbs = 0;      // without the water
    double water_moles = 0;    // in solution and solids
  };
  const Chemistry& chemistry_;
  std::vector<Root> found_;
  int starts_ = 0;
};

}  // namespace aeruca::detail
