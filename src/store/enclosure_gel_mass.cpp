#include "store/enclosure_gel_mass.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "aeruca/not_given.hpp"

namespace aeruca::detail {
namespace {

constexpr double kFirstPerM3 = 1;  // kg
constexpr double kMostPerM3 = 1e4;
constexpr double kLeastPerM3 = 1e-9;
constexpr double kFactor = 4;
constexpr double kPrecision = 1e-6;

struct Bracket {
  double low, low_excess;    // of ln mass; too little
  double high, high_excess;  // enough
};

// Illinois: the false position, with the value of an end that stays halved.
double within(Bracket b, const std::function<double(double)>& excess) {
  constexpr int kSteps = 100;
  int stayed = 0;
  double before = b.high;
  for (int step = 0; step < kSteps && b.high - b.low > kPrecision; ++step) {
    const double share = b.low_excess / (b.low_excess - b.high_excess);
    const double middle = b.low + (b.high - b.low) * share;
    const double here = excess(std::exp(middle));
    if (std::abs(here) < 1e-10 || std::abs(middle - before) < kPrecision / 4) return middle;
    before = middle;
    if (here > 0) {
      b.low = middle;
      b.low_excess = here;
      if (stayed == 1) b.high_excess /= 2;
      stayed = 1;
    } else {
      b.high = middle;
      b.high_excess = here;
      if (stayed == -1) b.low_excess /= 2;
      stayed = -1;
    }
  }
  return b.high;
}

}  // namespace

double gel_mass(double volume_m3, const std::function<double(double)>& excess) {
  if (excess(0) <= 0) return 0;
  double enough = kFirstPerM3 * volume_m3;
  double over = excess(enough);
  double too_little = enough;
  double over_before = over;
  while (over <= 0 && too_little > kLeastPerM3 * volume_m3) {  // down to where it is too little
    enough = too_little;
    over_before = over;
    too_little /= kFactor;
    over = excess(too_little);
  }
  if (over <= 0) return 0;
  while (over_before > 0) {  // up to where it is enough
    if (enough > kMostPerM3 * volume_m3) return std::numeric_limits<double>::infinity();
    too_little = enough;
    over = over_before;
    enough *= kFactor;
    over_before = excess(enough);
  }
  return std::exp(within({std::log(too_little), over, std::log(enough), over_before}, excess));
}

double gel_mass_from(double guess_kg, const Growth& growth) {
  constexpr int kSteps = 12;
  constexpr double kSettled = 1e-3;
  double mass = std::log(guess_kg);
  double grown = std::log(growth(guess_kg));
  double slope = -1;  // of ln growth by ln mass: in proportion
  for (int step = 0; step < kSteps; ++step) {
    const double by = std::clamp(-grown / slope, -2.0, 2.0);
    mass += by;
    if (std::abs(by) < kSettled) return std::exp(mass);
    const double now = std::log(growth(std::exp(mass)));
    slope = std::clamp((now - grown) / by, -3.0, -0.2);
    grown = now;
    // The next step would be below what is asked for: taken, and not looked at again.
    if (std::abs(grown / slope) < kSettled) return std::exp(mass - grown / slope);
  }
  return kNotGiven;
}

}  // namespace aeruca::detail
