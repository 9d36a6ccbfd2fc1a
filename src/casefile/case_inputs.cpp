#include "casefile/case_inputs.hpp"

#include <filesystem>

#include "aeruca/errors.hpp"
#include "aeruca/logger_files.hpp"

namespace aeruca::detail {
namespace {

std::vector<std::string> files_behind(const CaseFile& file, const std::string& log) {
  const std::string place = file.resolve(log);
  std::vector<std::string> found;
  try {
    found = find_logger_files({place});
  } catch (const FileError&) {
  }
  if (found.empty() || found == std::vector<std::string>{place}) return {log};
  if (place == log) return found;
  const std::filesystem::path folder = std::filesystem::path(file.path).parent_path();
  for (std::string& path : found)  // as the case would write it
    path = std::filesystem::path(path).lexically_relative(folder).string();
  return found;
}

}  // namespace

std::vector<InputFile> case_inputs(const CaseFile& file) {
  std::vector<InputFile> inputs{{"case file", file.path, file.content_hash}};
  const auto add = [&](const char* role, const std::string& path) {
    if (!path.empty()) inputs.push_back({role, path, ""});
  };
  for (const std::string& log : file.store.log) {
    for (const std::string& path : files_behind(file, log)) add("store record", path);
  }
  add("second record", file.store.beside);
  add("outside record", file.store.enclosure.outside_log);
  add("decay test", file.store.enclosure.decay_test);
  add("salt analysis", file.store.salt_analysis);
  add("bath log", file.bath.log);
  return inputs;
}

}  // namespace aeruca::detail
