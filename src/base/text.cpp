#include "base/text.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <cerrno>
#include <charconv>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <numeric>

#include "aeruca/errors.hpp"

namespace aeruca::detail {
namespace {

char lower(char c) {
  return static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
}

std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t change = diagonal + (lower(a[i - 1]) == lower(b[j - 1]) ? 0U : 1U);
      diagonal = row[j];
      row[j] = std::min({row[j] + 1, row[j - 1] + 1, change});
    }
  }
  return row[b.size()];
}

// Shorter ones stand in too many names by accident.
constexpr std::size_t kLeastPart = 3;

bool one_holds_the_other(std::string_view a, std::string_view b) {
  if (a.size() < b.size()) std::swap(a, b);
  const auto same = [](char x, char y) { return lower(x) == lower(y); };
  return b.size() >= kLeastPart &&
         std::search(a.begin(), a.end(), b.begin(), b.end(), same) != a.end();
}

}  // namespace

std::string format_number(double value, int digits) {
  if (std::isnan(value)) return "not known";
  std::array<char, 64> buffer{};
  std::snprintf(buffer.data(), buffer.size(), "%.*g", digits, value);
  return buffer.data();
}

std::optional<double> parse_number(std::string_view text, bool comma) {
  std::string copy(trim(text));
  if (comma) {
    if (copy.find('.') != std::string::npos) return std::nullopt;
    std::replace(copy.begin(), copy.end(), ',', '.');
  }
  std::string_view digits = copy;
  if (digits.starts_with("+-")) return std::nullopt;
  if (digits.starts_with('+')) digits.remove_prefix(1);
  double value = 0;
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  if (error != std::errc{} || end != digits.data() + digits.size() || !std::isfinite(value)) {
    return std::nullopt;
  }
  return value;
}

std::string nearest_name(std::string_view name, std::span<const std::string> candidates) {
  std::string best;
  bool best_holds = false;
  std::size_t best_distance = std::max<std::size_t>(2, name.size() / 2) + 1;
  for (const std::string& candidate : candidates) {
    const bool holds = one_holds_the_other(name, candidate);
    const std::size_t distance = edit_distance(name, candidate);
    const bool better = holds == best_holds ? distance < best_distance : holds;
    if (!better) continue;
    best_holds = holds;
    best_distance = distance;
    best = candidate;
  }
  return best;
}

std::string_view trim(std::string_view text) {
  const auto first = text.find_first_not_of(" \t\r\n");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1);
}

std::vector<std::string_view> split(std::string_view text, char separator) {
  std::vector<std::string_view> parts;
  std::size_t start = 0;
  for (std::size_t end = text.find(separator); end != std::string_view::npos;
       end = text.find(separator, start)) {
    parts.push_back(text.substr(start, end - start));
    start = end + 1;
  }
  parts.push_back(text.substr(start));
  return parts;
}

std::string join(std::span<const std::string> parts, std::string_view separator) {
  std::string text;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (i > 0) text += separator;
    text += parts[i];
  }
  return text;
}

// A pipe or a device may never end, and reading a directory says nothing of use.
void refuse_other_than_file(const std::string& path) {
  std::error_code problem;
  const auto status = std::filesystem::status(path, problem);
  if (std::filesystem::is_directory(status))
    throw FileError(path, 0, "", "is a directory; a file is wanted");
  if (std::filesystem::exists(status) && !std::filesystem::is_regular_file(status)) {
    throw FileError(path, 0, "", "is a pipe or a device; a file is wanted");
  }
}

std::string read_file(const std::string& path, std::size_t limit) {
  refuse_other_than_file(path);
  std::ifstream stream(path, std::ios::binary);
  if (!stream) throw FileError(path, 0, "", "cannot be opened; a readable file is wanted");
  std::string text;
  std::array<char, 1 << 16> buffer{};
  while (stream.read(buffer.data(), buffer.size()) || stream.gcount() > 0) {
    text.append(buffer.data(), static_cast<std::size_t>(stream.gcount()));
    if (text.size() > limit) {
      throw FileError(path, 0, "",
                      "is longer than the accepted " + std::to_string(limit) + " bytes");
    }
  }
  // A fault of the disk or the network is no end of the file.
  if (stream.bad())
    throw FileError(path, 0, "", "cannot be read to its end; a readable file is wanted");
  if (text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF")) {
    throw FileError(path, 0, "", "the file is UTF-16; save it as UTF-8");
  }
  return text;
}

void create_file(const std::string& path, std::string_view text) {
  errno = 0;
  std::FILE* file = std::fopen(path.c_str(), "wbx");  // x: fails when anything of that name exists
  if (file == nullptr) {
    throw FileError(path, 0, "",
                    errno == EEXIST
                        ? "exists already and is never overwritten; accepted is a new file name"
                        : "cannot be written; a writable place is wanted");
  }
  const bool written = std::fwrite(text.data(), 1, text.size(), file) == text.size();
  const bool closed = std::fclose(file) == 0;
  if (!written || !closed) {
    std::remove(path.c_str());  // ours: it was created above
    throw FileError(path, 0, "", "cannot be written whole; a place with room is wanted");
  }
}

void replace_file(const std::string& path, std::string_view text) {
  std::error_code problem;
  if (std::filesystem::exists(path, problem)) refuse_other_than_file(path);
  std::string fresh;
  // Beside it, so that the change of name is one step.
  for (int k = 0; fresh.empty() || std::filesystem::exists(fresh, problem); ++k)
    fresh = path + ".new" + std::to_string(k);
  try {
    create_file(fresh, text);
  } catch (const FileError& refused) {
    throw FileError(path, 0, "", refused.problem);
  }
  std::filesystem::rename(fresh, path, problem);
  if (problem) {
    std::remove(fresh.c_str());
    throw FileError(path, 0, "", "cannot be written; a writable place is wanted");
  }
}

}  // namespace aeruca::detail
