#include "store/logger_order.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/text.hpp"

namespace aeruca::detail {
namespace {

using Times = std::vector<std::int64_t>;

constexpr std::int64_t kHour = 3600;

// The step that more than half of some steps, spread over the record, have; 0 when none has.
std::int64_t likely_step(const Times& times) {
  constexpr std::size_t kAsked = 256;
  const std::size_t stride = std::max<std::size_t>(1, times.size() / kAsked);
  std::int64_t candidate = 0;
  long votes = 0;
  for (std::size_t i = 1; i < times.size(); i += stride) {
    const std::int64_t step = std::abs(times[i] - times[i - 1]);
    if (step == 0) continue;
    if (votes == 0) candidate = step;
    votes += step == candidate ? 1 : -1;
  }
  return candidate;
}

struct Steps {
  std::size_t falling = 0;
  std::size_t standing = 0;
  std::size_t usual = 0;  // of the likely length, up or down
};

Steps count_steps(const Times& times, std::int64_t likely) {
  Steps steps;
  for (std::size_t i = 1; i < times.size(); ++i) {
    const std::int64_t step = times[i] - times[i - 1];
    steps.falling += step < 0 ? 1U : 0U;
    steps.standing += step == 0 ? 1U : 0U;
    steps.usual += step == likely || step == -likely ? 1U : 0U;
  }
  return steps;
}

// Median of the steps that are not 0. Loggers keep their interval: a step that more than half of
// them have is their median, and no step need be sorted.
double median_interval(const Times& times, const Steps& counted, std::int64_t likely) {
  if (times.size() < 2) return 0;
  const std::size_t moving = times.size() - 1 - counted.standing;
  if (moving == 0) return 0;
  if (likely > 0 && 2 * counted.usual > moving) return static_cast<double>(likely);
  Times steps;
  steps.reserve(moving);
  for (std::size_t i = 1; i < times.size(); ++i) {
    if (times[i] != times[i - 1]) steps.push_back(std::abs(times[i] - times[i - 1]));
  }
  const auto middle = steps.begin() + static_cast<std::ptrdiff_t>((steps.size() - 1) / 2);
  std::nth_element(steps.begin(), middle, steps.end());
  return static_cast<double>(*middle);
}

class Ordering {
 public:
  Ordering(RawSeries& series, bool utc, const FieldNames& names, FaultLog& log)
      : s_(series),
        utc_(utc),
        names_(names),
        log_(log),
        likely_(likely_step(series.times_s)),
        steps_(count_steps(series.times_s, likely_)),
        interval_(median_interval(series.times_s, steps_, likely_)) {}

  double run() {
    turn_round();
    if (steps_.falling + steps_.standing > 0) {
      mark_disorder();
      sort();
      drop_repeated();
    }
    mark_clock_forward();
    return interval_;
  }

 private:
  void turn_round() {
    if (s_.size() < 3 || steps_.falling * 2 <= s_.size()) return;
    log_.add(FaultKind::out_of_order, FaultAction::moved, s_.lines[0], names_.time, [] {
      return std::string("the file runs from the newest to the oldest reading; turned round");
    });
    std::reverse(s_.times_s.begin(), s_.times_s.end());
    std::reverse(s_.temperature_c.begin(), s_.temperature_c.end());
    std::reverse(s_.rh_percent.begin(), s_.rh_percent.end());
    s_.lines.reverse();
    steps_.falling = s_.size() - 1 - steps_.falling - steps_.standing;
  }

  // Local times of a logger that follows the civil clock repeat or leave out one hour.
  [[nodiscard]] bool follows_civil_clock() const {
    return !utc_ && interval_ > 0 && interval_ <= kHour;
  }
  [[nodiscard]] double jump_tolerance() const { return std::max(1.0, interval_ / 20); }
  [[nodiscard]] bool jumped(std::int64_t step, std::int64_t by) const {
    return follows_civil_clock() &&
           std::abs(static_cast<double>(step - by) - interval_) <= jump_tolerance();
  }

  [[nodiscard]] bool same_values(std::size_t i, std::size_t j) const {
    const bool same_t = s_.temperature_c[i] == s_.temperature_c[j] ||
                        (std::isnan(s_.temperature_c[i]) && std::isnan(s_.temperature_c[j]));
    return same_t && s_.rh_percent[i] == s_.rh_percent[j];
  }

  void mark_disorder() {
    std::int64_t latest = s_.times_s.front();
    std::int64_t repeated_from = latest;  // the stretch that a clock put back repeats
    std::int64_t repeated_until = latest - 1;
    for (std::size_t i = 1; i < s_.size(); ++i) {
      const std::int64_t time = s_.times_s[i];
      const std::int64_t step = time - s_.times_s[i - 1];
      if (step <= 0 && jumped(step, -kHour) && !(step == 0 && same_values(i, i - 1))) {
        repeated_from = time;
        repeated_until = latest;
        note_clock(i, "back by one hour");
      } else if (time < latest && (time < repeated_from || time > repeated_until)) {
        note_disorder(i, latest);
      }
      latest = std::max(latest, time);
    }
  }

