#include "aeruca/bath_log.hpp"

#include <cmath>
#include <string>

#include "catch.hpp"

using namespace aeruca;
using aeruca::test::contains;

namespace {

const std::string kHead = "start,end,volume_l,chloride_mg_per_l\n";
const std::string kRow = "2025-01-06,2025-01-13,2,63.1\n";

std::string refusal(const std::string& text) {
  try {
    (void)parse_bath_log(text, "log.csv");
  } catch (const FileError& problem) {
    return problem.what();
  }
  return "accepted";
}

}  // namespace

TEST_CASE("a log is read with columns in any order, semicolons and decimal commas") {
  const auto log = parse_bath_log(
      "\xEF\xBB\xBF# invented\r\nchloride_mg_per_l; end "
      ";start;volume_l;method;dilution;error_mg_per_l\r\n"
      "6,31;2025-01-13T12:00;2025-01-06;2,5;\"strip; by eye\";10;0,2\r\n\r\n"
      "<0,5;2025-01-20;2025-01-13 12:00;2;;10;\r\n;2025-01-27;2025-01-20;2;;;\r\n",
      "log.csv");
  REQUIRE(log.baths.size() == 3);
  CHECK(log.baths[0].volume_l == 2.5);
  CHECK(std::abs(log.baths[0].chloride_mg_per_l - 63.1) < 1e-12);
  CHECK(log.baths[0].error_mg_per_l == 2);
  CHECK(log.baths[0].method == "strip; by eye");
  CHECK(log.baths[0].days() == 7.5);
  CHECK(log.baths[0].start_day == 20094);  // 2025-01-06
  CHECK(log.baths[0].line == 3);
  CHECK(log.baths[1].kind == ReadingKind::below_detection);
  CHECK(log.baths[1].chloride_mg_per_l == 5);
  CHECK(log.baths[1].detection_limit_mg_per_l == 5);
  CHECK(log.baths[2].kind == ReadingKind::not_measured);
  CHECK(std::isnan(log.baths[2].chloride_mg_per_l));
  REQUIRE(log.warnings.size() == 1);
  CHECK_THAT(log.warnings[0], contains("no column blank_mg_per_l"));
}

TEST_CASE("a number below the stated limit counts as below detection") {
  const auto log = parse_bath_log(
      "start,end,volume_l,chloride_mg_per_l,detection_limit_mg_per_l,blank_mg_per_l\n"
      "2025-01-06,2025-01-13,2,3,5,1\n2025-01-13,2025-01-14,2,0,5,1\n",
      "x");
  CHECK(log.baths[0].kind == ReadingKind::below_detection);
  CHECK(log.baths[0].chloride_mg_per_l == 5);
  CHECK(log.baths[1].kind == ReadingKind::below_detection);
  CHECK(log.warnings.empty());
}

