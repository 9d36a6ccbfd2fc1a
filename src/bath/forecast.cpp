#include "bath/forecast.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "aeruca/not_given.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca {

std::string_view to_string(ForecastKind kind) {
  switch (kind) {
    case ForecastKind::given:
      return "given";
    case ForecastKind::refused:
      return "refused";
    case ForecastKind::not_asked:
      return "not asked";
    case ForecastKind::already_below:
      return "already below";
    case ForecastKind::beyond_horizon:
      return "beyond horizon";
  }
  return "unknown";
}

namespace detail {
namespace {

constexpr std::size_t kHorizon = 100;     // baths a forecast looks ahead
constexpr double kShareNeeded = 70;       // percent out, median, before an end date
constexpr double kLoadSpanAllowed = 1.5;  // 95 % over 5 % of the load
constexpr double kShortBath = 0.5;        // of the usual length: below it a bath flatters
constexpr double kLargeBath = 2;          // times the usual volume: above it a bath flatters

double middle(std::vector<double> values) {
  const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), half, values.end());
  return *half;
}

class Forecast {
 public:
  Forecast(const BathLog& log, const BathFitOptions& options, ReleaseModel& model,
           const Posterior& posterior, BathFit& fit)
      : log_(log), options_(options), model_(model), posterior_(posterior), fit_(fit) {}

  void make() {
    if (std::isnan(options_.stop_mg_per_l)) {
      fit_.forecast_reason = say("bath.forecast.not_asked");
      return;
    }
    early_log();
    unseen_level();
    flattering_bath();
    if (reasons_.empty()) return count_baths();
    fit_.forecast = ForecastKind::refused;
    fit_.forecast_reason = say("bath.forecast.refused", {{"reasons", join(reasons_, "; ")}});
  }

 private:
  void early_log() {
    if (!(fit_.share_out_percent.median >= kShareNeeded)) {
      reasons_.push_back(
          say("bath.forecast.early", {{"percent", format_number(fit_.share_out_percent.median, 2)},
                                      {"needed", format_number(kShareNeeded)}}));
    }
    if (!(fit_.load_mg.high <= kLoadSpanAllowed * fit_.load_mg.low)) {
      reasons_.push_back(
          say("bath.forecast.wide", {{"low", format_number(fit_.load_mg.low, 3)},
                                     {"high", format_number(fit_.load_mg.high, 3)}}));
    }
  }

  // A reading below the limit of the method says nothing of a level below that limit.
  void unseen_level() {
    const double limit = latest_limit();
    if (!(limit > options_.stop_mg_per_l + log_.baths.back().blank_or_zero())) return;
    reasons_.push_back(say("bath.forecast.unseen",
                           {{"limit_mg_per_l", format_number(limit, 3)}, {"level", level()}}));
  }

  // A bath that states no limit was read as the one before it: the method of a log seldom changes,
  // and its limit is often written once. NaN: no bath states one.
  [[nodiscard]] double latest_limit() const {
    const auto stated = std::find_if(
        log_.baths.rbegin(), log_.baths.rend(),
        [](const BathRecord& bath) { return !std::isnan(bath.detection_limit_mg_per_l); });
    return stated == log_.baths.rend() ? kNotGiven : stated->detection_limit_mg_per_l;
  }

  // A short or a large bath reads low whatever is left inside.
  void flattering_bath() {
    std::vector<double> days;
    std::vector<double> litres;
    for (const BathRecord& bath : log_.baths) {
      days.push_back(bath.days());
      litres.push_back(bath.volume_l);
    }
    const auto refuse = [&](double next, double usual, const char* key) {
      reasons_.push_back(
          say(key, {{"next", format_number(next, 3)}, {"usual", format_number(usual, 3)}}));
    };
    const double usual_days = middle(days);
    const double usual_litres = middle(litres);
    if (fit_.next_days < kShortBath * usual_days)
      refuse(fit_.next_days, usual_days, "bath.forecast.short_bath");
    if (fit_.next_volume_l > kLargeBath * usual_litres)
      refuse(fit_.next_volume_l, usual_litres, "bath.forecast.large_bath");
  }

