#include "aeruca/logger_files.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <random>
#include <tuple>

#include "aeruca/errors.hpp"
#include "aeruca/store.hpp"
#include "base/text.hpp"
#include "catch.hpp"
#include "own_folder.hpp"

using namespace aeruca;
using aeruca_test::OwnFolder;

namespace {

constexpr std::int64_t kStart = 1704067200;  // 2024-01-01T00:00

struct Row {
  std::int64_t time_s;
  double temperature_c;
  double rh_percent;
};

// Ten-minute readings of some weeks with a gap, a stuck stretch and readings without temperature.
std::vector<Row> rows_of_weeks(unsigned seed) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> noise(-1, 1);
  std::vector<Row> rows;
  std::int64_t time = kStart;
  for (int i = 0; i < 3000; ++i) {
    time += i == 1000 ? 30 * 3600 : 600;
    const double rh = 42 + 4 * std::sin(i / 150.0) + noise(random);
    const bool stuck = i >= 2000 && i < 2400;
    rows.push_back({time, i % 97 == 5 ? std::nan("") : 20 + i % 9 / 10.0,
                    stuck ? 45.0 : std::round(10 * rh) / 10});
    if (stuck) rows.back().temperature_c = 20;
  }
  return rows;
}

std::string text_of(const std::vector<Row>& rows, std::size_t first, std::size_t end) {
  std::string text = "time,T,RH\n";
  for (std::size_t i = first; i < end; ++i) {
    const Row& row = rows[i];
    text += format_time(row.time_s) + "," +
            (std::isnan(row.temperature_c) ? "" : detail::format_number(row.temperature_c)) + "," +
            detail::format_number(row.rh_percent) + "\n";
  }
  return text;
}

LoggerRecord hourly(const std::string& file, int first, int count, double rh,
                    std::int64_t shift_s = 0) {
  std::vector<std::int64_t> times;
  for (int i = first; i < first + count; ++i) times.push_back(kStart + 3600 * i + shift_s);
  const std::vector<double> humid(times.size(), rh);
  LoggerReadOptions options;
  options.stuck_hours = 1e6;
  LoggerRecord record = make_logger_record(times, {}, humid, options);
  record.file = file;
  return record;
}

bool same(double a, double b) {
  return a == b || (std::isnan(a) && std::isnan(b));
}

void check_same_record(const LoggerRecord& a, const LoggerRecord& b) {
  CHECK(a.times_s == b.times_s);
  CHECK(a.rh_percent == b.rh_percent);
  CHECK(std::equal(a.temperature_c.begin(), a.temperature_c.end(), b.temperature_c.begin(),
                   b.temperature_c.end(), same));
  CHECK(a.interval_s == b.interval_s);
  CHECK(a.gap_limit_s == b.gap_limit_s);
  CHECK(a.gap_ends() == b.gap_ends());
  CHECK(a.fault_counts == b.fault_counts);
  REQUIRE(a.stuck.size() == b.stuck.size());
  for (std::size_t i = 0; i < a.stuck.size(); ++i) {
    CHECK(a.stuck[i].first == b.stuck[i].first);
    CHECK(a.stuck[i].last == b.stuck[i].last);
  }
}

void check_same_judgement(const LoggerRecord& a, const LoggerRecord& b) {
  StoreOptions options;
  options.onset = onset_curve(44);
  const StoreAssessment one = assess_store(a, options);
  const StoreAssessment other = assess_store(b, options);
  CHECK(one.known_hours == other.known_hours);
  CHECK(one.period_hours == other.period_hours);
  CHECK(one.above_low.share.as_read == other.above_low.share.as_read);
  CHECK(one.above_low.longest.hours == other.above_low.longest.hours);
  CHECK(one.probability_dormant == other.probability_dormant);
  CHECK(one.too_humid_by_rh_percent == other.too_humid_by_rh_percent);
  CHECK(one.rh_percent.p50 == other.rh_percent.p50);
  CHECK(one.reason == other.reason);
}

}  // namespace

TEST_CASE("splitting a record into files anywhere changes nothing") {
  for (unsigned seed = 1; seed <= 12; ++seed) {
    const OwnFolder folder;
    const std::vector<Row> rows = rows_of_weeks(seed);
    const LoggerRecord whole = read_logger_csv(folder.write("whole.csv", text_of(rows, 0, 3000)));
    std::mt19937 random(seed);
    std::vector<std::size_t> cuts{0, rows.size()};
    for (unsigned k = 0; k < seed; ++k) cuts.push_back(random() % rows.size());
    if (seed == 1) cuts.push_back(2200);  // through the stuck stretch
    if (seed == 2) cuts.push_back(1000);  // at the gap
    std::sort(cuts.begin(), cuts.end());
    std::vector<std::string> files;
    for (std::size_t k = 0; k + 1 < cuts.size(); ++k) {
      if (cuts[k] == cuts[k + 1]) continue;
      files.push_back(
          folder.write(std::to_string(99 - k) + ".csv", text_of(rows, cuts[k], cuts[k + 1])));
    }
    const LoggerRecord joined = read_logger_files(files);
    check_same_record(joined, whole);
    check_same_judgement(joined, whole);
    CHECK(joined.files.size() == (files.size() == 1 ? 0 : files.size()));
  }
}

