#include "aeruca/casefile.hpp"

#include <filesystem>
#include <fstream>

#include "base/text.hpp"
#include "base/words.hpp"
#include "casefile/sections.hpp"
#include "catch.hpp"
#include "own_folder.hpp"

using namespace aeruca;

namespace {

std::string message_of(const std::string& text) {
  try {
    static_cast<void>(parse_case_file(text, "case.toml"));
  } catch (const FileError& problem) {
    return problem.what();
  }
  return "accepted";
}

// The template with every remark that holds a key or a section uncommented.
std::string filled_template() {
  std::string filled;
  const std::string text = case_template();
  for (const std::string_view line : detail::split(text, '\n')) {
    std::string_view body = line;
    const bool remark = body.starts_with("# ");
    if (remark) body.remove_prefix(2);
    const bool key = body.find(" = ") != std::string_view::npos || body.starts_with("[");
    const bool either = body.starts_with("aerated");
    filled += remark && key && !either ? std::string(body) : std::string(line);
    filled += '\n';
  }
  return filled;
}

}  // namespace

TEST_CASE("a reading is a number, a number with its error, or a detection limit") {
  CHECK(parse_reading("640")->value == 640);
  CHECK(parse_reading(" 640 +/- 30 ")->uncertainty == 30);
  CHECK(parse_reading("6.4 \xC2\xB1 0.1")->uncertainty == 0.1);
  CHECK(parse_reading("< 5")->below == 5);
  CHECK_FALSE(parse_reading("< 5")->detected());
  CHECK(parse_reading("<5")->given());
  CHECK_FALSE(Reading{}.given());
  for (const char* bad : {"", "-3", "5 mg/L", "< 0", "<", "3 +/-", "3 +/- -1", "nan", "1,5"}) {
    CAPTURE(bad);
    CHECK_FALSE(parse_reading(bad).has_value());
  }
}

TEST_CASE("a reading written out reads back the same") {
  for (const char* text : {"640", "640 +/- 30", "< 0.05", "1e-05"}) {
    CHECK(to_string(*parse_reading(text)) == text);
  }
  CHECK(to_string(Reading{}) == "not given");
}

TEST_CASE("the template reads as it stands and when every line is put to use") {
  const CaseFile empty = parse_case_file(case_template(), "case.toml");
  CHECK(empty.object.name == "unnamed object");
  CHECK_FALSE(empty.store.given);
  CHECK_FALSE(empty.bath.given);
  const CaseFile full = parse_case_file(filled_template(), "case.toml");
  CHECK(full.object.mass_g == 184.5);
  CHECK(full.observations.size() == 1);
  CHECK(full.observations[0].date == "2026-03-04");
  REQUIRE(full.waters.size() == 1);
  CHECK(full.waters[0].analysis.reading_of("nitrate").below == 2);
  CHECK(full.store.salts == std::vector<std::string>{"halite"});
  CHECK(full.bath.solution.strength_percent_w_v == 1);
  CHECK(full.bath.next_days == 28);
}

TEST_CASE("an empty case file is accepted and knows nothing") {
  const CaseFile file = parse_case_file("", "case.toml");
  CHECK(file.object.name.empty());
  CHECK(std::isnan(file.object.mass_g));
  CHECK(file.waters.empty());
}

TEST_CASE("one water or several, each with its own line numbers") {
  const CaseFile one = parse_case_file("[water]\nph = 7", "case.toml");
  CHECK(one.waters.at(0).analysis.ph.value == 7);
  CHECK(one.line_of("water.ph") == 2);
  const CaseFile two = parse_case_file("[[water]]\nph = 7\n[[water]]\nph = 8", "case.toml");
  CHECK(two.waters.at(1).analysis.ph.value == 8);
  CHECK(two.line_of("water[2].ph") == 4);
  CHECK(two.line_of("water[3].ph") == 0);
}

TEST_CASE("paths are taken relative to the case file") {
  CaseFile file;
  file.path = "objects/bell/case.toml";
  CHECK(file.resolve("log.csv") == "objects/bell/log.csv");
  CHECK(file.resolve("/logs/log.csv") == "/logs/log.csv");
  file.path = "case.toml";
  CHECK(file.resolve("log.csv") == "log.csv");
}

