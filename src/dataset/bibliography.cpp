#include <algorithm>
#include <cctype>
#include <utility>

#include "base/text.hpp"
#include "dataset/records.hpp"

// The subset of BibTeX used in sources.bib:  @type{key, field = {text}, field = "text", field =
// 1984} Comments are whatever stands between entries.

namespace aeruca::detail {
namespace {

class BibliographyReader {
 public:
  BibliographyReader(std::string file, std::string_view text)
      : file_(std::move(file)), text_(text) {}

  // False at the end of the file.
  bool next(Source& source, long& line) {
    while (at_ < text_.size() && text_[at_] != '@') step();
    if (at_ >= text_.size()) return false;
    line = line_;
    step();
    type_ = word();
    expect('{');
    source = {};
    source.key = word();
    if (source.key.empty())
      fail("", "an entry without a key; accepted is @type{key, field = {text}}");
    fields_.clear();
    while (take(',')) {
      const std::string name = word();
      if (name.empty()) break;  // a comma before the closing brace
      expect('=');
      fields_[name] = value(name);
    }
    expect('}');
    source.doi = fields_["doi"];
    source.text = one_line();
    return true;
  }

 private:
  [[noreturn]] void fail(const std::string& field, const std::string& problem) const {
    throw FileError(file_, line_, field, problem);
  }
  void step() {
    if (text_[at_] == '\n') ++line_;
    ++at_;
  }
  void skip_space() {
    while (at_ < text_.size() && std::isspace(static_cast<unsigned char>(text_[at_])) != 0) step();
  }
  bool take(char wanted) {
    skip_space();
    if (at_ >= text_.size() || text_[at_] != wanted) return false;
    step();
    return true;
  }
  void expect(char wanted) {
    if (!take(wanted))
      fail("", std::string("expected '") + wanted + "'; accepted is @type{key, field = {text}}");
  }
  std::string word() {
    skip_space();
    std::string result;
    while (at_ < text_.size()) {
      const char c = text_[at_];
      if (std::isalnum(static_cast<unsigned char>(c)) == 0 && c != '-' && c != '_' && c != ':' &&
          c != '.')
        break;
      result += c;
      step();
    }
    return result;
  }
  std::string value(const std::string& name) {
    skip_space();
    if (at_ >= text_.size()) fail(name, "the file ends inside an entry");
    const bool quoted = text_[at_] == '"';
    if (text_[at_] != '{' && !quoted) return word();
    const long first = line_;
    step();
    std::string result;
    int depth = 0;
    for (; at_ < text_.size(); step()) {
      const char c = text_[at_];
      if (depth == 0 && c == (quoted ? '"' : '}')) {
        step();
        return result;
      }
      if (c == '{') ++depth;
      if (c == '}') --depth;
      if (c == '{' || c == '}') continue;
      result += c == '\n' ? ' ' : c;
    }
    line_ = first;
    fail(name, "no closing brace or quote");
  }

  // authors year, title, where it appeared
  std::string one_line() {
    std::string text = fields_["author"];
    for (std::size_t at = text.find(" and "); at != std::string::npos; at = text.find(" and ", at))
      text.replace(at, 5, "; ");
    if (!fields_["year"].empty()) text += (text.empty() ? "" : " ") + fields_["year"];
    for (const char* name :
         {"title", "journal", "booktitle", "volume", "number", "pages", "publisher", "note"}) {
      const std::string& part = fields_[name];
      if (part.empty()) continue;
      const bool after_journal = std::string_view(name) == "volume" && !fields_["journal"].empty();
      text += (text.empty() ? "" : after_journal ? " " : ", ") + part;
    }
    return text;
  }

  std::string file_;
  std::string_view text_;
  std::size_t at_ = 0;
  long line_ = 1;
  std::string type_;
  std::map<std::string, std::string> fields_;
};

}  // namespace

void read_bibliography(Records& records, const std::string& file, std::string_view text,
                       int generation) {
  BibliographyReader reader(file, text);
  Source source;
  long line = 0;
  while (reader.next(source, line)) {
    if (source.text.empty())
      throw FileError(file, line, source.key,
                      "an entry without author, title or note says nothing");
    const std::string key = source.key;
    records.sources.put({key, source, {}, {file, line, generation}}, "source");
  }
}

}  // namespace aeruca::detail

std::string aeruca::short_citation(const Source& source) {
  const std::string& text = source.text;
  for (std::size_t at = 0; at + 4 <= text.size(); ++at) {
    const bool year = (text.compare(at, 2, "19") == 0 || text.compare(at, 2, "20") == 0) &&
                      std::all_of(text.begin() + static_cast<std::ptrdiff_t>(at),
                                  text.begin() + static_cast<std::ptrdiff_t>(at + 4),
                                  [](unsigned char c) { return std::isdigit(c) != 0; });
    if (!year || at == 0) continue;
    const std::string authors = text.substr(0, at);
    return authors.substr(0, authors.find_first_of(",;")) + " " + text.substr(at, 4);
  }
  return text.substr(0, text.find(','));
}
