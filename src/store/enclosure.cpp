// The forecast of an enclosure: what is given is checked, followed once, and followed for each draw.

#include "aeruca/enclosure.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>
#include <span>

#include "aeruca/errors.hpp"
#include "base/side_by_side.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "numerics/normal.hpp"
#include "store/enclosure_checks.hpp"
#include "store/enclosure_run.hpp"
#include "uncertainty/draws.hpp"
#include "uncertainty/summary.hpp"

namespace aeruca {
namespace {

using detail::Followed;
using detail::kNever;
using detail::KnownGel;
using detail::say;
using detail::Variant;

constexpr std::size_t kMassDraws = 100;  // each needs a search
constexpr double kDryingSd = 0.3;        // of the capacity where the gel dries, our own rule
constexpr double kDryingFall = 0.02;     // of the humidity below its highest: the gel dries

enum Cause { exchange, outside_rh, start_rh, temperature, capacity, kind, kCauses };

class Forecaster {
 public:
  Forecaster(const Dataset& dataset, const Enclosure& enclosure, const Climate& climate,
             const EnclosureOptions& options)
      : enclosure_(enclosure),
        climate_(climate),
        options_(options),
        gels_(detail::gels_for(dataset, enclosure)) {
    detail::check_enclosure(enclosure, climate, options, isotherm_range());
    run_.emplace(enclosure_, climate_, options_);
    usual_ = {&gels_.front(), enclosure.exchange_per_day, enclosure.start_rh_percent / 100, 1, {}};
    pieces_ = detail::pieces_of(climate, gels_.front().warmths);
    mean_goal_ = mean_goal();
  }

  EnclosureForecast forecast() {
    EnclosureForecast found;
    found.enclosure = enclosure_;
    found.options = options_;
    found.days = run_->stops();
    double until_days = kNotGiven;
    if (limited()) until_days = kNever;
    const Followed given = followed(usual_, pieces_, until_days);
    take_curve(found, given);
    take_half_times(found);
    found.days_to_limit.value = given.days_to_limit;
    found.gel_for_visit_kg.value = given.gel_kg;
    drying_ = dries(given);
    if (limited()) {
      take_half_exchange(found);
      take_gels(found, given);
      if (found.message.empty()) found.message = why_never(given.days_to_limit);
    }
    if (options_.draws > 0) take_ranges(found, given.gel_kg);
    found.assumptions = assumptions();
    return found;
  }

 private:
  [[nodiscard]] bool limited() const { return !std::isnan(options_.limit_rh_percent); }

