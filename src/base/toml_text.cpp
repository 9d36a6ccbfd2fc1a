#include "base/toml_text.hpp"

#include <string>

#include "aeruca/errors.hpp"

namespace aeruca::detail {
namespace {

bool beyond_ascii(char c) {
  return static_cast<unsigned char>(c) >= 0x80;
}

class TomlScan {
 public:
  TomlScan(const std::string& file, std::string_view text) : file_(file), text_(text) {}

  void run() {
    if (text_.substr(0, 3) == "\xEF\xBB\xBF") at_ = 3;  // the mark some editors put first
    while (at_ < text_.size()) {
      const char c = text_[at_];
      if (c == '#')
        skip_comment();
      else if (c == '"' || c == '\'')
        skip_string(c);
      else if (beyond_ascii(c))
        fail(
            "a letter or sign beyond plain ASCII outside quotes, accepted is \"such text in "
            "quotes\"");
      else
        take(c);
    }
  }

 private:
  [[noreturn]] void fail(const char* problem) const { throw FileError(file_, line_, "", problem); }

  void step() {
    if (text_[at_] == '\n') ++line_;
    ++at_;
  }

  // A bracket opens a list behind an equals sign, and a table header elsewhere.
  void take(char c) {
    if (c == '\n' && open_.empty()) in_value_ = false;
    if (c == '[' && !in_value_) check_header();
    if (in_value_ && (c == '[' || c == '{')) open(c);
    if (in_value_ && (c == ']' || c == '}') && !open_.empty()) close(c);
    if (c == ',' && !open_.empty() && open_.back() == '=') open_.back() = '{';
    if (c == '=') begin_value();
    step();
  }

  void begin_value() {
    const bool named = open_.empty() ? !in_value_ : open_.back() == '{';
    if (!named) fail("a second equals sign, accepted is key = value");
    if (!open_.empty()) open_.back() = '=';
    in_value_ = true;
  }

  void open(char c) {
    if (!may_stand_before_value(before()))
      fail("a bracket within a word or number, accepted are [list] and {table}");
    open_ += c;
  }

  void close(char c) {
    if ((open_.back() == '[') != (c == ']'))
      fail("a bracket closes one of another kind, accepted are [list] and {table}");
    open_.pop_back();
  }

  void check_header() {
    if (text_.substr(at_, 2) == "[[") ++at_;
    std::size_t next = at_ + 1;
    while (next < text_.size() && (text_[next] == ' ' || text_[next] == '\t')) ++next;
    const char c = next < text_.size() ? text_[next] : ']';
    const bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
    if (!letter && c != '_' && c != '-' && c != '"' && c != '\'' && c != ']')
      fail("a table header without a name, accepted is [name] or [[name]]");
  }

  [[nodiscard]] char before() const { return at_ > 0 ? text_[at_ - 1] : '\n'; }

  static bool may_stand_before_value(char c) {
    return std::string_view(" \t\r\n=[,{\"'").find(c) != std::string_view::npos;
  }
  // The mark some editors put first is the only sign beyond ASCII that can stand there.
  [[nodiscard]] bool may_stand_before_quote(char c) const {
    return may_stand_before_value(c) || (c == '.' && !in_value_) || beyond_ascii(c);
  }

  // A backslash that ends its line joins it to the next letter.
  [[nodiscard]] char next_behind_blanks(std::size_t from) const {
    const std::size_t next = text_.find_first_not_of(" \t\r\n", from);
    return next < text_.size() ? text_[next] : '\n';
  }

  void skip_comment() {
    while (at_ < text_.size() && text_[at_] != '\n') ++at_;
  }
  void skip_string(char quote) {
    if (!may_stand_before_quote(before()))
      fail("a quote within a word or number, accepted is key = \"text\"");
    const std::string three(3, quote);
    const bool many_lines = text_.substr(at_, 3) == three;
    at_ += many_lines ? 3 : 1;
    while (at_ < text_.size()) {
      if (text_[at_] == '\\' && quote == '"') {
        if (beyond_ascii(next_behind_blanks(at_ + 1)))
          fail("a backslash before a letter it cannot stand before, accepted is a plain text");
        step();
      } else if (many_lines ? text_.substr(at_, 3) == three : text_[at_] == quote) {
        at_ += many_lines ? 3 : 1;
        return;
      } else if (!many_lines && text_[at_] == '\n') {
        return;  // not closed: the parser says so
      }
      if (at_ < text_.size()) step();
    }
  }

  const std::string& file_;
  std::string_view text_;
  std::size_t at_ = 0;
  long line_ = 1;
  bool in_value_ = false;
  // Brackets of the value that is being read; for the one of a table an equals sign from there on
  // until the value of a key has ended.
  std::string open_;
};

}  // namespace

void refuse_broken_toml(const std::string& file, std::string_view text) {
  TomlScan(file, text).run();
}

}  // namespace aeruca::detail
