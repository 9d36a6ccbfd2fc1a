#include <algorithm>
#include <cmath>

#include "aeruca/brine.hpp"
#include "aeruca/crystallisation.hpp"
#include "aeruca/errors.hpp"
#include "aeruca/store.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca {
namespace {

// Points every 5 degrees from 0 to 50, and those next to 25 that are known without a hole.
constexpr int kPoints = 11;
constexpr int kRoomPoint = 5;

void add_point(OnsetCurve& curve, double temperature_c, double rh, double uncertainty) {
  const double spread = std::isnan(uncertainty) ? 0 : 2 * uncertainty;
  curve.temperature_c.push_back(temperature_c);
  curve.low_rh_percent.push_back(std::max(0.0, rh - spread));
  curve.high_rh_percent.push_back(std::min(100.0, rh + spread));
}

}  // namespace

OnsetCurve salt_onset_curve(const Dataset& dataset, std::string_view salt) {
  std::vector<double> temperatures;
  temperatures.reserve(kPoints);
  for (int i = 0; i < kPoints; ++i) temperatures.push_back(5.0 * i);
  const DeliquescenceCurve found = deliquescence_curve(dataset, salt, temperatures);
  const auto known = [&](int i) {
    return i >= 0 && i < kPoints && !std::isnan(found.rh_percent[static_cast<std::size_t>(i)]);
  };
  if (!known(kRoomPoint)) {
    throw InputError(
        "salt", std::string(salt),
        "a salt whose deliquescence at 25 degrees C is known (" + found.not_known_because + ")");
  }
  int first = kRoomPoint;
  int last = kRoomPoint;
  while (known(first - 1)) --first;
  while (known(last + 1)) ++last;
  const Salt& entry = dataset.salt(salt);
  OnsetCurve curve;
  curve.id = entry.solid;
  curve.source = entry.source;
  const auto crystallises = crystallisation_humidities(dataset, salt);
  if (!crystallises.empty())
    curve.crystallisation_rh_percent = crystallises.back().rh_percent;  // the longest that it lasts
  curve.title = detail::say(first == last ? "store.salt_onset.of_25c" : "store.salt_onset",
                            {{"salt", entry.formula}});
  for (int i = first; i <= last; ++i) {
    const auto at = static_cast<std::size_t>(i);
    add_point(curve, temperatures[at], found.rh_percent[at], found.rh_uncertainty_percent[at]);
  }
  return curve;
}

}  // namespace aeruca