TEST_CASE("every fault of a log is named by file, line and column") {
  CHECK(refusal("") ==
        "log.csv: the file is empty; accepted is a header line and one line for each bath");
  CHECK(refusal(kHead) == "log.csv: there is a header but no bath");
  CHECK(refusal("start,end,volume_l\n") ==
        "log.csv, line 1, header: column 'chloride_mg_per_l' is missing; needed are start, end, "
        "volume_l, chloride_mg_per_l");
  CHECK(refusal("start,end,volume,chloride_mg_per_l\n") ==
        "log.csv, line 1, header: no column is called 'volume'; nearest is 'volume_l'");
  CHECK_THAT(refusal("start,end,xyzzyxyzzy,chloride_mg_per_l\n"),
             contains("no column is called 'xyzzyxyzzy'"));
  CHECK(refusal("start,end,end,chloride_mg_per_l\n") ==
        "log.csv, line 1, header: column 'end' stands twice");
  CHECK(refusal("start,\"end,volume_l\n") ==
        "log.csv, line 1, header: a double quote is not closed");
  CHECK(refusal(kHead + "2025-01-06,2025-01-13,2\n") ==
        "log.csv, line 2: 3 fields, but the header has 4");
  CHECK(refusal(kHead + "06.01.2025,2025-01-13,2,5\n") ==
        "log.csv, line 2, start: '06.01.2025' is no date; accepted is YYYY-MM-DD or "
        "YYYY-MM-DDThh:mm");
  CHECK_THAT(refusal(kHead + "2025-02-30,2025-03-13,2,5\n"), contains("'2025-02-30' is no date"));
  CHECK_THAT(refusal(kHead + "2025-01-06,2025-01-13T25:00,2,5\n"),
             contains("line 2, end: '2025-01-13T25:00' is no date"));
  CHECK(refusal(kHead + "2025-01-13,2025-01-06,2,5\n") ==
        "log.csv, line 2, end: '2025-01-06' is not after the start 2025-01-13");
  CHECK(refusal(kHead + kRow + "2025-01-12,2025-01-20,2,5\n") ==
        "log.csv, line 3, start: '2025-01-12' is before the end of the bath before, 2025-01-13; "
        "accepted are baths in order of time");
  CHECK(refusal(kHead + "2025-01-06,2025-01-13,0,5\n") ==
        "log.csv, line 2, volume_l: '0' is out of range; accepted is 1e-06 to 1e+06 litres");
  CHECK(refusal(kHead + "2025-01-06,2025-01-13,two,5\n") ==
        "log.csv, line 2, volume_l: 'two' is no number");
  CHECK(refusal(kHead + "2025-01-06,2025-01-13,2,-5\n") ==
        "log.csv, line 2, chloride_mg_per_l: '-5' is out of range; accepted is 0 or more mg/L, "
        "'<5' for below a limit of 5, or nothing if not measured");
  CHECK(refusal(kHead + "2025-01-06,2025-01-13,2,0\n") ==
        "log.csv, line 2, chloride_mg_per_l: a reading of 0 needs a limit; accepted is '<' and the "
        "detection limit of the method");
  CHECK(refusal(kHead + "2025-01-06,2025-01-13,2,<x\n") ==
        "log.csv, line 2, chloride_mg_per_l: 'x' is no number");
  CHECK(refusal(kHead + "2025-01-06,2025-01-13,2,<0\n") ==
        "log.csv, line 2, chloride_mg_per_l: '0' is out of range; accepted is '<' and a limit "
        "above 0");
  CHECK(refusal("start;end;volume_l;chloride_mg_per_l\n2025-01-06;2025-01-13;2,5;5.5\n") ==
        "log.csv, line 2, chloride_mg_per_l: '5.5' has a decimal point, but earlier numbers have a "
        "decimal comma");
  CHECK(refusal("start,end,volume_l,chloride_mg_per_l,dilution\n2025-01-06,2025-01-13,2,5,0.5\n") ==
        "log.csv, line 2, dilution: '0.5' is out of range; accepted is 1 or more");
  CHECK(refusal(
            "start,end,volume_l,chloride_mg_per_l,error_mg_per_l\n2025-01-06,2025-01-13,2,5,0\n") ==
        "log.csv, line 2, error_mg_per_l: '0' is out of range; accepted is above 0");
  CHECK(
      refusal(
          "start,end,volume_l,chloride_mg_per_l,blank_mg_per_l\n2025-01-06,2025-01-13,2,5,-1\n") ==
      "log.csv, line 2, blank_mg_per_l: '-1' is out of range; accepted is 0 or more");
  CHECK(refusal(kHead + "2025-01-06,2025-01-13,2,nan\n") ==
        "log.csv, line 2, chloride_mg_per_l: 'nan' is no number");
  CHECK_THROWS_WITH(read_bath_log("/no/such/log.csv"),
                    "/no/such/log.csv: cannot be opened; a readable file is wanted");
}

TEST_CASE("a gap between baths is said") {
  const auto log = parse_bath_log(kHead + kRow + "2025-01-20,2025-01-27,2,30\n", "x");
  REQUIRE(log.warnings.size() == 2);
  CHECK(log.warnings[0] ==
        "line 3: 7 days between this bath and the one before; the object is taken as unchanged "
        "meanwhile");
}

