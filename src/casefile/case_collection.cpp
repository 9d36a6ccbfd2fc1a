#include "aeruca/case_collection.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <set>
#include <tuple>

#include "aeruca/errors.hpp"
#include "aeruca/logger_files.hpp"
#include "base/file_names.hpp"
#include "base/text.hpp"

namespace aeruca {
namespace {

std::vector<std::string> case_files_of(const std::string& name) {
  std::error_code ignored;
  if (std::filesystem::is_directory(name, ignored)) {
    std::vector<std::string> files =
        detail::files_like((std::filesystem::path(name) / "**" / "*.toml").string());
    if (files.empty())
      throw FileError(
          name, 0, "",
          "holds no case file; accepted is a folder with files that end in .toml, in it "
          "or in folders below");
    return files;
  }
  if (std::filesystem::exists(name, ignored) || !detail::is_pattern(name)) return {name};
  std::vector<std::string> files = detail::files_like(name);
  if (files.empty())
    throw FileError(name, 0, "", "fits no file; accepted is a pattern such as objects/*/case.toml");
  return files;
}

WashingAdvice washing_of(const CaseAssessment& a) {
  if (a.ask_a_conservator) return WashingAdvice::ask_a_conservator;
  if (a.file.bath.log.empty()) return WashingAdvice::no_log;
  if (a.section("wash").status == SectionStatus::bad_input) return WashingAdvice::bad_log;
  if (!a.bath_decision || a.bath_decision->status != Status::converged)
    return WashingAdvice::cannot_tell;
  switch (a.bath_decision->advice) {
    case BathAdvice::change:
      return WashingAdvice::change;
    case BathAdvice::leave:
      return WashingAdvice::leave;
    case BathAdvice::enough:
      return WashingAdvice::enough;
    case BathAdvice::cannot_tell:
      break;
  }
  return WashingAdvice::cannot_tell;
}

void take_store(ObjectCase& row, const StoreAssessment& store) {
  if (store.readings > 0) row.record_to = format_time(store.end_s).substr(0, 10);
  if (store.set_point_rh_percent >= 1)
    row.set_point_rh_percent = std::floor(store.set_point_rh_percent);
  row.too_humid_by_rh_percent = store.too_humid_by_rh_percent;
}

void take_sections(ObjectCase& row, const CaseAssessment& a) {
  std::vector<std::string> said;
  for (const CaseSection& section : a.sections) {
    const bool bad = section.status == SectionStatus::bad_input;
    row.bad_log = row.bad_log || bad;
    if (bad) said.push_back(section.warnings.back());
    if (section.status == SectionStatus::no_answer) said.push_back(section.answer);
  }
  row.not_worked_out = detail::join(said, "; ");
}

// Smaller: nearer to the head of the table.
int place_of(const ObjectCase& object) {
  if (!object.problem.empty()) return 4;
  switch (object.verdict) {
    case Verdict::active:
      return 0;
    case Verdict::borderline:
      return 1;
    case Verdict::not_known:
      break;
    case Verdict::dormant:
      return 3;
  }
  return 2;
}

auto order_of(const ObjectCase& object) {
  constexpr double kSeen = -2;  // before every probability: growth was seen
  const auto known = [](double value, double otherwise) {
    return std::isnan(value) ? otherwise : value;
  };
  const double active = known(-object.probability_active, 0);
  const double dormant = known(object.probability_dormant, 0);
  const bool is_active = object.verdict == Verdict::active;
  return std::tuple(place_of(object),
                    is_active ? known(-object.probability_active, kSeen) : dormant,
                    is_active ? dormant : active, known(-object.too_humid_by_rh_percent, 0),
                    std::string_view(object.name), std::string_view(object.file));
}

std::size_t& count_of(CaseCollection& collection, const ObjectCase& object) {
  if (!object.problem.empty()) return collection.unusable;
  switch (object.verdict) {
    case Verdict::active:
      return collection.active;
    case Verdict::borderline:
      return collection.borderline;
    case Verdict::dormant:
      return collection.dormant;
    case Verdict::not_known:
      break;
  }
  return collection.not_known;
}

}  // namespace

std::string_view to_string(WashingAdvice advice) {
  switch (advice) {
    case WashingAdvice::not_known:
      break;
    case WashingAdvice::no_log:
      return "no log";
    case WashingAdvice::change:
      return "change";
    case WashingAdvice::leave:
      return "leave";
    case WashingAdvice::enough:
      return "enough";
    case WashingAdvice::cannot_tell:
      return "cannot tell";
    case WashingAdvice::ask_a_conservator:
      return "ask a conservator";
    case WashingAdvice::bad_log:
      return "bad log";
  }
  return "not known";
}

std::vector<std::string> find_case_files(const std::vector<std::string>& names) {
  if (names.empty()) throw InputError("names", "none", "at least one file, folder or pattern");
  std::set<std::string> files;
  for (const std::string& name : names) {
    for (const std::string& file : case_files_of(name)) files.insert(file);
  }
  return {files.begin(), files.end()};
}

ObjectCase object_case(const CaseOutcome& outcome) {
  ObjectCase row;
  row.file = outcome.path;
  row.problem = outcome.problem;
  if (!outcome.assessment) return row;
  const CaseAssessment& a = *outcome.assessment;
  row.name = a.file.object.name;
  row.invented = a.file.invented;
  row.verdict = a.verdict;
  row.probability_active = a.odds.active;
  row.probability_dormant = a.odds.dormant;
  if (a.store) take_store(row, *a.store);
  row.washing = washing_of(a);
  if (a.box) row.look_again_by = a.box->review_date;
  row.overdue = !row.look_again_by.empty() && !a.date.empty() && row.look_again_by < a.date;
  if (!a.next.empty()) row.measure_next = a.next.front().what;
  row.ask_a_conservator = a.ask_a_conservator;
  row.reason = a.reason;
  take_sections(row, a);
  return row;
}

CaseCollection ranked_cases(std::vector<ObjectCase> objects, const Dataset& dataset,
                            const std::string& date) {
  std::sort(objects.begin(), objects.end(),
            [](const ObjectCase& a, const ObjectCase& b) { return order_of(a) < order_of(b); });
  CaseCollection collection;
  collection.date = date;
  collection.dataset_version = dataset.version;
  collection.dataset_hash = dataset.content_hash;
  int rank = 0;
  for (ObjectCase& object : objects) {
    object.rank = object.problem.empty() ? std::optional<int>(++rank) : std::nullopt;
    ++count_of(collection, object);
  }
  collection.objects = std::move(objects);
  return collection;
}

CaseCollection assess_collection(const std::vector<std::string>& names,
                                 const std::shared_ptr<const Dataset>& dataset,
                                 const CaseRun& run) {
  const std::vector<std::string> paths = find_case_files(names);
  std::vector<ObjectCase> objects(paths.size());
  assess_each_case(paths, dataset, run, [&](std::size_t i, const CaseOutcome& outcome) {
    objects[i] = object_case(outcome);
  });
  return ranked_cases(std::move(objects), *dataset, run.date);
}

}  // namespace aeruca
