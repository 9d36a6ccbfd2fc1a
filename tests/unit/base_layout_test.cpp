#include <limits>

#include "base/number_text.hpp"
#include "base/text_table.hpp"
#include "catch.hpp"

using namespace aeruca;

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

TEST_CASE("a figure carries the digits of its uncertainty") {
  CHECK(detail::plus_minus(5.9966, 0.152) == "6.00 +/- 0.15");
  CHECK(detail::plus_minus(5.9966, kNone) == "6");
  CHECK(detail::range_text(30.21, 25.3, 36.4) == "30 (25 to 36)");
  CHECK(detail::range_text(2.0, 1.98, 2.03) == "2.00 (1.98 to 2.03)");
  CHECK(detail::range_text(2.345, kNone, kNone) == "2.35");
  CHECK(detail::range_text(kNone, kNone, kNone) == "not known");
}

TEST_CASE("a probability is never rounded to certainty") {
  CHECK(detail::probability_text(1) == "above 0.99");
  CHECK(detail::probability_text(0) == "below 0.01");
  CHECK(detail::probability_text(0.634) == "0.63");
}

TEST_CASE("decimals are as many as asked, and zero has no sign") {
  CHECK(detail::fixed_text(-0.001, 2) == "0.00");
  CHECK(detail::fixed_text(-1.005, 1) == "-1.0");
  CHECK(detail::fixed_text(1e300, 0).size() == 301);
}

TEST_CASE("columns are counted in characters, not bytes") {
  CHECK(detail::characters("\xC3\xA9t\xC3\xA9") == 3);
  CHECK(detail::padded("\xC3\xA9", 3) == "\xC3\xA9  ");
  CHECK(detail::padded("12", 4, detail::Align::right) == "  12");
  CHECK(detail::aligned({{"bath", "mg"}, {"1", "120"}}) == "  bath   mg\n  1     120\n");
  const std::vector<detail::Column> columns{{detail::Align::right, 4}, {detail::Align::left, 0}};
  CHECK(detail::aligned({{"pH", "of"}, {"a line of its own"}, {"7", "a pond", "x"}}, columns) ==
        "    pH  of\n  a line of its own\n     7  a pond  x\n");
  CHECK(detail::aligned({}, {}).empty());
}

TEST_CASE("a table fits the width and breaks between words only") {
  const std::string text = detail::table_text({"what", "why"}, {{"a", "one two three"}}, 14, " ");
  CHECK(text == " what  why\n ----  -------\n a     one two\n       three\n");
  CHECK(detail::paragraph("one two three", 9, "- ") == "- one two\n  three\n");
}
