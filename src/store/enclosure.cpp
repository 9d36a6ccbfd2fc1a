// The forecast of an enclosure: what is given is checked, followed once, and followed for each draw.

#include "aeruca/enclosure.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <span>

#include "aeruca/errors.hpp"
#include "base/side_by_side.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "numerics/normal.hpp"
#include "store/enclosure_air.hpp"
#include "store/enclosure_checks.hpp"
#include "store/enclosure_gel_mass.hpp"
#include "uncertainty/draws.hpp"
#include "uncertainty/summary.hpp"

namespace aeruca {
namespace {

using detail::kNever;
using detail::say;

constexpr std::size_t kCurvePoints = 200;
constexpr double kLongestDays = 36500;   // a hundred years: how far a constant climate is followed
constexpr std::size_t kMassDraws = 100;  // each needs a search
constexpr double kDryingSd = 0.3;        // of the capacity where the gel dries, our own rule
constexpr const char* kUsualGel = "thu-2013";

enum Cause { exchange, outside_rh, start_rh, temperature, capacity, kind, kCauses };

// A gel and what follows from it.
struct KnownGel {
  GelIsotherm isotherm;
  detail::SorptionTable table;
  detail::Warmths warmths;
  explicit KnownGel(GelIsotherm gel)
      : isotherm(std::move(gel)), table(isotherm), warmths(isotherm) {}
};

// One enclosure to be followed: that given, or a draw of it.
struct Variant {
  const KnownGel* gel = nullptr;
  double exchange_per_day = 0;
  double start_h = 0;
  double capacity = 1;
  detail::ClimateShift shift;
};

struct Followed {
  std::vector<double> h;  // at the stops; NaN where it ended before
  detail::CourseEnd end;
  double days_to_limit = kNotGiven;
  double gel_kg = kNotGiven;
};

std::vector<KnownGel> gels_for(const Dataset& dataset, const Enclosure& enclosure) {
  std::vector<KnownGel> gels;
  gels.emplace_back(gel_isotherm(dataset, enclosure.gel.empty() ? kUsualGel : enclosure.gel));
  if (!enclosure.gel.empty()) return gels;
  for (GelIsotherm& gel : gel_isotherms(dataset)) {
    if (gel.id != kUsualGel) gels.emplace_back(std::move(gel));
  }
  return gels;
}

class Forecaster {
 public:
  Forecaster(const Dataset& dataset, const Enclosure& enclosure, const Climate& climate,
             const EnclosureOptions& options)
      : enclosure_(enclosure),
        climate_(climate),
        options_(options),
        gels_(gels_for(dataset, enclosure)) {
    const detail::GelRange range{gels_.front().isotherm.low_rh_percent,
                                 gels_.front().isotherm.high_rh_percent};
    detail::check_enclosure(enclosure, climate, options, range);
    usual_ = {&gels_.front(), enclosure.exchange_per_day, enclosure.start_rh_percent / 100, 1, {}};
    pieces_ = detail::pieces_of(climate, gels_.front().warmths);
    drying_ = mean_goal() < usual_.start_h;
    for (std::size_t i = 0; i <= kCurvePoints; ++i)
      stops_.push_back(options.days * static_cast<double>(i) / kCurvePoints);
  }

  EnclosureForecast forecast() {
    EnclosureForecast found;
    found.enclosure = enclosure_;
    found.options = options_;
    found.days = stops_;
    const Followed given = followed(usual_, pieces_, limited());
    take_curve(found, given);
    take_half_times(found);
    found.days_to_limit.value = given.days_to_limit;
    found.gel_for_visit_kg.value = given.gel_kg;
    if (limited()) {
      Variant half = usual_;
      half.exchange_per_day /= 2;
      found.days_to_limit_half_exchange = days_to_limit(half, pieces_);
      found.gel_for_visit_half_exchange_kg = gel_for_visit(half, pieces_);
      if (found.message.empty()) found.message = why_never(given.days_to_limit);
    }
    if (options_.draws > 0) take_ranges(found);
    found.assumptions = assumptions();
    return found;
  }

 private:
  [[nodiscard]] bool limited() const { return !std::isnan(options_.limit_rh_percent); }

  [[nodiscard]] double horizon() const {
    return climate_.constant() ? std::max(kLongestDays, options_.days) : climate_.until_days.back();
  }