TEST_CASE("the order in which files are named changes nothing") {
  std::vector<LoggerRecord> records{hourly("a", 0, 100, 40), hourly("b", 90, 100, 41),
                                    hourly("c", 400, 30, 42), hourly("d", 0, 100, 40)};
  LoggerReadOptions options;
  options.stuck_hours = 1e6;
  const LoggerRecord first = join_records(records, options);
  std::reverse(records.begin(), records.end());
  const LoggerRecord second = join_records(records, options);
  check_same_record(first, second);
  REQUIRE(first.faults.size() == second.faults.size());
  for (std::size_t i = 0; i < first.faults.size(); ++i)
    CHECK(first.faults[i].reason == second.faults[i].reason);
}

TEST_CASE(
    "identical repeats are counted once, and other values are faults by file, line and time") {
  LoggerRecord later = hourly("b.csv", 90, 100, 40);
  later.rh_percent[3] = 55;
  const LoggerRecord joined = join_records({hourly("a.csv", 0, 100, 40), later});
  CHECK(joined.size() == 190);
  CHECK(joined.rows == 200);
  CHECK(joined.dropped == 10);
  CHECK(joined.files[1].repeated == 9);
  CHECK(joined.files[1].disagreeing == 1);
  CHECK(joined.files[1].readings == 90);
  REQUIRE(joined.meetings.size() == 1);
  const FileMeeting& meeting = joined.meetings[0];
  CHECK(meeting.kind == FileMeetingKind::overlap);
  CHECK(meeting.earlier == "a.csv");
  CHECK(meeting.later == "b.csv");
  CHECK(meeting.from_s == kStart + 3600 * 90);
  CHECK(meeting.to_s == kStart + 3600 * 99);
  CHECK(meeting.agreeing == 9);
  CHECK(meeting.disagreeing == 1);
  CHECK(joined.rh_percent[93] == 40);
  REQUIRE(joined.count(FaultKind::conflicting_duplicate) == 1);
  const auto fault = std::find_if(
      joined.faults.begin(), joined.faults.end(),
      [](const LoggerFault& one) { return one.kind == FaultKind::conflicting_duplicate; });
  CHECK(fault->file == "b.csv");
  CHECK(fault->line == 4);
  CHECK(fault->reason ==
        "2024-01-04T21:00:00 has 55 where 'a.csv' has 40 in line 94; that is kept, this line "
        "dropped");
}

TEST_CASE("readings of a later file between those of an earlier one are kept and counted") {
  // Half an hour after each, as a second logger would; the last ten lie beyond the first file.
  const LoggerRecord joined =
      join_records({hourly("a.csv", 0, 100, 40), hourly("b.csv", 10, 100, 41, 1800)});
  REQUIRE(joined.meetings.size() == 1);
  CHECK(joined.meetings[0].between == 89);
  CHECK(joined.meetings[0].agreeing + joined.meetings[0].disagreeing == 0);
  CHECK(joined.size() == 200);
  StoreOptions options;
  options.onset = onset_curve(44);
  const StoreAssessment store = assess_store(joined, options);
  CHECK(std::any_of(store.warnings.begin(), store.warnings.end(), [](const std::string& text) {
    return text.starts_with("89 readings of b.csv lie between those of a.csv");
  }));
  const LoggerRecord touching =
      join_records({hourly("a.csv", 0, 100, 40), hourly("b.csv", 99, 9, 40)});
  CHECK(touching.size() == 108);
  CHECK(touching.meetings[0].agreeing == 1);
}

TEST_CASE("a gap between files is told by both, and a file that fills it takes it away") {
  const LoggerRecord first = hourly("a.csv", 0, 100, 40);
  const LoggerRecord last = hourly("b.csv", 150, 100, 40);
  const LoggerRecord open = join_records({last, first});
  REQUIRE(open.meetings.size() == 1);
  CHECK(open.meetings[0].kind == FileMeetingKind::seam);
  CHECK(open.meetings[0].earlier == "a.csv");
  CHECK(open.meetings[0].later == "b.csv");
  CHECK(open.meetings[0].from_s == first.times_s.back());
  CHECK(open.meetings[0].to_s == last.times_s.front());
  CHECK(open.count(FaultKind::gap) == 1);
  const LoggerRecord filled = join_records({last, hourly("c.csv", 100, 50, 40), first});
  CHECK(filled.meetings.empty());
  CHECK(filled.count(FaultKind::gap) == 0);
}