TEST_CASE("sums, shares and errors follow from readings, blanks and volumes") {
  const auto log = parse_bath_log(
      "start,end,volume_l,chloride_mg_per_l,error_mg_per_l,blank_mg_per_l,detection_limit_mg_per_"
      "l\n"
      "2025-01-01,2025-01-08,2,51,2,1,3\n2025-01-08,2025-01-15,2,26,2,1,3\n2025-01-15,2025-01-22,2,"
      ",,1,3\n"
      "2025-01-22,2025-01-29,2,<3,,1,3\n",
      "x");
  ReadingErrors errors;
  errors.volume_relative = 0.01;
  const auto summary = summarise_bath_log(log, 50, errors);
  CHECK(summary.total_mg == 150);
  // (V sigma_C)^2 + (sigma_V/V x extract)^2 for each measured bath
  CHECK(std::abs(summary.total_error_mg - std::sqrt(16.0 + 1.0 + 16.0 + 0.25)) < 1e-12);
  CHECK(summary.total_mg_per_g == 3);
  CHECK(std::abs(summary.baths[0].share_percent - 200.0 / 3) < 1e-12);
  CHECK(std::isnan(summary.baths[2].mg));
  CHECK(summary.baths[3].most_mg == 6);
  CHECK(summary.undetected_mg == 6);
  CHECK(summary.detection_mg == 6);
  CHECK(std::abs(summary.detection_mg_per_g - 0.12) < 1e-15);
  CHECK(std::isnan(summary.late_ratio));
  REQUIRE(summary.warnings.size() == 2);
  CHECK_THAT(summary.warnings[0], contains("baths not measured: 1"));
  CHECK_THROWS_AS(summarise_bath_log(log, -1), InputError);
  CHECK_THROWS_AS(summarise_bath_log({}, 1), InputError);
}

TEST_CASE("the tail of three equal baths is last x r/(1-r), with a spread that holds it") {
  const auto log = parse_bath_log(
      kHead +
          "2025-01-01,2025-01-08,1,100\n2025-01-08,2025-01-15,1,80\n2025-01-15,2025-01-22,1,64\n",
      "x");
  const auto summary = summarise_bath_log(log);
  CHECK(std::abs(summary.late_ratio - 0.8) < 1e-12);
  CHECK(summary.ratio_steady);
  CHECK(std::abs(summary.tail_mg - 256) < 1e-9);
  CHECK(summary.tail_low_mg < 256);
  CHECK(summary.tail_high_mg > 256);
  const auto unequal = parse_bath_log(
      kHead +
          "2025-01-01,2025-01-08,1,100\n2025-01-08,2025-01-15,2,80\n2025-01-15,2025-01-22,1,64\n",
      "x");
  CHECK(std::isnan(summarise_bath_log(unequal).tail_mg));
  const auto rising = parse_bath_log(
      kHead +
          "2025-01-01,2025-01-08,1,64\n2025-01-08,2025-01-15,1,80\n2025-01-15,2025-01-22,1,100\n",
      "x");
  CHECK(std::isnan(summarise_bath_log(rising).tail_mg));
  CHECK(summarise_bath_log(rising).slow_start);
}

TEST_CASE("a square-root release is straight and not slow") {
  std::string text = kHead;
  for (int k = 0; k < 6; ++k) {
    const double mg = 100 * (std::sqrt(k + 1.0) - std::sqrt(static_cast<double>(k)));
    text += "2025-01-0" + std::to_string(k + 1) + ",2025-01-0" + std::to_string(k + 2) + ",1," +
            std::to_string(mg) + "\n";
  }
  const auto summary = summarise_bath_log(parse_bath_log(text, "x"));
  CHECK(summary.sqrt_line_residual < 1e-9);
  CHECK_FALSE(summary.slow_start);
}

