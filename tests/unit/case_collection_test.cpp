// A table of cases: whose order it is, what a row repeats, and that nothing but the cases matters.

#include "aeruca/case_collection.hpp"

#include <algorithm>
#include <filesystem>
#include <mutex>
#include <random>

#include "aeruca/errors.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"
#include "base/words.hpp"
#include "casefile/case_inputs.hpp"
#include "catch.hpp"
#include "own_folder.hpp"
#include "render/case_collection_report.hpp"

using namespace aeruca;
using aeruca_test::OwnFolder;

namespace {

ObjectCase row(const std::string& name, Verdict verdict, double active, double dormant,
               double too_humid_by = 0) {
  ObjectCase object;
  object.name = name;
  object.file = name + ".toml";
  object.verdict = verdict;
  object.probability_active = active;
  object.probability_dormant = dormant;
  object.too_humid_by_rh_percent = too_humid_by;
  return object;
}

std::string order_of(const CaseCollection& collection) {
  std::string order;
  for (const ObjectCase& one : collection.objects) order += one.name + " ";
  return order;
}

// Hourly readings of a month about one humidity.
std::string month_at(double rh_percent) {
  std::string text = "time,T,RH\n";
  for (int hour = 0; hour < 28 * 24; ++hour) {
    const int day = hour / 24 + 1;
    text += std::string("2026-02-") + (day < 10 ? "0" : "") + std::to_string(day) + "T" +
            (hour % 24 < 10 ? "0" : "") + std::to_string(hour % 24) + ":00,20," +
            std::to_string(rh_percent + hour % 7 / 10.0) + "\n";
  }
  return text;
}

std::string stored(const std::string& name, const std::string& log, const std::string& more = "") {
  return "[object]\nname = \"" + name + "\"\nsilver_nitrate_test = \"positive\"\n" + more +
         "[store]\nlog = \"" + log + "\"\nonset = \"scott-1990\"\n";
}

// Wet, dry, without a record, with growth, gilded, with a missing log, and no case at all.
struct Cases : OwnFolder {
  Cases() {
    std::filesystem::create_directories(file("room/deep"));
    write("wet.csv", month_at(60));
    write("dry.csv", month_at(25));
    write("room/deep/dry.csv", month_at(25));
    write("wet.toml", stored("wet", "wet.csv"));
    write("dry.toml", stored("dry", "dry.csv"));
    write("room/deep/gilded.toml", stored("gilded", "dry.csv", "features = [\"gilded\"]\n"));
    write("empty.toml", "[object]\nname = \"empty\"\n");
    write("grown.toml",
          "[object]\nname = \"grown\"\n[[observation]]\ndate = 2026-03-01\n"
          "kind = \"new growth\"\n");
    write("lost.toml", stored("lost", "dry.csv") + "[bath]\nlog = \"none.csv\"\n");
    write("broken.toml", "[object]\nmas_g = 3\n");
  }
};

}  // namespace

TEST_CASE("cases stand by risk, whatever the order they come in") {
  ObjectCase bad;
  bad.name = "bad";
  bad.problem = "no case file";
  bad.probability_active = 1;
  std::vector<ObjectCase> rows{
      bad,
      row("dry", Verdict::dormant, 0, 0.999),
      row("nearly", Verdict::dormant, 0, 0.96),
      row("short", Verdict::not_known, kNotGiven, kNotGiven, 4),
      row("blank", Verdict::not_known, kNotGiven, kNotGiven, kNotGiven),
      row("between", Verdict::borderline, 0.1, 0.6),
      row("worse", Verdict::borderline, 0, 0.2),
      row("likely", Verdict::active, 0.6, 0),
      row("surely", Verdict::active, 1, 0),
      row("soaked", Verdict::active, 1, 0, 12),
      row("seen", Verdict::active, kNotGiven, kNotGiven),
  };
  std::mt19937 random(11);
  for (int k = 0; k < 20; ++k) {
    std::shuffle(rows.begin(), rows.end(), random);
    const CaseCollection collection = ranked_cases(rows, *default_dataset(), "2026-06-30");
    CHECK(order_of(collection) ==
          "seen soaked surely likely worse between short blank nearly dry bad ");
    CHECK(collection.objects[0].rank == 1);
    CHECK(collection.objects[9].rank == 10);
    CHECK_FALSE(collection.objects[10].rank.has_value());
    CHECK(collection.active == 4);
    CHECK(collection.borderline == 2);
    CHECK(collection.not_known == 2);
    CHECK(collection.dormant == 2);
    CHECK(collection.unusable == 1);
    CHECK(collection.date == "2026-06-30");
  }
}

