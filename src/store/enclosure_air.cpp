#include "store/enclosure_air.hpp"

#include <algorithm>

namespace aeruca::detail {
namespace {

// The most that the bend of the isotherm may change a step (fraction); see the header.
constexpr double kBend = 1e-5;

struct Step {
  double h;     // after it
  double rate;  // per day
  double bend;  // what a step at the first slope alone would have been off by
};

// Humidity relaxing to its goal with the slope halfway: exact for a straight isotherm. `slope` is
// that of the water where it begins.
Step relax(const Moisture& moisture, const Warmth& warmth, double h, double ln_h, double slope,
           double goal, double conductance, double days) {
  const double first = conductance / slope;
  const double left = decayed(first * days / 2);
  const double middle = goal + (h - goal) * left;
  const double ln_middle = ln_h + ln_of_one_and(middle / h - 1);
  const double rate = conductance / moisture.at(middle, ln_middle, warmth).slope;
  const double after = goal + (h - goal) * decayed(rate * days);
  const double plain = goal + (h - goal) * left * left;
  return {after, rate, std::abs(after - plain)};
}

class Follower {
 public:
  Follower(const Moisture& moisture, const Course& course, const std::vector<double>& stops,
           const Watcher& watch)
      : moisture_(moisture), course_(course), stops_(stops), watch_(watch) {
    end_.h = end_.peak_h = course.start_h;
    ln_h_ = std::log(course.start_h);
    if (end_.h >= course.limit_h) end_.limit_days = 0;
  }

  CourseEnd through(const std::vector<ClimatePiece>& pieces) {
    const Warmth* before = nullptr;
    pass_stops();
    for (const ClimatePiece& piece : pieces) {
      if (before == nullptr) {
        held_ = moisture_.at(end_.h, piece.inside);
      } else {
        warm(*before, piece.inside);
      }
      if (!stopped()) within(piece);
      if (stopped()) break;
      before = &piece.inside;
    }
    return end_;
  }

 private:
  // Until when: as long as the limit is looked for, to the horizon.
  [[nodiscard]] double until() const {
    const bool looking = course_.limit_h < kNever && end_.limit_days == kNever;
    return looking ? std::max(course_.until_days, course_.horizon_days) : course_.until_days;
  }
  [[nodiscard]] bool stopped() const { return end_.out_of_range || end_.days >= until(); }

  void look() {
    end_.peak_h = std::max(end_.peak_h, end_.h);
    if (end_.h >= course_.limit_h && end_.limit_days == kNever) end_.limit_days = end_.days;
    end_.out_of_range = end_.h < course_.low_h || end_.h > course_.high_h;
  }

  void warm(const Warmth& before, const Warmth& now) {
    if (before.saturated_kg_per_m3 == now.saturated_kg_per_m3) return;
    const auto [h, ln_h, held] = moisture_.settled(held_.water, now, end_.h, ln_h_);
    end_.h = h;
    ln_h_ = ln_h;
    held_ = held;
    look();
  }

  [[nodiscard]] double next_stop() const {
    if (next_ < stops_.size()) return stops_[next_];
    return kNever;
  }

  void pass_stops() {
    while (next_ < stops_.size() && stops_[next_] <= end_.days) {
      if (watch_) watch_(stops_[next_], end_.h);
      ++next_;
    }
  }

  void within(const ClimatePiece& piece) {
    const double goal = piece.outside_kg_per_m3 / piece.inside.saturated_kg_per_m3;
    const double conductance = course_.exchange_per_day * piece.inside.saturated_kg_per_m3;
    while (end_.days < std::min(piece.until_days, until()) && !end_.out_of_range) {
      step(piece.inside, goal, conductance, std::min({piece.until_days, until(), next_stop()}));
      if (!end_.out_of_range) pass_stops();
    }
  }

  void step(const Warmth& warmth, double goal, double conductance, double next) {
    double days = std::min(next - end_.days, proposed_);
    Step made = relax(moisture_, warmth, end_.h, ln_h_, held_.slope, goal, conductance, days);
    while (made.bend > kBend) {
      days *= std::clamp(0.8 * std::sqrt(kBend / made.bend), 0.05, 0.8);
      made = relax(moisture_, warmth, end_.h, ln_h_, held_.slope, goal, conductance, days);
    }
    const bool straight = made.bend < kBend / 64;  // five times the step bends it 25 times as much
    proposed_ = days * (straight ? 5.0 : std::clamp(0.8 * std::sqrt(kBend / made.bend), 1.0, 5.0));
    const double limit = course_.limit_h;
    if (end_.h < limit && made.h >= limit && goal > limit) {
      days = std::log((goal - end_.h) / (goal - limit)) / made.rate;
      made.h = limit;
    }
    // The last step ends where it was to end, to the last bit.
    end_.days = days == next - end_.days ? next : end_.days + days;
    ln_h_ += ln_of_one_and(made.h / end_.h - 1);
    end_.h = made.h;
    held_ = moisture_.at(end_.h, ln_h_, warmth);
    look();
  }

  const Moisture& moisture_;
  const Course& course_;
  const std::vector<double>& stops_;
  const Watcher& watch_;
  CourseEnd end_;
  double ln_h_ = 0;
  MoistureAt held_;  // of the end, at its temperature
  std::size_t next_ = 0;
  double proposed_ = 1;
};

}  // namespace

std::vector<ClimatePiece> pieces_of(const Climate& climate, const Warmths& warmths,
                                    ClimateShift shift) {
  std::vector<ClimatePiece> pieces;
  pieces.reserve(climate.until_days.size());
  const bool own = !std::isnan(climate.inside_temperature_c);
  for (std::size_t i = 0; i < climate.until_days.size(); ++i) {
    // Below 0 degrees C, where the formulas end, a shift goes the other way.
    const double outside_c = std::abs(climate.temperature_c[i] + shift.temperature_k);
    const Warmth outside = warmths.at(outside_c);
    const Warmth inside =
        own ? warmths.at(std::abs(climate.inside_temperature_c + shift.temperature_k)) : outside;
    const double h = std::clamp(climate.rh_percent[i] + shift.rh_percent, 0.0, 100.0) / 100;
    pieces.push_back({climate.until_days[i], inside, h * outside.saturated_kg_per_m3});
  }
  return pieces;
}

CourseEnd follow(const Moisture& moisture, const std::vector<ClimatePiece>& pieces,
                 const Course& course, const std::vector<double>& stops, const Watcher& watch) {
  return Follower(moisture, course, stops, watch).through(pieces);
}

}  // namespace aeruca::detail
