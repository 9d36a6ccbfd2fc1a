// The judgement in blocks against the plain way: one reading after the other, every window, every
// value sorted.

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <numeric>

#include "aeruca/errors.hpp"
#include "aeruca/store.hpp"
#include "catch.hpp"
#include "seeded.hpp"
#include "store/sensor.hpp"
#include "store/surface.hpp"

using namespace aeruca;
using test::chance;
using test::uniform;

namespace {

constexpr double kNoEnd = std::numeric_limits<double>::quiet_NaN();

struct Reading {
  std::int64_t time_s = 0;
  double temperature_c = 0, rh = 0, surface_rh = 0;
  double low = 0, high = 0;  // margins
  double seconds = 0;
  bool joined = false;  // to the one before
};
using Readings = std::vector<Reading>;
using Margin = double Reading::*;

double limit_at(const std::vector<double>& t, const std::vector<double>& limit, double at) {
  if (t.size() == 1) return limit[0];
  std::size_t right = 1;
  while (right + 1 < t.size() && !(at < t[right])) ++right;
  const double part = (at - t[right - 1]) / (t[right] - t[right - 1]);
  return limit[right - 1] + part * (limit[right] - limit[right - 1]);
}

Readings readings_of(const LoggerRecord& record, const StoreOptions& o) {
  const bool by_temperature = o.cooler_c != 0 || o.onset.temperature_c.size() > 1;
  const auto& upper =
      std::isnan(o.onset.high_rh_percent[0]) ? o.onset.low_rh_percent : o.onset.high_rh_percent;
  const detail::VapourRatio ratio(o.cooler_c);
  const auto& table = o.onset.temperature_c;
  Readings kept;
  std::size_t last = record.size();
  for (std::size_t i = 0; i < record.size(); ++i) {
    const double t = record.temperature_c[i];
    const double surface = t - o.cooler_c;
    const bool stuck = std::any_of(record.stuck.begin(), record.stuck.end(),
                                   [&](const Stretch& s) { return i >= s.first && i <= s.last; });
    const bool in_table =
        table.size() == 1 || (surface >= table.front() && surface <= table.back());
    if (stuck || (by_temperature && !(ratio.covers(t) && in_table))) continue;
    const double factor = by_temperature ? ratio(t) : 1;
    const double rh = record.rh_percent[i];
    kept.push_back(
        {record.times_s[i], t, rh, rh * factor,
         limit_at(table, o.onset.low_rh_percent, surface) / factor - rh,
         limit_at(table, upper, surface) / factor - rh, 0,
         last + 1 == i &&
             static_cast<double>(record.times_s[i] - record.times_s[last]) <= record.gap_limit_s});
    last = i;
  }
  const double open = std::min(record.interval_s, kLongestStandSeconds);
  const auto step = [&](std::size_t i) {
    return std::min(static_cast<double>(kept[i].time_s - kept[i - 1].time_s), kLongestStandSeconds);
  };
  for (std::size_t i = 0; i < kept.size(); ++i) {
    const bool goes_on = i + 1 < kept.size() && kept[i + 1].joined;
    kept[i].seconds = 0.5 * ((kept[i].joined ? step(i) : open) + (goes_on ? step(i + 1) : open));
  }
  return kept;
}

double seconds_where(const Readings& all, const std::function<bool(const Reading&)>& is) {
  double seconds = 0;
  for (const Reading& r : all) seconds += is(r) ? r.seconds : 0;
  return seconds;
}

double total(const Readings& all) {
  return seconds_where(all, [](const Reading&) { return true; });
}

Spell longest_spell(const Readings& all, Margin margin, double bias) {
  Spell longest;
  for (std::size_t first = 0; first < all.size(); ++first) {
    if (!(all[first].*margin < bias)) continue;
    double seconds = all[first].seconds;
    std::size_t next = first + 1;
    for (; next < all.size() && all[next].joined && all[next].*margin < bias; ++next)
      seconds += all[next].seconds;
    if (seconds / 3600 > longest.hours) {
      longest = {seconds / 3600, all[first].time_s, all[next - 1].time_s,
                 !all[first].joined || (next < all.size() && !all[next].joined)};
    }
    first = next - 1;
  }
  return longest;
}

double bias_for_spell(const Readings& all, Margin margin, double hours) {
  double best = std::numeric_limits<double>::infinity();
  for (std::size_t first = 0; first < all.size(); ++first) {
    double largest = -std::numeric_limits<double>::infinity();
    double seconds = 0;
    for (std::size_t i = first; i < all.size() && (i == first || all[i].joined); ++i) {
      largest = std::max(largest, all[i].*margin);
      seconds += all[i].seconds;
      if (seconds < hours * 3600) continue;
      best = std::min(best, largest);
      break;
    }
  }
  return best;
}

double quantile(const Readings& all, double Reading::*value, double share) {
  std::vector<std::pair<double, double>> sorted;
  for (const Reading& r : all) {
    if (!std::isnan(r.*value)) sorted.emplace_back(r.*value, r.seconds);
  }
  if (sorted.empty()) return kNoEnd;
  std::sort(sorted.begin(), sorted.end());
  double whole = 0;
  for (const auto& [v, weight] : sorted) whole += weight;
  double below = 0;
  std::size_t i = 0;
  while (below + sorted[i].second < share * whole * (1 - 1e-12)) below += sorted[i++].second;
  return sorted[i].first;
}

bool same(double a, double b) {
  if (std::isnan(a) || std::isnan(b)) return std::isnan(a) && std::isnan(b);
  return a == b || std::abs(a - b) <= 1e-12 * std::max(1.0, std::abs(b));
}

void check_percentiles(const Percentiles& found, const Readings& all, double Reading::*value) {
  CHECK(same(found.p5, quantile(all, value, 0.05)));
  CHECK(same(found.p50, quantile(all, value, 0.50)));
  CHECK(same(found.p95, quantile(all, value, 0.95)));
}

void check_above(const TimeAbove& found, const Readings& all, Margin margin,
                 const detail::SensorError& error, double accuracy) {
  const auto share = [&](double bias) {
    return seconds_where(all, [&](const Reading& r) { return r.*margin < bias; }) / total(all);
  };
  CHECK(same(found.share.if_reads_high, share(-accuracy)));
  CHECK(same(found.share.as_read, share(0)));
  CHECK(same(found.share.if_reads_low, share(accuracy)));
  double expected = 0;
  for (const Reading& r : all) expected += r.seconds * (1 - error.total_below(r.*margin));
  CHECK(same(found.share.expected, expected / total(all)));
  const Spell spell = longest_spell(all, margin, 0);
  CHECK(found.longest.hours == spell.hours);
  CHECK(found.longest.start_s == spell.start_s);
  CHECK(found.longest.end_s == spell.end_s);
  CHECK(found.longest.touches_gap == spell.touches_gap);
  CHECK(found.longest_h.if_reads_high == longest_spell(all, margin, -accuracy).hours);
  CHECK(found.longest_h.if_reads_low == longest_spell(all, margin, accuracy).hours);
}

void check_months(const StoreAssessment& found, const Readings& all) {
  std::size_t readings = 0;
  for (const MonthSummary& month : found.months) {
    char name[8];
    std::snprintf(name, sizeof name, "%04d-%02d", month.year, month.month);
    Readings in_month;
    for (const Reading& r : all) {
      if (format_time(r.time_s).substr(0, 7) == name) in_month.push_back(r);
    }
    readings += in_month.size();
    double humidity = 0;
    for (const Reading& r : in_month) humidity += r.seconds * r.surface_rh;
    const double seconds = total(in_month);
    CHECK(same(month.known_hours, seconds / 3600));
    CHECK(same(month.mean_rh_percent, humidity / seconds));
    CHECK(same(month.share_above_low,
               seconds_where(in_month, [](const Reading& r) { return r.low < 0; }) / seconds));
    CHECK(same(month.share_above_high,
               seconds_where(in_month, [](const Reading& r) { return r.high < 0; }) / seconds));
  }
  CHECK(readings == all.size());
}

void check_cycles(const StoreAssessment& found, const Readings& all) {
  std::size_t excursions = 0;
  std::size_t completed = 0;
  char state = '?';
  for (const Reading& r : all) {
    if (r.high < 0) {
      excursions += state == 'd' ? 1U : 0U;
      state = 'w';
    } else if (r.low > 0 && r.high > found.options.hysteresis_rh_percent) {
      completed += state == 'w' && excursions > completed ? 1U : 0U;
      state = 'd';
    }
  }
  CHECK(found.excursions == excursions);
  CHECK(found.wet_dry_cycles == completed);
}

void check_rest(const StoreAssessment& found, const Readings& all) {
  CHECK(same(found.known_hours, total(all) / 3600));
  CHECK(same(found.share_condensing, seconds_where(all, [](const Reading& r) {
                                       return r.surface_rh >= 100;
                                     }) / total(all)));
  const bool any = std::any_of(all.begin(), all.end(),
                               [](const Reading& r) { return !std::isnan(r.temperature_c); });
  const double wet =
      seconds_where(all, [](const Reading& r) { return r.temperature_c > 0 && r.rh > 80; });
  CHECK(same(found.time_of_wetness_hours, any ? wet / 3600 : kNoEnd));
  std::size_t last = all.size() - 1;
  while (last > 0 && !(all[last].low < 0)) --last;
  CHECK(found.dry_at_end_hours == static_cast<double>(all.back().time_s - all[last].time_s) / 3600);
}

void check_assessment(const LoggerRecord& record, const StoreOptions& o) {
  const StoreAssessment found = assess_store(record, o);
  const Readings all = readings_of(record, o);
  REQUIRE(found.left_out == record.size() - all.size());
  if (found.readings == 0) return;
  REQUIRE(found.readings == all.size());
  const detail::SensorError error(o.accuracy_rh_percent, o.accuracy_meaning, o.random_rh_percent);
  check_percentiles(found.temperature_c, all, &Reading::temperature_c);
  check_percentiles(found.rh_percent, all, &Reading::rh);
  check_percentiles(found.surface_rh_percent, all, &Reading::surface_rh);
  check_above(found.above_low, all, &Reading::low, error, o.accuracy_rh_percent);
  check_months(found, all);
  check_cycles(found, all);
  check_rest(found, all);
  const auto bias = [&](Margin margin, double share) {
    return error.bias_below(
        std::min(bias_for_spell(all, margin, o.active_spell_h), quantile(all, margin, share)));
  };
  CHECK(same(found.probability_dormant, bias(&Reading::low, o.dormant_share)));
  if (std::isnan(o.onset.high_rh_percent[0])) return;
  check_above(found.above_high, all, &Reading::high, error, o.accuracy_rh_percent);
  CHECK(same(found.probability_active, 1 - bias(&Reading::high, o.active_share)));
}

// Slow waves, so that blocks lie wholly on one side, and noise, so that others do not; gaps,
// readings left out, a sensor that stands still, temperatures missing or outside what is valid.
LoggerRecord wandering_record(test::Random& random) {
  const int n = static_cast<int>(test::ten_to(random, 0, 3.3));
  const double resolution = test::ten_to(random, -3, 0);
  const double mean = uniform(random, 30, 60);
  const double wave = uniform(random, 0, 15);
  const double period = test::ten_to(random, 0.5, 3);
  const double noise = chance(random, 0.3) ? 0 : uniform(random, 0, 2);
  const double missing = chance(random, 0.5) ? 0 : uniform(random, 0, 0.5);
  const std::int64_t step = std::array<std::int64_t, 5>{60, 600, 3600, 7200, 86400}[random() % 5];
  std::int64_t time = 1600000000 + static_cast<std::int64_t>(random() % 100000000);
  std::vector<std::int64_t> times;
  std::vector<double> temperature;
  std::vector<double> rh;
  for (int i = 0; i < n; ++i) {
    time += chance(random, 0.005) ? step * static_cast<std::int64_t>(random() % 200 + 1) : step;
    if (chance(random, missing)) continue;
    const bool stands = !rh.empty() && (i / 100) % 7 == 6;
    const double value = mean + wave * std::sin(i / period) + noise * uniform(random, -1, 1);
    rh.push_back(stands ? rh.back()
                        : std::clamp(std::round(value / resolution) * resolution, 0.0, 103.0));
    temperature.push_back(stands                 ? temperature.back()
                          : chance(random, 0.01) ? kNoEnd
                                                 : 18 + 20 * std::sin(i / period / 1.7));
    times.push_back(time);
  }
  if (times.empty()) times = {0}, temperature = {20}, rh = {40};
  return make_logger_record(times, temperature, rh, {.stuck_hours = 2});
}

StoreOptions some_options(test::Random& random) {
  StoreOptions o;
  o.onset = {"band", "", "", {20.0}, {42.0}, {46.0}};
  if (chance(random, 0.2)) o.onset = {"open", "", "", {20.0}, {44.0}, {kNoEnd}};
  if (chance(random, 0.25)) o.onset = {"curve", "", "", {0, 10, 24}, {50, 45, 41}, {52, 48, 44}};
  o.accuracy_rh_percent = std::array<double, 4>{3, 0, 2.5, 10}[random() % 4];
  if (chance(random, 0.3)) o.accuracy_meaning = AccuracyMeaning::normal_95;
  if (chance(random, 0.3)) o.random_rh_percent = test::ten_to(random, -2, 0.5);
  if (chance(random, 0.3)) o.cooler_c = uniform(random, -3, 6);
  o.hysteresis_rh_percent = uniform(random, 0, 4);
  o.minimum_readings = 0;
  if (chance(random, 0.5)) o.active_spell_h = test::ten_to(random, -1, 2.5);
  if (chance(random, 0.5)) o.dormant_share = uniform(random, 0.001, 0.05);
  if (chance(random, 0.5)) o.active_share = uniform(random, 0.05, 1);
  return o;
}

}  // namespace

TEST_CASE("the judgement is that of looking at one reading after the other") {
  test::Random random(41);
  for (long trial = 0; trial < test::seeded_cases(600); ++trial) {
    CAPTURE(trial);
    const LoggerRecord record = wandering_record(random);
    const StoreOptions options = some_options(random);
    try {
      check_assessment(record, options);
    } catch (const InputError&) {
      CHECK(!record.has_temperature());  // where one is needed
    }
  }
}