  // Of the humidity that the inside goes to, over time.
  [[nodiscard]] double mean_goal() const {
    double sum = 0;
    double before = 0;
    for (const detail::ClimatePiece& piece : pieces_) {
      const double until = std::min(piece.until_days, options_.days);
      sum += std::max(0.0, until - before) * piece.outside_kg_per_m3 /
             piece.inside.saturated_kg_per_m3;
      before = until;
    }
    return sum / before;
  }

  [[nodiscard]] detail::Moisture moisture(const Variant& one, double gel_kg) const {
    return {one.gel->table, one.capacity * gel_kg / enclosure_.volume_m3,
            0.1 * enclosure_.contents_g_per_rh / enclosure_.volume_m3};
  }

  [[nodiscard]] static detail::Course course(const Variant& one, double gel_kg, double until) {
    const GelIsotherm& gel = one.gel->isotherm;
    detail::Course course{one.start_h, one.exchange_per_day, until};
    if (gel_kg > 0) {
      course.low_h = gel.low_rh_percent / 100;
      course.high_h = gel.high_rh_percent / 100;
    }
    return course;
  }

  [[nodiscard]] double days_to_limit(const Variant& one,
                                     const std::vector<detail::ClimatePiece>& pieces) const {
    detail::Course way = course(one, enclosure_.gel_kg, horizon());
    way.limit_h = options_.limit_rh_percent / 100;
    const detail::CourseEnd end = detail::follow(moisture(one, enclosure_.gel_kg), pieces, way);
    if (end.out_of_range) return kNotGiven;
    if (end.limit_reached) return end.days;
    return kNever;
  }

  [[nodiscard]] double gel_for_visit(const Variant& one,
                                     const std::vector<detail::ClimatePiece>& pieces) const {
    return detail::gel_mass(enclosure_.volume_m3, [&](double gel_kg) {
      detail::Course way = course(one, gel_kg, options_.days);
      way.high_h = 1;  // beyond the limit, where nothing is read off
      return detail::follow(moisture(one, gel_kg), pieces, way).peak_h -
             options_.limit_rh_percent / 100;
    });
  }

  [[nodiscard]] Followed followed(const Variant& one,
                                  const std::vector<detail::ClimatePiece>& pieces,
                                  bool with_mass) const {
    Followed found;
    const detail::Watcher watch = [&](double, double h) { found.h.push_back(h); };
    found.end = detail::follow(moisture(one, enclosure_.gel_kg), pieces,
                               course(one, enclosure_.gel_kg, options_.days), stops_, watch);
    found.h.resize(stops_.size(), kNotGiven);
    if (limited()) found.days_to_limit = days_to_limit(one, pieces);
    if (with_mass) found.gel_kg = gel_for_visit(one, pieces);
    return found;
  }

  // The curve as given says where it ended, if it did.
  void take_curve(EnclosureForecast& found, const Followed& given) const {
    for (const double h : given.h) found.rh_percent.push_back(100 * h);
    const detail::CourseEnd& end = given.end;
    if (!end.out_of_range) return;
    found.status = Status::no_parameters;
    found.message = say(enclosure_.gel_kg > 0 ? "enclosure.out_of_range" : "enclosure.condenses",
                        {{"days", detail::format_number(end.days, 4)},
                         {"rh_percent", detail::format_number(100 * end.h, 3)}});
  }

  void take_half_times(EnclosureForecast& found) const {
    const double rate = enclosure_.exchange_per_day;
    const detail::Warmth& warmth = pieces_.front().inside;
    const double slope = moisture(usual_, enclosure_.gel_kg).at(usual_.start_h, warmth).slope;
    found.half_time_days = std::numbers::ln2 / rate;
    found.buffered_half_time_days = found.half_time_days * slope / warmth.saturated_kg_per_m3;
  }

  [[nodiscard]] std::string why_never(double days) const {
    if (days != kNever) return {};
    if (enclosure_.exchange_per_day == 0) return say("enclosure.never.tight");
    const std::string limit = detail::format_number(options_.limit_rh_percent, 4);
    if (!climate_.constant())
      return say("enclosure.never.record",
                 {{"limit", limit}, {"days", detail::format_number(horizon(), 4)}});
    const double goal =
        pieces_.front().outside_kg_per_m3 / pieces_.front().inside.saturated_kg_per_m3;
    return say("enclosure.never.outside",
               {{"limit", limit}, {"rh_percent", detail::format_number(100 * goal, 4)}});
  }

