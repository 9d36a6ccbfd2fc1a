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

// Humidity relaxing to its goal with the slope halfway: exact for a straight isotherm.
Step relax(const Moisture& moisture, const Warmth& warmth, double h, double goal,
           double conductance, double days) {
  const double first = conductance / moisture.at(h, warmth).slope;
  const double halfway = goal + (h - goal) * std::exp(-first * days / 2);
  const double rate = conductance / moisture.at(halfway, warmth).slope;
  const double after = goal + (h - goal) * std::exp(-rate * days);
  const double plain = goal + (h - goal) * std::exp(-first * days);
  return {after, rate, std::abs(after - plain)};
}

class Follower {
 public:
  Follower(const Moisture& moisture, const Course& course, const std::vector<double>& stops,
           const Watcher& watch)
      : moisture_(moisture), course_(course), stops_(stops), watch_(watch) {
    end_.h = end_.peak_h = course.start_h;
  }

  CourseEnd through(const std::vector<ClimatePiece>& pieces) {
    const Warmth* before = nullptr;
    pass_stops();
    for (const ClimatePiece& piece : pieces) {
      if (before != nullptr) warm(*before, piece.inside);
      if (!stopped()) within(piece);
      if (stopped() || end_.days >= course_.until_days) break;
      before = &piece.inside;
    }
    return end_;
  }

 private:
  [[nodiscard]] bool stopped() const { return end_.limit_reached || end_.out_of_range; }

  void look() {
    end_.peak_h = std::max(end_.peak_h, end_.h);
    end_.limit_reached = end_.h >= course_.limit_h;
    end_.out_of_range = !end_.limit_reached && (end_.h < course_.low_h || end_.h > course_.high_h);
  }

  void warm(const Warmth& before, const Warmth& now) {
    if (before.saturated_kg_per_m3 == now.saturated_kg_per_m3) return;
    end_.h = moisture_.humidity(moisture_.at(end_.h, before).water, now, end_.h);
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
    const double until = std::min(piece.until_days, course_.until_days);
    const double goal = piece.outside_kg_per_m3 / piece.inside.saturated_kg_per_m3;
    const double conductance = course_.exchange_per_day * piece.inside.saturated_kg_per_m3;
    while (end_.days < until && !stopped()) {
      const double next = std::min(until, next_stop());
      step(piece.inside, goal, conductance, next);
      if (!stopped()) pass_stops();
    }
  }

  void step(const Warmth& warmth, double goal, double conductance, double next) {
    double days = std::min(next - end_.days, proposed_);
    Step made = relax(moisture_, warmth, end_.h, goal, conductance, days);
    while (made.bend > kBend) {
      days *= std::clamp(0.8 * std::sqrt(kBend / made.bend), 0.05, 0.8);
      made = relax(moisture_, warmth, end_.h, goal, conductance, days);
    }
    proposed_ = days * std::clamp(0.8 * std::sqrt(kBend / std::max(made.bend, 1e-12)), 1.0, 5.0);
    const double limit = course_.limit_h;
    if (end_.h < limit && made.h >= limit && goal > limit) {
      days = std::log((goal - end_.h) / (goal - limit)) / made.rate;
      made.h = limit;
    }
    // The last step ends where it was to end, to the last bit.
    end_.days = days == next - end_.days ? next : end_.days + days;
    end_.h = made.h;
    look();
  }

  const Moisture& moisture_;
  const Course& course_;
  const std::vector<double>& stops_;
  const Watcher& watch_;
  CourseEnd end_;
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
