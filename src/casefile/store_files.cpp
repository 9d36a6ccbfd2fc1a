#include <algorithm>
#include <filesystem>

#include "aeruca/logger_files.hpp"
#include "base/file_names.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "casefile/sections.hpp"
#include "store/file_meeting_text.hpp"

namespace aeruca::detail {

std::vector<std::string> existing_logs(const CaseFile& file) {
  std::vector<std::string> places;
  for (const std::string& log : file.store.log) {
    const std::string place = file.resolve(log);
    std::error_code ignored;
    const bool several = std::filesystem::is_directory(place, ignored) || is_pattern(log);
    places.push_back(several ? place : existing_log(file, "store.log", log));
  }
  return places;
}

void add_files(CaseSection& section, const LoggerRecord& record) {
  if (record.files.empty()) return;
  std::size_t used = 0;
  for (const JoinedFile& one : record.files) {
    used += one.problem.empty() ? 1U : 0U;
    if (!one.problem.empty())
      add_new(section.warnings,
              as_sentences({say("page.store.not_used", {{"problem", one.problem}})}));
  }
  section.remarks.emplace_back(
      say("dry.remark.joined",
          {{"used", std::to_string(used)}, {"files", std::to_string(record.files.size())}}));
  constexpr std::size_t kShown = 10;
  for (std::size_t i = 0; i < std::min(kShown, record.meetings.size()); ++i)
    section.remarks.emplace_back(
        say("dry.remark.meeting", {{"meeting", file_meeting_text(record.meetings[i])}}));
}

}  // namespace aeruca::detail
