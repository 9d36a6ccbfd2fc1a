#include "aeruca/store.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <random>

#include "aeruca/errors.hpp"
#include "catch.hpp"
#include "seeded.hpp"
#include "store/known_time.hpp"

using namespace aeruca;

namespace {

constexpr std::int64_t kStart = 1704067200;

struct Random {
  std::mt19937_64 engine;
  double normal(double sd) { return std::normal_distribution<double>(0, sd)(engine); }
  double uniform(double a, double b) {
    return std::uniform_real_distribution<double>(a, b)(engine);
  }
  int whole(int a, int b) { return std::uniform_int_distribution<int>(a, b)(engine); }
};

struct Arrays {
  std::vector<std::int64_t> times;
  std::vector<double> temperature, rh;
};

// A wandering store: regular when `missing` is 0, else with readings left out at random.
Arrays wander(Random& random, int n, double missing) {
  Arrays a;
  double rh = random.uniform(35, 48);
  for (int i = 0; i < n; ++i) {
    rh = std::clamp(rh + random.normal(0.8) - 0.03 * (rh - 42), 5.0, 95.0);
    if (random.uniform(0, 1) < missing) continue;
    a.times.push_back(kStart + 3600 * i);
    a.temperature.push_back(std::round((20 + random.normal(1)) * 100) / 100);
    a.rh.push_back(std::round(rh * 100) / 100);
  }
  return a;
}

LoggerRecord record_of(const Arrays& a, double shift = 0) {
  std::vector<double> rh = a.rh;
  for (double& value : rh) value += shift;
  return make_logger_record(a.times, a.temperature, rh);
}

StoreOptions band(double accuracy = 3) {
  StoreOptions options;
  options.onset = {"band", "", "", {20.0}, {42.0}, {46.0}};
  options.accuracy_rh_percent = accuracy;
  return options;
}

}  // namespace

TEST_CASE("a wetter record is never judged drier") {
  Random random{std::mt19937_64(1)};
  for (int trial = 0; trial < 30; ++trial) {
    const Arrays arrays = wander(random, 1500, trial % 2 == 0 ? 0 : 0.2);
    StoreOptions options = band();
    options.cooler_c = trial % 3;
    StoreAssessment before = assess_store(record_of(arrays, -3), options);
    for (double shift = -2.5; shift < 3; shift += 0.5) {
      const StoreAssessment now = assess_store(record_of(arrays, shift), options);
      CHECK(now.above_low.share.as_read >= before.above_low.share.as_read);
      CHECK(now.above_high.share.expected >= before.above_high.share.expected - 1e-12);
      CHECK(now.above_high.longest.hours >= before.above_high.longest.hours);
      CHECK(now.probability_active >= before.probability_active);
      CHECK(now.probability_dormant <= before.probability_dormant);
      CHECK(now.probability_below_all_time <= before.probability_below_all_time);
      CHECK(now.above_high.share.as_read <= now.above_low.share.as_read);
      CHECK(now.above_low.share.if_reads_high <= now.above_low.share.as_read);
      CHECK(now.above_low.share.as_read <= now.above_low.share.if_reads_low);
      before = now;
    }
  }
}

TEST_CASE("shares of two halves, weighted with their known time, add up to the whole") {
  Random random{std::mt19937_64(2)};
  for (int trial = 0; trial < 50; ++trial) {
    const Arrays whole = wander(random, 1000, 0);
    const auto cut = static_cast<std::ptrdiff_t>(random.whole(300, 700));
    Arrays left = whole;
    Arrays right = whole;
    for (auto* values : {&left.temperature, &left.rh})
      values->resize(static_cast<std::size_t>(cut));
    left.times.resize(static_cast<std::size_t>(cut));
    right.times.erase(right.times.begin(), right.times.begin() + cut);
    right.temperature.erase(right.temperature.begin(), right.temperature.begin() + cut);
    right.rh.erase(right.rh.begin(), right.rh.begin() + cut);
    const StoreAssessment a = assess_store(record_of(whole), band());
    const StoreAssessment b = assess_store(record_of(left), band());
    const StoreAssessment c = assess_store(record_of(right), band());
    CHECK(std::abs(b.known_hours + c.known_hours - a.known_hours) < 1e-9);
    const auto joined = [&](auto part) {
      return (part(b) * b.known_hours + part(c) * c.known_hours) / a.known_hours - part(a);
    };
    CHECK(std::abs(joined([](const StoreAssessment& x) { return x.above_low.share.as_read; })) <
          1e-12);
    CHECK(std::abs(joined(
              [](const StoreAssessment& x) { return x.above_high.share.if_reads_low; })) < 1e-12);
    CHECK(std::abs(joined([](const StoreAssessment& x) { return x.above_high.share.expected; })) <
          1e-12);
    double months = 0;
    for (const MonthSummary& month : a.months) months += month.known_hours * month.share_above_low;
    CHECK(std::abs(months / a.known_hours - a.above_low.share.as_read) < 1e-12);
  }
}