TEST_CASE("a bad case file is refused with line, key, value and what is accepted") {
  using aeruca::test::contains;
  CHECK_THAT(
      message_of("[object]\nmas_g = 3"),
      contains("case.toml, line 2, object.mas_g: no key named 'mas_g'; nearest is 'mass_g'"));
  CHECK_THAT(
      message_of("[object]\nmass_g = -3"),
      contains("line 2, object.mass_g: -3 is out of range; accepted is a number from 1e-06"));
  CHECK_THAT(message_of("[object]\nmass_g = \"3\""), contains("'3' is no number"));
  CHECK_THAT(message_of("[object]\nmass_g = nan"), contains("nan is out of range"));
  CHECK_THAT(message_of("[object]\nname = 3"),
             contains("3 is no text; accepted is text in double quotes"));
  CHECK_THAT(message_of("[object]\nfeatures = [\"guilded\"]"),
             contains("'guilded' is not known; nearest is 'gilded'; accepted is one of composite"));
  CHECK_THAT(message_of("[object]\nfeatures = \"gilded\""), contains("is no list"));
  CHECK_THAT(message_of("[water]\nchloride_mg_per_l = \"a lot\""),
             contains("'a lot' is no reading"));
  CHECK_THAT(message_of("[water]\nph = 15"),
             contains("15 is out of range; accepted is a number from 0 to 14"));
  CHECK_THAT(message_of("[water]\naerated = 1"), contains("accepted is true or false"));
  CHECK_THAT(message_of("[water]\naerated = true\neh_mv = 100"), contains("line 2, water.aerated"));
  CHECK_THAT(message_of("[water]\nreference_electrode = \"sce\""),
             contains("given without a reading"));
  CHECK_THAT(message_of("[observation]\ndate = \"4 March\""), contains("is no date"));
  CHECK_THAT(message_of("[bath]\nsolution = 5"),
             contains("line 2, bath.solution: 5 is no section"));
  CHECK_THAT(message_of("water = 5"), contains("line 1, water: 5 is no section"));
  CHECK_THAT(message_of("[baths]\n"), contains("no key named 'baths'; nearest is 'bath'"));
  CHECK_THAT(message_of("[object\n"), contains("case.toml, line 1"));
  CHECK_THAT(message_of("[object]\nname = \"a\"\nname = \"b\""), contains("case.toml, line 3"));
}

TEST_CASE("a template never overwrites a file") {
  const aeruca_test::OwnFolder folder;
  const std::string path = folder.file("case.toml");
  write_case_template(path);
  CHECK(detail::read_file(path) == case_template());
  std::ofstream(path) << "mine";
  CHECK_THROWS_AS(write_case_template(path), FileError);
  CHECK(detail::read_file(path) == "mine");
  CHECK_THROWS_AS(write_case_template("/no/such/place/case.toml"), FileError);
}

TEST_CASE("the language in use has every sentence, and the words for each choice") {
  const detail::Words& words = detail::words_in_use();
  CHECK(words.language() == "english");
  CHECK(words.keys().size() > 200);
  for (const std::string& key : words.keys()) CHECK(words.slots_of(key).size() <= 8);
  for (const Verdict verdict :
       {Verdict::dormant, Verdict::borderline, Verdict::active, Verdict::not_known})
    CHECK(detail::verdict_word(verdict) == to_string(verdict));
  for (const SectionStatus status :
       {SectionStatus::answered, SectionStatus::partly, SectionStatus::missing,
        SectionStatus::refused, SectionStatus::no_answer, SectionStatus::bad_input})
    CHECK(detail::status_word(status) == to_string(status));
}

TEST_CASE("another language is another file: its own order of slots, no sentence more or less") {
  const detail::Words first("first", R"("bath.sum" = "{mg} mg came out of {object}"
"bath.none" = "nothing")");
  const detail::Words second("second", R"("bath.sum" = "aus {object} kamen {mg} mg"
"bath.none" = "nichts")");
  CHECK_NOTHROW(second.check_against(first));
  CHECK(second.say("bath.sum", {{"mg", "12"}, {"object", "{mg}"}}) == "aus {mg} kamen 12 mg");
  CHECK(second.slots_of("bath.sum") == std::vector<std::string>{"mg", "object"});
  const auto refusal = [&](const char* toml) {
    try {
      detail::Words("third", toml).check_against(first);
    } catch (const Error& error) {
      return std::string(error.what());
    }
    return std::string();
  };
  CHECK(refusal(R"("bath.sum" = "{mg} {object}")") ==
        "the sentence 'bath.none' of third is not written");
  CHECK(refusal("\"bath.sum\" = \"{mg}\"\n\"bath.none\" = \"nichts\"") ==
        "the sentence 'bath.sum' of third has other slots than that of first");
  CHECK(refusal("\"bath.sum\" = \"{mg} {object}\"\n\"bath.none\" = \"\"\n\"bath.more\" = \"\"") ==
        "the sentence 'bath.more' of third is none of first");
  CHECK(refusal(R"("bath.none" = "nichts {mg")") ==
        "the sentence 'bath.none' of third has a slot that is not closed");
  CHECK(refusal("\"bath.none\" = 3") == "the sentence 'bath.none' of third is no text");
}

TEST_CASE("a sentence is said with all its slots filled, and with no other") {
  CHECK(detail::say("next.ph.what", {{"water", "{pond}"}}) == "pH of {pond}");
  CHECK(detail::say("list.and") == " and ");
  CHECK_THROWS_AS(detail::say("next.ph.what"), Error);
  CHECK_THROWS_AS(detail::say("list.and", {{"water", "pond"}}), Error);
  CHECK_THROWS_AS(detail::say("next.ph"), Error);
}