TEST_CASE("the ratio of late baths errs by half of what the two readings do, in squares") {
  ReadingErrors errors;
  errors.volume_relative = 0;
  const BathSummary summary = summarise_bath_log(
      parse_bath_log("start,end,volume_l,chloride_mg_per_l,error_mg_per_l,blank_mg_per_l\n"
                     "2025-01-06,2025-01-13,2,40,2,0\n2025-01-13,2025-01-20,2,28.3,1,0\n"
                     "2025-01-20,2025-01-27,2,20,2,0\n",
                     "x"),
      100, errors);
  CHECK(std::abs(summary.late_ratio - std::sqrt(0.5)) < 1e-12);
  const double wanted = 0.5 * std::sqrt(0.5) * std::hypot(0.05, 0.1);
  CHECK(std::abs(summary.late_ratio_error - wanted) < 1e-12);
}

// Seven days give 50 mg, sqrt(7) long; the next seven are sqrt(14) - sqrt(7) long.
TEST_CASE("a start is slow when the second bath gains a third more than the square root of time") {
  const auto slow = [](const std::string& second) {
    return summarise_bath_log(
               parse_bath_log("start,end,volume_l,chloride_mg_per_l,error_mg_per_l,blank_mg_per_l\n"
                              "2025-01-06,2025-01-13,1,50,0.1,0\n2025-01-13,2025-01-20,1," +
                                  second + ",0.1,0\n2025-01-20,2025-01-27,1,15,0.1,0\n",
                              "x"),
               100)
        .slow_start;
  };
  CHECK_FALSE(slow("24.8"));  // 1.2 times
  CHECK(slow("29"));          // 1.4 times
}

// A limit of detection is by custom 3.3 standard errors of a blank (IUPAC 1995).
TEST_CASE("where a log states no error, the limit of the method stands for the floor of it") {
  BathRecord bath;
  bath.error_mg_per_l = std::nan("");
  bath.detection_limit_mg_per_l = 6.6;
  ReadingErrors errors;
  errors.relative = 0;
  CHECK(std::abs(reading_error_mg_per_l(bath, 40, errors) - 2) < 1e-12);
  errors.absolute_mg_per_l = 0.5;
  CHECK(std::abs(reading_error_mg_per_l(bath, 40, errors) - 0.5) < 1e-12);
  bath.error_mg_per_l = 1;
  CHECK(reading_error_mg_per_l(bath, 40, errors) == 1);
}

TEST_CASE("a blank that is not known is not taken for none") {
  const BathLog log = parse_bath_log(
      "start,end,volume_l,chloride_mg_per_l\n2025-01-06,2025-01-13,2,60\n"
      "2025-01-13,2025-01-20,2,54\n",
      "x");
  CHECK(std::isnan(log.baths[0].blank_mg_per_l));
  const BathSummary open = summarise_bath_log(log);
  CHECK(open.total_mg == 228);
  CHECK_THAT(open.warnings.back(), contains("the total is an upper figure"));
  const BathSummary closed = summarise_bath_log(with_blank(log, 54));
  CHECK(closed.total_mg == 12);
  CHECK_THAT(closed.warnings.back(), contains("a blank of 54 mg/L is taken off in 2 baths"));
  CHECK_THROWS_AS(with_blank(log, -1), InputError);
  CHECK(std::isnan(with_blank(log, std::nan("")).baths[0].blank_mg_per_l));
}

TEST_CASE("a stated blank stands before the one given for all") {
  const BathLog log = parse_bath_log(
      "start,end,volume_l,chloride_mg_per_l,blank_mg_per_l\n2025-01-06,2025-01-13,2,60,4\n"
      "2025-01-13,2025-01-20,2,54,\n",
      "x");
  const BathLog filled = with_blank(log, 10);
  CHECK(filled.baths[0].blank_mg_per_l == 4);
  CHECK(filled.baths[1].blank_mg_per_l == 10);
}

