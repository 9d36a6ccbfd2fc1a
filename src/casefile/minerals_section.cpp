#include "aeruca/errors.hpp"
#include "aeruca/minerals.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "casefile/sections.hpp"

namespace aeruca::detail {
namespace {

constexpr std::size_t kShown = 5;  // candidates named

// As the reader of case files names the tables of a list.
std::string key_of(const CaseFile& file, std::size_t index) {
  return file.observations.size() == 1 ? "observation.seen"
                                       : "observation[" + std::to_string(index + 1) + "].seen";
}

MineralIdentification identified(const CaseFile& file, std::size_t index, const Dataset& dataset) {
  const std::string key = key_of(file, index);
  try {
    return identify_mineral(dataset, file.observations[index].seen);
  } catch (const Error& problem) {
    std::vector<std::string> known;
    for (const FieldTest& test : dataset.field_tests)
      known.push_back(test.id + "= " + join(test.outcomes, ", "));
    throw file.fault(key, std::string(problem.what()) + "; accepted are " + join(known, "; "));
  }
}

std::string names_of(const std::vector<MineralCandidate>& candidates) {
  std::vector<std::string> names;
  for (const MineralCandidate& one : candidates) {
    if (names.size() == kShown) break;
    names.push_back(one.name);
  }
  std::string text = join(names, ", ");
  if (candidates.size() > kShown)
    text = say("minerals.and_more",
               {{"minerals", text}, {"count", std::to_string(candidates.size() - kShown)}});
  return text;
}

// What the leading candidates of each grain mean, each meaning once.
void add_meaning(CaseSection& section, const MineralIdentification& found, const Dataset& dataset) {
  if (found.candidates.empty()) return;
  const Mineral& mineral = dataset.mineral(found.candidates.front().name);
  add_new(section.remarks, {say("minerals.meaning", {{"group", mineral.group},
                                                     {"means", mineral.means},
                                                     {"does_not_mean", mineral.does_not_mean}})});
}

std::vector<std::string> row_of(const CaseObservation& observation,
                                const MineralIdentification& found) {
  std::string next = found.message;
  if (found.next) next = found.next->test + ": " + found.next->question;
  return {observation.date, join(observation.seen, ", "),
          found.candidates.empty() ? say("word.none") : names_of(found.candidates), next};
}

}  // namespace

std::optional<CaseSection> minerals_section(const CaseFile& file, const Dataset& dataset) {
  CaseSection section = section_of("minerals");
  CaseTable table{say("minerals.table"),
                  {say("report.column.date"), say("minerals.column.seen"),
                   say("minerals.column.may_be"), say("minerals.column.next")},
                  {},
                  say("minerals.table.note")};
  for (std::size_t i = 0; i < file.observations.size(); ++i) {
    if (file.observations[i].seen.empty()) continue;
    const MineralIdentification found = identified(file, i, dataset);
    table.rows.push_back(row_of(file.observations[i], found));
    section.findings.push_back(
        words_of("may_be_" + std::to_string(table.rows.size()),
                 say("label.minerals.may_be", {{"date", file.observations[i].date}}),
                 found.candidates.empty() ? found.message : names_of(found.candidates)));
    add_meaning(section, found, dataset);
    for (const std::string& caution : found.cautions) add_new(section.warnings, {caution});
  }
  if (table.rows.empty()) return std::nullopt;
  section.status = SectionStatus::answered;
  section.answer = say("minerals.activity");
  section.tables.push_back(std::move(table));
  return section;
}

}  // namespace aeruca::detail
