// Any bytes as a case file: our own error, or a case that can be assessed, printed and written as
// JSON.

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

#include "aeruca/assessment.hpp"
#include "aeruca/render.hpp"
#include "demand.hpp"

namespace {

void check(aeruca::CaseFile file) {
  file.store.log.clear();  // logs have harnesses of their own
  file.bath.log.clear();
  const aeruca::CaseAssessment assessment = aeruca::assess_case(file, aeruca::default_dataset());
  demand(assessment.sections.size() == 4);
  for (const aeruca::CaseSection& section : assessment.sections) demand(!section.answer.empty());
  demand(!aeruca::to_text(assessment, 60).empty());
  demand(aeruca::to_json(assessment).front() == '{');
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  return answer_or_refuse(
      data, size, [](std::string_view text) { check(aeruca::parse_case_file(text, "case.toml")); });
}
