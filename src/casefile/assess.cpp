#include <algorithm>
#include <utility>

#include "aeruca/assessment.hpp"
#include "aeruca/errors.hpp"
#include "aeruca/version.hpp"
#include "base/calendar.hpp"
#include "base/hash.hpp"
#include "base/text.hpp"
#include "casefile/case_inputs.hpp"
#include "casefile/front_sheet.hpp"
#include "casefile/limits.hpp"
#include "casefile/section.hpp"
#include "casefile/verdict.hpp"

namespace aeruca {
namespace {

// The figures behind the sections and the sources they come from, each once, in data-set order.
void add_provenance(const Dataset& dataset, CaseAssessment& assessment) {
  std::vector<std::string> ids;
  for (const CaseSection& section : assessment.sections) detail::add_new(ids, section.figures);
  std::vector<std::string> keys;
  for (const Figure& figure : dataset.figures) {
    if (std::find(ids.begin(), ids.end(), figure.id) == ids.end()) continue;
    assessment.constants.push_back(figure);
    if (!figure.source.empty()) detail::add_new(keys, {figure.source});
  }
  for (const OnsetBand& band : dataset.onset_bands) {
    if (std::find(ids.begin(), ids.end(), band.id) != ids.end())
      detail::add_new(keys, {band.source});
  }
  for (const Source& source : dataset.sources) {
    if (std::find(keys.begin(), keys.end(), source.key) != keys.end())
      assessment.sources.push_back(source);
  }
}

// A log that could not be read has no hash; its section says why.
void add_inputs(CaseAssessment& assessment, const CaseFile& file) {
  assessment.inputs = detail::case_inputs(file);
  for (InputFile& input : assessment.inputs) {
    if (!input.content_hash.empty()) continue;
    try {
      input.content_hash = detail::content_hash(detail::read_file(file.resolve(input.path)));
    } catch (const FileError&) {
    }
  }
}

}  // namespace

CaseAssessment assess_case(const CaseFile& file, const std::shared_ptr<const Dataset>& dataset,
                           const std::string& date) {
  if (!date.empty() && !detail::parse_date(date))
    throw InputError("date", date, "year-month-day such as 2026-03-04");
  CaseAssessment assessment;
  assessment.file = file;
  assessment.date = date;
  assessment.library_version = std::string(version());
  assessment.dataset_version = dataset->version;
  assessment.dataset_hash = dataset->content_hash;
  detail::StableAnswer stable = detail::stable_section(file, dataset);
  detail::StoreAnswer dry = detail::dry_section(file, dataset);
  std::optional<detail::BoxAnswer> box;
  if (file.store.enclosure.given) box = detail::box_section(file, dataset, dry);
  detail::WashAnswer wash = detail::wash_section(file, dataset);
  const CaseSection solution =
      detail::solution_section(file, dataset, wash.log ? &*wash.log : nullptr);
  const detail::CaseEvidence evidence{file, stable, dry, box, wash, solution};
  detail::decide(evidence, assessment);
  assessment.next = detail::next_measurements(evidence, assessment.verdict);
  assessment.in_short = detail::in_short(evidence, assessment);
  assessment.front = detail::front_sheet(evidence, assessment, *dataset);
  assessment.not_known = detail::not_known(evidence);
  assessment.waters = std::move(stable.points);
  assessment.diagrams = std::move(stable.diagrams);
  assessment.sections = {stable.section, dry.section, wash.section, solution};
  if (box) assessment.sections.insert(assessment.sections.begin() + 2, box->section);
  if (auto minerals = detail::minerals_section(file, *dataset))
    assessment.sections.push_back(std::move(*minerals));
  assessment.cautions = detail::cautions_for(file);
  assessment.limits = detail::limits_of_the_method();
  add_provenance(*dataset, assessment);
  add_inputs(assessment, file);
  assessment.record = std::move(dry.record);
  assessment.store = std::move(dry.assessment);
  assessment.mixture = std::move(dry.mixture);
  if (box) assessment.box = std::move(box->review);
  if (box) assessment.box_exchange = box->exchange;
  assessment.bath_log = std::move(wash.log);
  assessment.bath_errors = wash.errors;
  assessment.bath_summary = std::move(wash.summary);
  assessment.bath_decision = std::move(wash.decision);
  assessment.bath_fit = std::move(wash.fit);
  return assessment;
}

}  // namespace aeruca
