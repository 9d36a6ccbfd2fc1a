#include "aeruca/logger_files.hpp"

#include <algorithm>
#include <filesystem>
#include <set>

#include "aeruca/errors.hpp"
#include "aeruca/many_loggers.hpp"
#include "base/file_names.hpp"

namespace aeruca {
namespace {

std::vector<std::string> files_of(const std::string& name) {
  std::error_code ignored;
  if (std::filesystem::is_directory(name, ignored)) {
    std::vector<std::string> files = detail::files_in(name);
    if (files.empty())
      throw FileError(name, 0, "", "holds no file; accepted is a folder with logger files");
    return files;
  }
  if (std::filesystem::exists(name, ignored) || !detail::is_pattern(name)) return {name};
  std::vector<std::string> files = detail::files_like(name);
  if (files.empty())
    throw FileError(name, 0, "", "fits no file; accepted is a pattern such as logs/*.csv");
  return files;
}

// "a.csv, b.csv and 4 more"
std::string title_of(const std::vector<std::string>& names) {
  constexpr std::size_t kNamed = 3;
  std::string title;
  for (std::size_t i = 0; i < std::min(names.size(), kNamed); ++i)
    title += (i == 0 ? "" : ", ") + names[i];
  if (names.size() > kNamed) title += " and " + std::to_string(names.size() - kNamed) + " more";
  return title;
}

// The one file that proves an order of day and month that no other contradicts; null where there is
// none.
const LoggerRecord* prover_among(const std::vector<LoggerOutcome>& outcomes) {
  const LoggerRecord* found = nullptr;
  for (const LoggerOutcome& one : outcomes) {
    if (!one.record || one.record->date_order == DateOrder::from_file) continue;
    if (found != nullptr && found->date_order != one.record->date_order) return nullptr;
    if (found == nullptr) found = &*one.record;
  }
  return found;
}

void read_as_others_prove(std::vector<LoggerOutcome>& outcomes, LoggerReadOptions options,
                          int threads, const std::function<void()>& between) {
  const LoggerRecord* prover = prover_among(outcomes);
  if (prover == nullptr) return;
  std::vector<std::string> refused;
  for (const LoggerOutcome& one : outcomes) {
    if (!one.record) refused.push_back(one.path);
  }
  options.date_order = prover->date_order;
  const std::string how = "day and month are read as '" + prover->file + "' proves them";
  for (LoggerOutcome& again : read_loggers(refused, options, threads, between)) {
    if (!again.record) continue;
    again.record->read_as.push_back(how);
    const auto place =
        std::find_if(outcomes.begin(), outcomes.end(),
                     [&](const LoggerOutcome& one) { return one.path == again.path; });
    if (place != outcomes.end()) *place = std::move(again);
  }
}

}  // namespace

std::vector<std::string> find_logger_files(const std::vector<std::string>& names) {
  if (names.empty()) throw InputError("names", "none", "at least one file, folder or pattern");
  std::set<std::string> files;
  for (const std::string& name : names) {
    for (const std::string& file : files_of(name)) files.insert(file);
  }
  return {files.begin(), files.end()};
}

LoggerRecord read_logger_files(const std::vector<std::string>& names,
                               const LoggerReadOptions& options, int threads,
                               const std::function<void()>& between) {
  const std::vector<std::string> paths = find_logger_files(names);
  if (paths.size() == 1) return read_logger_csv(paths.front(), options);
  std::vector<LoggerOutcome> outcomes = read_loggers(paths, options, threads, between);
  read_as_others_prove(outcomes, options, threads, between);
  std::vector<LoggerRecord> records;
  std::vector<JoinedFile> refused;
  for (LoggerOutcome& one : outcomes) {
    if (one.record) {
      records.push_back(std::move(*one.record));
    } else {
      JoinedFile file;
      file.file = one.path;
      file.problem = one.problem;
      refused.push_back(std::move(file));
    }
  }
  if (records.empty()) {
    throw FileError(paths.front(), 0, "",
                    "none of the " + std::to_string(paths.size()) +
                        " files can be used; the first: " + refused.front().problem);
  }
  LoggerRecord record = join_records(std::move(records), options);
  record.files.insert(record.files.end(), refused.begin(), refused.end());
  record.file = title_of(names);
  return record;
}

}  // namespace aeruca
