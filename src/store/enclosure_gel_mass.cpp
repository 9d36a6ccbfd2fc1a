#include "store/enclosure_gel_mass.hpp"

#include <cmath>
#include <limits>

namespace aeruca::detail {
namespace {

constexpr double kFirstPerM3 = 1;  // kg
constexpr double kMostPerM3 = 1e4;
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
  for (int step = 0; step < kSteps && b.high - b.low > kPrecision; ++step) {
    const double share = b.low_excess / (b.low_excess - b.high_excess);
    const double middle = b.low + (b.high - b.low) * share;
    const double here = excess(std::exp(middle));
    if (std::abs(here) < 1e-10) return middle;
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
  while (over <= 0 && too_little > 1e-9 * volume_m3) {  // down to where it is too little
    enough = too_little;
    over_before = over;
    too_little /= kFactor;
    over = excess(too_little);
  }
  if (over_before <= 0)
    return std::exp(within({std::log(too_little), over, std::log(enough), over_before}, excess));
  while (over > 0) {  // up to where it is enough
    if (enough > kMostPerM3 * volume_m3) return std::numeric_limits<double>::infinity();
    too_little = enough;
    over_before = over;
    enough *= kFactor;
    over = excess(enough);
  }
  return std::exp(within({std::log(too_little), over_before, std::log(enough), over}, excess));
}

}  // namespace aeruca::detail
