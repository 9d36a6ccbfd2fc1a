// Sections of a case beside the numbers they word: where a limit is passed, the sentence is another.

#include <cmath>
#include <cstdlib>
#include <string>

#include "aeruca/assessment.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "casefile/verdict.hpp"
#include "catch.hpp"
#include "own_folder.hpp"

using namespace aeruca;
using namespace aeruca::detail;

namespace {

StableAnswer stable_of(const std::string& water) {
  return stable_section(parse_case_file("invented = true\n[[water]]\n" + water, "case.toml"),
                        default_dataset());
}

const CaseFinding& finding(const CaseSection& section, const std::string& key) {
  for (const CaseFinding& one : section.findings) {
    if (one.key == key) return one;
  }
  FAIL("no finding " << key);
  std::abort();
}

// Silver nitrate negative, a store that was active, baths that drew out so many mg.
CaseAssessment decided(double total_mg, double error_mg) {
  CaseFile file;
  file.object.silver_nitrate_test = "negative";
  StableAnswer stable;
  StoreAnswer dry;
  dry.assessment = StoreAssessment{};
  dry.assessment->verdict = Verdict::active;
  dry.assessment->reason = "as read";
  WashAnswer wash;
  wash.summary = BathSummary{};
  wash.summary->total_mg = total_mg;
  wash.summary->total_error_mg = error_mg;
  const std::optional<BoxAnswer> box;
  const CaseSection solution;
  CaseAssessment assessment;
  decide({file, stable, dry, box, wash, solution}, assessment);
  return assessment;
}

}  // namespace

TEST_CASE("chloride is shown by baths when it is above two of its errors") {
  CHECK(decided(3, 1).verdict == Verdict::active);
  CHECK(decided(1.5, 1).verdict == Verdict::not_known);  // a negative test stands against the store
}

// Within 5 % is usual for a complete analysis.
TEST_CASE("a charge off by more than 5 percent is said to be too far") {
  const std::string water = "ph = 7\neh_mv = 300\nchloride_mg_per_l = 355\nsodium_mg_per_l = ";
  const StableAnswer near = stable_of(water + "225\n");
  const CaseFinding& within = finding(near.section, "water.charge_error_percent");
  REQUIRE(std::abs(within.value) < 5);
  CHECK(within.note == say("stable.charge.note"));
  const StableAnswer far = stable_of(water + "270\n");
  const CaseFinding& beyond = finding(far.section, "water.charge_error_percent");
  REQUIRE(std::abs(beyond.value) > 5);
  CHECK(beyond.note == say("stable.charge.too_far"));
}

TEST_CASE("between nantokite and cuprite a pH within two uncertainties decides nothing") {
  const auto answer = [](double ph) {
    return stable_of(
        "chloride_mg_per_l = 3550\nsodium_mg_per_l = 2300\nph = " + format_number(ph, 8) + "\n");
  };
  const StableAnswer first = answer(7);
  const CaseFinding& boundary = finding(first.section, "water.ph_nantokite_cuprite");
  const double half = 0.5 * (boundary.high - boundary.low);  // two uncertainties
  REQUIRE(half > 0.1);
  const auto says = [&](double ph, const std::string& key) {
    return answer(ph).section.answer.find(say(key)) != std::string::npos;
  };
  CHECK(says(boundary.value - 0.9 * half, "stable.boundary.not_decided"));
  CHECK(says(boundary.value + 0.9 * half, "stable.boundary.not_decided"));
  CHECK(says(boundary.value - 1.1 * half, "stable.boundary.nantokite_persists"));
  CHECK(says(boundary.value + 1.1 * half, "stable.boundary.nantokite_gives_way"));
}

