#include "base/csv.hpp"
#include "catch.hpp"

using namespace aeruca;

TEST_CASE("rows of a table come with their line numbers, blank lines and remarks passed over") {
  detail::CsvReader csv("\xEF\xBB\xBFtime;rh\r\n\n# a remark\n  # another\n \t \n1;50\n2;51");
  CHECK(csv.lines_left() == 7);
  REQUIRE(csv.next_row());
  CHECK(csv.line() == "time;rh");
  CHECK(csv.number() == 1);
  REQUIRE(csv.next_row());
  CHECK(csv.line() == "1;50");
  CHECK(csv.number() == 6);
  REQUIRE(csv.next_row());
  CHECK(csv.number() == 7);
  CHECK_FALSE(csv.next_row());
}

TEST_CASE("fields lose the blanks around them and keep empty ones") {
  detail::CsvReader csv(" a ,, b\t,");
  REQUIRE(csv.next_line());
  CHECK(csv.fields(',') == std::vector<std::string>{"a", "", "b", ""});
  std::size_t last = 0;
  const auto found = csv.each_field(',', [&last](std::size_t i, std::string_view) { last = i; });
  CHECK(found == 4);
  CHECK(last == 3);
}

TEST_CASE("between quotes the separator is text, and two quotes are one") {
  detail::CsvReader csv("\"3,5\",plain,\"say \"\"so\"\"\"\n1,2,3\nopen,\"never closed\n");
  REQUIRE(csv.next_line());
  CHECK(csv.has_quotes());
  CHECK(csv.fields(',') == std::vector<std::string>{"3,5", "plain", "say \"so\""});
  REQUIRE(csv.next_line());
  CHECK_FALSE(csv.has_quotes());
  CHECK(csv.fields(',') == std::vector<std::string>{"1", "2", "3"});
  REQUIRE(csv.next_line());
  std::size_t taken = 0;
  CHECK_FALSE(csv.each_field(',', [&taken](std::size_t, std::string_view) { ++taken; }));
  CHECK(taken == 0);
}
