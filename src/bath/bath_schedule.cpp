#include "aeruca/bath_schedule.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>

#include "base/text.hpp"
#include "base/words.hpp"
#include "bath/forecast.hpp"
#include "bath/future.hpp"

namespace aeruca {
namespace {

using detail::format_number;
using detail::say;

constexpr double kSure = 0.95;
constexpr double kAsGood = 1.05;  // more baths must leave less than this part to be worth it
constexpr double kFine = 0.01;    // of a time or a volume
constexpr double kLongest = 10;   // times the days given

// The log's own word goes before the user's; a last bath that states none stands for the first that does.
double temperature_of_last(const BathLog& log, const BathScheduleOptions& options) {
  double stated = kNotGiven;
  for (const BathRecord& bath : log.baths) {
    if (std::isnan(stated)) stated = bath.temperature_c;
  }
  if (std::isnan(stated)) return options.log_temperature_c;
  const double last = log.baths.back().temperature_c;
  return std::isnan(last) ? stated : last;
}

class Scheduler {
 public:
  Scheduler(const BathLog& log, const BathScheduleOptions& options)
      : log_(log), options_(options) {}

  BathSchedule make() {
    const BathPosterior posterior = infer_bath_log(log_, options_.inference);
    result_.status = posterior.status;
    result_.message = posterior.message;
    if (result_.status != Status::converged) return std::move(result_);
    future_.emplace(log_, posterior, options_.inference.errors, options_.bodies);
    set_temperature();
    if (!posterior.one_story) result_.remarks.push_back(say("bath.schedule.stories"));
    if (posterior.bound_only) result_.remarks.push_back(say("bath.schedule.bound"));
    for (std::size_t n = 1; n <= options_.baths_most; ++n)
      result_.equal.push_back(scheme(even(n, options_.total_days), volume(n)));
    best();
    if (!std::isnan(options_.target_left_mg)) {
      least_time();
      least_water();
    }
    result_.message =
        say("bath.schedule.found", {{"baths", std::to_string(result_.best.days.size())},
                                    {"days", format_number(options_.total_days, 3)},
                                    {"left_mg", detail::range_words(result_.best.left_mg)},
                                    {"one_mg", detail::range_words(result_.equal[0].left_mg)}});
    return std::move(result_);
  }

 private:
  void set_temperature() {
    if (std::isnan(options_.temperature_c)) return;
    const double last = temperature_of_last(log_, options_);
    result_.diffusion_speed = detail::diffusion_speed(options_.temperature_c, last);
    future_->hasten(result_.diffusion_speed);
    result_.remarks.push_back(
        say("bath.schedule.warmth", {{"temperature_c", format_number(options_.temperature_c, 3)},
                                     {"factor", format_number(result_.diffusion_speed, 2)},
                                     {"last_c", format_number(last, 3)}}));
  }

  static std::vector<double> even(std::size_t count, double days) {
    std::vector<double> lengths(count, days / static_cast<double>(count));
    return lengths;
  }
  [[nodiscard]] double volume(std::size_t count) const {
    if (!std::isnan(options_.water_l)) return options_.water_l / static_cast<double>(count);
    return std::isnan(options_.bath_l) ? log_.baths.back().volume_l : options_.bath_l;
  }

  [[nodiscard]] std::vector<double> left(const std::vector<double>& days, double litres) const {
    std::vector<detail::ObservedStep> steps;
    steps.reserve(days.size());
    for (const double one : days)
      steps.push_back(future_->fresh(litres, one, options_.blank_mg_per_l));
    std::vector<double> values;
    for (const auto& row : future_->course(0, steps).left_mg) values.push_back(row.back());
    return values;
  }
  // Mean of the logarithms: a factor counts alike for a body with much and one with little.
  [[nodiscard]] double cost(const std::vector<double>& days, double litres) const {
    double sum = 0;
    for (const double mg : left(days, litres)) sum += std::log(std::max(mg, 1e-12));
    return sum;
  }
  [[nodiscard]] double chance(const std::vector<double>& days, double litres) const {
    const std::vector<double> values = left(days, litres);
    const auto below = std::count_if(values.begin(), values.end(),
                                     [&](double mg) { return mg < options_.target_left_mg; });
    return static_cast<double>(below) / static_cast<double>(values.size());
  }

  [[nodiscard]] BathScheme scheme(const std::vector<double>& days, double litres) const {
    BathScheme scheme;
    scheme.days = days;
    scheme.bath_l = litres;
    scheme.water_l = litres * static_cast<double>(days.size());
    scheme.total_days = std::accumulate(days.begin(), days.end(), 0.0);
    scheme.left_mg = detail::range_of_values(left(days, litres));
    if (!std::isnan(options_.target_left_mg)) scheme.below_target = chance(days, litres);
    return scheme;
  }

