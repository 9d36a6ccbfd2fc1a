#include "store/enclosure_gel_mass.hpp"

#include <cmath>
#include <limits>

namespace aeruca::detail {
namespace {

constexpr double kFirstPerM3 = 1;  // kg
constexpr double kMostPerM3 = 1e4;
constexpr double kLeastPerM3 = 1e-9;

struct Search {
  double first_kg, factor, precision;  // where, how fast, and how well to look
};

struct Bracket {
  double low, low_excess;    // of ln mass; too little
  double high, high_excess;  // enough
};

// Illinois: the false position, with the value of an end that stays halved.
double within(Bracket b, const std::function<double(double)>& excess, double precision) {
  constexpr int kSteps = 100;
  int stayed = 0;
  double before = b.high;
  for (int step = 0; step < kSteps && b.high - b.low > precision; ++step) {
    const double share = b.low_excess / (b.low_excess - b.high_excess);
    const double middle = b.low + (b.high - b.low) * share;
    const double here = excess(std::exp(middle));
    if (std::abs(here) < 1e-10 || std::abs(middle - before) < precision / 4) return middle;
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

double gel_mass(double volume_m3, const std::function<double(double)>& excess, double guess_kg) {
  const bool guessed = guess_kg > 0 && std::isfinite(guess_kg);
  const Search search =
      guessed ? Search{guess_kg, 1.25, 1e-4} : Search{kFirstPerM3 * volume_m3, 4, 1e-6};
  if (!guessed && excess(0) <= 0) return 0;
  double factor = search.factor;
  double enough = search.first_kg;
  double over = excess(enough);
  double too_little = enough;
  double over_before = over;
  while (over <= 0 && too_little > kLeastPerM3 * volume_m3) {  // down to where it is too little
    enough = too_little;
    over_before = over;
    too_little /= factor;
    factor *= search.factor;
    over = excess(too_little);
  }
  if (over <= 0) return 0;
  if (over_before > 0) {  // up to where it is enough
    do {
      if (enough > kMostPerM3 * volume_m3) return std::numeric_limits<double>::infinity();
      too_little = enough;
      over = over_before;
      enough *= factor;
      factor *= search.factor;
      over_before = excess(enough);
    } while (over_before > 0);
  }
  return std::exp(within({std::log(too_little), over, std::log(enough), over_before}, excess,
                         search.precision));
}

}  // namespace aeruca::detail
