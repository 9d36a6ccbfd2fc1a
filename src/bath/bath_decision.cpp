#include "aeruca/bath_decision.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>

#include "base/text.hpp"
#include "base/words.hpp"
#include "bath/endpoints.hpp"
#include "bath/forecast.hpp"
#include "bath/future.hpp"
#include "bath/next_measurement.hpp"
#include "numerics/normal.hpp"

namespace aeruca {
namespace {

using detail::format_number;
using detail::say;

constexpr double kWorthWhile = 0.05;  // of what is left
constexpr double kSure = 0.9;
constexpr double kWeek = 7;
constexpr std::size_t kHorizon = 60;  // baths that a date looks ahead
constexpr double kShareNeeded = 50;   // percent out, median, before a date
constexpr double kLoadNarrowed = 1.0 / 3;
constexpr std::array kShares{50.0, 20.0, 10.0, 5.0, 2.0, 1.0};

double share_where(const std::vector<double>& values, double below) {
  const auto count =
      std::count_if(values.begin(), values.end(), [&](double value) { return value < below; });
  return static_cast<double>(count) / static_cast<double>(values.size());
}

std::vector<double> last_column(const std::vector<std::vector<double>>& rows) {
  std::vector<double> column;
  column.reserve(rows.size());
  for (const auto& row : rows) column.push_back(row.back());
  return column;
}

class Decision {
 public:
  Decision(const BathLog& log, const Dataset& dataset, const BathDecisionOptions& options)
      : log_(log), dataset_(dataset), options_(options) {}

  BathDecision make() {
    result_.posterior = infer_bath_log(log_, options_.inference);
    result_.status = result_.posterior.status;
    if (result_.status != Status::converged) {
      result_.message = result_.posterior.message;
      if (!std::isnan(options_.target_left_mg)) refuse({result_.message});
      return std::move(result_);
    }
    future_.emplace(log_, result_.posterior, options_.inference.errors, options_.bodies);
    result_.considered_days =
        std::isnan(options_.next_days) ? log_.baths.back().days() : options_.next_days;
    result_.next_volume_l = next().volume_l;
    left_now();
    choices();
    result_.endpoints = detail::judge_endpoints(
        log_, dataset_, *future_, options_.inference.object_mass_g, options_.stop_mg_per_l);
    hidden();
    date();
    result_.measurements = detail::measurement_values(log_, *future_, next());
    advise();
    return std::move(result_);
  }

 private:
  [[nodiscard]] detail::ObservedStep next(double days = kNotGiven) const {
    return future_->fresh(options_.next_volume_l, std::isnan(days) ? options_.next_days : days,
                          options_.blank_mg_per_l);
  }

  void left_now() {
    std::vector<double> out;
    for (const BathDraw& draw : result_.posterior.draws) out.push_back(draw.load_mg - draw.left_mg);
    result_.out_mg = detail::range_of_values(out);
    for (const double percent : kShares) {
      const auto& draws = result_.posterior.draws;
      const auto count = std::count_if(draws.begin(), draws.end(), [&](const BathDraw& draw) {
        return draw.left_mg < percent / 100 * draw.load_mg;
      });
      result_.left_chances.push_back(
          {percent, static_cast<double>(count) / static_cast<double>(draws.size())});
    }
  }

  // Ends after the same time: the old bath, a fresh one now, a fresh one in a week.
  void choices() {
    const double time = result_.considered_days;
    const auto leave = last_column(future_->course(time, {}).left_mg);
    const auto fresh = future_->course(0, {next(time)});
    const auto now = last_column(fresh.left_mg);
    next_reading(last_column(fresh.reading_mg_per_l));
    add_choice("bath.choice.leave", leave, leave);
    add_choice("bath.choice.now", now, leave);
    if (time > kWeek) {
      const auto later = last_column(future_->course(kWeek, {next(time - kWeek)}).left_mg);
      add_choice("bath.choice.week", later, leave);
    }
    days_saved(now);
  }