  [[nodiscard]] Variant drawn(std::span<const double> z) const {
    const auto gel =
        static_cast<std::size_t>(detail::normal_below(z[kind]) * static_cast<double>(gels_.size()));
    Variant one;
    one.gel = &gels_[std::min(gel, gels_.size() - 1)];
    one.exchange_per_day =
        enclosure_.exchange_per_day * std::exp(options_.exchange_relative_sd * z[exchange]);
    one.shift = {options_.outside_rh_sd * z[outside_rh], options_.temperature_sd * z[temperature]};
    const double own_sd = one.gel->isotherm.capacity_sd;
    one.capacity = std::exp(std::hypot(own_sd, drying_ ? kDryingSd : 0.0) * z[capacity]);
    // A start is what was read: it stays below the limit and in the range of the isotherm.
    const bool gel_range = enclosure_.gel_kg > 0 || limited();
    const double low = gel_range ? one.gel->isotherm.low_rh_percent : 0;
    const double high = limited()   ? options_.limit_rh_percent
                        : gel_range ? one.gel->isotherm.high_rh_percent
                                    : 100;
    one.start_h =
        std::clamp(enclosure_.start_rh_percent + options_.start_rh_sd * z[start_rh], low, high) /
        100;
    return one;
  }

  void take_ranges(EnclosureForecast& found) const {
    const detail::Draws draws(options_.draws, kCauses, options_.seed);
    std::vector<Followed> all(options_.draws);
    detail::side_by_side(options_.draws, options_.threads, [&](std::size_t i) {
      const Variant one = drawn(draws.sample(i));
      const auto pieces = detail::pieces_of(climate_, one.gel->warmths, one.shift);
      all[i] = followed(one, pieces, limited() && i < kMassDraws);
    });
    take_curve_range(found, all);
    if (!limited()) return;
    take_range(found.days_to_limit, all, &Followed::days_to_limit);
    take_range(found.gel_for_visit_kg, all, &Followed::gel_kg);
    const auto reached = std::count_if(all.begin(), all.end(), [&](const Followed& one) {
      return one.days_to_limit <= options_.days;
    });
    found.probability_reached = static_cast<double>(reached) / static_cast<double>(all.size());
  }

  void take_curve_range(EnclosureForecast& found, const std::vector<Followed>& all) const {
    constexpr std::array<double, 2> kShares{0.05, 0.95};
    for (std::size_t k = 0; k < stops_.size(); ++k) {
      std::vector<double> here;
      here.reserve(all.size());
      for (const Followed& one : all) here.push_back(100 * one.h[k]);
      const std::vector<double> ends = detail::quantiles(std::move(here), kShares);
      found.low_rh_percent.push_back(ends[0]);
      found.high_rh_percent.push_back(ends[1]);
    }
  }

  // Ends by rank, for a figure may be infinite.
  static void take_range(DrawnFigure& figure, const std::vector<Followed>& all,
                         double Followed::*member) {
    std::vector<double> known;
    for (const Followed& one : all) {
      if (!std::isnan(one.*member)) known.push_back(one.*member);
    }
    if (known.empty()) return;
    std::sort(known.begin(), known.end());
    const auto last = static_cast<double>(known.size() - 1);
    figure.low = known[static_cast<std::size_t>(std::floor(0.05 * last))];
    figure.high = known[static_cast<std::size_t>(std::ceil(0.95 * last))];
  }

  [[nodiscard]] std::vector<std::string> assumptions() const {
    std::vector<std::string> all{say("enclosure.assumed.mixed")};
    if (enclosure_.gel_kg > 0 || limited()) {
      all.push_back(say("enclosure.assumed.adsorption", {{"gel", usual_.gel->isotherm.id},
                                                         {"source", usual_.gel->isotherm.source}}));
      if (enclosure_.gel.empty())
        all.push_back(say("enclosure.assumed.any_gel", {{"count", std::to_string(gels_.size())}}));
      if (drying_) all.push_back(say("enclosure.assumed.drying"));
    }
    if (climate_.gap_days > 0)
      all.push_back(
          say("enclosure.assumed.gaps", {{"days", detail::format_number(climate_.gap_days, 3)}}));
    return all;
  }

  Enclosure enclosure_;
  const Climate& climate_;
  EnclosureOptions options_;
  std::vector<KnownGel> gels_;
  Variant usual_;
  std::vector<detail::ClimatePiece> pieces_;
  std::vector<double> stops_;
  bool drying_ = false;
};

}  // namespace

EnclosureForecast forecast_enclosure(const Dataset& dataset, const Enclosure& enclosure,
                                     const Climate& climate, const EnclosureOptions& options) {
  return Forecaster(dataset, enclosure, climate, options).forecast();
}

}  // namespace aeruca
