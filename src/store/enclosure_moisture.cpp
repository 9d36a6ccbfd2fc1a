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
  for (std::size_t i = 0; i <= kCells; ++i)
    nodes_.push_back(sorption(gel, kDriest + kCell * static_cast<double>(i)));
}

SorptionTable::Point SorptionTable::at(double ln_h) const {
  const double place = (ln_h - kDriest) / kCell;
  const auto last = static_cast<double>(kCells - 1);
  const auto cell = static_cast<std::size_t>(std::clamp(place, 0.0, last));
  const double t = place - static_cast<double>(cell);
  const auto [y0, s0] = nodes_[cell];
  const auto [y1, s1] = nodes_[cell + 1];
  const double d0 = s0 * kCell;
  const double d1 = s1 * kCell;
  const double c2 = 3 * (y1 - y0) - 2 * d0 - d1;
  const double c3 = 2 * (y0 - y1) + d0 + d1;
  return {y0 + t * (d0 + t * (c2 + t * c3)), (d0 + t * (2 * c2 + 3 * t * c3)) / kCell};
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

MoistureAt Moisture::at(double h, const Warmth& warmth) const {
  MoistureAt held = contents_->at(h);
  held.water += h * warmth.saturated_kg_per_m3;
  held.slope += warmth.saturated_kg_per_m3;
  if (gel_ > 0) {
    const auto [x, slope] = table_->at(warmth.gel_exponent * std::log(h));
    held.water += gel_ * warmth.gel_scale * x;
    held.slope += gel_ * warmth.gel_scale * warmth.gel_exponent * slope / h;
  }
  return held;
}

Moisture::Settled Moisture::settled(double water, const Warmth& warmth, double h) const {
  constexpr int kSteps = 50;
  // Newton's error after a step is about its square: the next one would be below 1e-10.
  constexpr double kLastStep = 1e-5;
  MoistureAt held;
  for (int step = 0; step < kSteps; ++step) {
    held = at(h, warmth);
    // Never below half of what was there: the humidity stays positive.
    const double next = std::max(h / 2, h - (held.water - water) / held.slope);
    const bool there = std::abs(next - h) <= kLastStep * h;
    h = next;
    if (there) break;
  }
  return {h, {water, held.slope}};
}

}  // namespace aeruca::detail