TEST_CASE("objects alike in all figures stand by name, those of one name by file") {
  ObjectCase one = row("a", Verdict::active, 1, 0);
  ObjectCase two = one;
  two.file = "z.toml";
  const CaseCollection collection =
      ranked_cases({row("b", Verdict::active, 1, 0), two, one}, *default_dataset());
  CHECK(collection.objects[0].file == "a.toml");
  CHECK(collection.objects[1].file == "z.toml");
  CHECK(collection.objects[2].name == "b");
}

TEST_CASE("a folder stands for the case files in it and below, a pattern for what it fits") {
  const Cases cases;
  std::filesystem::create_directories(cases.file(".kept"));
  cases.write(".kept/old.toml", "");
  const std::vector<std::string> all = find_case_files({cases.string()});
  CHECK(all.size() == 7);
  CHECK(std::is_sorted(all.begin(), all.end()));
  CHECK(find_case_files({cases.file("*/*/*.toml"), cases.file("room")}) ==
        std::vector<std::string>{cases.file("room/deep/gilded.toml")});
  CHECK(find_case_files({cases.file("none.toml")}).size() == 1);
  CHECK_THROWS_WITH(find_case_files({cases.file("x*.toml")}),
                    aeruca::test::contains("fits no file; accepted is a pattern such as"));
  std::filesystem::create_directories(cases.file("bare"));
  CHECK_THROWS_WITH(find_case_files({cases.file("bare")}),
                    aeruca::test::contains("holds no case file; accepted is a folder with"));
  CHECK_THROWS_AS(find_case_files({}), InputError);
}

TEST_CASE("a row repeats what the assessment of its case says, and a bad file costs its own row") {
  const Cases cases;
  CaseRun run;
  run.date = "2026-06-30";
  const CaseCollection found = assess_collection({cases.string()}, default_dataset(), run);
  CHECK(order_of(found) == "grown wet empty dry gilded lost  ");
  CHECK(found.unusable == 1);
  const ObjectCase& wet = found.objects[1];
  const CaseAssessment alone =
      assess_case(read_case_file(cases.file("wet.toml")), default_dataset(), run.date);
  CHECK(wet.probability_active == alone.odds.active);
  CHECK(wet.probability_dormant == alone.odds.dormant);
  CHECK(wet.set_point_rh_percent == alone.section("dry").finding("set_point_rh_percent").value);
  CHECK(wet.too_humid_by_rh_percent == alone.store->too_humid_by_rh_percent);
  CHECK(wet.record_to == "2026-02-28");
  CHECK(wet.measure_next == alone.next.front().what);
  CHECK(wet.reason == alone.reason);
  CHECK(wet.washing == WashingAdvice::no_log);
  const ObjectCase& grown = found.objects[0];
  CHECK(std::isnan(grown.probability_active));
  CHECK(grown.record_to.empty());
  CHECK(std::isnan(grown.set_point_rh_percent));
  const ObjectCase& gilded = found.objects[4];
  CHECK(gilded.ask_a_conservator);
  CHECK(gilded.washing == WashingAdvice::ask_a_conservator);
  CHECK_FALSE(found.objects[3].ask_a_conservator);
  const ObjectCase& lost = found.objects[5];
  CHECK(lost.washing == WashingAdvice::bad_log);
  CHECK(lost.bad_log);
  CHECK_THAT(lost.not_worked_out, aeruca::test::contains("'none.csv' is no file"));
  CHECK(lost.verdict == Verdict::dormant);
  CHECK_THAT(found.objects[6].problem, aeruca::test::contains("no key named 'mas_g'"));
  CHECK(found.objects[6].file == cases.file("broken.toml"));
}

