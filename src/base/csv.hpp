#pragma once

// Tables in text: lines with their numbers, fields with or without quotes. Made to be fast, for a
// logger writes a line a minute for years: fields are views that live until the next line.

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace aeruca::detail {

/// Steps through a text line by line and cuts the line it stands on into fields.
class CsvReader {
 public:
  /// A byte order mark at the front is passed over. `text` must outlive the reader.
  explicit CsvReader(std::string_view text);

  /// Steps to the next line, blank or not; false at the end.
  bool next_line();
  /// Steps to the next line that is neither blank nor begins with '#'; false at the end.
  bool next_row();

  /// The text goes on with `more`: a long file comes in pieces that end where a line does. What was
  /// left of the piece before is passed over.
  void go_on(std::string_view more);
  /// What follows the line that the reader stands on.
  [[nodiscard]] std::string_view rest() const { return rest_; }
  /// Passes over whole lines that somebody else has read.
  void pass_over(std::size_t bytes, long lines) {
    rest_.remove_prefix(bytes);
    number_ += lines;
  }

  /// The line without its end (LF or CR LF).
  [[nodiscard]] std::string_view line() const { return line_; }
  /// Counted from 1.
  [[nodiscard]] long number() const { return number_; }
  /// Most lines that can still come.
  [[nodiscard]] std::size_t lines_left() const;

  /// take(column, field) for every field of the line, blanks around it taken off; how many there
  /// are. Between double quotes the separator is text, and "" is one quote. Empty, and nothing
  /// taken, when a quote is not closed.
  template <class Take>
  std::optional<std::size_t> each_field(char separator, Take&& take) {
    if (!has_quotes()) return each_plain_field(line_, separator, take);
    if (!unquote(separator)) return std::nullopt;
    for (std::size_t i = 0; i < unquoted_.size(); ++i) take(i, std::string_view(unquoted_[i]));
    return unquoted_.size();
  }

  /// The fields of the line as text of their own; empty when a quote is not closed.
  std::optional<std::vector<std::string>> fields(char separator);

  /// Whether the line holds a double quote.
  [[nodiscard]] bool has_quotes() const {
    return any_quotes_ && line_.find('"') != std::string_view::npos;
  }

 private:
  static std::string_view without_blanks(std::string_view text) {
    while (!text.empty() && (text.front() == ' ' || text.front() == '\t')) text.remove_prefix(1);
    while (!text.empty() && (text.back() == ' ' || text.back() == '\t')) text.remove_suffix(1);
    return text;
  }

  template <class Take>
  static std::size_t each_plain_field(std::string_view line, char separator, Take& take) {
    std::size_t column = 0;
    std::size_t start = 0;
    for (std::size_t i = 0; i <= line.size(); ++i) {
      if (i < line.size() && line[i] != separator) continue;
      take(column++, without_blanks(line.substr(start, i - start)));
      start = i + 1;
    }
    return column;
  }

  bool unquote(char separator);

  std::string_view rest_;
  std::string_view line_;
  long number_ = 0;
  bool any_quotes_ = false;
  std::vector<std::string> unquoted_;
};

}  // namespace aeruca::detail