// Every row of the table: "may form" above two uncertainties of the index, "would dissolve" below,
// and nothing decided between.
TEST_CASE("what a solid would do follows from its saturation index and how sure that is") {
  const StableAnswer answer = stable_of(
      "ph = \"7.1 +/- 0.1\"\neh_mv = 250\neh_uncertainty_mv = 20\nchloride_mg_per_l = 2700\n"
      "bicarbonate_mg_per_l = 260\nsulfate_mg_per_l = 380\nsodium_mg_per_l = 1950\n"
      "copper_mg_per_l = \"0.3 +/- 0.02\"\n");
  REQUIRE(answer.section.tables.size() == 1);
  int undecided = 0;
  for (const auto& row : answer.section.tables.front().rows) {
    const auto index = parse_reading(row[2].starts_with("-") ? row[2].substr(1) : row[2]);
    if (!index) continue;  // not known
    const double sign = row[2].starts_with("-") ? -1 : 1;
    const double margin = 2 * index->uncertainty;
    INFO(row[0] << " " << row[2] << " " << row[4]);
    const bool may_form = row[4].starts_with(say("solids.standing.may_form"));
    const bool dissolves = row[4].starts_with(say("solids.standing.would_dissolve"));
    if (std::abs(index->value - margin) < 0.1) continue;  // too near the limit for what is printed
    CHECK(may_form == (sign > 0 && index->value > margin));
    CHECK(dissolves == (sign < 0 && index->value > margin));
    undecided += !may_form && !dissolves ? 1 : 0;
  }
  CHECK(undecided > 0);
}

TEST_CASE("without copper in the analysis a solid gives way beyond two uncertainties of its gap") {
  int gave_way = 0;
  for (const char* ph : {"5.5", "6.4", "7.1"}) {
    const StableAnswer answer = stable_of(
        "eh_mv = 250\nchloride_mg_per_l = 2700\nsodium_mg_per_l = 1750\nph = " + std::string(ph) +
        "\n");
    REQUIRE(answer.section.tables.size() == 1);
    for (const auto& row : answer.section.tables.front().rows) {
      const auto gap = parse_reading(row[3]);
      if (!gap) continue;  // the most stable
      const bool gives_way = row[4].starts_with(say("solids.standing.gives_way"));
      INFO(ph << ": " << row[0] << " " << row[3] << " " << row[4]);
      const double beyond = gap->value - 2 * gap->uncertainty;
      if (std::abs(beyond) < 0.02) continue;  // too near the limit for what is printed
      CHECK(gives_way == (beyond > 0));
      gave_way += gives_way ? 1 : 0;
    }
  }
  CHECK(gave_way > 10);
}

TEST_CASE("the errors that a case states reach the sums of its baths") {
  const aeruca_test::OwnFolder folder;
  folder.write("log.csv",
               "start,end,volume_l,chloride_mg_per_l,blank_mg_per_l\n"
               "2025-01-06,2025-01-13,1,50,0\n");
  folder.write("case.toml",
               "invented = true\n[bath]\nlog = \"log.csv\"\nreading_error_percent = 4\n"
               "volume_error_percent = 3\n");
  const CaseAssessment assessment =
      assess_case(read_case_file(folder.file("case.toml")), default_dataset());
  REQUIRE(assessment.bath_summary.has_value());
  CHECK(std::abs(assessment.bath_errors.volume_relative - 0.03) < 1e-15);
  CHECK(std::abs(assessment.bath_errors.relative - 0.04) < 1e-15);
  CHECK(std::abs(assessment.bath_summary->total_error_mg - 2.5) < 1e-12);  // 4 % and 3 % of 50 mg
}

TEST_CASE("the end of a key is the unit of its amount") {
  const CaseFile file = parse_case_file(
      "invented = true\n[[water]]\nph = 7\nammonium_mmol_per_kg = 2\nfluoride_ug_per_l = 3\n"
      "acetate_mg_per_kg = 4\nformate_mmol_per_l = 5\nlithium_mol_per_kg = 6\n"
      "alkalinity_mg_per_l_as_caco3 = 7\n",
      "case.toml");
  const WaterAnalysis& analysis = file.waters.front().analysis;
  const auto unit_of = [&](double value) -> std::string {
    for (const AnalysedIon& ion : analysis.ions) {
      if (ion.amount.reading.value == value) return ion.amount.unit;
    }
    return "nowhere";
  };
  CHECK(unit_of(2) == "mmol/kg");
  CHECK(unit_of(3) == "ug/L");
  CHECK(unit_of(4) == "mg/kg");
  CHECK(unit_of(5) == "mmol/L");
  CHECK(unit_of(6) == "mol/kg");
  CHECK(analysis.alkalinity.unit == "mg/L as CaCO3");
}