TEST_CASE("the bytes of a table depend neither on threads nor on the order of names") {
  const Cases cases;
  const auto bytes = [&](const std::vector<std::string>& names, int threads) {
    CaseRun run;
    run.threads = threads;
    const CaseCollection found = assess_collection(names, default_dataset(), run);
    return detail::case_collection_csv(found) + detail::case_collection_json(found) +
           detail::case_collection_text(found, 88) + detail::case_collection_html(found);
  };
  const std::string one = bytes({cases.string()}, 1);
  CHECK(bytes({cases.string()}, 3) == one);
  CHECK(bytes({cases.string()}, 16) == one);
  CHECK(bytes({cases.file("w*.toml"), cases.file("room"), cases.string()}, 2) == one);
}

TEST_CASE("each assessment is handed over once and what is thrown ends the work") {
  const Cases cases;
  const std::vector<std::string> paths(6, cases.file("empty.toml"));
  std::mutex one_at_a_time;
  std::vector<int> taken(paths.size());
  std::size_t told = 0;
  CaseRun run;
  run.threads = 1;
  run.progress = [&](std::size_t done, std::size_t all) {
    CHECK(done == ++told);
    CHECK(all == 6);
  };
  assess_each_case(paths, default_dataset(), run, [&](std::size_t i, const CaseOutcome& outcome) {
    const std::lock_guard<std::mutex> lock(one_at_a_time);
    CHECK(outcome.assessment.has_value());
    ++taken[i];
  });
  CHECK(taken == std::vector<int>(6, 1));
  CHECK(told == 6);
  run.progress = [](std::size_t done, std::size_t) {
    if (done == 2) throw InputError("stop", "now", "nothing");
  };
  std::size_t begun = 0;
  CHECK_THROWS_AS(assess_each_case(paths, default_dataset(), run,
                                   [&](std::size_t, const CaseOutcome&) { ++begun; }),
                  InputError);
  CHECK(begun == 2);
  run.date = "tomorrow";
  CHECK_THROWS_AS(assess_collection({cases.string()}, default_dataset(), run), InputError);
}

TEST_CASE("a review whose day has gone by is overdue on the day after it") {
  CaseOutcome outcome;
  outcome.path = "a.toml";
  outcome.assessment.emplace();
  outcome.assessment->box.emplace();
  outcome.assessment->box->review_date = "2026-06-30";
  for (const auto& [today, overdue] : {std::pair<std::string, bool>{"2026-06-29", false},
                                       {"2026-06-30", false},
                                       {"2026-07-01", true},
                                       {"", false}}) {
    outcome.assessment->date = today;
    CHECK(object_case(outcome).overdue == overdue);
  }
  CHECK(object_case(outcome).look_again_by == "2026-06-30");
}

