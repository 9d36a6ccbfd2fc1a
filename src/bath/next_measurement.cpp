#include "bath/next_measurement.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/text.hpp"
#include "base/words.hpp"
#include "bath/endpoints.hpp"
#include "numerics/normal.hpp"

namespace aeruca::detail {
namespace {

constexpr std::size_t kOutcomes = 40;
constexpr double kRelative = 0.05;      // standard error of a usual reading
constexpr double kFineRelative = 0.02;  // and of a laboratory's
constexpr double kFineFloor = 0.03;     // mg/L
constexpr double kRarely = 1e-3;

// Positions of the bodies from the least left to the most.
std::vector<std::size_t> order_of(const std::vector<double>& left) {
  std::vector<std::size_t> order(left.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](auto a, auto b) { return left[a] < left[b]; });
  return order;
}

double weighted_point(const std::vector<double>& left, const std::vector<std::size_t>& order,
                      const std::vector<double>& weights, double share) {
  const double total = std::accumulate(weights.begin(), weights.end(), 0.0);
  double sum = 0;
  for (const std::size_t b : order) {
    sum += weights[b];
    if (sum >= share * total) return left[b];
  }
  return left[order.back()];
}

struct Method {
  double relative, floor_mg_per_l;
};

// Mean width after a reading of `mean` by the method, over outcomes; each body in turn is the truth,
// read half a standard error high or low by turns.
double width_after(const std::vector<double>& left, const std::vector<std::size_t>& order,
                   const std::vector<double>& mean, const Method& method) {
  double sum = 0;
  std::vector<double> weights(left.size());
  const std::size_t stride = std::max<std::size_t>(1, left.size() / kOutcomes);
  std::size_t outcomes = 0;
  for (std::size_t truth = 0; truth < left.size(); truth += stride) {
    const double share = (static_cast<double>(outcomes % 8) + 0.5) / 8;
    const auto sigma = [&](std::size_t b) {
      return std::max(std::hypot(method.relative * mean[b], method.floor_mg_per_l), 1e-9);
    };
    const double read = mean[truth] + sigma(truth) * normal_quantile(share);
    for (std::size_t b = 0; b < left.size(); ++b) {
      const double z = (read - mean[b]) / sigma(b);
      weights[b] = std::exp(-0.5 * z * z) / sigma(b);
    }
    sum += weighted_point(left, order, weights, 0.95) - weighted_point(left, order, weights, 0.05);
    ++outcomes;
  }
  return sum / static_cast<double>(outcomes);
}

}  // namespace

double hidden_below(double limit_mg_per_l, const Future::Course& course) {
  std::vector<double> left;
  std::vector<double> weights;
  for (std::size_t b = 0; b < course.left_mg.size(); ++b) {
    const double mean = course.reading_mg_per_l[b].front();
    const double sigma = std::max(std::hypot(kRelative * mean, limit_mg_per_l / 3.3), 1e-9);
    left.push_back(course.left_mg[b].front());
    weights.push_back(normal_below((limit_mg_per_l - mean) / sigma));
  }
  const double total = std::accumulate(weights.begin(), weights.end(), 0.0);
  if (total < kRarely * static_cast<double>(left.size())) return kNotGiven;
  return weighted_point(left, order_of(left), weights, 0.95);
}

std::vector<MeasurementValue> measurement_values(const BathLog& log, const Future& future,
                                                 const ObservedStep& next) {
  std::vector<double> left;
  for (const BathDraw& body : future.bodies()) left.push_back(body.left_mg);
  const std::vector<std::size_t> order = order_of(left);
  const std::vector<double> even(left.size(), 1.0);
  const double now =
      weighted_point(left, order, even, 0.95) - weighted_point(left, order, even, 0.05);
  const double limit = latest_limit(log);
  const Method usual{kRelative, std::isnan(limit) ? 0.5 : limit / 3.3};
  const Method fine{kFineRelative, kFineFloor};
  std::vector<MeasurementValue> values;
  const auto add = [&](std::string_view key, const std::vector<double>& mean, const Method& method,
                       double days) {
    const double after = now > 0 ? width_after(left, order, mean, method) : 0;
    const double narrowing = now > 0 ? 100 * std::max(0.0, 1 - after / now) : 0;
    values.push_back({say(key, {{"days", format_number(days, 3)}}), narrowing});
  };
  const auto readings = [&](double factor) {
    ObservedStep step = next;
    step.days *= factor;
    const Future::Course course = future.course(0, {step});
    std::vector<double> mean;
    for (const auto& reading : course.reading_mg_per_l) mean.push_back(reading.front());
    return mean;
  };
  const std::vector<double> once = readings(1);
  const std::vector<double> thrice = readings(3);
  const double days = next.days;
  add("bath.measure.next", once, usual, days);
  add("bath.measure.next_fine", once, fine, days);
  add("bath.measure.long", thrice, usual, 3 * days);
  add("bath.measure.long_fine", thrice, fine, 3 * days);
  std::stable_sort(values.begin(), values.end(), [](const auto& a, const auto& b) {
    return a.narrowing_percent > b.narrowing_percent;
  });
  return values;
}

}  // namespace aeruca::detail
