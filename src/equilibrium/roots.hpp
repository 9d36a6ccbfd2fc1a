#pragma once

// The answers found for one water from several starts, each a stable solution whose certificate
// holds: how many differ, and how far the one that is kept lies below the others in Gibbs energy.

#include <vector>

#include "equilibrium/workplace.hpp"

namespace aeruca::detail {

/// What tells an answer from another. Gibbs energies over RT, mol per kg of solvent, as far as they
/// differ between answers: totals times potentials, and the water, of which solids bind more in one
/// answer than in another.
struct Root {
  std::vector<double> lambda;
  double ln_water = 0;
  double of_totals = 0;
  double water = 0;  ///< mol, free and bound
};

[[nodiscard]] Root root_of(const Chemistry& chemistry, const Workplace& place);

/// Gibbs energy of `a` less that of `b`. What water one holds more is supplied at the water activity
/// of the more dilute of the two.
[[nodiscard]] double gibbs_difference(const Root& a, const Root& b);

class Roots {
 public:
  /// One more start; its answer counts when it holds and differs from those before.
  void add(const Chemistry& chemistry, const Workplace& place);
  /// Into the certificate of the answer that is kept.
  void tell(const Chemistry& chemistry, Workplace& kept) const;
  [[nodiscard]] int starts() const { return starts_; }

 private:
  std::vector<Root> found_;
  int starts_ = 0;
};

}  // namespace aeruca::detail