  // Of humidities that have to be read off an isotherm.
  [[nodiscard]] detail::GelRange isotherm_range() const {
    const GelIsotherm& gel = gels_.front().isotherm;
    detail::GelRange range{0, 100};
    if (enclosure_.gel_kg > 0 || limited()) range = {gel.low_rh_percent, gel.high_rh_percent};
    const std::vector<double>& points = enclosure_.contents_rh_percent;
    if (points.empty()) return range;
    return {std::max(range.low_rh_percent, points.front()),
            std::min(range.high_rh_percent, points.back())};
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

  // Whether the gel there is, or that of a visit, gives off water on the way.
  [[nodiscard]] bool dries(const Followed& given) const {
    if (mean_goal_ < usual_.start_h) return true;
    if (enclosure_.gel_kg > 0) return falls(given.h);
    if (!(given.gel_kg > 0 && given.gel_kg < kNever)) return false;
    return falls(run_->followed(usual_, pieces_, given.gel_kg).h);
  }

  [[nodiscard]] static bool falls(const std::vector<double>& h) {
    double highest = 0;
    for (const double now : h) {
      if (now < highest - kDryingFall) return true;
      highest = std::max(highest, now);
    }
    return false;
  }

  // `guess_kg`: where the mass of gel is looked for; infinite: anywhere; NaN: it is not.
  [[nodiscard]] Followed followed(const Variant& one,
                                  const std::vector<detail::ClimatePiece>& pieces,
                                  double guess_kg) const {
    Followed found = run_->followed(one, pieces, enclosure_.gel_kg);
    if (!std::isnan(guess_kg)) found.gel_kg = run_->gel_for_visit(one, pieces, guess_kg);
    return found;
  }

  // The curve as given says where it ended, if it did.
  void take_curve(EnclosureForecast& found, const Followed& given) const {
    for (const double h : given.h) found.rh_percent.push_back(100 * h);
    const detail::CourseEnd& end = given.end;
    if (!end.out_of_range || end.days >= options_.days) return;
    const bool isotherm = enclosure_.gel_kg > 0 || !enclosure_.contents_rh_percent.empty();
    found.status = Status::no_parameters;
    found.message = say(isotherm ? "enclosure.out_of_range" : "enclosure.condenses",
                        {{"days", detail::format_number(end.days, 4)},
                         {"rh_percent", detail::format_number(100 * end.h, 3)}});
  }

  void take_half_times(EnclosureForecast& found) const {
    const double rate = enclosure_.exchange_per_day;
    const detail::Warmth& warmth = pieces_.front().inside;
    const double slope = run_->moisture(usual_, enclosure_.gel_kg).at(usual_.start_h, warmth).slope;
    found.half_time_days = std::numbers::ln2 / rate;
    found.buffered_half_time_days = found.half_time_days * slope / warmth.saturated_kg_per_m3;
  }

  void take_half_exchange(EnclosureForecast& found) const {
    Variant half = usual_;
    half.exchange_per_day /= 2;
    const Followed halved = followed(half, pieces_, kNever);
    found.days_to_limit_half_exchange = halved.days_to_limit;
    found.gel_for_visit_half_exchange_kg = halved.gel_kg;
  }

  // What each isotherm says, where the kind of gel is not known.
  void take_gels(EnclosureForecast& found, const Followed& given) const {
    for (const KnownGel& gel : gels_) {
      Variant one = usual_;
      one.gel = &gel;
      const auto pieces = detail::pieces_of(climate_, gel.warmths);
      const Followed by = followed(one, pieces, guess(one, given.gel_kg));
      found.by_gel.push_back({gel.isotherm.id, by.days_to_limit, by.gel_kg});
    }
  }

  [[nodiscard]] std::string why_never(double days) const {
    if (days != kNever) return {};
    if (enclosure_.exchange_per_day == 0) return say("enclosure.never.tight");
    const std::string limit = detail::format_number(options_.limit_rh_percent, 4);
    if (!climate_.constant())
      return say("enclosure.never.record",
                 {{"limit", limit}, {"days", detail::format_number(run_->horizon(), 4)}});
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
    const auto [low, high] = isotherm_range();
    one.start_h = std::clamp(enclosure_.start_rh_percent + options_.start_rh_sd * z[start_rh], low,
                             limited() ? options_.limit_rh_percent : high) /
                  100;
    return one;
  }

  // Water that a gel takes up on the way to the limit.
  [[nodiscard]] double taken_up(const Variant& one) const {
    const auto at = [&](double h) { return one.gel->table.at(std::log(h)).value; };
    return one.capacity * (at(options_.limit_rh_percent / 100) - at(one.start_h));
  }

  // Near the mass of gel that a draw asks for: in proportion to the exchange and to what drives it,
  // against what the gel takes up.
  [[nodiscard]] double guess(const Variant& one, double usual_kg) const {
    const double middle = (usual_.start_h + options_.limit_rh_percent / 100) / 2;
    const double drive = 1 + one.shift.rh_percent / 100 / std::max(0.1, mean_goal_ - middle);
    return usual_kg * one.exchange_per_day / usual_.exchange_per_day * std::max(drive, 0.2) *
           taken_up(usual_) / std::max(taken_up(one), 0.01 * taken_up(usual_));
  }

  void take_ranges(EnclosureForecast& found, double usual_kg) const {
    const detail::Draws draws(options_.draws, kCauses, options_.seed);
    std::vector<Followed> all(options_.draws);
    detail::side_by_side(options_.draws, options_.threads, [&](std::size_t i) {
      const Variant one = drawn(draws.sample(i));
      const auto pieces = detail::pieces_of(climate_, one.gel->warmths, one.shift);
      const bool mass = limited() && i < kMassDraws;
      all[i] = followed(one, pieces, mass ? guess(one, usual_kg) : kNotGiven);
    });
    take_curve_range(found, all);
    if (!limited()) return;
    take_range(found.days_to_limit, all, &Followed::days_to_limit);
    take_range(found.gel_for_visit_kg, all, &Followed::gel_kg);
    take_passed(found, all);
  }

  // A draw that left the range of the isotherm says nothing of the time after it, and counts as
  // passed from then on.
  void take_passed(EnclosureForecast& found, const std::vector<Followed>& all) const {
    std::vector<double> days;
    days.reserve(all.size());
    for (const Followed& one : all)
      days.push_back(std::isnan(one.days_to_limit) ? one.end.days : one.days_to_limit);
    std::sort(days.begin(), days.end());
    const auto at = [&](double share) {
      return days[static_cast<std::size_t>(
          std::floor(share * static_cast<double>(days.size() - 1)))];
    };
    found.days_unattended = at(0.05);
    found.days_half_passed = at(0.5);
    const auto reached = std::upper_bound(days.begin(), days.end(), options_.days) - days.begin();
    found.probability_reached = static_cast<double>(reached) / static_cast<double>(all.size());
  }

  static void take_curve_range(EnclosureForecast& found, const std::vector<Followed>& all) {
    constexpr std::array<double, 2> kShares{0.05, 0.95};
    for (std::size_t k = 0; k < found.days.size(); ++k) {
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
      all.push_back(say(drying_ ? "enclosure.assumed.drying" : "enclosure.assumed.hysteresis"));
    }
    if (!enclosure_.contents_rh_percent.empty()) all.push_back(say("enclosure.assumed.contents"));
    all.push_back(spreads());
    if (climate_.gap_days > 0)
      all.push_back(
          say("enclosure.assumed.gaps", {{"days", detail::format_number(climate_.gap_days, 3)}}));
    return all;
  }

  // What the ranges rest on besides the isotherms.
  [[nodiscard]] std::string spreads() const {
    const auto number = [](double value) { return detail::format_number(value, 3); };
    return say(options_.exchange_relative_sd == EnclosureOptions{}.exchange_relative_sd
                   ? "enclosure.assumed.spreads_own_rule"
                   : "enclosure.assumed.spreads",
               {{"exchange", number(100 * options_.exchange_relative_sd)},
                {"outside", number(options_.outside_rh_sd)},
                {"start", number(options_.start_rh_sd)},
                {"temperature", number(options_.temperature_sd)}});
  }

  Enclosure enclosure_;
  const Climate& climate_;
  EnclosureOptions options_;
  std::vector<KnownGel> gels_;
  std::optional<detail::EnclosureRun> run_;
  Variant usual_;
  std::vector<detail::ClimatePiece> pieces_;
  double mean_goal_ = 0;
  bool drying_ = false;
};

}  // namespace

EnclosureForecast forecast_enclosure(const Dataset& dataset, const Enclosure& enclosure,
                                     const Climate& climate, const EnclosureOptions& options) {
  return Forecaster(dataset, enclosure, climate, options).forecast();
}

}  // namespace aeruca