  void best() {
    double least = result_.equal.front().left_mg.median;
    for (const BathScheme& one : result_.equal) least = std::min(least, one.left_mg.median);
    const auto chosen =
        std::find_if(result_.equal.begin(), result_.equal.end(),
                     [&](const BathScheme& one) { return one.left_mg.median <= kAsGood * least; });
    std::vector<double> days = chosen->days;
    double now = cost(days, chosen->bath_l);
    for (double move = 0.25; move > kFine && days.size() > 1; move *= 0.5) {
      for (std::size_t k = 0; k + 1 < days.size(); ++k) {
        for (const double sign : {-1.0, 1.0}) {
          std::vector<double> tried = days;
          const double shift = sign * move * (sign < 0 ? tried[k] : tried[k + 1]);
          tried[k] += shift;
          tried[k + 1] -= shift;
          const double there = cost(tried, chosen->bath_l);
          if (there < now) {
            now = there;
            days = tried;
          }
        }
      }
    }
    result_.best = scheme(days, chosen->bath_l);
    result_.gain_of_timing_percent =
        chosen->left_mg.median > 0
            ? 100 * (1 - result_.best.left_mg.median / chosen->left_mg.median)
            : 0;
  }

  // The least amount, between none and `most`, with which `chance_at` is sure; NaN: not even that.
  template <typename ChanceAt>
  static double least(double most, const ChanceAt& chance_at) {
    if (chance_at(most) < kSure) return kNotGiven;
    double low = 1e-3 * most;
    if (chance_at(low) >= kSure) return low;
    double high = most;
    while (high > (1 + kFine) * low) {
      const double middle = std::sqrt(low * high);
      (chance_at(middle) >= kSure ? high : low) = middle;
    }
    return high;
  }

  void least_time() {
    double best = kLongest * options_.total_days;
    for (std::size_t n = 1; n <= options_.baths_most; ++n) {
      const double days =
          least(best, [&](double time) { return chance(even(n, time), volume(n)); });
      if (std::isnan(days) || days >= best * (1 - kFine)) continue;
      best = days;
      result_.least_time = scheme(even(n, days), volume(n));
    }
  }

  void least_water() {
    const double most = std::isnan(options_.water_l)
                            ? volume(1) * static_cast<double>(options_.baths_most)
                            : options_.water_l;
    double best = most;
    for (std::size_t n = 1; n <= options_.baths_most; ++n) {
      const std::vector<double> days = even(n, options_.total_days);
      const auto count = static_cast<double>(n);
      const double litres = least(best, [&](double water) { return chance(days, water / count); });
      if (std::isnan(litres) || litres >= best * (1 - kFine)) continue;
      best = litres;
      result_.least_water = scheme(days, litres / count);
    }
  }

  const BathLog& log_;
  const BathScheduleOptions& options_;
  std::optional<detail::Future> future_;
  BathSchedule result_;
};

void check(const BathScheduleOptions& options) {
  for (const auto& [name, value] : {std::pair{"total_days", options.total_days},
                                    {"bath_l", options.bath_l},
                                    {"water_l", options.water_l},
                                    {"target_left_mg", options.target_left_mg}}) {
    if (!std::isnan(value) && !(value > 0 && std::isfinite(value)))
      throw InputError(name, value, "above 0");
  }
  if (std::isnan(options.total_days)) throw InputError("total_days", kNotGiven, "above 0");
  if (!std::isnan(options.bath_l) && !std::isnan(options.water_l))
    throw InputError("water_l", options.water_l, "either bath_l or water_l, not both");
  if (options.baths_most < 1 || options.baths_most > 12)
    throw InputError("baths_most", static_cast<double>(options.baths_most), "1 to 12");
  if (options.bodies < 20 || options.bodies > 1000)
    throw InputError("bodies", static_cast<double>(options.bodies), "20 to 1000");
}

void check_temperatures(const BathLog& log, const BathScheduleOptions& options) {
  constexpr std::string_view kAccepted = "0 to 50 degrees C";
  for (const auto& [name, value] : {std::pair{"temperature_c", options.temperature_c},
                                    {"log_temperature_c", options.log_temperature_c}}) {
    if (!std::isnan(value) && !(value >= 0 && value <= 50))
      throw InputError(name, value, std::string(kAccepted));
  }
  const bool asked = !std::isnan(options.temperature_c);
  const bool stated = std::any_of(log.baths.begin(), log.baths.end(), [](const BathRecord& bath) {
    return !std::isnan(bath.temperature_c);
  });
  const bool given = !std::isnan(options.log_temperature_c);
  if (given && (stated || !asked))
    throw InputError("log_temperature_c", options.log_temperature_c,
                     "a temperature beside temperature_c, for a log whose baths state none");
  if (asked && !stated && !given)
    throw InputError(
        "temperature_c", options.temperature_c,
        "a temperature beside log_temperature_c, for no bath of the log states its own");
}

}  // namespace

BathSchedule schedule_baths(const BathLog& log, const BathScheduleOptions& options) {
  check(options);
  check_temperatures(log, options);
  return Scheduler(log, options).make();
}

}  // namespace aeruca