  // Where a line was dropped, the hour is missing for a known reason.
  void mark_clock_forward() {
    if (!follows_civil_clock()) return;
    const double shortest = static_cast<double>(kHour) + interval_ - jump_tolerance() - 1;
    each_step_above(s_.times_s, shortest, [&](std::size_t i) {
      const bool neighbours = std::abs(s_.lines[i] - s_.lines[i - 1]) == 1;
      if (neighbours && jumped(s_.times_s[i] - s_.times_s[i - 1], kHour)) {
        note_clock(i, "forward by one hour, or a reading left out");
      }
    });
  }

  void note_clock(std::size_t i, const char* change) {
    log_.add(FaultKind::clock_change, FaultAction::kept, s_.lines[i], names_.time, [&] {
      return format_time(s_.times_s[i]) + " follows " + format_time(s_.times_s[i - 1]) +
             ": clock put " + change + "; daylight saving suspected, times kept as written";
    });
  }

  void note_disorder(std::size_t i, std::int64_t latest) {
    log_.add(FaultKind::out_of_order, FaultAction::moved, s_.lines[i], names_.time, [&] {
      return format_time(s_.times_s[i]) + " stands after " + format_time(latest) +
             "; moved to its place";
    });
  }

  // A stretch is whole when no time before it is later, and none after it earlier, than its own:
  // only stretches longer than one reading are sorted, for disorder is rare and near its place.
  void sort() {
    Times earliest_from = s_.times_s;
    for (std::size_t i = earliest_from.size() - 1; i-- > 0;)
      earliest_from[i] = std::min(earliest_from[i], earliest_from[i + 1]);
    std::vector<long> lines;
    std::size_t first = 0;
    std::int64_t latest = s_.times_s.front();
    for (std::size_t i = 1; i <= s_.size(); ++i) {
      const bool whole = i == s_.size() || latest <= earliest_from[i];
      if (whole) {
        if (i - first > 1) sort_stretch(first, i, lines);
        first = i;
      }
      if (i < s_.size()) latest = std::max(latest, s_.times_s[i]);
    }
    if (!lines.empty()) {
      s_.lines.clear();
      for (const long line : lines) s_.lines.add(line);
    }
  }

  void sort_stretch(std::size_t first, std::size_t end, std::vector<long>& lines) {
    if (lines.empty()) {
      lines.resize(s_.size());
      for (std::size_t i = 0; i < lines.size(); ++i) lines[i] = s_.lines[i];
    }
    std::vector<std::size_t> order(end - first);
    std::iota(order.begin(), order.end(), first);
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return s_.times_s[a] < s_.times_s[b]; });
    const auto arrange = [&](auto& values) {
      auto arranged = order.begin();
      std::remove_reference_t<decltype(values)> sorted(order.size());
      for (auto& value : sorted) value = values[*arranged++];
      std::copy(sorted.begin(), sorted.end(), values.begin() + static_cast<std::ptrdiff_t>(first));
    };
    arrange(s_.times_s);
    arrange(s_.temperature_c);
    arrange(s_.rh_percent);
    arrange(lines);
  }

  void drop_repeated() {
    LineNumbers lines;
    std::size_t kept = 0;  // the reading kept last
    lines.add(s_.lines[0]);
    for (std::size_t i = 1; i < s_.size(); ++i) {
      if (s_.times_s[i] == s_.times_s[kept]) {
        note_repeated(i, kept, lines[kept]);
        continue;
      }
      ++kept;
      s_.times_s[kept] = s_.times_s[i];
      s_.temperature_c[kept] = s_.temperature_c[i];
      s_.rh_percent[kept] = s_.rh_percent[i];
      lines.add(s_.lines[i]);
    }
    s_.times_s.resize(kept + 1);
    s_.temperature_c.resize(kept + 1);
    s_.rh_percent.resize(kept + 1);
    s_.lines = std::move(lines);
  }

  void note_repeated(std::size_t i, std::size_t first, long first_line) {
    const std::string when = format_time(s_.times_s[i]);
    const std::string line = std::to_string(first_line);
    if (same_values(i, first)) {
      log_.add(FaultKind::duplicate, FaultAction::dropped, s_.lines[i], names_.time,
               [&] { return when + " repeats line " + line + " with the same values; dropped"; });
      return;
    }
    const bool rh_differs = s_.rh_percent[i] != s_.rh_percent[first];
    const auto& values = rh_differs ? s_.rh_percent : s_.temperature_c;
    log_.add(FaultKind::conflicting_duplicate, FaultAction::dropped, s_.lines[i],
             rh_differs ? names_.rh : names_.temperature, [&] {
               return when + " has " + format_number(values[i], 6) + " where line " + line +
                      " has " + format_number(values[first], 6) +
                      "; the first is kept, this line dropped";
             });
  }

  RawSeries& s_;
  bool utc_;
  const FieldNames& names_;
  FaultLog& log_;
  std::int64_t likely_;
  Steps steps_;
  double interval_;
};

}  // namespace

double usual_interval(const Times& times_s) {
  const std::int64_t likely = likely_step(times_s);
  return median_interval(times_s, count_steps(times_s, likely), likely);
}

double put_in_order(RawSeries& series, bool utc, const FieldNames& names, FaultLog& log) {
  return Ordering(series, utc, names, log).run();
}

}  // namespace aeruca::detail
