#include "aeruca/logger.hpp"

#include <cmath>
#include <filesystem>
#include <fstream>

#include "aeruca/errors.hpp"
#include "catch.hpp"

using namespace aeruca;

namespace {

LoggerRecord parse(const std::string& text, const LoggerReadOptions& options = {}) {
  return parse_logger_csv(text, "log.csv", options);
}

// Text of the first fault of a kind; empty when there is none.
std::string fault_of(const LoggerRecord& record, FaultKind kind) {
  for (const LoggerFault& fault : record.faults) {
    if (fault.kind == kind)
      return std::to_string(fault.line) + " " + fault.field + ": " + fault.reason;
  }
  return "";
}

std::string hourly(int count, const std::string& rh = "40", int first = 0) {
  std::string text;
  for (int i = first; i < first + count; ++i) {
    text += format_time(std::int64_t{1704067200} + 3600 * i) + ",20." + std::to_string(i % 10) +
            "," + rh + "." + std::to_string(i % 7) + "\n";
  }
  return text;
}

const std::string kHeader = "time,temperature,RH\n";

}  // namespace

TEST_CASE("a plain file is read as it stands") {
  const LoggerRecord record =
      parse("time,temperature,RH\n2024-01-01T00:00,20.5,40.25\n2024-01-01T01:00,-1.5,41\n");
  REQUIRE(record.size() == 2);
  CHECK(record.times_s[0] == 1704067200);
  CHECK(record.temperature_c == std::vector<double>{20.5, -1.5});
  CHECK(record.rh_percent == std::vector<double>{40.25, 41});
  CHECK(record.interval_s == 3600);
  CHECK(record.faults.empty());
  CHECK_FALSE(record.utc);
  CHECK(record.rows == 2);
  CHECK(record.file == "log.csv");
}

TEST_CASE("every spelling of the same record gives the same record") {
  const LoggerRecord wanted =
      parse("time,temperature,RH\n2024-01-01T00:00,20.5,40.25\n2024-01-01T01:00,-1.5,41.0\n");
  const std::vector<std::string> variants{
      "\xEF\xBB\xBFTime,Temperature (\xC2\xB0"
      "C),RH (%)\r\n2024-01-01 00:00:00,20.5,40.25\r\n2024-01-01 01:00:00,-1.5,41.0\r\n",
      "Datum/Zeit;rel. Feuchte [%];Temperatur [\xC2\xB0"
      "C]\n2024-01-01T00:00;40,25;20,5\n2024-01-01T01:00;41;-1,5\n",
      "Datum\tUhrzeit\tTemperatur\tLuftfeuchtigkeit\n2024-01-01\t00:00\t20,5\t40,25\n2024-01-"
      "01\t01:00:00\t-1,5\t41,0\n",
      "# a comment\n\nfecha,hora,humedad relativa,temperatura\n\n2024-01-01,00:00,40.25,20.5\n# "
      "another\n2024-01-01,01:00,41,-1.5\n\n",
      "horodatage;T;HR\n2024-01-01 00:00;20,5;40,25\n2024-01-01 01:00;-1,5;41\n",
      "data,ora,temp,umidit\xC3\xA0\n2024-01-01,00:00,\"20,5\",\"40,25\"\n2024-01-01,01:00,\"-1,"
      "5\",\"41\"\n",
      "Logger 7 of the store\nstate;fine\nno;timestamp;Temp. (F);dew point "
      "(F);RH%\n1;2024-01-01T00:00:00.5;68.9;40;40.25\n2;2024-01-01T01:00;29.3;40;41\n",
      "RH,time,temperature,note\n40.25,2024-01-01T00:00,20.50,,\n41.00,2024-01-01T01:00,-1.50,x\n",
      "time,temperature,RH\n2024-01-01T00:00,2.05e1,40.25\n2024-01-01T01:00,-1.5,+41\n",
      "date;t;rh\n2024-01-01 00:00 ; 20.5 ; 40.25\n2024-01-01 01:00 ; -1.5 ; 41"};
  for (const std::string& text : variants) {
    CAPTURE(text);
    const LoggerRecord record = parse(text);
    CHECK(record.times_s == wanted.times_s);
    REQUIRE(record.temperature_c.size() == 2);
    CHECK(std::abs(record.temperature_c[0] - 20.5) < 1e-12);
    CHECK(std::abs(record.temperature_c[1] + 1.5) < 1e-12);
    CHECK(record.rh_percent == wanted.rh_percent);
    CHECK(record.dropped == 0);
  }
}