TEST_CASE("columns that no calculation uses are said, temperature with what it means") {
  const BathLog log = parse_bath_log(
      "start,end,volume_l,chloride_mg_per_l,blank_mg_per_l,temperature_c,lot\n"
      "2025-01-06,2025-01-13,2,60,1,12,9\n2025-01-13,2025-01-20,2,54,1,23.5,9\n",
      "x");
  CHECK(log.baths[1].temperature_c == 23.5);
  REQUIRE(log.warnings.size() == 2);
  CHECK_THAT(log.warnings[0], contains("columns that no calculation uses: lot"));
  CHECK_THAT(log.warnings[1], contains("temperature_c (12 to 23.5 degrees C) moves the chances"));
  CHECK_THAT(log.warnings[1], contains("differ too much for one rate"));
}

TEST_CASE("pH and colour of a bath are kept, and it is said that they move no figure") {
  const BathLog log = parse_bath_log(
      "start,end,volume_l,chloride_mg_per_l,blank_mg_per_l,ph,colour\n"
      "2025-01-06,2025-01-13,2,60,1,9.8,faint blue\n2025-01-13,2025-01-20,2,54,1,,\n",
      "x");
  CHECK(log.baths[0].ph == 9.8);
  CHECK(log.baths[0].colour == "faint blue");
  CHECK(std::isnan(log.baths[1].ph));
  REQUIRE(log.warnings.size() == 1);
  CHECK_THAT(log.warnings[0], contains("compares them with what the bath should be"));
}

TEST_CASE("readings as ranges are kept as ranges") {
  const BathLog log = parse_bath_log(
      "start,end,volume_l,chloride_mg_per_l,detection_limit_mg_per_l,dilution\n"
      "2026-01-01,2026-01-08,1,>300,,1\n"
      "2026-01-08,2026-01-15,1,30-60,,2\n"
      "2026-01-15,2026-01-22,1,30 to 60,,1\n"
      "2026-01-22,2026-01-29,1,~37,,1\n"
      "2026-01-29,2026-02-05,1,n.d.,5,1\n",
      "strip.csv");
  REQUIRE(log.baths.size() == 5);
  CHECK(log.baths[0].kind == ReadingKind::between);
  CHECK(log.baths[0].chloride_mg_per_l == 300);
  CHECK(std::isinf(log.baths[0].at_most_mg_per_l));
  CHECK(log.baths[1].chloride_mg_per_l == 60);
  CHECK(log.baths[1].at_most_mg_per_l == 120);
  CHECK(log.baths[2].at_most_mg_per_l == 60);
  CHECK(log.baths[3].kind == ReadingKind::measured);
  CHECK(std::abs(log.baths[3].error_mg_per_l - 7.4) < 1e-9);
  CHECK(log.baths[4].kind == ReadingKind::below_detection);
  const BathSummary summary = summarise_bath_log(log);
  CHECK(std::abs(summary.total_mg - (300 + 60 + 30 + 37)) < 1e-9);
}

TEST_CASE("all faulty lines of a log are listed at once") {
  const auto refusal = [](const std::string& text) -> std::string {
    try {
      (void)parse_bath_log(text, "log.csv");
    } catch (const FileError& fault) {
      return fault.what();
    }
    return "accepted";
  };
  const std::string all = refusal(
      "start,end,volume_l,chloride_mg_per_l\n"
      "2026-01-01,2026-01-08,,10\n"
      "2026-01-08,2026-01-15,1,5\n"
      "2026-01-15,2026-01-22,1,60-30\n"
      "2026-01-22,2026-01-29,1,n.d.\n"
      "2026-02-05,2026-01-29,1,4\n");
  for (const char* part : {"line 2", "volume_l", "line 4", "'60-30' is no range", "line 5",
                           "'n.d.' needs detection_limit_mg_per_l", "line 6", "end"}) {
    CHECK_THAT(all, contains(part));
  }
  CHECK_THAT(refusal("start,end,volume_l,chloride_mg_per_l\n2026-01-01,2026-01-08,1,a-b\n"),
             contains("no number"));
}

TEST_CASE("a range that lies under the blank hides no negative chloride") {
  const auto summary = summarise_bath_log(
      parse_bath_log("start,end,volume_l,chloride_mg_per_l,blank_mg_per_l\n"
                     "2026-01-01,2026-01-08,2,50,20\n2026-01-08,2026-01-15,2,5-10,20\n",
                     "x"));
  CHECK(summary.total_mg == 60);
  CHECK(summary.baths[1].most_mg == 0);
  CHECK(summary.undetected_mg == 0);
}

