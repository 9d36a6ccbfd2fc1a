// The exchange of air of an enclosure, from measurements.

#include <algorithm>
#include <cmath>
#include <functional>

#include "aeruca/enclosure.hpp"
#include "aeruca/errors.hpp"
#include "base/number_text.hpp"
#include "base/words.hpp"
#include "numerics/normal.hpp"
#include "store/enclosure_air.hpp"
#include "store/enclosure_checks.hpp"

namespace aeruca {
namespace {

using detail::say;

constexpr double kMostRelativeSd = 0.5;            // beyond it the readings cannot tell
constexpr double kSlowest = 1e-4, kFastest = 1e3;  // exchanges a day that are looked through
constexpr int kScan = 141;                         // twenty in a decade

using Curve = std::function<std::vector<double>(double exchange, double start)>;

struct Residuals {
  double squares = 0;
  std::vector<double> each;
};

// Least squares over ln exchange and the start of a curve.
class TwoParameterFit {
 public:
  TwoParameterFit(std::vector<double> values, Curve curve)
      : values_(std::move(values)), curve_(std::move(curve)) {}

  // From the best of a scan of exchanges, each with the start given, by Gauss and Newton.
  ExchangeFit fit(double start) {
    double best = std::numeric_limits<double>::infinity();
    double log_exchange = 0;
    for (int i = 0; i < kScan; ++i) {
      const double tried = std::log(kSlowest) + std::log(kFastest / kSlowest) * i / (kScan - 1);
      const double squares = residuals(tried, start).squares;
      if (squares < best) {
        best = squares;
        log_exchange = tried;
      }
    }
    return improved(log_exchange, start);
  }

 private:
  [[nodiscard]] Residuals residuals(double log_exchange, double start) const {
    Residuals found;
    const std::vector<double> at = curve_(std::exp(log_exchange), start);
    for (std::size_t i = 0; i < values_.size(); ++i) {
      found.each.push_back(values_[i] - at[i]);
      found.squares += found.each.back() * found.each.back();
    }
    return found;
  }

  // The normal equations of the two parameters.
  struct Normal {
    double ee = 0, es = 0, ss = 0, er = 0, sr = 0;
    [[nodiscard]] double determinant() const { return ee * ss - es * es; }
  };

  [[nodiscard]] Normal normal(double log_exchange, double start, const Residuals& now) const {
    const double step_e = 1e-4;
    const double step_s = 1e-4 * std::max(1e-3, std::abs(start));
    const Residuals e = residuals(log_exchange + step_e, start);
    const Residuals s = residuals(log_exchange, start + step_s);
    Normal sums;
    for (std::size_t i = 0; i < values_.size(); ++i) {
      const double de = (now.each[i] - e.each[i]) / step_e;
      const double ds = (now.each[i] - s.each[i]) / step_s;
      sums.ee += de * de;
      sums.es += de * ds;
      sums.ss += ds * ds;
      sums.er += de * now.each[i];
      sums.sr += ds * now.each[i];
    }
    return sums;
  }

  ExchangeFit improved(double log_exchange, double start) {
    Residuals now = residuals(log_exchange, start);
    Normal sums = normal(log_exchange, start, now);
    constexpr int kSteps = 50;
    for (int step = 0; step < kSteps && sums.determinant() > 0; ++step) {
      double by_e = (sums.er * sums.ss - sums.sr * sums.es) / sums.determinant();
      double by_s = (sums.sr * sums.ee - sums.er * sums.es) / sums.determinant();
      by_e = std::clamp(by_e, -1.0, 1.0);
      Residuals next = residuals(log_exchange + by_e, start + by_s);
      for (int half = 0; half < 30 && !(next.squares <= now.squares); ++half) {
        by_e /= 2;
        by_s /= 2;
        next = residuals(log_exchange + by_e, start + by_s);
      }
      if (!(next.squares <= now.squares)) break;
      const bool there = std::abs(by_e) < 1e-8;
      log_exchange += by_e;
      start += by_s;
      now = std::move(next);
      sums = normal(log_exchange, start, now);
      if (there) break;
    }
    return told(log_exchange, now, sums);
  }

  // Residuals that follow each other count as fewer readings.
  [[nodiscard]] static double widening(const Residuals& now) {
    double product = 0;
    for (std::size_t i = 1; i < now.each.size(); ++i) product += now.each[i] * now.each[i - 1];
    const double along = now.squares > 0 ? std::clamp(product / now.squares, 0.0, 0.999) : 0;
    return (1 + along) / (1 - along);
  }

