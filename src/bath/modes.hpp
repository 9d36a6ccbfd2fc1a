#pragma once

// The modes of body and bath together: roots, means, norms and overlaps. Notation as in
// aeruca/bath.hpp; m = int f dv, so that the bath's component of a mode is -m/alpha (mass of every
// mode but q = 0 is nil).

#include <cstddef>
#include <map>
#include <vector>

#include "aeruca/bath.hpp"

namespace aeruca::detail {

/// d of dv = d x^(d-1) dx.
int dimension(BodyShape shape);
/// phi(z): cos z, J0(z), sin(z)/z.
double mode_value(BodyShape shape, double z);
/// phi'(z).
double mode_slope(BodyShape shape, double z);

struct ModeSet {
  BodyShape shape = BodyShape::slab;
  double alpha = 0;
  std::vector<double> q;
  std::vector<double> value;  ///< phi(q)
  std::vector<double> slope;  ///< phi'(q)
  std::vector<double> mean;   ///< int f dv
  std::vector<double> norm;   ///< int f^2 dv + alpha b^2
};

/// The first `count` modes.
ModeSet make_modes(BodyShape shape, double alpha, double biot, std::size_t count);

/// Mode sets made once for each alpha and lengthened when more modes are wanted.
class ModeLibrary {
 public:
  ModeLibrary(BodyShape shape, double biot) : shape_(shape), biot_(biot) {}
  /// At least `count` modes; the reference holds until the library goes.
  const ModeSet& get(double alpha, std::size_t count);

 private:
  BodyShape shape_;
  double biot_;
  std::map<double, ModeSet> sets_;
};

/// sum_i amplitude_i int f_i g_j dv over the modes of one set, for mode j of another.
double project_on(const ModeSet& from, const std::vector<double>& amplitude, const ModeSet& to,
                  std::size_t j);

/// Bound on what the modes with q > `q_last` still hold after `tau` (fraction of load).
double tail_bound(BodyShape shape, InitialLoad load, double q_last, double tau);

/// Modes that keep the tail after `tau` below `accuracy`.
std::size_t modes_needed(BodyShape shape, InitialLoad load, double tau, double accuracy);

}  // namespace aeruca::detail
