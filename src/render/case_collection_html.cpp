#include "base/printable.hpp"
#include "base/words.hpp"
#include "render/case_collection_cells.hpp"
#include "render/case_collection_report.hpp"

namespace aeruca::detail {
namespace {

// A verdict is told by its word and, for the eye that runs down the page, by the rule before it:
// its colour, and in grey its pattern.
constexpr std::string_view kStyle = R"(
* { box-sizing: border-box; }
body { margin: 0; padding: 1.5rem; color: #22272a; background: #fff; line-height: 1.4;
  font-family: "Source Sans 3", "Segoe UI", "Helvetica Neue", Arial, "Liberation Sans", sans-serif; }
h1 { font-size: 1.6rem; margin: 0 0 .4rem; }
p { margin: .4rem 0; max-width: 60rem; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; margin: 1rem 0; font-size: .9rem;
  font-variant-numeric: tabular-nums; }
th, td { text-align: left; vertical-align: top; padding: .35rem .6rem; border-bottom: 1px solid #d5d9d6; }
thead th { border-bottom: 1.5px solid #566067; color: #566067; font-size: .8rem; }
tbody th { font-weight: 600; min-width: 11rem; }
.file, .why { font-weight: 400; font-size: .8rem; color: #566067; overflow-wrap: anywhere; display: block; }
.why { overflow-wrap: normal; min-width: 14rem; }
.number, .day, .verdict { white-space: nowrap; }
.next { min-width: 12rem; }
.number { text-align: right; }
tbody td:first-child { border-left: .4rem solid #555; }
.active td:first-child { border-left: .6rem solid #9d2f26; }
.borderline td:first-child { border-left: .6rem double #8a5f00; }
.not-known td:first-child { border-left: .4rem dotted #555; }
.dormant td:first-child { border-left: .15rem solid #2f6f62; }
.active .verdict { color: #9d2f26; font-weight: 700; }
@media print {
  @page { size: landscape; margin: 12mm; }
  body { padding: 0; font-size: 9.5pt; }
  .wide { overflow: visible; }
  tr { break-inside: avoid; }
  thead { display: table-header-group; }
  td, th { -webkit-print-color-adjust: exact; print-color-adjust: exact; }
}
)";

std::string html_text(std::string_view text) {
  std::string escaped;
  for (const char letter : printable(text, true)) {
    switch (letter) {
      case '&':
        escaped += "&amp;";
        break;
      case '<':
        escaped += "&lt;";
        break;
      case '>':
        escaped += "&gt;";
        break;
      case '"':
        escaped += "&quot;";
        break;
      case '\'':
        escaped += "&#39;";
        break;
      default:
        escaped += letter;
    }
  }
  return escaped;
}

// `name` is that of a tag with its attributes, or of its class.
std::string tag(const std::string& name, const std::string& inside) {
  return "<" + name + ">" + inside + "</" + name.substr(0, name.find(' ')) + ">";
}

std::string of_class(const std::string& name, const std::string& word, std::string_view text) {
  return tag(name + ' ' + "class=\"" + word + "\"", html_text(text));
}

std::string class_of(const ObjectCase& object) {
  if (!object.problem.empty()) return "unusable";
  std::string word(to_string(object.verdict));
  if (const std::size_t blank = word.find(' '); blank != std::string::npos) word[blank] = '-';
  return word;
}

std::string object_cell(const ObjectCase& object) {
  return tag("th scope=\"row\"",
             html_text(object.name.empty() ? say("page.no_name") : object.name) +
                 of_class("span", "file", object.file));
}

std::string why_cell(const ObjectCase& object) {
  std::string cell = of_class("span", "why", object.reason);
  if (!object.not_worked_out.empty()) {
    cell += of_class("span", "why",
                     say("page.cases.not_worked_out", {{"what", object.not_worked_out}}));
  }
  return tag("td", cell);
}

constexpr int kColumns = 10;

std::string row_of(const ObjectCase& object) {
  std::string cells;
  if (!object.problem.empty()) {
    cells = tag("td", "") + tag("th scope=\"row\"", of_class("span", "file", object.file)) +
            tag("td colspan=\"" + std::to_string(kColumns - 2) + "\"",
                html_text(say("page.store.not_used", {{"problem", object.problem}})));
  } else {
    cells = of_class("td", "number", std::to_string(*object.rank)) + object_cell(object) +
            of_class("td", "verdict", choice_word("verdict", to_string(object.verdict))) +
            of_class("td", "number", chance_cell(object)) +
            of_class("td", "number", set_point_cell(object)) +
            tag("td", html_text(choice_word("washing", to_string(object.washing)))) +
            of_class("td", "day", look_again_cell(object)) +
            of_class("td", "next", object.measure_next) +
            of_class("td", "day", object.record_to.empty() ? "-" : object.record_to) +
            why_cell(object);
  }
  return tag("tr class=\"" + class_of(object) + "\"", cells) + "\n";
}

std::string head_of_table() {
  std::string cells = tag("td", "");
  for (const std::string& word :
       {say("column.object"), say("column.verdict"), say("column.chance"), say("column.at_most_rh"),
        say("column.washing"), say("column.look_again_by"), say("column.measure_next"),
        say("column.record_to"), say("column.why")})
    cells += tag("th scope=\"col\"", html_text(word));
  return tag("thead", tag("tr", cells)) + "\n";
}

}  // namespace

std::string case_collection_html(const CaseCollection& collection) {
  const std::string title = html_text(say("page.cases.title"));
  std::string rows;
  for (const ObjectCase& object : collection.objects) rows += row_of(object);
  const auto paragraph = [](const std::string& text) {
    return text.empty() ? "" : tag("p", html_text(text)) + "\n";
  };
  return "<!DOCTYPE html>\n<html lang=\"" + html_text(say("report.language_code")) +
         "\">\n<head>\n<meta charset=\"utf-8\">\n"
         "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n" +
         tag("title", title) + "\n" + tag("style", std::string(kStyle)) + "\n</head>\n<body>\n" +
         tag("h1", title) + "\n" + paragraph(counts_sentence(collection)) +
         paragraph(collection.date.empty()
                       ? ""
                       : say("page.cases.assessed", {{"date", collection.date}})) +
         paragraph(invented_sentence(collection)) + "<div class=\"wide\">\n<table>\n" +
         head_of_table() + "<tbody>\n" + rows + "</tbody>\n</table>\n</div>\n" +
         paragraph(say("page.cases.meaning")) + paragraph(say("summary.decides")) +
         paragraph(say("page.data_set_line", {{"version", collection.dataset_version},
                                              {"hash", collection.dataset_hash}})) +
         "</body>\n</html>\n";
}

}  // namespace aeruca::detail
