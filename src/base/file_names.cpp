#include "base/file_names.hpp"

#include <algorithm>
#include <filesystem>

#include "aeruca/errors.hpp"
#include "base/text.hpp"

namespace aeruca::detail {
namespace {

namespace fs = std::filesystem;

// Bytes of the letter that a text begins with; 1 where it is not UTF-8.
std::size_t letter_size(std::string_view text) {
  const auto first = static_cast<unsigned char>(text[0]);
  const std::size_t size = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : first >= 0xC2 ? 2 : 1;
  return std::min(size, text.size());
}

// A set such as [a-z_] at the beginning of a pattern: its length, 0 when it is not closed, and
// whether it holds a letter.
struct LetterSet {
  std::size_t size = 0;
  bool holds = false;
};

LetterSet letter_set(std::string_view pattern, std::string_view letter) {
  const bool inverted = pattern.size() > 1 && pattern[1] == '!';
  const std::size_t first = inverted ? 2 : 1;
  const std::size_t end = pattern.find(']', first + 1);  // a ] at the first place is a letter
  if (end == std::string_view::npos) return {};
  std::string_view set = pattern.substr(first, end - first);
  bool found = false;
  while (!set.empty()) {
    const std::string_view low = set.substr(0, letter_size(set));
    set.remove_prefix(low.size());
    std::string_view high = low;
    if (set.size() > 1 && set[0] == '-') {
      set.remove_prefix(1);
      high = set.substr(0, letter_size(set));
      set.remove_prefix(high.size());
    }
    found = found || (low.size() == letter.size() && letter >= low && letter <= high);
  }
  return {end + 1, found != inverted};
}

bool fits_from(std::string_view name, std::string_view pattern) {
  // Where the last * stands, and how much of the name it has taken: only it can take more.
  std::string_view after_star;
  std::string_view taken_to;
  bool star = false;
  while (!name.empty() || !pattern.empty()) {
    if (!pattern.empty() && pattern[0] == '*') {
      pattern.remove_prefix(1);
      after_star = pattern;
      taken_to = name;
      star = true;
      continue;
    }
    if (!name.empty() && !pattern.empty()) {
      const std::string_view letter = name.substr(0, letter_size(name));
      const LetterSet set = pattern[0] == '[' ? letter_set(pattern, letter) : LetterSet{};
      const std::string_view wanted = pattern.substr(0, letter_size(pattern));
      if (set.size > 0 ? set.holds : (wanted == "?" || wanted == letter)) {
        name.remove_prefix(letter.size());
        pattern.remove_prefix(set.size > 0 ? set.size : wanted.size());
        continue;
      }
    }
    if (!star || taken_to.empty()) return false;
    taken_to.remove_prefix(letter_size(taken_to));
    name = taken_to;
    pattern = after_star;
  }
  return true;
}

bool is_hidden(const fs::path& path) {
  return path.filename().string().starts_with('.');
}

std::vector<fs::path> entries_of(const fs::path& folder) {
  std::vector<fs::path> entries;
  std::error_code problem;
  fs::directory_iterator at(folder.empty() ? fs::path(".") : folder, problem);
  for (; !problem && at != fs::directory_iterator(); at.increment(problem))
    entries.push_back(folder / at->path().filename());
  if (problem)
    throw FileError(folder.string(), 0, "", "cannot be read; a readable folder is wanted");
  std::sort(entries.begin(), entries.end());
  return entries;
}

bool is_folder(const fs::path& path) {
  std::error_code ignored;
  return fs::is_directory(path.empty() ? fs::path(".") : path, ignored);
}

bool is_file(const fs::path& path) {
  std::error_code ignored;
  return fs::is_regular_file(path, ignored);
}

using Parts = std::vector<std::string>;

void look(const fs::path& folder, Parts::const_iterator part, Parts::const_iterator end,
          std::vector<std::string>& found) {
  if (!is_folder(folder)) return;
  const bool last = part + 1 == end;
  const fs::path path = folder / *part;
  std::error_code unseen;
  if (!is_pattern(*part) || fs::exists(path, unseen)) {
    if (!last) return look(path, part + 1, end, found);
    if (is_file(path)) found.push_back(path.string());
    return;
  }
  const bool any_depth = *part == "**";
  if (any_depth && !last) look(folder, part + 1, end, found);
  for (const fs::path& entry : entries_of(folder)) {
    if (any_depth) {
      std::error_code ignored;
      // A link to a folder above would lead round and round.
      if (!is_hidden(entry) && is_folder(entry) && !fs::is_symlink(entry, ignored))
        look(entry, part, end, found);
      if (last && is_file(entry) && !is_hidden(entry)) found.push_back(entry.string());
    } else if (fits(entry.filename().string(), *part)) {
      if (!last) look(entry, part + 1, end, found);
      if (last && is_file(entry)) found.push_back(entry.string());
    }
  }
}

}  // namespace

bool is_pattern(std::string_view text) {
  return text.find_first_of("*?[") != std::string_view::npos;
}

bool fits(std::string_view name, std::string_view pattern) {
  if (name.starts_with('.') && !pattern.starts_with('.')) return false;
  return fits_from(name, pattern);
}

std::vector<std::string> files_in(const std::string& folder) {
  std::vector<std::string> files;
  for (const fs::path& entry : entries_of(folder)) {
    if (is_file(entry) && !is_hidden(entry)) files.push_back(entry.string());
  }
  return files;
}

std::vector<std::string> files_like(const std::string& pattern) {
  const fs::path path(pattern);
  Parts parts;
  for (const fs::path& part : path.relative_path()) {
    if (!part.empty()) parts.push_back(part.string());
  }
  std::vector<std::string> found;
  if (!parts.empty()) look(path.root_path(), parts.begin(), parts.end(), found);
  std::sort(found.begin(), found.end());
  found.erase(std::unique(found.begin(), found.end()), found.end());
  return found;
}

}  // namespace aeruca::detail