TEST_CASE("a rough reading with a stated error keeps it, and no rule of ours is named") {
  const auto log = parse_bath_log(
      "start,end,volume_l,chloride_mg_per_l,error_mg_per_l,blank_mg_per_l\n"
      "2026-01-01,2026-01-08,2,~37,3,0\n",
      "x");
  CHECK(log.baths[0].error_mg_per_l == 3);
  CHECK(log.warnings.empty());
}

TEST_CASE("a bath still running counts up to the day of its reading, and that is said") {
  const std::string head = "start,end,read_on,volume_l,chloride_mg_per_l,blank_mg_per_l\n";
  const auto log = parse_bath_log(
      head + "2026-01-01,2026-01-08,,2,50,0\n2026-01-08,,2026-01-10T12:00,2,20,0\n", "x");
  CHECK(log.baths[1].days() == 2.5);
  CHECK(log.baths[1].end == "2026-01-10T12:00");
  REQUIRE(log.warnings.size() == 1);
  CHECK(log.warnings[0] ==
        "line 3: this bath has no end and is taken as still running; it counts up to its reading "
        "on 2026-01-10T12:00");
  CHECK(refusal(kHead + "2026-01-08,,2,20\n") ==
        "log.csv, line 2, end: nothing stands here; accepted is a date, or for a bath still "
        "running the day of its reading in read_on");
  CHECK(refusal(head + "2026-01-08,,2026-01-07,2,20,0\n") ==
        "log.csv, line 2, read_on: '2026-01-07' is not after the start 2026-01-08");
  CHECK(refusal(head + "2026-01-08,2026-01-15,2026-01-10,2,20,0\n") ==
        "log.csv, line 2, read_on: '2026-01-10' stands beside an end; accepted is read_on only for "
        "a bath still running");
  CHECK(
      refusal(head + "2026-01-08,,2026-01-10,2,20,0\n2026-01-12,2026-01-14,,2,20,0\n") ==
      "log.csv, line 2, end: nothing stands here; accepted is an empty end only in the last line");
}

TEST_CASE("a mistyped year is refused, not fitted") {
  CHECK(refusal(kHead + "2026-01-08,2062-01-15,2,20\n") ==
        "log.csv, line 2, end: a bath of 13156 days from 2026-01-08 to 2062-01-15; accepted is at "
        "most 3650 days");
  CHECK(refusal(kHead + "0226-01-08,0226-01-15,2,20\n") ==
        "log.csv, line 2, start: '0226-01-08' is out of range; accepted is 1900 to 2099");
}

TEST_CASE("millilitres typed for litres are asked about") {
  const auto tub = [](const std::string& volume) {
    return parse_bath_log(
               "start,end,volume_l,chloride_mg_per_l,blank_mg_per_l\n"
               "2026-01-01,2026-01-08,2,50,0\n2026-01-08,2026-01-15,2,40,0\n"
               "2026-01-15,2026-01-22," +
                   volume + ",30,0\n",
               "x")
        .warnings;
  };
  CHECK(tub("3").empty());
  CHECK(tub("200").empty());
  REQUIRE(tub("2000").size() == 1);
  CHECK(tub("2000")[0] ==
        "line 4: 2000 litres, 1000 times the smallest bath of this log; are these millilitres?");
}

TEST_CASE("a reading under its blank is counted as negative and said") {
  const auto summary = summarise_bath_log(
      parse_bath_log("start,end,volume_l,chloride_mg_per_l,blank_mg_per_l\n"
                     "2026-01-01,2026-01-08,2,50,1\n2026-01-08,2026-01-15,2,3,8\n",
                     "x"));
  CHECK(summary.total_mg == 88);
  REQUIRE(summary.warnings.size() == 1);
  CHECK(summary.warnings[0] == "bath 2 reads less than its blank: its extract is negative");
}
