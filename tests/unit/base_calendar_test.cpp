#include "base/calendar.hpp"
#include "catch.hpp"

using namespace aeruca;

TEST_CASE("ISO 8601 times are read in every accepted form and no other") {
  const auto seconds = [](std::string_view text) {
    const auto time = detail::parse_iso_time(text);
    return time ? time->seconds : std::int64_t{-1};
  };
  const std::int64_t expected = 1711850400;  // 2024-03-31 02:00, by the calendar of POSIX `date -u`
  CHECK(seconds("2024-03-31T02:00") == expected);
  CHECK(seconds("2024-03-31 02:00:00") == expected);
  CHECK(seconds("2024-03-31T02:00:00.750") == expected);
  CHECK(seconds("2024-03-31T02:00:00,750Z") == expected);
  CHECK(seconds("2024-03-31T04:00+02:00") == expected);
  CHECK(seconds("2024-03-30T21:30:00-0430") == expected);
  CHECK(seconds("2024-03-31T03:00+01") == expected);
  CHECK(seconds("2024-02-29T00:00") == 1709164800);
  for (const char* bad : {"",
                          "2024-03-31",
                          "31.03.2024 02:00",
                          "03/31/2024 02:00",
                          "2024-3-31 02:00",
                          "2023-02-29T00:00",
                          "2024-13-01T00:00",
                          "2024-00-10T00:00",
                          "2024-04-31T00:00",
                          "2024-03-31T24:00",
                          "2024-03-31T02:60",
                          "2024-03-31T02:00:60",
                          "2024-03-31T2:00",
                          "2024-03-31T02",
                          "2024-03-31T02:00:00.",
                          "2024-03-31T02:00 PM",
                          "2024-03-31T02:00+",
                          "2024-03-31T02:00+25:00",
                          "2024-03-31_02:00",
                          "1e5"}) {
    CAPTURE(bad);
    CHECK_FALSE(detail::parse_iso_time(bad));
  }
  CHECK(detail::parse_iso_time("2024-03-31", "02:00:00")->seconds == expected);
  CHECK_FALSE(detail::parse_iso_time("2024-03-31T00:00", "02:00"));
}

TEST_CASE("days and dates agree over eight centuries") {
  std::int64_t day = detail::days_from_civil(1600, 1, 1);
  CHECK(detail::days_from_civil(1970, 1, 1) == 0);
  CHECK(detail::days_from_civil(2000, 3, 1) == 11017);
  int bad = 0;
  for (; day < 160000; ++day) {
    const auto civil = detail::civil_from_days(day);
    if (detail::days_from_civil(civil.year, civil.month, civil.day) != day) ++bad;
  }
  CHECK(bad == 0);
  CHECK(detail::iso_text(-1) == "1969-12-31T23:59:59");
  CHECK(detail::iso_text(1711850400) == "2024-03-31T02:00:00");
}

TEST_CASE("a date stands alone") {
  CHECK(detail::parse_date("1970-01-02") == 1);
  CHECK(detail::parse_date("2024-02-29") == 19782);
  CHECK(detail::parse_date("2000-02-29") == 11016);  // by POSIX `date -u`
  for (const char* bad : {"", "2023-02-29", "1900-02-29", "2024-2-9", "29.02.2024",
                          "2024-02-29T10:00", "2024-02-29 "}) {
    CAPTURE(bad);
    CHECK_FALSE(detail::parse_date(bad));
  }
}
