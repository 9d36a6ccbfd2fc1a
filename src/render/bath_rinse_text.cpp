#include "render/bath_rinse_text.hpp"

#include <cmath>
#include <vector>

#include "base/text.hpp"
#include "base/text_table.hpp"
#include "base/words.hpp"
#include "render/describe_bath_rinse.hpp"

namespace aeruca::detail {
namespace {

using Rows = std::vector<std::vector<std::string>>;

constexpr std::size_t kWidth = 100;

std::string paragraphs(const std::vector<std::string>& sentences, const std::string& mark) {
  std::string text;
  for (const std::string& sentence : sentences) text += paragraph(mark + sentence, kWidth);
  return text;
}

std::string cell(const RinseLeft& left) {
  return std::isnan(left.percent) ? "-" : Description<RinseLeft>::said(left);
}

}  // namespace

std::string rinse_text(const RinseResult& result, double rinse_l, RinsedOf counted) {
  const bool chloride = counted == RinsedOf::chloride;
  std::string text = say(chloride ? "page.rinse.title_chloride" : "page.rinse.title_sodium",
                         {{"pore_ml", format_number(result.pore_ml, 3)},
                          {"held_mg", format_number(result.held_mg, 3)},
                          {"rinse_l", format_number(rinse_l, 4)}});
  Rows rows{{say("page.rinse.rinse"), say("page.rinse.mixed"), say("page.rinse.diffusing"),
             say("page.rinse.reads")}};
  for (const RinseStep& step : result.rinses) {
    const double reads =
        std::isnan(step.rinse_mg_per_l) ? step.mixed_mg_per_l : step.rinse_mg_per_l;
    rows.push_back({std::to_string(step.rinse), cell(step.mixed), cell(step.diffusing),
                    format_number(reads, 3)});
  }
  return text + "\n\n" + aligned(rows) + '\n' + paragraphs(result.read, "") + '\n' +
         paragraphs(result.left_out, "! ");
}

}  // namespace aeruca::detail