  [[nodiscard]] ExchangeFit told(double log_exchange, const Residuals& now,
                                 const Normal& sums) const {
    ExchangeFit fit;
    fit.readings = values_.size();
    const double freedom = static_cast<double>(values_.size()) - 2;
    const double variance = now.squares / freedom;
    fit.residual_sd = std::sqrt(variance);
    fit.relative_sd = std::sqrt(widening(now) * variance * sums.ss / sums.determinant());
    if (!(sums.determinant() > 0) || !(fit.relative_sd <= kMostRelativeSd) ||
        std::exp(log_exchange) < kSlowest || std::exp(log_exchange) > kFastest) {
      fit.status = Status::infeasible;
      fit.message = say("enclosure.exchange_not_told");
      return fit;
    }
    fit.exchange_per_day = std::exp(log_exchange);
    fit.low_per_day = fit.exchange_per_day * std::exp(-detail::kNormal95 * fit.relative_sd);
    fit.high_per_day = fit.exchange_per_day * std::exp(detail::kNormal95 * fit.relative_sd);
    return fit;
  }

  std::vector<double> values_;
  Curve curve_;
};

void check_decay(std::span<const double> hours, std::span<const double> values, double background) {
  if (hours.size() != values.size() || hours.size() < 4)
    throw InputError("values", static_cast<double>(values.size()),
                     "at least 4 readings, each with its time in hours");
  if (!std::isfinite(background)) throw InputError("background", background, "a number");
  for (std::size_t i = 0; i < hours.size(); ++i) {
    if (!std::isfinite(values[i])) throw InputError("values", values[i], "numbers");
    if (!std::isfinite(hours[i]) || (i > 0 && hours[i] <= hours[i - 1]))
      throw InputError("hours", hours[i], "times that increase");
  }
}

// Readings inside while the record outside runs.
struct Inside {
  std::vector<double> days, h;
};

Inside inside_readings(const LoggerRecord& inside, const Climate& climate) {
  constexpr std::size_t kFewest = 24;
  Inside found;
  for (std::size_t i = 0; i < inside.size(); ++i) {
    const double days = static_cast<double>(inside.times_s[i] - climate.start_s) / 86400;
    if (days < 0 || days > climate.until_days.back()) continue;
    found.days.push_back(days);
    found.h.push_back(inside.rh_percent[i] / 100);
  }
  if (found.days.size() < kFewest)
    throw InputError("inside", static_cast<double>(found.days.size()),
                     "at least 24 readings inside while the record outside runs");
  return found;
}

// The climate from the first reading inside on.
std::vector<detail::ClimatePiece> from_first(std::vector<detail::ClimatePiece> pieces,
                                             const Inside& inside) {
  std::erase_if(pieces, [&](const detail::ClimatePiece& one) {
    return one.until_days <= inside.days.front();
  });
  for (detail::ClimatePiece& piece : pieces) piece.until_days -= inside.days.front();
  return pieces;
}

}  // namespace

ExchangeFit fit_decay(std::span<const double> hours, std::span<const double> values,
                      double background) {
  check_decay(hours, values, background);
  const Curve curve = [&](double exchange, double start) {
    std::vector<double> at;
    for (const double h : hours)
      at.push_back(background + start * std::exp(-exchange * (h - hours.front()) / 24));
    return at;
  };
  return TwoParameterFit({values.begin(), values.end()}, curve).fit(values.front() - background);
}

ExchangeFit fit_exchange(const Dataset& dataset, const Enclosure& enclosure,
                         const LoggerRecord& inside, const LoggerRecord& outside) {
  detail::check_box(enclosure);
  const GelIsotherm gel = gel_isotherm(dataset, enclosure.gel.empty() ? "thu-2013" : enclosure.gel);
  const detail::SorptionTable table(gel);
  const Climate climate = climate_of(outside);
  const Inside readings = inside_readings(inside, climate);
  const auto pieces = from_first(detail::pieces_of(climate, detail::Warmths(gel)), readings);
  const detail::Contents contents(enclosure);
  const detail::Moisture moisture(table, enclosure.gel_kg / enclosure.volume_m3, contents);
  std::vector<double> stops;
  for (const double days : readings.days) stops.push_back(days - readings.days.front());
  const Curve curve = [&](double exchange, double start) {
    std::vector<double> at;
    const detail::Course course{std::max(start, 1e-4), exchange, stops.back()};
    (void)detail::follow(moisture, pieces, course, stops,
                         [&](double, double h) { at.push_back(h); });
    at.resize(stops.size(), at.back());
    return at;
  };
  return TwoParameterFit(readings.h, curve).fit(readings.h.front());
}

}  // namespace aeruca
