#pragma once

// Every model is the gradient of one excess function G(m) = G_ex / (R T), per kg of water:
//   ln gamma_i = dG/dm_i,  ln a(w) = -M_w (sum m + sum m_i ln gamma_i - G).
// So Gibbs-Duhem and the symmetry d ln gamma_i/dm_j = d ln gamma_j/dm_i hold by construction.

#include <span>
#include <vector>

#include "aeruca/activity.hpp"

namespace aeruca::detail {

/// The law of Debye and Hueckel with one linear term: ln gamma = -z^2 D(I),
///   D = a (sqrt I / (1 + b sqrt I) - c I),   F = 2 int D dI.
struct LimitingLaw {
  double a = 0;  // kg^0.5 mol^-0.5, natural logarithm
  double b = 0;  // kg^0.5 mol^-0.5
  double c = 0;  // kg/mol

  struct Values {
    double d = 0, slope = 0, f = 0;  // D, dD/dI, F
  };
  [[nodiscard]] Values at(double ionic_strength) const;
};

/// Square root of the ionic strength, kept off zero, where the slope of the law is infinite.
[[nodiscard]] double root_of(double ionic_strength);

[[nodiscard]] std::vector<double> charges_of(const Dataset& dataset,
                                             std::span<const std::string> species);

/// Sizes the arrays and fills the ionic strength. Throws InputError when the lengths differ.
void begin(std::span<const double> molality, std::span<const double> charge, ActivityValues& out);

/// ln a(w) from G and ln gamma.
[[nodiscard]] double ln_water_activity(std::span<const double> molality, double g,
                                       std::span<const double> ln_gamma);

/// Fills the water figures from G, ln_gamma and ln_gamma_by_molality.
void finish_water(std::span<const double> molality, double g, ActivityValues& out);

}  // namespace aeruca::detail
