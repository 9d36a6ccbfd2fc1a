// From TOML text to a document. The TOML library stays in this file.

#include <toml++/toml.h>

#include "aeruca/errors.hpp"
#include "base/toml_text.hpp"
#include "dataset/document.hpp"

namespace aeruca::detail {
namespace {

class Converter {
 public:
  explicit Converter(Document& document) : document_(document) {}

  Node node(const toml::node& from) {
    Node to;
    to.line = static_cast<long>(from.source().begin.line);
    if (const auto* text = from.as_string()) {
      to.kind = Node::Kind::text;
      to.text = keep(text->get());
    } else if (from.is_number()) {
      to.kind = Node::Kind::number;
      to.number = *from.value<double>();
    } else if (const auto* flag = from.as_boolean()) {
      to.kind = Node::Kind::flag;
      to.number = flag->get() ? 1 : 0;
    } else if (const auto* list = from.as_array()) {
      to.kind = Node::Kind::list;
      for (const toml::node& item : *list) to.items.push_back(node(item));
    } else if (const auto* table = from.as_table()) {
      to.kind = Node::Kind::table;
      for (const auto& [key, value] : *table) {
        to.keys.push_back(keep(std::string(key.str())));
        to.items.push_back(node(value));
      }
    }
    return to;
  }

 private:
  std::string_view keep(const std::string& text) {
    document_.texts.push_back(std::make_unique<const std::string>(text));
    return *document_.texts.back();
  }

  Document& document_;
};

}  // namespace

Document parse_toml_document(const std::string& file, std::string_view text) {
  refuse_broken_toml(file, text);
  try {
    Document document;
    document.top = Converter(document).node(toml::parse(text, file));
    return document;
  } catch (const toml::parse_error& problem) {
    throw FileError(file, static_cast<long>(problem.source().begin.line), "",
                    "this is not TOML: " + std::string(problem.description()));
  }
}

}  // namespace aeruca::detail
