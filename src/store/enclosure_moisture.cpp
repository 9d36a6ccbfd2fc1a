#include "store/enclosure_moisture.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "aeruca/water.hpp"

namespace aeruca::detail {
namespace {

constexpr double kGasConstant = 8.314462618;  // J/(mol K), SI 2019
constexpr double kVapourConstant = 461.523;   // J/(kg K): over 0.018015268 kg/mol
constexpr double kReference = 298.15;         // K
constexpr double kZeroCelsius = 273.15;
constexpr double kGridStep = 0.05;  // K
constexpr double kWarmest = 60;     // degrees C
constexpr double kDriest = -6;      // ln h: 0.25 % RH
constexpr std::size_t kCells = 1500;
constexpr double kCell = -kDriest / static_cast<double>(kCells);
constexpr double kPerCell = 1 / kCell;

bool follows_potential(const GelIsotherm& gel) {
  return gel.form != "freundlich";
}

double reference_density() {
  static const double density = density_kg_per_m3(25);
  return density;
}

SorptionTable::Point dubinin_astakhov(const std::vector<double>& p, double potential) {
  const double power = std::pow(potential / p[1], p[2]);
  const double value = p[0] * reference_density() * std::exp(-power);
  // dX/d ln h = -R T dX/dA
  const double slope =
      potential > 0 ? kGasConstant * kReference * value * p[2] * power / potential : 0;
  return {value, slope};
}

SorptionTable::Point dubinin_arctan(const std::vector<double>& p, double potential) {
  const double along = (potential - p[1]) / p[2];
  const double value = p[0] / std::numbers::pi * (std::atan(along) + std::numbers::pi / 2) + p[3];
  const double by_potential = p[0] / std::numbers::pi / (p[2] * (1 + along * along));
  return {value * reference_density(),
          -kGasConstant * kReference * by_potential * reference_density()};
}

}  // namespace

SorptionTable::Point sorption(const GelIsotherm& gel, double ln_h) {
  const std::vector<double>& p = gel.parameters;
  if (gel.form == "freundlich") {
    const double value = p[0] * std::exp(p[1] * ln_h);
    return {value, p[1] * value};
  }
  const double potential = -kGasConstant * kReference * ln_h;
  return gel.form == "dubinin_astakhov" ? dubinin_astakhov(p, potential)
                                        : dubinin_arctan(p, potential);
}

SorptionTable::SorptionTable(const GelIsotherm& gel) {
  Point low = sorption(gel, kDriest);
  for (std::size_t i = 1; i <= kCells; ++i) {
    const Point high = sorption(gel, kDriest + kCell * static_cast<double>(i));
    const double d0 = low.slope * kCell;
    const double d1 = high.slope * kCell;
    const double rise = high.value - low.value;
    cells_.push_back({low.value, d0, 3 * rise - 2 * d0 - d1, d0 + d1 - 2 * rise});
    low = high;
  }
}

SorptionTable::Point SorptionTable::at(double ln_h) const {
  const double place = (ln_h - kDriest) * kPerCell;
  const auto last = static_cast<double>(kCells - 1);
  const auto cell = static_cast<std::size_t>(std::clamp(place, 0.0, last));
  const double t = place - static_cast<double>(cell);
  const Cell& c = cells_[cell];
  return {c.c0 + t * (c.c1 + t * (c.c2 + t * c.c3)),
          (c.c1 + t * (2 * c.c2 + 3 * t * c.c3)) * kPerCell};
}

Warmth warmth_of(const GelIsotherm& gel, double temperature_c) {
  const double kelvin = temperature_c + kZeroCelsius;
  Warmth warmth{saturation_pressure_pa(temperature_c) / (kVapourConstant * kelvin)};
  if (!follows_potential(gel)) return warmth;
  warmth.gel_scale = density_kg_per_m3(temperature_c) / reference_density();
  warmth.gel_exponent = kelvin / kReference;
  return warmth;
}

Warmths::Warmths(const GelIsotherm& gel) {
  for (int i = 0; i * kGridStep <= kWarmest + kGridStep; ++i)
    grid_.push_back(warmth_of(gel, i * kGridStep));
}

Warmth Warmths::at(double temperature_c) const {
  const double place = temperature_c / kGridStep;
  const auto cell = static_cast<std::size_t>(place);
  const double t = place - static_cast<double>(cell);
  const Warmth& low = grid_[cell];
  const Warmth& high = grid_[cell + 1];
  const auto between = [t](double a, double b) { return a + t * (b - a); };
  return {between(low.saturated_kg_per_m3, high.saturated_kg_per_m3),
          between(low.gel_scale, high.gel_scale), between(low.gel_exponent, high.gel_exponent)};
}

MoistureAt Moisture::at(double h, double ln_h, const Warmth& warmth) const {
  MoistureAt held = contents_->at(h);
  held.water += h * warmth.saturated_kg_per_m3;
  held.slope += warmth.saturated_kg_per_m3;
  if (gel_ > 0) {
    const auto [x, slope] = table_->at(warmth.gel_exponent * ln_h);
    held.water += gel_ * warmth.gel_scale * x;
    held.slope += gel_ * warmth.gel_scale * warmth.gel_exponent * slope / h;
  }
  return held;
}

Moisture::Settled Moisture::settled(double water, const Warmth& warmth, double h,
                                    double ln_h) const {
  constexpr int kSteps = 50;
  // Newton's error after a step is about its square: the next one would be below 1e-10.
  constexpr double kLastStep = 1e-5;
  MoistureAt held;
  for (int step = 0; step < kSteps; ++step) {
    held = at(h, ln_h, warmth);
    // Never below half of what was there: the humidity stays positive.
    const double by = std::max(-0.5, -(held.water - water) / held.slope / h);
    h += by * h;
    ln_h += ln_of_one_and(by);
    if (std::abs(by) <= kLastStep) break;
  }
  return {h, ln_h, {water, held.slope}};
}

}  // namespace aeruca::detail
