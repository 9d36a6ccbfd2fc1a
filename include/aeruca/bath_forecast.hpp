#pragma once

/// \file
/// By diffusion alone: what each of given baths would take out, in milligrams and mg/L.
///
/// The model and its reduced quantities are those of `bath.hpp`; this puts units to them. With the
/// load M0 (mg), the rate D/L^2 (1/day), bath volumes V (L) and the body's capacity for chloride
/// K V_body (L):
///   tau = D/L^2 t      alpha = V / (K V_body)      fill = c_fill V / M0
///   reading = M0 (fraction in the bath) / V        left inside = M0 (fraction left)
/// D/L^2 from a diffusion coefficient and a thickness: 86400 D / L^2, D in m2/s and L in m.
///
/// Accuracy: `error_mg`, the bound of the series cut off (1e-10 of the load), says how exact the
/// answer of the model is; what is put in decides the rest. Diffusion alone: one coefficient,
/// linear partition, no solid reserve, no layer lost.

#include <vector>

#include "aeruca/bath.hpp"
#include "aeruca/not_given.hpp"

namespace aeruca {

/// D/L^2 (1/day) of a diffusion coefficient (m2/s, above 0) and a thickness (mm, above 0): of the
/// layer, half of a plate, the radius of a rod or ball. Throws InputError.
[[nodiscard]] double diffusion_rate_per_day(double d_m2_per_s, double thickness_mm);

/// What is asked.
struct BathForecastRequest {
  PorousBody body;
  double rate_per_day = kNotGiven;  ///< D/L^2, above 0
  double load_mg = 1000;            ///< chloride inside at the start, above 0
  std::vector<double> volumes_l;    ///< of each bath, above 0
  std::vector<double> days;         ///< of each bath, or one that serves all; above 0
  double capacity_l = kNotGiven;    ///< K times the body's volume, above 0; NaN: a perfect sink
  double fill_mg_per_l = 0;         ///< chloride of the fresh bath
  double carry_over = 0;            ///< part of the old bath that stays in the vessel, 0 to 1
};

/// The end of one bath.
struct ForecastBath {
  double days = 0;
  double volume_l = 0;
  double tau_total = 0;  ///< reduced time since the first bath began
  double alpha = 0;      ///< infinity: a perfect sink
  double chloride_mg_per_l = 0;
  double in_bath_mg = 0;
  double left_mg = 0;        ///< still inside
  double left_fraction = 0;  ///< of the load
};

/// What given baths would take out.
struct BathForecast {
  PorousBody body;
  double rate_per_day = 0;
  double load_mg = 0;
  std::vector<ForecastBath> baths;
  double truncation_error = 0;  ///< bound, fraction of the load
  double error_mg = 0;          ///< the same in mg
};

/// Throws InputError for a value outside its range, for as many days as neither one nor the baths
/// are, and as bath_series.
[[nodiscard]] BathForecast forecast_baths(const BathForecastRequest& request);

}  // namespace aeruca
