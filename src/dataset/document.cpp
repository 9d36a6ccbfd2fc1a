#include "dataset/document.hpp"

#include <algorithm>

namespace aeruca::detail {
const Node* Node::get(std::string_view key) const {
  const auto found = std::find(keys.begin(), keys.end(), key);
  return found == keys.end() ? nullptr : &items[static_cast<std::size_t>(found - keys.begin())];
}

bool Node::is_list_of_tables() const {
  return kind == Kind::list && !items.empty() &&
         std::all_of(items.begin(), items.end(),
                     [](const Node& item) { return item.kind == Kind::table; });
}

}  // namespace aeruca::detail
