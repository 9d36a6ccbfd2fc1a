#pragma once

// A solid that holds the pore water at its solubility, in a sequence of baths; equations in
// aeruca/bath_bodies.hpp.

#include <span>
#include <vector>

#include "aeruca/bath_bodies.hpp"
#include "bath/relaxation.hpp"

namespace aeruca::detail {

/// Solid over dissolved that the moving cells can follow.
inline constexpr double kLeastSolid = 0.3;
inline constexpr double kMostSolid = 1000;

/// 2 k sqrt(tau) is the depth of the front in an endless bath without chloride; `driving` is what
/// the solubility exceeds the bath by, as a share of the solubility, above 0.
[[nodiscard]] double front_constant(double solid_over_dissolved, double driving);

class ReserveInBaths {
 public:
  ReserveInBaths(double solid_over_dissolved, Fineness fineness);

  /// The ends of all baths.
  [[nodiscard]] std::vector<ReservePoint> run(std::span<const BathStep> baths);

 private:
  struct State {
    double drawn = 0;       // released into the present bath, in solubility x length
    double square = 0;      // of the front's depth
    std::vector<double> u;  // in the cells between surface and front
  };
  struct Slope {
    double drawn = 0;
    double square = 0;
    std::vector<double> u;
  };

  void begin(double concentration, double& tau);
  void advance(double tau);
  [[nodiscard]] double concentration(const State& state) const;
  void slope(const State& state, Slope& out) const;
  void solve(const State& at, double step, Slope& side);
  bool try_step(double step, double& error);

  double solid_;
  double tolerance_;
  std::vector<double> faces_, widths_, gaps_;  // of the cells; distances between their middles
  State state_, trial_;
  Slope first_, second_;
  std::vector<double> upper_;  // of the tridiagonal solve
  bool reached_metal_ = false;
  double least_ = 0;       // concentration of the bath when it was filled
  double over_alpha_ = 0;  // 1/alpha
};

}  // namespace aeruca::detail