TEST_CASE(
    "a number with a point is read where a decimal comma could stand, however it is written") {
  for (const std::string number : {"40.12345678901234567", "40.", "+40.5", "4.05e1", ".5"}) {
    // One of them is below 1 %, which is asked about.
    const LoggerRecord record =
        parse("time;RH\n2024-01-01T00:00;" + number + "\n", {.rh_unit = RhUnit::percent});
    CHECK(record.rh_percent.front() == std::stod(number));
  }
}

TEST_CASE("a reading above the header does not vanish without a word") {
  const LoggerRecord record =
      parse("Logger 7, 2024-01-01T00:00\n2024-01-01T00:00;40\ntime;RH\n2024-01-01T01:00;41\n",
            {.max_bad_share = 0.5});
  CHECK(record.rh_percent == std::vector<double>{41});
  CHECK(record.rows == 2);
  CHECK(record.dropped == 1);
  REQUIRE(record.faults.size() == 1);
  CHECK(record.faults[0].line == 2);
  CHECK(record.faults[0].action == FaultAction::dropped);
  CHECK(record.faults[0].reason == "a reading above the header; line dropped");
}

TEST_CASE("lines that end in a carriage return alone are named as what is wrong") {
  CHECK_THROWS_WITH(parse("time,RH\r2024-01-01T00:00,40\r2024-01-01T01:00,41\r"),
                    "log.csv, line 1, header: holds a carriage return; accepted are lines that end "
                    "in LF or CR LF");
}

TEST_CASE("offsets bring every time to UTC and a mixture is said") {
  const LoggerRecord record = parse(
      "time,RH\n2024-03-31T01:00+01:00,40\n2024-03-31T03:00+02:00,41\n2024-03-31T04:00+02:00,"
      "42\n2024-03-31T05:00,43\n",
      {.max_bad_share = 0.5});
  CHECK(record.utc);
  CHECK(record.times_s == std::vector<std::int64_t>{1711843200, 1711846800, 1711850400});
  CHECK(fault_of(record, FaultKind::unreadable) ==
        "5 time: '2024-03-31T05:00' has no offset from UTC, unlike the lines before; line dropped");
  CHECK(record.count(FaultKind::clock_change) == 0);
}

TEST_CASE("a bad line is kept as a fault and the rest goes on") {
  const std::string text = kHeader + hourly(10) +
                           "yesterday,20,40\n2024-01-01T11:00,warm,40\n2024-01-01T12:00,20,wet\n" +
                           "2024-01-01T13:00,20\n2024-01-01T14:00,20,40,5,1\n2024-01-01T15:00,20,"
                           "\n2024-01-01T16:00,,40\n" +
                           "2024-01-01T17:00,20,140\n2024-01-01T18:00,20,-1\n2024-01-01T19:00,85,"
                           "40\n2024-01-01T20:00,\"20,40\n";
  const LoggerRecord record = parse(text, {.max_bad_share = 0.9});
  CHECK(record.size() == 11);
  CHECK(record.rows == 21);
  CHECK(record.dropped == 10);
  CHECK(record.count(FaultKind::unreadable) == 6);
  CHECK(record.count(FaultKind::missing_value) == 2);
  CHECK(record.count(FaultKind::impossible_value) == 3);
  const std::vector<std::string> wanted{
      "12 time: 'yesterday' is no time that is read; accepted is for instance 2024-03-31T02:00; "
      "line "
      "dropped",
      "13 temperature: 'warm' is no number; accepted is a temperature in degrees C; line dropped",
      "14 RH: 'wet' is no number; accepted is a humidity in percent; line dropped",
      "15 line: 2 fields where the header has 3; line dropped",
      "16 line: more fields than the 3 of the header (a decimal comma needs quotes or another "
      "separator); line dropped",
      "17 RH: no humidity; line dropped",
      "18 temperature: no temperature; line kept without it",
      "19 RH: 140 % RH cannot be; accepted is 0 to 103; line dropped",
      "20 RH: -1 % RH cannot be; accepted is 0 to 103; line dropped",
      "21 temperature: 85 degrees C cannot be in a store; accepted is -40 to 80; line dropped",
      "22 line: a quote is not closed; line dropped"};
  std::vector<std::string> found;
  for (const LoggerFault& fault : record.faults) {
    if (fault.kind == FaultKind::gap) continue;
    found.push_back(std::to_string(fault.line) + " " + fault.field + ": " + fault.reason);
  }
  CHECK(found == wanted);
}