TEST_CASE("the probabilities are those of trying every bias") {
  Random random{std::mt19937_64(3)};
  constexpr int kBiases = 300;
  for (int trial = 0; trial < 12; ++trial) {
    const Arrays arrays = wander(random, 800, trial % 2 == 0 ? 0 : 0.15);
    const StoreAssessment whole = assess_store(record_of(arrays), band(3));
    int active = 0;
    int dormant = 0;
    int below = 0;
    double share = 0;
    for (int k = 0; k < kBiases; ++k) {
      const double bias = -3 + 6 * (k + 0.5) / kBiases;
      // The truth is known here: the accuracy is nought and the conditions are read off.
      const StoreAssessment truth = assess_store(record_of(arrays, bias), band(0));
      active +=
          truth.above_high.longest.hours >= 24 || truth.above_high.share.as_read >= 0.05 ? 1 : 0;
      dormant += truth.above_low.longest.hours < 24 && truth.above_low.share.as_read < 0.01 ? 1 : 0;
      below += truth.above_low.share.as_read == 0 ? 1 : 0;
      share += truth.above_low.share.as_read;
    }
    CHECK(std::abs(whole.probability_active - static_cast<double>(active) / kBiases) <=
          1.0 / kBiases);
    CHECK(std::abs(whole.probability_dormant - static_cast<double>(dormant) / kBiases) <=
          1.0 / kBiases);
    CHECK(std::abs(whole.probability_below_all_time - static_cast<double>(below) / kBiases) <=
          1.0 / kBiases);
    CHECK(std::abs(whole.above_low.share.expected - share / kBiases) < 2e-3);
  }
}

TEST_CASE("quantiles are those of sorting") {
  Random random{std::mt19937_64(4)};
  for (int trial = 0; trial < 100; ++trial) {
    const int n = random.whole(1, 400);
    std::vector<double> values;
    std::vector<double> weights;
    for (int i = 0; i < n; ++i) {
      values.push_back(trial % 2 == 0 ? random.normal(3) : random.whole(0, 6));
      weights.push_back(random.whole(1, 8) * 0.5);
    }
    const std::vector<double> shares{0.01, 0.05, 0.5, 0.95, 1.0};
    const std::vector<double> found = detail::weighted_quantiles(values, weights, shares);
    std::vector<std::pair<double, double>> sorted;
    double total = 0;
    for (std::size_t i = 0; i < values.size(); ++i) sorted.emplace_back(values[i], weights[i]);
    for (const double weight : weights) total += weight;
    std::sort(sorted.begin(), sorted.end());
    for (std::size_t k = 0; k < shares.size(); ++k) {
      double below = 0;
      std::size_t i = 0;
      while (below + sorted[i].second < shares[k] * total * (1 - 1e-12))
        below += sorted[i++].second;
      CHECK(found[k] == sorted[i].first);
    }
  }
}