  // Each body's reading at five evenly spaced points of its error.
  void next_reading(const std::vector<double>& mean) {
    const ReadingErrors& errors = options_.inference.errors;
    const double limit = detail::latest_limit(log_);
    const double least = errors.absolute_mg_per_l > 0 ? errors.absolute_mg_per_l
                         : std::isnan(limit)          ? 0
                                                      : limit / 3.3;
    std::vector<double> readings;
    for (const double mg_per_l : mean) {
      const double sigma =
          std::hypot(std::hypot(errors.relative, errors.volume_relative) * mg_per_l, least);
      for (const double share : {0.1, 0.3, 0.5, 0.7, 0.9})
        readings.push_back(std::max(0.0, mg_per_l + sigma * detail::normal_quantile(share)));
    }
    result_.next_reading_mg_per_l = detail::range_of_values(readings);
  }

  void add_choice(std::string_view key, const std::vector<double>& left,
                  const std::vector<double>& leave) {
    BathChoice choice;
    choice.choice = say(key);
    choice.left_mg = detail::range_of_values(left);
    std::vector<double> gain(left.size());
    double worth = 0;
    for (std::size_t i = 0; i < left.size(); ++i) {
      gain[i] = leave[i] - left[i];
      if (gain[i] > kWorthWhile * leave[i]) worth += 1;
    }
    choice.gain_mg = detail::range_of_values(gain);
    choice.worth_while = worth / static_cast<double>(left.size());
    result_.choices.push_back(choice);
  }

  // How much longer the old bath would take to leave as little: never, for one that is full.
  void days_saved(const std::vector<double>& now) {
    const double time = result_.considered_days;
    constexpr std::array kLonger{1.0, 1.25, 1.5, 2.0, 3.0, 5.0, 10.0};
    std::vector<double> saved(now.size(), std::numeric_limits<double>::infinity());
    std::vector<double> before;
    for (std::size_t i = 0; i < kLonger.size(); ++i) {
      const auto left = last_column(future_->course(time * kLonger[i], {}).left_mg);
      for (std::size_t b = 0; b < now.size(); ++b) {
        if (std::isfinite(saved[b]) || left[b] > now[b] * (1 + 1e-9)) continue;
        if (i == 0) {
          saved[b] = 0;
          continue;
        }
        const double part = (before[b] - now[b]) / (before[b] - left[b]);
        saved[b] = time * (kLonger[i - 1] + part * (kLonger[i] - kLonger[i - 1]) - 1);
      }
      before = left;
    }
    result_.days_saved = detail::range_of_values(saved);
  }

  // Bodies weighed by the chance that the next bath reads below the limit.
  void hidden() {
    const double limit = detail::latest_limit(log_);
    result_.detection_limit_mg_per_l = limit;
    if (std::isnan(limit)) return;
    const auto course = future_->course(0, {next()});
    result_.hidden_mg = detail::hidden_below(limit, course);
  }

  void date() {
    result_.target_left_mg = options_.target_left_mg;
    if (std::isnan(options_.target_left_mg)) {
      result_.forecast_reason = say("bath.decision.no_target");
      return;
    }
    std::vector<double> left;
    for (const BathDraw& draw : result_.posterior.draws) left.push_back(draw.left_mg);
    result_.target_probability = share_where(left, options_.target_left_mg);
    const BathPosterior& posterior = result_.posterior;
    std::vector<std::string> reasons;
    if (posterior.bound_only) reasons.push_back(say("bath.decision.few_readings"));
    if (!posterior.one_story) reasons.push_back(say("bath.decision.stories_disagree"));
    for (const std::string& warning : posterior.warnings) reasons.push_back(warning);
    const double out = detail::range_of_values(shares_out()).median;
    if (!(out >= kShareNeeded))
      reasons.push_back(say("bath.decision.early", {{"percent", format_number(out, 2)},
                                                    {"needed", format_number(kShareNeeded)}}));
    if (!(posterior.prior_share <= kLoadNarrowed))
      reasons.push_back(say("bath.decision.load_wide"));
    if (!reasons.empty()) return refuse(reasons);
    count_baths();
  }

  [[nodiscard]] std::vector<double> shares_out() const {
    std::vector<double> shares;
    for (const BathDraw& draw : result_.posterior.draws)
      shares.push_back(100 * (1 - draw.left_mg / draw.load_mg));
    return shares;
  }

  void refuse(const std::vector<std::string>& reasons) {
    result_.forecast = ForecastKind::refused;
    result_.forecast_reason =
        say("bath.forecast.refused", {{"reasons", detail::join(reasons, "; ")}});
  }