TEST_CASE("a file that is mostly bad is refused at its first bad line") {
  const std::string text = kHeader + hourly(3) + "x,20,40\n";
  CHECK(parse(text, {.max_bad_share = 0.25}).size() == 3);
  CHECK_THROWS_WITH(parse(text),
                    "log.csv, line 5, time: first of 1 lines of 4 that cannot be used (accepted is "
                    "at most 20 %): 'x' is no time "
                    "that is read; accepted is for instance 2024-03-31T02:00; line dropped");
  CHECK_THROWS_WITH(
      parse("time,RH\n2024-01-01T00:00,\n", {.max_bad_share = 1}),
      test::contains("log.csv, line 2, RH: first of 1 lines of 1 that cannot be used"));
}

TEST_CASE("a header that is not understood is refused with what is accepted") {
  const auto refuses = [](const std::string& text, const std::string& message,
                          const LoggerReadOptions& options = {}) {
    CAPTURE(text);
    CHECK_THROWS_WITH(parse(text, options), message);
    CHECK_THROWS_AS(parse(text, options), FileError);
  };
  const std::string none =
      "log.csv, header: none of the first 60 lines names a time and a humidity column";
  const std::string like = "; accepted is for instance 'time;temperature (C);RH (%)'";
  refuses("", none + like);
  refuses("2024-01-01T00:00,20,40\n",
          "log.csv, line 1, header: there is no header, and nothing tells which column is the "
          "humidity; accepted is the number of one, 1 to 3, in rh_column (--rh-column), and of the "
          "temperature in temperature_column (--temperature-column)");
  refuses("time,temperature\n2024-01-01T00:00,20\n", none + like);
  refuses("time,dew point,absolute humidity (g/m3)\n2024-01-01T00:00,20,9\n", none + like);
  refuses("time,RH air,RH case\n2024-01-01T00:00,40,41\n",
          "log.csv, line 1, header: 'RH air' and 'RH case' both look like the humidity; accepted "
          "is one column, or its name in rh_column (--rh-column)");
  refuses("time,T1 temp,T2 temp,RH\n2024-01-01T00:00,20,21,40\n",
          "log.csv, line 1, header: 'T1 temp' and 'T2 temp' both look like the temperature; "
          "accepted is one column, or its name in "
          "temperature_column (--temperature-column)");
  refuses("time,temperature (K),RH\n2024-01-01T00:00,293,40\n",
          "log.csv, line 1, temperature (K): temperature in kelvin; accepted is C or F");
  refuses("time,RH\n",
          "log.csv: has a header and no reading; accepted is at least one line with a time and a "
          "humidity");
  LoggerReadOptions named;
  named.rh_column = "RH box";
  refuses("time,RH air,RH case\n2024-01-01T00:00,40,41\n", none + " (asked for: 'RH box')" + like,
          named);
  named.rh_column = "RH case";
  CHECK(parse("time,RH air,RH case\n2024-01-01T00:00,40,41\n", named).rh_percent.front() == 41);
}