TEST_CASE("the way a record is written changes nothing in it") {
  Random random{std::mt19937_64(5)};
  for (int trial = 0; trial < 60; ++trial) {
    const Arrays arrays = wander(random, 60, 0.1);
    const LoggerRecord wanted = record_of(arrays);
    const char separator = std::string(",;\t")[static_cast<std::size_t>(trial % 3)];
    const bool comma = separator != ',' && random.whole(0, 1) == 1;
    const bool offset = random.whole(0, 1) == 1;
    const char* end = random.whole(0, 1) == 1 ? "\r\n" : "\n";
    std::vector<int> order{0, 1, 2, 3};
    std::shuffle(order.begin(), order.end(), random.engine);
    const std::vector<std::string> names{"timestamp", "Temperature (C)", "rel. humidity [%]",
                                         "remark"};
    const auto line = [&](const std::vector<std::string>& cells) {
      std::string text;
      for (const int column : order)
        text += (text.empty() ? "" : std::string(1, separator)) +
                cells[static_cast<std::size_t>(column)];
      return text + end;
    };
    const auto number = [&](double value) {
      std::string text = std::to_string(std::lround(value * 100));
      text.insert(text.size() - 2, comma ? "," : ".");
      return random.whole(0, 3) == 0 ? "\"" + text + "\"" : text;
    };
    std::string text = (random.whole(0, 1) == 1 ? "\xEF\xBB\xBF" : "") + line(names);
    for (std::size_t i = 0; i < arrays.rh.size(); ++i) {
      if (random.whole(0, 9) == 0) text += std::string("# remark") + end;
      if (random.whole(0, 9) == 0) text += end;
      std::string time = format_time(arrays.times[i] + (offset ? 7200 : 0));
      if (random.whole(0, 1) == 1) time[10] = ' ';
      text += line({time + (offset ? "+02:00" : ""), number(arrays.temperature[i]),
                    number(arrays.rh[i]), "x"});
    }
    CAPTURE(text);
    const LoggerRecord found = parse_logger_csv(text, "log.csv");
    CHECK(found.times_s == wanted.times_s);
    CHECK(found.temperature_c == wanted.temperature_c);
    CHECK(found.rh_percent == wanted.rh_percent);
    CHECK(found.utc == offset);
  }
}

// A plus sign before a number is understood, but not plain: it sends the row to the careful reader.
TEST_CASE("a row read in one pass gives what the careful reader gives") {
  test::Random random(6);
  const std::vector<std::string> clocks{
      "00:00", "07:30",     "23:59:59",    "12:00:00.250",   "3:00",           "24:00",
      "10:61", "10:00:00Z", "10:00+01:00", "10:00:00+01:00", "10:00:00 -0330", "10:00:00.5Z"};
  const std::vector<std::string> numbers{"20",
                                         "20.5",
                                         "-3.25",
                                         "0.1",
                                         "41.123456789012345",
                                         "1e1",
                                         "20.",
                                         ".5",
                                         "-",
                                         "",
                                         "NA",
                                         "-0",
                                         "abc",
                                         "9999",
                                         "12.5x",
                                         "20,5",
                                         "103.01",
                                         "80.01",
                                         "123456789012345",
                                         "007.10"};
  const auto pick = [&](const std::vector<std::string>& from) {
    return from[random() % from.size()];
  };
  long good = 0;
  for (long trial = 0; trial < test::seeded_cases(4000); ++trial) {
    const char separator = std::string(",;\t")[random() % 3];
    const bool apart = test::chance(random, 0.3);
    std::vector<std::string> names{"RH", "temperature", "note", "more"};
    names.insert(names.begin(), apart ? "date" : "timestamp");
    if (apart) names.emplace_back("hour");
    std::shuffle(names.begin(), names.end(), random);
    const std::string usual_clock = pick(clocks);
    const auto file = [&](bool plain, const std::vector<std::vector<std::string>>& cells) {
      std::string text;
      for (const auto& row : cells) {
        std::string line;
        for (std::size_t c = 0; c < row.size(); ++c) {
          const bool sign = !plain && c < names.size() && names[c] == "RH" && !row[c].empty() &&
                            row[c][0] >= '0' && row[c][0] <= '9';
          line += (c == 0 ? "" : std::string(1, separator)) + (sign ? "+" : "") + row[c];
        }
        text += line + (cells.size() % 2 == 0 ? "\r\n" : "\n");
      }
      return text + "# end of the file, long enough to be no part of the last row\n";
    };
    std::vector<std::vector<std::string>> cells{names};
    const auto rows = 3 + random() % 12;
    for (std::uint64_t i = 0; i < rows; ++i) {
      std::vector<std::string> row;
      const std::string day =
          test::chance(random, 0.95) ? "2024-02-" + std::to_string(10 + random() % 20) : "10.2.24";
      const std::string clock = test::chance(random, 0.8) ? usual_clock : pick(clocks);
      for (const std::string& name : names) {
        std::string field =
            name == "timestamp" ? day + (test::chance(random, 0.5) ? "T" : " ") + clock
            : name == "date"    ? day
            : name == "hour"    ? clock
            : name == "note" || name == "more"
                ? (test::chance(random, 0.1) ? "\"a " + std::string(1, separator) + "b\"" : "x\r")
                : (test::chance(random, 0.7) ? "4" + std::to_string(random() % 10) + ".5"
                                             : pick(numbers));
        if (test::chance(random, 0.1)) field = " " + field + " ";
        if (name != "RH" && field[0] != '"' && test::chance(random, 0.1)) field = '"' + field + '"';
        row.push_back(field);
      }
      if (test::chance(random, 0.05)) row.pop_back();
      if (test::chance(random, 0.1)) row.emplace_back(test::chance(random, 0.5) ? " " : "spare");
      cells.push_back(row);
    }
    const auto read = [](const std::string& text) -> std::optional<LoggerRecord> {
      try {
        return parse_logger_csv(text, "log.csv", {.max_bad_share = 1});
      } catch (const FileError&) {
        return {};
      }
    };
    CAPTURE(file(true, cells));
    const auto plain = read(file(true, cells));
    const auto careful = read(file(false, cells));
    REQUIRE(plain.has_value() == careful.has_value());
    if (!plain) continue;
    good += static_cast<long>(plain->size());
    CHECK(plain->times_s == careful->times_s);
    CHECK(plain->rh_percent == careful->rh_percent);
    CHECK(plain->fault_counts == careful->fault_counts);
    CHECK(plain->rows == careful->rows);
    CHECK(plain->utc == careful->utc);
    REQUIRE(plain->temperature_c.size() == careful->temperature_c.size());
    for (std::size_t i = 0; i < plain->size(); ++i) {
      const double a = plain->temperature_c[i];
      const double b = careful->temperature_c[i];
      CHECK((a == b || (std::isnan(a) && std::isnan(b))));
    }
    std::vector<long> lines;
    for (const LoggerFault& fault : careful->faults) lines.push_back(fault.line);
    for (std::size_t i = 0; i < plain->faults.size(); ++i) CHECK(plain->faults[i].line == lines[i]);
  }
  CHECK(good > 100);
}

