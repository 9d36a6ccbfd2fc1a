#include "render/bath_chemistry_text.hpp"

#include <vector>

#include "base/text.hpp"
#include "base/text_table.hpp"
#include "base/words.hpp"

namespace aeruca::detail {
namespace {

constexpr std::size_t kWidth = 100;

std::string paragraphs(const std::vector<std::string>& sentences, const std::string& mark) {
  std::string text;
  for (const std::string& sentence : sentences) text += paragraph(mark + sentence, kWidth);
  return text;
}

}  // namespace

std::string chemistry_text(const BathChemistry& bath, const Dataset& dataset) {
  const bool water = bath.salt == "water";
  std::string text = water ? say("page.chemistry.title_water",
                                 {{"litres", format_number(bath.volume_l, 4)},
                                  {"temperature_c", format_number(bath.temperature_c, 3)}})
                           : say("page.chemistry.title",
                                 {{"litres", format_number(bath.volume_l, 4)},
                                  {"percent", format_number(bath.percent_w_v, 4)},
                                  {"mol_per_l", format_number(bath.mol_per_l, 4)},
                                  {"salt", bath.salt},
                                  {"temperature_c", format_number(bath.temperature_c, 3)}});
  text += "\n\n";
  if (!bath.reagents.empty()) {
    std::vector<std::vector<std::string>> rows;
    for (const WeighedReagent& reagent : bath.reagents)
      rows.push_back({reagent.name, reagent.formula, format_number(reagent.grams, 4) + " g"});
    text += aligned(rows, {{Align::left}, {Align::left}, {Align::right}}) + '\n';
  }
  if (!bath.message.empty()) text += paragraph(bath.message, kWidth);
  if (!bath.solubility_words.empty()) text += paragraph(bath.solubility_words, kWidth);
  text += paragraphs(bath.read, "- ") + '\n' + paragraphs(bath.left_out, "! ") +
          paragraphs(bath.warnings, "! ") + paragraphs(bath.cautions, "! ");
  return text + '\n' +
         say("page.data_set_line", {{"version", dataset.version}, {"hash", dataset.content_hash}}) +
         '\n';
}

std::string log_against_text(const LogAgainstBath& log) {
  std::string text = paragraph(log.sentence, kWidth);
  for (const LogDisagreement& one : log.disagreements)
    text += paragraph("! " + one.sentence, kWidth);
  return text;
}

}  // namespace aeruca::detail
