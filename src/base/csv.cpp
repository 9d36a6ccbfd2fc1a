#include "base/csv.hpp"

#include <algorithm>

namespace aeruca::detail {

CsvReader::CsvReader(std::string_view text) {
  go_on(text);
  if (rest_.starts_with("\xEF\xBB\xBF")) rest_.remove_prefix(3);
}

void CsvReader::go_on(std::string_view more) {
  rest_ = more;
  any_quotes_ = more.find('"') != std::string_view::npos;
}

bool CsvReader::next_line() {
  if (rest_.empty()) return false;
  const std::size_t end = rest_.find('\n');
  line_ = rest_.substr(0, end);
  rest_.remove_prefix(end == std::string_view::npos ? rest_.size() : end + 1);
  while (!line_.empty() && line_.back() == '\r') line_.remove_suffix(1);
  ++number_;
  return true;
}

bool CsvReader::next_row() {
  while (next_line()) {
    const std::string_view text = without_blanks(line_);
    if (!text.empty() && text.front() != '#') return true;
  }
  return false;
}

std::size_t CsvReader::lines_left() const {
  return static_cast<std::size_t>(std::count(rest_.begin(), rest_.end(), '\n')) + 1;
}

std::optional<std::vector<std::string>> CsvReader::fields(char separator) {
  std::vector<std::string> all;
  const auto keep = [&all](std::size_t, std::string_view field) { all.emplace_back(field); };
  if (!each_field(separator, keep)) return std::nullopt;
  return all;
}

bool CsvReader::unquote(char separator) {
  unquoted_.assign(1, {});
  bool quoted = false;
  for (std::size_t i = 0; i < line_.size(); ++i) {
    const char c = line_[i];
    if (c == '"' && quoted && i + 1 < line_.size() && line_[i + 1] == '"') {
      unquoted_.back() += line_[++i];
    } else if (c == '"') {
      quoted = !quoted;
    } else if (c == separator && !quoted) {
      unquoted_.emplace_back();
    } else {
      unquoted_.back() += c;
    }
  }
  for (std::string& field : unquoted_) field = std::string(without_blanks(field));
  return !quoted;
}

}  // namespace aeruca::detail
