#pragma once

// A page of plain text being written: headings, rules, paragraphs and tables in a fixed width.

#include <string>
#include <string_view>
#include <vector>

#include "aeruca/assessment.hpp"

namespace aeruca::detail {

class Page {
 public:
  explicit Page(std::size_t width) : width_(width) {}

  void line(std::string_view text = "") { text_ += std::string(text) + '\n'; }
  void rule(char sign) { text_ += std::string(width_, sign) + '\n'; }
  /// A paragraph; `first` stands before its first line, and the others are set in as far.
  void say(std::string_view text, std::string_view first = "");
  void heading(std::string_view text);
  void list(std::string_view title, const std::vector<std::string>& items, std::string_view bullet);
  void table(const CaseTable& table);
  [[nodiscard]] std::string text() && { return std::move(text_); }

 private:
  std::size_t width_;
  std::string text_;
};

/// What object this is, of which day and from which file.
void print_object(Page& page, const CaseAssessment& assessment);
/// Its front sheet.
void print_front(Page& page, const FrontSheet& sheet);

}  // namespace aeruca::detail
