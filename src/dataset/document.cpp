#include "dataset/document.hpp"

#include <algorithm>
#include <cstdint>
#include <cstring>

namespace aeruca::detail {
namespace {

class Packer {
 public:
  void document(const Node& top) {
    Node head = top;
    head.items.clear();
    head.keys.clear();
    for (std::size_t i = 0; i < top.items.size(); ++i) {
      if (top.items[i].is_list_of_tables()) continue;
      head.items.push_back(top.items[i]);
      head.keys.push_back(top.keys[i]);
    }
    record("", head);
    for (std::size_t i = 0; i < top.items.size(); ++i) {
      if (!top.items[i].is_list_of_tables()) continue;
      for (const Node& table : top.items[i].items) record(top.keys[i], table);
    }
  }

  [[nodiscard]] std::string bytes() && { return std::move(bytes_); }

 private:
  void record(std::string_view kind, const Node& table) {
    text(kind);
    node(table);
  }

  void node(const Node& from) {
    bytes_ += static_cast<char>(from.kind);
    raw(static_cast<std::uint32_t>(from.line));
    switch (from.kind) {
      case Node::Kind::text:
        text(from.text);
        break;
      case Node::Kind::number:
      case Node::Kind::flag:
        raw(from.number);
        break;
      case Node::Kind::list:
      case Node::Kind::table:
        raw(static_cast<std::uint32_t>(from.items.size()));
        for (std::size_t i = 0; i < from.items.size(); ++i) {
          if (from.kind == Node::Kind::table) text(from.keys[i]);
          node(from.items[i]);
        }
        break;
      case Node::Kind::other:
        break;
    }
  }

  void text(std::string_view value) {
    raw(static_cast<std::uint32_t>(value.size()));
    bytes_ += value;
  }

  template <class Value>
  void raw(Value value) {
    bytes_.append(reinterpret_cast<const char*>(&value), sizeof value);
  }

  std::string bytes_;
};

class Unpacker {
 public:
  explicit Unpacker(std::string_view bytes) : bytes_(bytes) {}

  [[nodiscard]] bool at_end() const { return at_ == bytes_.size(); }

  std::string_view text() {
    const auto size = raw<std::uint32_t>();
    at_ += size;
    return bytes_.substr(at_ - size, size);
  }

  void node(Node& to) {
    to.kind = static_cast<Node::Kind>(bytes_[at_++]);
    to.line = raw<std::uint32_t>();
    to.items.clear();
    to.keys.clear();
    switch (to.kind) {
      case Node::Kind::text:
        to.text = text();
        break;
      case Node::Kind::number:
      case Node::Kind::flag:
        to.number = raw<double>();
        break;
      case Node::Kind::list:
      case Node::Kind::table: {
        to.items.resize(raw<std::uint32_t>());
        for (Node& item : to.items) {
          if (to.kind == Node::Kind::table) to.keys.push_back(text());
          node(item);
        }
        break;
      }
      case Node::Kind::other:
        break;
    }
  }

 private:
  template <class Value>
  Value raw() {
    Value value;
    std::memcpy(&value, bytes_.data() + at_, sizeof value);
    at_ += sizeof value;
    return value;
  }

  std::string_view bytes_;
  std::size_t at_ = 0;
};

}  // namespace

const Node* Node::get(std::string_view key) const {
  const auto found = std::find(keys.begin(), keys.end(), key);
  return found == keys.end() ? nullptr : &items[static_cast<std::size_t>(found - keys.begin())];
}

bool Node::is_list_of_tables() const {
  return kind == Kind::list && !items.empty() &&
         std::all_of(items.begin(), items.end(),
                     [](const Node& item) { return item.kind == Kind::table; });
}

std::string pack(const Document& document) {
  Packer packer;
  packer.document(document.top);
  return std::move(packer).bytes();
}

void visit_packed(std::string_view bytes, const RecordVisitor& visit) {
  Unpacker unpacker(bytes);
  Node table;
  while (!unpacker.at_end()) {
    const std::string_view kind = unpacker.text();
    unpacker.node(table);
    visit(kind, table);
  }
}

}  // namespace aeruca::detail
