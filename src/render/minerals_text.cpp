#include "render/minerals_text.hpp"

#include <algorithm>
#include <cmath>

#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"
#include "base/words.hpp"
#include "render/describe_minerals.hpp"
#include "render/json.hpp"
#include "render/sheet.hpp"

namespace aeruca::detail {
namespace {

constexpr std::size_t kWidth = 100;
constexpr std::size_t kShown = 8;  // candidates written out

std::string data_line(const Dataset& dataset) {
  return say("page.data_set_line", {{"version", dataset.version}, {"hash", dataset.content_hash}}) +
         "\n";
}

std::string volume_text(const Mineral& mineral) {
  const double volume = mineral.molar_volume_cm3_per_mol();
  return std::isnan(volume) ? say("word.not_known")
                            : plus_minus(volume, mineral.molar_volume_uncertainty());
}

std::string labelled(const std::string& label, const std::string& text) {
  return text.empty() ? "" : paragraph(text, kWidth, padded(label, 18));
}

// "usual: green, powdery; possible: compact", test by test.
std::string tests_text(const Mineral& mineral, const Dataset& dataset) {
  std::string text;
  for (const FieldTest& test : dataset.field_tests) {
    std::vector<std::string> words;
    for (const std::string& outcome : test.outcomes) {
      const auto in = [&](const std::vector<std::string>& list) {
        return std::find(list.begin(), list.end(), outcome) != list.end();
      };
      if (in(mineral.usual)) words.push_back(outcome);
      if (in(mineral.possible))
        words.push_back(say("page.minerals.possible", {{"outcome", outcome}}));
    }
    text +=
        labelled("  " + test.id, words.empty() ? say("page.minerals.silent") : join(words, ", "));
  }
  return text;
}

std::string origin(const std::string& source, const std::string& place, Basis basis) {
  return source + " (" + std::string(to_string(basis)) + ")" + (place.empty() ? "" : ": " + place);
}

std::string fit_text(const MineralCandidate& one) {
  std::string text = say("page.minerals.fit", {{"usual", std::to_string(one.usual)},
                                               {"possible", std::to_string(one.possible)}});
  if (one.silent > 0)
    text += say("page.minerals.fit_silent", {{"silent", std::to_string(one.silent)}});
  return text;
}

std::string candidates_text(const std::vector<MineralCandidate>& candidates) {
  std::vector<std::vector<std::string>> rows;
  for (const MineralCandidate& one : candidates) {
    if (rows.size() == kShown) break;
    rows.push_back({one.name, one.formula, one.group,
                    one.against.empty()
                        ? fit_text(one)
                        : say("page.minerals.against", {{"outcomes", join(one.against, ", ")}})});
  }
  std::string text = aligned(rows, {});
  if (candidates.size() > kShown)
    text +=
        say("page.minerals.more", {{"count", std::to_string(candidates.size() - kShown)}}) + "\n";
  return text;
}

// What the leading candidates mean, each meaning once.
std::string meanings(const MineralIdentification& found, const Dataset& dataset) {
  std::string text;
  std::vector<std::string> said;
  for (const MineralCandidate& one : found.candidates) {
    if (said.size() == 3) break;
    if (std::find(said.begin(), said.end(), one.group) != said.end()) continue;
    said.push_back(one.group);
    const Mineral& mineral = dataset.mineral(one.name);
    text += one.group + "\n" + labelled("  " + say("page.minerals.means"), mineral.means) +
            labelled("  " + say("page.minerals.does_not_mean"), mineral.does_not_mean);
  }
  return text;
}

std::string next_text(const NextFieldTest& next) {
  std::string text =
      paragraph(say("page.minerals.next", {{"test", next.test}, {"question", next.question}}),
                kWidth) +
      labelled("  " + say("page.minerals.how"), next.how);
  for (const OutcomeLeaves& leaves : next.leaves) {
    std::vector<std::string> shown(leaves.minerals.begin(),
                                   leaves.minerals.begin() + static_cast<std::ptrdiff_t>(std::min(
                                                                 kShown, leaves.minerals.size())));
    if (leaves.minerals.size() > kShown)
      shown.push_back(say("page.minerals.and_more",
                          {{"count", std::to_string(leaves.minerals.size() - kShown)}}));
    text += labelled("  " + leaves.outcome,
                     say("page.minerals.leaves", {{"minerals", join(shown, ", ")}}));
  }
  return text + labelled("  " + say("page.minerals.misleads"), next.misleads);
}

}  // namespace

std::string guide_text(const Dataset& dataset) {
  std::string text = say("page.minerals.title") + "\n\n";
  std::vector<std::vector<std::string>> rows{{say("page.minerals.mineral"), say("column.formula"),
                                              "cm3/mol", say("page.minerals.colour")}};
  for (const Mineral& mineral : dataset.minerals)
    rows.push_back({mineral.name, mineral.formula, volume_text(mineral), mineral.colour});
  text += aligned(rows, {}) + "\n" + say("page.minerals.words") + "\n";
  for (const FieldTest& test : dataset.field_tests)
    text += labelled("  " + test.id, join(test.outcomes, ", "));
  return text + "\n" + paragraph(say("minerals.activity"), kWidth) + data_line(dataset);
}

std::string guide_json(const Dataset& dataset) {
  return document_text({{"minerals", json_of(dataset.minerals)},
                        {"field_tests", json_of(dataset.field_tests)},
                        {"data_set", data_set_json(dataset)}});
}

std::string mineral_text(const Mineral& mineral, const Dataset& dataset) {
  std::string text = mineral.name + (mineral.formula.empty() ? "" : ", " + mineral.formula) + "\n";
  text += labelled(say("page.minerals.also"), join(mineral.also, ", "));
  text += labelled(say("page.minerals.group"), mineral.group);
  text += labelled(say("page.minerals.colour"), mineral.colour);
  text += labelled(say("page.minerals.habit"), mineral.habit);
  text += labelled(say("page.minerals.means"), mineral.means);
  text += labelled(say("page.minerals.does_not_mean"), mineral.does_not_mean);
  text += labelled(say("page.minerals.note"), mineral.note);
  text += labelled(say("page.minerals.volume"), with_unit(volume_text(mineral), "cm3/mol"));
  text += say("page.minerals.tests") + "\n" + tests_text(mineral, dataset);
  text +=
      labelled(say("page.minerals.source"), origin(mineral.source, mineral.place, mineral.basis));
  text += labelled(say("page.minerals.meaning_source"),
                   origin(mineral.group_source, mineral.group_place, mineral.group_basis));
  if (!mineral.density_figure.empty()) {
    const Figure& figure = dataset.figure(mineral.density_figure);
    text += labelled(say("page.minerals.density_source"),
                     origin(figure.source, figure.place, figure.basis));
  }
  return text + data_line(dataset);
}

std::string mineral_json(const Mineral& mineral, const Dataset& dataset) {
  return document_text({{"mineral", json_of(mineral)}, {"data_set", data_set_json(dataset)}});
}

std::string identification_text(const MineralIdentification& found, const Dataset& dataset) {
  std::vector<std::string> seen;
  for (const MineralSight& sight : found.seen) seen.push_back(sight.test + "=" + sight.outcome);
  std::string text = say("page.minerals.seen", {{"seen", join(seen, ", ")}}) + "\n\n";
  if (found.candidates.empty()) {
    text += paragraph(found.message, kWidth) + candidates_text(found.nearest);
  } else {
    text += candidates_text(found.candidates) + "\n" + meanings(found, dataset) + "\n";
    text += found.next ? next_text(*found.next) : paragraph(found.message, kWidth);
  }
  text += "\n" + paragraph(found.activity, kWidth, "> ");
  for (const std::string& misled : found.misled) text += paragraph(misled, kWidth, "? ");
  for (const std::string& caution : found.cautions) text += paragraph(caution, kWidth, "! ");
  return text + data_line(dataset);
}

std::string identification_json(const MineralIdentification& found, const Dataset& dataset) {
  return document_text({{"identification", json_of(found)}, {"data_set", data_set_json(dataset)}});
}

}  // namespace aeruca::detail
