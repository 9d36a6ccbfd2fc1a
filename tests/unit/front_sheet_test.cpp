// The front sheet: short, in plain words, and never surer than the sections behind it.

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "aeruca/assessment.hpp"
#include "aeruca/render.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "casefile/sections.hpp"
#include "catch.hpp"
#include "own_folder.hpp"
#include "source_tree.hpp"

using namespace aeruca;
using namespace aeruca::detail;
using aeruca_test::OwnFolder;

namespace {

CaseAssessment assessed(const std::string& text, const std::string& folder = ".",
                        const std::string& date = "2026-06-30") {
  return assess_case(parse_case_file("invented = true\n" + text, folder + "/case.toml"),
                     default_dataset(), date);
}

CaseAssessment demo() {
  return assess_case(read_case_file(aeruca::test::source_tree() + "/data/demo/case.toml"),
                     default_dataset(), "2026-06-30");
}

const SheetBox& box(const CaseAssessment& assessment, const std::string& id) {
  const auto& boxes = assessment.front.boxes;
  return *std::find_if(boxes.begin(), boxes.end(),
                       [&](const SheetBox& one) { return one.id == id; });
}

// Words with a letter in them; figures and their units are none.
std::size_t words_in(const std::string& text) {
  const std::vector<std::string> units{"RH", "mg", "kg", "mg/L", "h"};
  std::istringstream in(text);
  std::size_t count = 0;
  for (std::string word; in >> word;) {
    while (!word.empty() && std::ispunct(static_cast<unsigned char>(word.back())) != 0)
      word.pop_back();
    if (std::find(units.begin(), units.end(), word) != units.end()) continue;
    if (std::any_of(word.begin(), word.end(), [](unsigned char c) { return std::isalpha(c) != 0; }))
      ++count;
  }
  return count;
}

std::vector<std::string> lines_of(const FrontSheet& sheet) {
  std::vector<std::string> lines;
  for (const SheetBox& one : sheet.boxes) {
    lines.insert(lines.end(), {one.title, one.verdict, one.figure_of});
    lines.insert(lines.end(), one.sentences.begin(), one.sentences.end());
  }
  lines.insert(lines.end(), sheet.measure.begin(), sheet.measure.end());
  lines.push_back(sheet.caution);
  return lines;
}

void demand_plain(const CaseAssessment& assessment) {
  REQUIRE(assessment.front.boxes.size() == 4);
  std::size_t words = 0;
  for (const std::string& line : lines_of(assessment.front)) {
    INFO(line);
    CHECK(words_in(line) <= 25);
    words += words_in(line);
  }
  CHECK(words <= 150);
  for (const SheetBox& one : assessment.front.boxes) {
    CHECK_FALSE(one.verdict.empty());
    CHECK_FALSE(one.sentences.empty());
    CHECK(one.figure.empty() == one.figure_of.empty());
  }
  CHECK(assessment.front.measure.size() <= 3);
}

// Hourly readings of a year at one humidity, in a folder of its own.
std::string store_of(const OwnFolder& folder, double rh_percent) {
  std::ofstream log(folder.file("log.csv"));
  log << "time,temperature_c,rh_percent\n";
  for (int day = 1; day <= 28; ++day) {
    for (int hour = 0; hour < 24; ++hour) {
      log << "2026-02-" << (day < 10 ? "0" : "") << day << ' ' << (hour < 10 ? "0" : "") << hour
          << ":00," << 20 << ',' << rh_percent + 0.1 * (hour % 7) << '\n';
    }
  }
  return "[store]\nlog = \"log.csv\"\nsensor_accuracy_rh_percent = 2\n";
}

}  // namespace

TEST_CASE("the demo's front sheet has four boxes within 150 plain words") {
  const CaseAssessment assessment = demo();
  demand_plain(assessment);
  CHECK(box(assessment, "active").tone == SheetTone::alarm);
  CHECK(box(assessment, "again").verdict == assessment.box->review_date);
  // Two stories fit: what is left has no common range, and the figure is what came out.
  REQUIRE_FALSE(assessment.bath_decision->posterior.one_story);
  CHECK(box(assessment, "washing").figure_of == say("front.washing.out"));
}

TEST_CASE("an empty case says what is not known in every box") {
  const CaseAssessment assessment = assessed("[object]\nmass_g = 10\n");
  demand_plain(assessment);
  for (const SheetBox& one : assessment.front.boxes) {
    CHECK(one.tone == SheetTone::open);
    CHECK(one.figure.empty());
  }
  CHECK(box(assessment, "washing").verdict == say("front.washing.no_log"));
  CHECK(box(assessment, "again").verdict == say("front.again.no_date"));
}

TEST_CASE("a dry record is calm and has its set-point, a damp one asks to act") {
  const OwnFolder folder;
  const std::string at = folder.string();
  const CaseAssessment dry = assessed(store_of(folder, 30), at);
  demand_plain(dry);
  CHECK(box(dry, "active").tone == SheetTone::calm);
  CHECK(box(dry, "keep").tone == SheetTone::calm);
  const CaseAssessment damp = assessed(store_of(folder, 60), at);
  demand_plain(damp);
  CHECK(box(damp, "active").tone == SheetTone::alarm);
  CHECK(box(damp, "keep").tone == SheetTone::alarm);
  // The record is the last that is known: look at once.
  CHECK(box(damp, "again").verdict == say("front.again.now"));
}

TEST_CASE("new growth is active without a chance of the air") {
  const CaseAssessment assessment =
      assessed("[[observation]]\ndate = \"2026-05-01\"\nkind = \"new growth\"\n");
  demand_plain(assessment);
  CHECK(box(assessment, "active").tone == SheetTone::alarm);
  CHECK(box(assessment, "active").figure.empty());
  CHECK(box(assessment, "again").verdict == say("front.again.now"));
}

TEST_CASE("an object that forbids treatment by number gets no advice on its bath") {
  const OwnFolder folder;
  std::ofstream(folder.file("baths.csv"))
      << "start,end,volume_l,chloride_mg_per_l,blank_mg_per_l\n"
         "2026-01-01,2026-01-08,1,40,1\n2026-01-08,2026-01-15,1,20,1\n"
         "2026-01-15,2026-01-22,1,12,1\n";
  const CaseAssessment assessment =
      assessed("[object]\nmass_g = 50\nfeatures = [\"gilded\"]\n[bath]\nlog = \"baths.csv\"\n",
               folder.string());
  demand_plain(assessment);
  CHECK(box(assessment, "washing").verdict == say("front.washing.ask"));
}

TEST_CASE("a log that cannot be read says so on the front sheet") {
  const OwnFolder folder;
  std::ofstream(folder.file("baths.csv")) << "start,end,volume_l,chloride_mg_per_l\nx,y,1,2\n";
  const CaseAssessment assessment = assessed("[bath]\nlog = \"baths.csv\"\n", folder.string());
  demand_plain(assessment);
  CHECK(box(assessment, "washing").verdict == say("front.washing.unusable"));
}

TEST_CASE("the whole text begins with the front sheet, in any width") {
  const CaseAssessment assessment = demo();
  for (const int width : {60, 88, 200}) {
    const std::string front = front_text(assessment, width);
    const std::string whole = to_text(assessment, width);
    const std::string caution = front.substr(0, front.find(say("front.heading.caution") + ":"));
    CHECK(whole.starts_with(caution));
    CHECK(whole.size() > 5 * front.size());
  }
  CHECK_THROWS_AS(front_text(assessment, 59), InputError);
}