  void count_baths() {
    const std::vector<detail::ObservedStep> baths(kHorizon, next());
    const auto course = future_->course(0, baths);
    std::vector<double> needed;
    for (std::size_t b = 0; b < course.left_mg.size(); ++b) {
      const auto& left = course.left_mg[b];
      if (future_->bodies()[b].left_mg < options_.target_left_mg) {
        needed.push_back(0);
        continue;
      }
      const auto reached = std::find_if(left.begin(), left.end(),
                                        [&](double mg) { return mg < options_.target_left_mg; });
      needed.push_back(reached == left.end() ? std::numeric_limits<double>::infinity()
                                             : static_cast<double>(reached - left.begin()) + 1);
    }
    const Range baths_needed = detail::range_of_values(needed);
    if (std::isinf(baths_needed.high)) {
      result_.forecast = ForecastKind::beyond_horizon;
      result_.forecast_reason = say("bath.decision.beyond_horizon",
                                    {{"baths", std::to_string(kHorizon)},
                                     {"target_mg", format_number(options_.target_left_mg, 3)}});
      return;
    }
    result_.more_baths = {std::floor(baths_needed.low), std::round(baths_needed.median),
                          std::ceil(baths_needed.high)};
    const double days = result_.considered_days;
    result_.more_days = {result_.more_baths.low * days, result_.more_baths.median * days,
                         result_.more_baths.high * days};
    const bool already = result_.more_baths.high == 0;
    result_.forecast = already ? ForecastKind::already_below : ForecastKind::given;
    result_.forecast_reason = already
                                  ? say("bath.decision.already",
                                        {{"target_mg", format_number(options_.target_left_mg, 3)}})
                                  : say("bath.decision.more_baths",
                                        {{"baths", detail::range_words(result_.more_baths)},
                                         {"target_mg", format_number(options_.target_left_mg, 3)},
                                         {"days", detail::range_words(result_.more_days)}});
  }

  void advise() {
    const double worth = result_.choices.size() > 1 ? result_.choices[1].worth_while : 0;
    if (result_.target_probability >= 0.95) {
      result_.advice = BathAdvice::enough;
      result_.message = say("bath.decision.enough",
                            {{"percent", format_number(100 * result_.target_probability, 3)},
                             {"target_mg", format_number(options_.target_left_mg, 3)}});
      return;
    }
    result_.advice = worth >= kSure       ? BathAdvice::change
                     : worth <= 1 - kSure ? BathAdvice::leave
                                          : BathAdvice::cannot_tell;
    const std::string key = result_.advice == BathAdvice::change  ? "bath.decision.change"
                            : result_.advice == BathAdvice::leave ? "bath.decision.leave"
                                                                  : "bath.decision.cannot_tell";
    result_.message = say(key, {{"gain_mg", detail::range_words(result_.choices[1].gain_mg)},
                                {"days", format_number(result_.considered_days, 3)},
                                {"percent", format_number(100 * worth, 3)}});
  }

  const BathLog& log_;
  const Dataset& dataset_;
  const BathDecisionOptions& options_;
  std::optional<detail::Future> future_;
  BathDecision result_;
};

void check(const BathDecisionOptions& options) {
  for (const auto& [name, value] : {std::pair{"next_volume_l", options.next_volume_l},
                                    {"next_days", options.next_days},
                                    {"stop_mg_per_l", options.stop_mg_per_l},
                                    {"target_left_mg", options.target_left_mg}}) {
    if (!std::isnan(value) && !(value > 0 && std::isfinite(value)))
      throw InputError(name, value, "above 0");
  }
  if (!std::isnan(options.blank_mg_per_l) && !(options.blank_mg_per_l >= 0))
    throw InputError("blank_mg_per_l", options.blank_mg_per_l, "0 or more");
  if (options.bodies < 50 || options.bodies > 2000)
    throw InputError("bodies", static_cast<double>(options.bodies), "50 to 2000");
}

}  // namespace

std::string_view to_string(BathAdvice advice) {
  constexpr std::array<std::string_view, 4> kNames{"change", "leave", "cannot tell", "enough"};
  return kNames[static_cast<std::size_t>(advice)];
}

BathDecision decide_bath(const BathLog& log, const Dataset& dataset,
                         const BathDecisionOptions& options) {
  check(options);
  return Decision(log, dataset, options).make();
}

}  // namespace aeruca
