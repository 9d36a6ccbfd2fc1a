#include <algorithm>
#include <filesystem>
#include <utility>

#include "base/capitals.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "casefile/sections.hpp"

namespace aeruca::detail {
namespace {

std::string with_unit(const std::string& number, const std::string& unit) {
  if (unit == "pH") return "pH " + number;
  if (unit.empty()) return number;
  // Where a unit is a word, it is one of the language.
  const bool word = unit == "times" || unit == "days" || unit == "baths" || unit == "mg chloride";
  return number + " " + (word ? choice_word("unit", unit) : unit);
}

// "estimated: a, b, c, d ..." -> "estimated: a, b and 7 more"; the command for one question lists
// them all.
std::string condensed(const std::string& warning) {
  constexpr std::size_t kLongest = 220;
  constexpr std::size_t kShown = 2;
  const std::size_t colon = warning.find(": ");
  if (warning.size() <= kLongest || colon == std::string::npos) return warning;
  std::vector<std::string> items(1);
  for (const std::string_view word : split(std::string_view(warning).substr(colon + 2), ' ')) {
    items.back() += (items.back().empty() ? "" : " ") + std::string(word);
    if (!word.ends_with(',')) continue;  // within a word it may be a decimal mark
    items.back().pop_back();
    items.emplace_back();
  }
  if (items.size() <= kShown + 1) return warning;
  std::string first;
  for (std::size_t i = 0; i < kShown; ++i) first += std::string(i == 0 ? "" : ", ") + items[i];
  return say("findings.condensed", {{"what", warning.substr(0, colon)},
                                    {"first", first},
                                    {"count", std::to_string(items.size() - kShown)}});
}

}  // namespace

CaseSection section_of(std::string id) {
  CaseSection section;
  section.title = say("section." + id + ".title");
  section.question = say("section." + id + ".question");
  section.id = std::move(id);
  return section;
}

std::string range_in_unit(double value, double low, double high, const std::string& unit,
                          int digits) {
  const std::string text = range_text(value, low, high, digits);
  return std::isnan(value) ? text : with_unit(text, unit);
}

CaseFinding range_of(std::string key, std::string label, double value, double low, double high,
                     std::string unit, int digits) {
  CaseFinding finding;
  finding.key = std::move(key);
  finding.label = std::move(label);
  finding.value = value;
  finding.low = low;
  finding.high = high;
  finding.text = range_in_unit(value, low, high, unit, digits);
  finding.unit = std::move(unit);
  return finding;
}

CaseFinding figure_of(std::string key, std::string label, double value, std::string unit,
                      int digits) {
  return range_of(std::move(key), std::move(label), value, kNotGiven, kNotGiven, std::move(unit),
                  digits);
}

CaseFinding probability_of(std::string key, std::string label, double probability) {
  CaseFinding finding = figure_of(std::move(key), std::move(label), probability, "", 2);
  finding.text = probability_text(probability);
  return finding;
}

std::string as_sentence(std::string reason) {
  if (reason.empty()) return reason;
  const auto within = [&](std::size_t i, char first, char last) {
    return i < reason.size() && reason[i] >= first && reason[i] <= last;
  };
  const std::size_t first = reason.front() == '\xC3' ? 2 : 1;  // bytes of its first letter
  if (!within(1, 'A', 'Z'))                                    // not "pH"
    reason.replace(0, first, capitals(reason.substr(0, first)));
  if (reason.back() != '.') reason += '.';
  return reason;
}

std::vector<std::string> as_sentences(std::vector<std::string> reasons) {
  for (std::string& reason : reasons) reason = as_sentence(reason);
  return reasons;
}

std::string without_stop(std::string reason) {
  if (reason.ends_with('.')) reason.pop_back();
  return reason;
}

std::string verdict_word(Verdict verdict) {
  return choice_word("verdict", to_string(verdict));
}

std::string status_word(SectionStatus status) {
  return choice_word("status", to_string(status));
}

CaseFinding words_of(std::string key, std::string label, std::string text) {
  CaseFinding finding;
  finding.key = std::move(key);
  finding.label = std::move(label);
  finding.text = std::move(text);
  return finding;
}

CaseFinding noted(CaseFinding finding, std::string note) {
  finding.note = std::move(note);
  return finding;
}

void add_new(std::vector<std::string>& list, const std::vector<std::string>& more) {
  for (const std::string& text : more) {
    if (std::find(list.begin(), list.end(), text) == list.end()) list.push_back(text);
  }
}

void add_warnings(CaseSection& section, const std::vector<std::string>& warnings) {
  for (const std::string& warning : warnings) {
    const std::string said = as_sentence(condensed(warning));
    const std::string head = said.substr(0, said.find(": "));
    const bool known = std::any_of(
        section.warnings.begin(), section.warnings.end(), [&](const std::string& other) {
          return head != said && other.substr(0, other.find(": ")) == head;
        });
    if (!known) add_new(section.warnings, {said});
  }
}

void add_estimates(CaseSection& section, std::size_t remarks) {
  if (remarks == 0) return;
  add_new(section.remarks, {say("findings.estimates")});
}

void add_estimated_heats(CaseSection& section, const std::vector<std::string>& names) {
  if (names.empty()) return;
  add_new(section.remarks,
          {as_sentence(say("equilibrium.estimated_heat", {{"species", join(names, ", ")}}))});
}

void mark_no_answer(CaseSection& section, const std::string& why) {
  section.status = SectionStatus::no_answer;
  if (section.answer.empty()) section.answer = say("findings.no_answer", {{"why", why}});
  section.warnings.push_back(as_sentence(why));
}

void mark_bad_input(CaseSection& section, const std::string& what, const std::string& why) {
  section.status = SectionStatus::bad_input;
  section.answer = say("findings.bad_input", {{"what", what}, {"why", why}});
  section.warnings.push_back(why);
}

bool stops(const CaseObject& object) {
  return std::any_of(object.features.begin(), object.features.end(),
                     [](const std::string& feature) { return stops_treatment_by_number(feature); });
}

std::string stop_sentence(const CaseObject& object) {
  std::vector<std::string> stopping;
  for (const std::string& feature : object.features) {
    if (stops_treatment_by_number(feature)) stopping.push_back(feature);
  }
  return say("findings.stops", {{"features", join(stopping, ", ")}});
}

std::string existing_log(const CaseFile& file, const std::string& key, const std::string& given) {
  std::string path = file.resolve(given);
  std::error_code ignored;
  if (std::filesystem::is_regular_file(path, ignored)) return path;
  throw file.fault(
      key,
      "'" + given +
          "' is no file that can be read; accepted is the name of a file beside the case file");
}

void refuse_name(const CaseFile& file, const std::string& key, const std::string& given,
                 const std::vector<std::string>& known) {
  std::string problem = "'" + given + "' is not known";
  const std::string nearest = nearest_name(given, known);
  if (!nearest.empty()) problem += "; nearest is '" + nearest + "'";
  throw file.fault(key, problem + "; accepted is one of " + join(known, ", "));
}

}  // namespace aeruca::detail