TEST_CASE("times out of order are moved, repeated ones dropped, and both are said") {
  const LoggerRecord record =
      parse(kHeader + "2024-01-01T00:00,20,40\n2024-01-01T02:00,20,42\n2024-01-01T01:00,20,41\n" +
            "2024-01-01T03:00,20,43\n2024-01-01T03:00,20,43\n2024-01-01T04:00,20,44\n2024-01-01T02:"
            "00,20,50\n" +
            hourly(10, "40", 5));
  CHECK(record.count(FaultKind::out_of_order) == 2);
  CHECK(fault_of(record, FaultKind::out_of_order) ==
        "4 time: 2024-01-01T01:00:00 stands after 2024-01-01T02:00:00; moved to its place");
  CHECK(fault_of(record, FaultKind::duplicate) ==
        "6 time: 2024-01-01T03:00:00 repeats line 5 with the same values; dropped");
  CHECK(
      fault_of(record, FaultKind::conflicting_duplicate) ==
      "8 RH: 2024-01-01T02:00:00 has 50 where line 3 has 42; the first is kept, this line dropped");
  CHECK(record.size() == 15);
  CHECK(record.dropped == 2);
  CHECK(std::is_sorted(record.times_s.begin(), record.times_s.end()));
  CHECK(record.rh_percent[1] == 41);
  CHECK(record.rh_percent[2] == 42);
}

TEST_CASE("a file from new to old is turned round and said once") {
  const LoggerRecord record = parse(
      "time,RH\n2024-01-01T03:00,43\n2024-01-01T02:00,42\n2024-01-01T01:00,41\n2024-01-01T00:00,"
      "40\n");
  CHECK(record.rh_percent == std::vector<double>{40, 41, 42, 43});
  CHECK(record.faults.size() == 1);
  CHECK(fault_of(record, FaultKind::out_of_order) ==
        "2 time: the file runs from the newest to the oldest reading; turned round");
}

TEST_CASE("a clock that jumps by one hour is suspected of daylight saving") {
  std::string text = "time,RH\n";
  for (const char* time : {"01:30", "01:40", "01:50", "03:00", "03:10", "03:20"})
    text += "2024-03-31T" + std::string(time) + ",40." + time[4] + "\n";
  const LoggerRecord spring = parse(text);
  CHECK(fault_of(spring, FaultKind::clock_change) ==
        "5 time: 2024-03-31T03:00:00 follows 2024-03-31T01:50:00: clock put forward by one hour, "
        "or a reading left out; daylight "
        "saving suspected, times kept as written");

  text = "time,RH\n";
  int line = 0;
  for (const char* time :
       {"02:30", "02:40", "02:50", "02:00", "02:10", "02:20", "02:30", "02:40", "02:50", "03:00"}) {
    text += "2024-10-27T" + std::string(time) + "," + std::to_string(40 + line++) + "\n";
  }
  const LoggerRecord autumn = parse(text);
  CHECK(fault_of(autumn, FaultKind::clock_change) ==
        "5 time: 2024-10-27T02:00:00 follows 2024-10-27T02:50:00: clock put back by one hour; "
        "daylight saving suspected, times kept "
        "as written");
  CHECK(autumn.count(FaultKind::out_of_order) == 0);
  CHECK(autumn.count(FaultKind::conflicting_duplicate) == 3);
  CHECK(autumn.size() == 7);
  const LoggerRecord hourly_autumn = parse(
      "time,RH\n2024-10-27T01:00,40\n2024-10-27T02:00,41\n2024-10-27T02:00,42\n2024-10-27T03:00,"
      "43\n");
  CHECK(hourly_autumn.count(FaultKind::clock_change) == 1);
  CHECK(hourly_autumn.size() == 3);
}

TEST_CASE("gaps and a sensor that stands still are marked") {
  LoggerReadOptions options;
  options.stuck_hours = 12;
  std::string still;
  for (int i = 30; i < 50; ++i)
    still += format_time(std::int64_t{1704067200} + 3600 * i) + ",20,38.5\n";
  const LoggerRecord record = parse(kHeader + hourly(20) + still + hourly(5, "40", 50), options);
  CHECK(fault_of(record, FaultKind::gap) ==
        "22 time: no reading from 2024-01-01T19:00:00 to 2024-01-02T06:00:00 (11 h; the usual "
        "interval is 1 h)");
  CHECK(fault_of(record, FaultKind::stuck_sensor) ==
        "22 RH: exactly 38.5 % for 19 h (20 readings to line 41); kept, assessed as not known");
  REQUIRE(record.stuck.size() == 1);
  CHECK(record.stuck[0].first == 20);
  CHECK(record.stuck[0].last == 39);
  options.stuck_hours = 20;
  CHECK(parse(kHeader + hourly(20) + still, options).stuck.empty());
}