  [[nodiscard]] std::string level() const {
    return format_number(options_.stop_mg_per_l, 3) + " mg/L";
  }

  // The level is one above the blank; with none known it can only be one of the reading.
  [[nodiscard]] std::string blank_words() const {
    return std::isnan(log_.baths.back().blank_mg_per_l) ? say("bath.forecast.no_blank") : "";
  }

  [[nodiscard]] std::string limit_words() const {
    return std::isnan(latest_limit()) ? say("bath.forecast.no_limit") : "";
  }

  // Baths until the expected reading, less the blank, is below the stop level; kHorizon + 1: not
  // within it.
  [[nodiscard]] double baths_needed(const Release& far, double load_mg) const {
    const std::size_t logged = log_.baths.size();
    for (std::size_t i = 0; i < kHorizon; ++i) {
      if (far.released_mg(load_mg, logged + i) / fit_.next_volume_l < options_.stop_mg_per_l) {
        return static_cast<double>(i + 1);
      }
    }
    return static_cast<double>(kHorizon + 1);
  }

  // The far future is worked out only for points that carry weight.
  [[nodiscard]] Range baths_range() const {
    const BathSequence far(log_, options_, kHorizon);
    std::vector<std::unique_ptr<Release>> releases(posterior_.releases.size());
    std::vector<std::pair<double, double>> pairs;
    for (const PosteriorPoint& point : posterior_.points) {
      if (point.weight < 1e-6) continue;
      auto& release = releases[point.release];
      const auto& others = model_.alternatives()[posterior_.alternative[point.release]];
      if (!release) release = model_.release(far, point.rate, others);
      pairs.emplace_back(baths_needed(*release, point.load_mg), point.weight);
    }
    return weighted_range(std::move(pairs));
  }

  void count_baths() {
    const Range baths = baths_range();
    if (baths.high > static_cast<double>(kHorizon)) {
      fit_.forecast = ForecastKind::beyond_horizon;
      fit_.forecast_reason = say("bath.forecast.beyond_horizon",
                                 {{"baths", std::to_string(kHorizon)}, {"level", level()}});
      return;
    }
    fit_.more_baths = {std::floor(baths.low), std::round(baths.median), std::ceil(baths.high)};
    const double days = fit_.next_days;
    fit_.more_days = {fit_.more_baths.low * days, fit_.more_baths.median * days,
                      fit_.more_baths.high * days};
    const bool below = baths.high <= 1;
    fit_.forecast = below ? ForecastKind::already_below : ForecastKind::given;
    const std::string reached = level() + blank_words() + limit_words();
    fit_.forecast_reason =
        say("bath.forecast.by_model",
            {{"when", below ? say("bath.forecast.next_bath", {{"level", reached}})
                            : say("bath.forecast.more_baths",
                                  {{"baths", range_words(fit_.more_baths)}, {"level", reached}})},
             {"model", model_word(model_)},
             {"left_mg", range_words(fit_.left_mg)}});
  }

  const BathLog& log_;
  const BathFitOptions& options_;
  ReleaseModel& model_;
  const Posterior& posterior_;
  BathFit& fit_;
  std::vector<std::string> reasons_;
};

}  // namespace

std::string range_words(const Range& range) {
  return range_text(range.median, range.low, range.high);
}

std::string model_word(const ReleaseModel& model) {
  // A model that is not the library's own has no word in its languages.
  const std::string key = "bath.model." + std::string(model.name());
  return words_in_use().has(key) ? say(key) : std::string(model.name());
}

void forecast(const BathLog& log, const BathFitOptions& options, ReleaseModel& model,
              const Posterior& posterior, BathFit& fit) {
  Forecast(log, options, model, posterior, fit).make();
}

}  // namespace detail
}  // namespace aeruca