TEST_CASE("every advice on washing has its word, in code and on the page") {
  for (const auto advice : {WashingAdvice::not_known, WashingAdvice::no_log, WashingAdvice::change,
                            WashingAdvice::leave, WashingAdvice::enough, WashingAdvice::cannot_tell,
                            WashingAdvice::ask_a_conservator, WashingAdvice::bad_log}) {
    CHECK_FALSE(detail::choice_word("washing", to_string(advice)).empty());
  }
  for (const auto& [advice, washing] :
       {std::pair{BathAdvice::change, WashingAdvice::change},
        std::pair{BathAdvice::leave, WashingAdvice::leave},
        std::pair{BathAdvice::enough, WashingAdvice::enough},
        std::pair{BathAdvice::cannot_tell, WashingAdvice::cannot_tell}}) {
    CaseOutcome outcome;
    outcome.assessment.emplace();
    outcome.assessment->file.bath.log = "baths.csv";
    outcome.assessment->sections.emplace_back().id = "wash";
    outcome.assessment->bath_decision.emplace().advice = advice;
    CHECK(object_case(outcome).washing == washing);
    CHECK(to_string(washing) == to_string(advice));
    outcome.assessment->bath_decision->status = Status::infeasible;
    CHECK(object_case(outcome).washing == WashingAdvice::cannot_tell);
  }
}

TEST_CASE("a name that is markup or a sign of the terminal is shown, not obeyed") {
  ObjectCase odd = row("<script>alert('x')</script> & \x1b[31m\"red\"", Verdict::active, 1, 0);
  odd.rank = 1;
  const CaseCollection collection = ranked_cases({odd}, *default_dataset());
  const std::string page = detail::case_collection_html(collection);
  CHECK(page.find("<script") == std::string::npos);
  CHECK(page.find("&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt; &amp;") != std::string::npos);
  CHECK(page.find('\x1b') == std::string::npos);
  CHECK(detail::case_collection_text(collection, 88).find('\x1b') == std::string::npos);
}

TEST_CASE("the table fits its width, and with a file that lists all ten are enough") {
  std::vector<ObjectCase> rows;
  for (int k = 0; k < 25; ++k) {
    rows.push_back(row("object of a rather long name, number " + std::to_string(k), Verdict::active,
                       0.995, 0.001));
    rows.back().washing = WashingAdvice::ask_a_conservator;
    rows.back().look_again_by = "2026-06-30";
    rows.back().overdue = true;
    rows.back().measure_next = "chloride by a method with a lower limit, or in a smaller bath";
  }
  const CaseCollection collection = ranked_cases(rows, *default_dataset());
  for (const int width : {60, 88, 200}) {
    const std::string text = detail::case_collection_text(collection, width);
    for (const std::string_view line : detail::split(text, '\n'))
      CHECK(detail::characters(line) <= static_cast<std::size_t>(width));
    CHECK(text.find("number 24") != std::string::npos);
  }
  const std::string some = detail::case_collection_text(collection, 200, "all.csv");
  CHECK(some.find("\n10 ") != std::string::npos);
  CHECK(some.find("\n11 ") == std::string::npos);
  CHECK(some.find("... and 15 more; all.csv lists all") != std::string::npos);
  CHECK_THROWS_AS(detail::case_collection_text(collection, 59), InputError);
  CHECK_THROWS_AS(detail::case_collection_text(collection, 201), InputError);
}

TEST_CASE("the files a case rests on are found from its folder, of a folder of logs each") {
  const Cases cases;
  std::filesystem::create_directories(cases.file("logs"));
  cases.write("logs/1.csv", "x");
  cases.write("logs/2.csv", "x");
  const CaseFile file = parse_case_file(
      "[store]\nlog = [\"logs\", \"none*.csv\"]\nbeside = \"wet.csv\"\n", cases.file("a.toml"));
  std::string roles;
  for (const InputFile& input : detail::case_inputs(file))
    roles += input.role + " " + input.path + "; ";
  CHECK(roles == "case file " + cases.file("a.toml") +
                     "; store record logs/1.csv; store record logs/2.csv; store record none*.csv; "
                     "second record wet.csv; ");
}

TEST_CASE("a row of one cell is a paragraph across the table") {
  CHECK(detail::table_text({"", "name"}, {{"1", "bell"}, {"found in the ditch, lifted wet"}}, 20,
                           "") ==
        "   name\n-  ----\n1  bell\n   found in the\n   ditch, lifted wet\n");
}