TEST_CASE("a file of another interval keeps its own, and its readings are known time") {
  std::vector<LoggerRecord> records{hourly("hours.csv", 0, 24 * 20, 40)};
  std::vector<std::int64_t> times;
  for (int i = 0; i < 6 * 24 * 20; ++i) times.push_back(kStart + 20 * 86400 + 600 * i);
  times.erase(times.begin() + 500, times.begin() + 506);  // an hour is missing
  std::vector<double> rh(times.size(), 39.5);
  LoggerReadOptions options;
  options.stuck_hours = 1e6;
  records.push_back(make_logger_record(times, {}, rh, options));
  records.back().file = "minutes.csv";
  const LoggerRecord joined = join_records(records, options);
  CHECK(joined.interval_s == 600);
  CHECK(joined.files[0].interval_s == 3600);
  CHECK(joined.gap_ends() == std::vector<std::size_t>{980});
  StoreOptions judge;
  judge.onset = onset_curve(42);
  const StoreAssessment store = assess_store(joined, judge);
  CHECK(store.gaps == 1);
  CHECK(store.known_hours > 40 * 24 - 2);
}

TEST_CASE("a file of one day is read in the order that another file of the logger proves") {
  const auto day = [](const std::string& date, int rh) {
    std::string text = "time,RH\n";
    for (int h = 10; h < 20; ++h)
      text += date + " " + std::to_string(h) + ":00," + std::to_string(rh + h % 3) + "\n";
    return text;
  };
  const OwnFolder folder;
  folder.write("11.csv", day("11/03/2024", 40));
  folder.write("12.csv", day("12/03/2024", 41));
  CHECK_THROWS_WITH(read_logger_files({folder.string()}), aeruca::test::contains("date_order"));
  folder.write("13.csv", day("13/03/2024", 42));
  const LoggerRecord record = read_logger_files({folder.string()});
  CHECK(record.size() == 30);
  CHECK(format_time(record.times_s.front()) == "2024-03-11T10:00:00");
  CHECK(std::count_if(record.read_as.begin(), record.read_as.end(), [](const std::string& how) {
          return how.ends_with("13.csv' proves them");
        }) == 2);
  folder.write("14.csv", day("03/14/2024", 42));  // contradicts: nothing is taken for granted
  const LoggerRecord torn = read_logger_files({folder.string()});
  CHECK(torn.size() == 20);
  CHECK(torn.files[2].problem.find("date_order") != std::string::npos);
  CHECK(torn.files[3].problem.find("date_order") != std::string::npos);
}

TEST_CASE("what cannot be used stands among the files, and the rest goes on") {
  const OwnFolder folder;
  const std::vector<Row> rows = rows_of_weeks(1);
  folder.write("a.csv", text_of(rows, 0, 500));
  folder.write("b.csv", "no logger file\n");
  folder.write(".hidden", "never looked at\n");
  std::string utc = "time,RH\n";
  for (int i = 0; i < 9; ++i) utc += format_time(kStart + 60 * i) + "Z,40\n";
  folder.write("c.csv", utc);
  const LoggerRecord record = read_logger_files({folder.string()});
  CHECK(record.file == folder.string());
  REQUIRE(record.files.size() == 3);
  CHECK(record.size() == 500);
  CHECK(record.files[1].problem.find("its times have an offset from UTC, unlike those of '") !=
        std::string::npos);
  CHECK(record.files[2].problem.find("names a time and a humidity column") != std::string::npos);
  CHECK_THROWS_WITH(read_logger_files({folder.file("b.csv"), folder.file("no.csv")}),
                    aeruca::test::contains("none of the 2 files can be used; the first: "));
}

TEST_CASE("line numbers cut off and put together are those of the readings") {
  std::mt19937 random(11);
  for (int k = 0; k < 300; ++k) {
    LineNumbers whole;
    std::vector<long> plain;
    for (int piece = 0; piece < 6; ++piece) {
      const long first = 1 + static_cast<long>(random() % 50);
      const std::size_t count = 1 + random() % 5;
      whole.add(first, count);
      for (std::size_t i = 0; i < count; ++i) plain.push_back(first + static_cast<long>(i));
    }
    if (k % 2 == 1) {
      whole.reverse();
      std::reverse(plain.begin(), plain.end());
    }
    const std::size_t from = random() % (plain.size() + 1);
    LineNumbers joined = whole;
    joined.truncate(from);
    joined.append(whole, from);
    joined.append(whole, from);
    joined.add(7);
    std::vector<long> wanted = plain;
    wanted.insert(wanted.end(), plain.begin() + static_cast<std::ptrdiff_t>(from), plain.end());
    wanted.push_back(7);
    REQUIRE(joined.size() == wanted.size());
    std::size_t unlike = 0;
    for (std::size_t i = 0; i < wanted.size(); ++i) unlike += joined[i] == wanted[i] ? 0U : 1U;
    CHECK(unlike == 0);
  }
}