TEST_CASE("faults beyond the list are counted") {
  std::string text = "time,RH\n2024-01-01T00:00,40\n";
  for (int i = 0; i < 50; ++i) text += "2024-01-01T00:00,40\n";
  const LoggerRecord record = parse(text, {.listed_faults = 5});
  CHECK(record.faults.size() == 5);
  CHECK(record.count(FaultKind::duplicate) == 50);
}

TEST_CASE("arrays give the same record as a file") {
  const LoggerRecord file = parse(kHeader + hourly(48));
  const LoggerRecord arrays = make_logger_record(file.times_s, file.temperature_c, file.rh_percent);
  CHECK(arrays.times_s == file.times_s);
  CHECK(arrays.rh_percent == file.rh_percent);
  CHECK(arrays.interval_s == file.interval_s);
  CHECK(arrays.faults.size() == file.faults.size());
  const std::vector<std::int64_t> times{0, 3600, 7200};
  const std::vector<double> rh{40, std::nan(""), 41};
  CHECK_THROWS_WITH(make_logger_record(times, {}, std::vector<double>{1}),
                    "rh_percent = 1 values: accepted is 3 values, one for each time");
  CHECK_THROWS_WITH(make_logger_record(times, std::vector<double>{1}, rh),
                    "temperature_c = 1 values: accepted is 3 values, one for each time, or none");
  CHECK_THROWS_WITH(make_logger_record({}, {}, {}),
                    "times_s = no values: accepted is at least one time");
  CHECK_THROWS_WITH(make_logger_record(times, {}, rh),
                    "rh_percent = 1 of 3 readings unusable: accepted is at most 20 %");
  CHECK(make_logger_record(times, {}, rh, {.max_bad_share = 0.5}).size() == 2);
}

TEST_CASE("options out of range are refused by name") {
  CHECK_THROWS_WITH(parse(kHeader, {.max_bad_share = 1.5}),
                    "max_bad_share = 1.5: accepted is 0 to 1");
  CHECK_THROWS_WITH(parse(kHeader, {.rh_over_tolerance_percent = -1}),
                    "rh_over_tolerance_percent = -1: accepted is 0 to 20 % RH");
  CHECK_THROWS_WITH(parse(kHeader, {.gap_factor = 1}), "gap_factor = 1: accepted is 1.5 or more");
  CHECK_THROWS_WITH(parse(kHeader, {.stuck_hours = 0}),
                    "stuck_hours = 0: accepted is more than 0 h");
  CHECK_THROWS_WITH(parse(kHeader, {.stuck_readings = 1}),
                    "stuck_readings = 1: accepted is 2 or more");
  CHECK_THROWS_WITH(read_logger_csv("/no/such/log.csv"),
                    "/no/such/log.csv: cannot be opened; a readable file is wanted");
}

TEST_CASE("a year that no humidity record has is a fault of the file") {
  const LoggerRecord record =
      parse(kHeader + hourly(10) +
                "0024-01-01T11:00,20,40\n2204-01-01T11:00,20,40\n1899-12-31T23:59,20,40\n",
            {.max_bad_share = 0.5});
  CHECK(record.size() == 10);
  CHECK(record.count(FaultKind::unreadable) == 3);
  CHECK(fault_of(record, FaultKind::unreadable) ==
        "12 time: '0024-01-01T11:00' lies outside the years 1900 to 2100 that are accepted; line "
        "dropped");
  const std::vector<double> rh{40};
  CHECK_THROWS_WITH(
      make_logger_record(std::vector<std::int64_t>{9'223'372'036'854'775'000}, {}, rh),
      "times_s = 9223372036854775000: accepted is seconds since 1970-01-01 of the years 1900 to "
      "2100");
  CHECK(make_logger_record(std::vector<std::int64_t>{4'133'980'799}, {}, rh).size() == 1);
  CHECK_THROWS_AS(make_logger_record(std::vector<std::int64_t>{4'133'980'800}, {}, rh), InputError);
}
