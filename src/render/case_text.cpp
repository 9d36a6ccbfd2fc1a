#include <algorithm>

#include "aeruca/render.hpp"
#include "base/capitals.hpp"
#include "base/localised.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"
#include "base/words.hpp"
#include "casefile/sections.hpp"
#include "render/page.hpp"

namespace aeruca {
namespace {

using detail::Page;
using detail::say;
using detail::status_word;
using detail::verdict_word;

constexpr std::size_t kLabelWidth = 42;

void print_finding(Page& page, const CaseFinding& finding) {
  std::string first = "  " + finding.label;
  const std::size_t length = detail::characters(first);
  if (length < kLabelWidth) first.append(kLabelWidth - length, ' ');
  page.say(detail::localised(finding.text), first + "  ");
  if (!finding.note.empty()) page.say(finding.note, "      ");
}

void print_section(Page& page, const CaseSection& section, std::size_t number) {
  page.heading(std::to_string(number) + "  " + section.title);
  page.say(section.question);
  page.say(section.answer, section.status == SectionStatus::answered
                               ? "> "
                               : "> [" + status_word(section.status) + "] ");
  if (!section.findings.empty()) page.line();
  for (const CaseFinding& finding : section.findings) print_finding(page, finding);
  for (const CaseTable& table : section.tables) page.table(table);
  if (!section.remarks.empty() || !section.warnings.empty() || !section.missing.empty())
    page.line();
  page.list("", section.remarks, "  - ");
  page.list("", section.warnings, "  ! ");
  page.list(say("page.missing"), section.missing, "    - ");
}

std::string verdict_line(const CaseAssessment& assessment) {
  const std::string verdict = detail::capitals(verdict_word(assessment.verdict));
  return std::isnan(assessment.odds.dormant) ? verdict
                                             : say("page.verdict", {{"verdict", verdict}});
}

void print_decision(Page& page, const CaseAssessment& assessment) {
  page.heading(say("page.heading.decision"));
  page.say(verdict_line(assessment), say("page.in_short"));
  if (!std::isnan(assessment.probability)) {
    page.say(
        say("page.probability", {{"probability", detail::probability_text(assessment.probability)},
                                 {"of", assessment.probability_of}}),
        "  ");
  }
  if (!std::isnan(assessment.odds.dormant)) {
    page.say(say("page.chances.text",
                 {{"dormant", detail::probability_text(assessment.odds.dormant)},
                  {"borderline", detail::probability_text(assessment.odds.borderline)},
                  {"active", detail::probability_text(assessment.odds.active)},
                  {"rule", assessment.odds.rule}}),
             say("page.chances"));
  }
  page.say(assessment.reason, "  ");
  page.list("", assessment.in_short, "  - ");
}

std::string by_basis(const CaseAssessment& assessment, Basis basis) {
  return std::to_string(
      std::count_if(assessment.constants.begin(), assessment.constants.end(),
                    [basis](const Figure& figure) { return figure.basis == basis; }));
}

void print_constants(Page& page, const CaseAssessment& assessment) {
  page.heading(say("page.heading.constants"));
  page.say(say("page.data_set", {{"version", assessment.dataset_version},
                                 {"hash", assessment.dataset_hash},
                                 {"figures", std::to_string(assessment.constants.size())},
                                 {"looked_up", by_basis(assessment, Basis::looked_up)},
                                 {"recalled", by_basis(assessment, Basis::memory)},
                                 {"derived", by_basis(assessment, Basis::derived)},
                                 {"estimated", by_basis(assessment, Basis::estimated)}}));
  std::vector<std::string> keys;
  for (const Source& source : assessment.sources) keys.push_back(source.key);
  if (!keys.empty()) page.say(detail::join(keys, ", "), say("page.sources"));
}

void print_inputs(Page& page, const CaseAssessment& assessment) {
  page.heading(say("page.heading.inputs"));
  for (const InputFile& input : assessment.inputs) {
    page.say(input.path + (input.content_hash.empty()
                               ? say("page.input.not_read")
                               : say("page.input.content", {{"hash", input.content_hash}})),
             "  " + detail::choice_word("input", input.role) + ": ");
  }
  page.say("aeruca " + assessment.library_version, say("page.library"));
}

}  // namespace

std::string to_text(const CaseAssessment& assessment, int width) {
  if (width < 60 || width > 200) throw InputError("width", width, "60 to 200 columns");
  Page page(static_cast<std::size_t>(width));
  detail::print_object(page, assessment);
  detail::print_front(page, assessment.front);
  print_decision(page, assessment);
  for (std::size_t i = 0; i < assessment.sections.size(); ++i) {
    print_section(page, assessment.sections[i], i + 1);
  }
  if (!assessment.not_known.empty()) page.heading(say("page.heading.not_known"));
  page.list("", assessment.not_known, "  - ");
  if (!assessment.next.empty()) page.heading(say("page.heading.next"));
  for (std::size_t i = 0; i < assessment.next.size(); ++i) {
    page.say(say("page.with_reason",
                 {{"what", assessment.next[i].what}, {"why", assessment.next[i].why}}),
             "  " + std::to_string(i + 1) + ". ");
  }
  if (!assessment.cautions.empty()) page.heading(say("page.heading.cautions"));
  for (const Caution& caution : assessment.cautions) {
    page.say(say("page.with_reason", {{"what", caution.subject}, {"why", caution.text}}), "  - ");
  }
  if (!assessment.limits.empty()) page.heading(say("page.heading.limits"));
  for (std::size_t i = 0; i < assessment.limits.size(); ++i) {
    page.say(assessment.limits[i], (i < 9 ? "   " : "  ") + std::to_string(i + 1) + ". ");
  }
  print_constants(page, assessment);
  print_inputs(page, assessment);
  return std::move(page).text();
}

}  // namespace aeruca
