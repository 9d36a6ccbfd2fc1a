#include "render/csv.hpp"

namespace aeruca::detail {

std::string csv_cell(std::string_view text) {
  if (text.find_first_of(",\"\n\r") == std::string_view::npos) return std::string(text);
  std::string cell = "\"";
  for (const char letter : text) {
    if (letter == '"') cell += '"';
    cell += letter;
  }
  return cell + '"';
}

}  // namespace aeruca::detail
