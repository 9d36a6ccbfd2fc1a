#include "render/page.hpp"

#include "base/text.hpp"
#include "base/text_table.hpp"

namespace aeruca::detail {

void Page::say(std::string_view text, std::string_view first) {
  text_ += paragraph(text, width_, first);
}

void Page::heading(std::string_view text) {
  line();
  line(text);
  line(std::string(characters(text), '-'));
}

void Page::list(std::string_view title, const std::vector<std::string>& items,
                std::string_view bullet) {
  if (items.empty()) return;
  if (!title.empty()) line(title);
  for (const std::string& item : items) say(item, bullet);
}

void Page::table(const CaseTable& table) {
  line();
  say(table.title, "  ");
  text_ += table_text(table.columns, table.rows, width_, "  ");
  if (!table.note.empty()) say(table.note, "  ");
}

}  // namespace aeruca::detail