TEST_CASE("every line of data is a reading or a fault of that line") {
  test::Random random(8);
  const std::vector<std::string> odd{"",
                                     "-",
                                     "NA",
                                     "4O",
                                     "40.",
                                     "1e400",
                                     "\"40",
                                     "40\"",
                                     "0x29",
                                     "+-3",
                                     " ",
                                     "40;",
                                     "2024",
                                     "#",
                                     "-0",
                                     "103.5",
                                     "nan",
                                     "inf",
                                     "40\r41",
                                     "\t",
                                     "4 1",
                                     "41,5",
                                     "\xEF\xBB\xBF",
                                     "\x1a",
                                     "40\xC2\xA0",
                                     "2024-02-30T00:00",
                                     "24:00",
                                     "\x01\x02"};
  for (long trial = 0; trial < test::seeded_cases(4000); ++trial) {
    const char separator = std::string(",;\t")[random() % 3];
    std::string text = std::string("time") + separator + "T" + separator + "RH\n";
    const std::uint64_t rows = 1 + random() % 30;
    std::vector<long> data;  // lines
    for (std::uint64_t i = 0; i < rows; ++i) {
      std::vector<std::string> fields{format_time(kStart + 600 * static_cast<std::int64_t>(i)),
                                      "20." + std::to_string(random() % 10),
                                      std::to_string(40 + random() % 5)};
      if (test::chance(random, 0.3)) fields[random() % 3] = odd[random() % odd.size()];
      if (test::chance(random, 0.05)) fields.pop_back();
      if (test::chance(random, 0.05)) fields.push_back(odd[random() % odd.size()]);
      std::string line;
      for (const std::string& field : fields)
        line += (line.empty() ? "" : std::string(1, separator)) + field;
      text += line + (test::chance(random, 0.5) ? "\r\n" : "\n");
      const auto first = line.find_first_not_of(" \t\r");
      if (first != std::string::npos && line[first] != '#')
        data.push_back(static_cast<long>(i) + 2);
    }
    CAPTURE(text);
    LoggerReadOptions options;
    options.max_bad_share = 1;
    try {
      const LoggerRecord record = parse_logger_csv(text, "log.csv", options);
      CHECK(record.rows == data.size());
      std::vector<long> dropped;
      for (const LoggerFault& fault : record.faults) {
        if (fault.action == FaultAction::dropped) dropped.push_back(fault.line);
      }
      CHECK(dropped.size() == record.dropped);
      CHECK(std::adjacent_find(dropped.begin(), dropped.end()) == dropped.end());
      CHECK(std::includes(data.begin(), data.end(), dropped.begin(), dropped.end()));
    } catch (const FileError& refused) {
      CHECK(std::string(refused.what()).find("cannot be used") != std::string::npos);
    }
  }
}
