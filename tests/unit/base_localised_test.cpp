// Numbers and dates as a language writes them: what is text for a reader, and what is none.

#include <string>

#include "aeruca/errors.hpp"
#include "aeruca/words.hpp"
#include "base/localised.hpp"
#include "base/number_text.hpp"
#include "base/text_table.hpp"
#include "base/words.hpp"
#include "catch.hpp"

using namespace aeruca;
using detail::localised;

TEST_CASE("figures take the decimal mark of the language, with their range and unit") {
  const Speaking german("german");
  CHECK(localised("0.25") == "0,25");
  CHECK(localised("-1.2e-07") == "-1,2e-07");
  CHECK(localised("0.295 +/- 0.024 V") == "0,295 +/- 0,024 V");
  CHECK(localised("+/-2.5 % RH") == "+/-2,5 % RH");
  CHECK(localised("0.16 (0.07 to 0.31) kg") == "0,16 (0,07 to 0,31) kg");
  CHECK(localised("< 2.5") == "< 2,5");
  CHECK(localised("pH 6.17") == "pH 6,17");
  CHECK(localised("0.5, 1.5, 2") == "0,5; 1,5; 2");
  CHECK(localised("1.5 \u00b1 0.1 \u00b0C") == "1,5 \u00b1 0,1 \u00b0C");
}

TEST_CASE("days, months and moments take the form of the language") {
  const Speaking german("german");
  CHECK(localised("2026-05-31") == "31.05.2026");
  CHECK(localised("2026-05") == "05.2026");
  CHECK(localised("2026-05-31 12:30") == "31.05.2026 12:30");
  CHECK(localised("2026-05-31T12:00:00") == "31.05.2026 12:00");
  CHECK(localised("2026-05-31T12:00:07") == "31.05.2026 12:00:07");
  CHECK(localised(localised("2026-05-31")) == "31.05.2026");
}

TEST_CASE("what is no figure stays as it is written") {
  const Speaking german("german");
  for (const std::string text :
       {"", "0.1.0", "10.1021/ja00001a001", "store-log.csv", "2.5 mm.csv", "MgCl2.6H2O",
        "scott-1990", "aeruca bath plan --days 60.5 --water-l 4", "see 1.5", "2026-05-31.csv",
        "2026-5-31", "v1.2", "a mean of 0.25", "1.5 kg were taken out of it", ".5", "1.", "1.2.3",
        "2026-05-31 noon"})
    CHECK(localised(text) == text);
}

TEST_CASE("English figures and dates are those of the result") {
  for (const std::string text :
       {"0.25", "0.5, 1.5", "2026-05-31", "2026-05-31T12:00:00", "2026-05"})
    CHECK(localised(text) == text);
}

TEST_CASE("slots and cells are for a reader; a name of a file in a slot is not") {
  const Speaking german("german");
  CHECK(detail::say("word.range", {{"low", "1.5"}, {"high", "2026-05-31"}}) ==
        "1,5 bis 31.05.2026");
  CHECK(detail::say("page.store.record", {{"file", "2026-05"}}) == "Depotaufzeichnung 2026-05");
  CHECK(detail::range_text(0.16, 0.07, 0.31) == "0,16 (0,07 bis 0,31)");
  CHECK(detail::aligned({{"mg", "1.5"}}) == "  mg  1,5\n");
  CHECK(detail::table_text({"mg"}, {{"1.5"}}, 20, "") == "mg\n---\n1,5\n");
}

TEST_CASE("a language is spoken by its name, and an unknown one is told what there is") {
  CHECK(languages() == std::vector<std::string>{"english", "german"});
  const auto refusal = [](const std::string& name) {
    try {
      const Speaking speaking(name);
    } catch (const Error& error) {
      return std::string(error.what());
    }
    return std::string();
  };
  CHECK(refusal("germn") ==
        "no language named 'germn'; nearest is 'german'; accepted are english, german, or a file "
        "with every sentence of English");
  CHECK(refusal("germn.toml").find("germn.toml") == 0);  // a file that is not there
  const Speaking german("german");
  {
    const Speaking english("english");
    CHECK(detail::say("word.yes") == "yes");
  }
  CHECK(detail::say("word.yes") == "ja");
}
