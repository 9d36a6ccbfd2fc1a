#include "aeruca/assessment.hpp"

#include <algorithm>

#include "base/text.hpp"

namespace aeruca {

std::string_view to_string(SectionStatus status) {
  switch (status) {
    case SectionStatus::answered:
      return "answered";
    case SectionStatus::partly:
      return "partly";
    case SectionStatus::missing:
      return "missing";
    case SectionStatus::refused:
      return "refused";
    case SectionStatus::no_answer:
      return "no answer";
    case SectionStatus::bad_input:
      return "bad input";
  }
  return "unknown";
}

const CaseFinding& CaseSection::finding(std::string_view key) const {
  std::vector<std::string> keys;
  for (const CaseFinding& finding : findings) {
    if (finding.key == key) return finding;
    keys.push_back(finding.key);
  }
  throw UnknownName("finding", std::string(key), detail::nearest_name(key, keys));
}

bool CaseAssessment::complete() const {
  return std::none_of(sections.begin(), sections.end(), [](const CaseSection& section) {
    return section.status == SectionStatus::no_answer || section.status == SectionStatus::bad_input;
  });
}

const CaseSection& CaseAssessment::section(std::string_view id) const {
  std::vector<std::string> ids;
  for (const CaseSection& section : sections) {
    if (section.id == id) return section;
    ids.push_back(section.id);
  }
  throw UnknownName("section", std::string(id), detail::nearest_name(id, ids));
}

}  // namespace aeruca
