// How far the constants let a water be known, as a page of its own after the water.

#include <algorithm>
#include <cmath>
#include <map>
#include <sstream>

#include "aeruca/render.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"
#include "base/words.hpp"
#include "render/water_page.hpp"

namespace aeruca {
namespace {

using detail::Align;
using detail::Column;
using detail::fixed_text;
using detail::format_number;
using detail::kLeastIndexShown;
using detail::kLeastPercent;
using detail::say;
using Rows = std::vector<std::vector<std::string>>;

constexpr double kNoRange = 5e-3;      // of what is given or known to all digits shown
constexpr std::size_t kReadFirst = 8;  // constants listed
constexpr double kLeastShare = 0.05;   // that is named in a line

double width(const Spread& p) {
  return p.percentile_97_5 - p.percentile_2_5;
}

bool ranges(const FigureRange& figure) {
  return width(figure.as_stated) > kNoRange || width(figure.as_published) > kNoRange;
}

std::string ends(const Spread& p) {
  if (std::isnan(p.median)) return say("word.not_known");
  return say("page.ranges.ends", {{"low", fixed_text(p.percentile_2_5, 2)},
                                  {"high", fixed_text(p.percentile_97_5, 2)}});
}

std::string carriers(const FigureRange& figure) {
  std::vector<std::string> names;
  for (const DoubtCarrier& carrier : figure.carried_by) {
    if (carrier.share >= kLeastShare)
      names.push_back(carrier.figure + " " + fixed_text(100 * carrier.share, 0) + " %");
  }
  return detail::join(names, ", ");
}

std::vector<std::string> line(const std::string& name, const FigureRange& figure) {
  return {name, fixed_text(figure.undrawn, 2), ends(figure.as_stated), ends(figure.as_published),
          carriers(figure)};
}

// What a reader of the page sees, and how much doubt each constant carries in it.
class Page {
 public:
  Page(const WaterRanges& water, const Speciation& speciation, const Dataset& dataset)
      : water_(water), speciation_(speciation), dataset_(dataset) {}

  std::string text() {
    add_head();
    add_water();
    add_solids();
    add_carriers();
    add_notes();
    return out_.str();
  }

 private:
  void add_head() {
    out_ << '\n'
         << say("page.ranges.head",
                {{"draws", std::to_string(water_.draws)}, {"seed", std::to_string(water_.seed)}})
         << '\n';
  }

  void add_line(const std::string& name, const FigureRange& figure, Rows& rows) {
    if (!ranges(figure)) return;
    rows.push_back(line(name, figure));
    for (const DoubtCarrier& carrier : figure.carried_by) {
      carriers_.try_emplace(carrier.figure, carrier);
      weight_[carrier.figure] += carrier.share * width(figure.as_published);
    }
  }

  // The forms that make up the elements.
  [[nodiscard]] bool leads(const std::string& species) const {
    return std::any_of(
        speciation_.elements.begin(), speciation_.elements.end(), [&](const ElementShares& each) {
          return std::any_of(each.forms.begin(), each.forms.end(), [&](const ElementForm& form) {
            return form.name == species && form.percent >= kLeastPercent;
          });
        });
  }

  void add_water() {
    Rows rows{{say("page.ranges.water"), say("page.ranges.undrawn"), say("page.ranges.as_stated"),
               say("page.ranges.as_published"), say("page.ranges.carried_by")}};
    if (water_.ph) add_line("pH", *water_.ph, rows);
    if (water_.eh_v) add_line("Eh (V)", *water_.eh_v, rows);
    for (const FigureRange& each : water_.log10_dissolved)
      add_line(say("page.ranges.dissolved", {{"element", each.name}}), each, rows);
    for (const FigureRange& each : water_.log10_molality) {
      if (leads(each.name)) add_line(each.name, each, rows);
    }
    out_ << '\n'
         << say(rows.size() > 1 ? "page.ranges.log10_molality" : "page.ranges.no_doubt") << '\n';
    if (rows.size() > 1) out_ << table(rows, 2);
  }

  [[nodiscard]] const SolidChance& chance_of(const std::string& solid) const {
    return *std::find_if(water_.solids.begin(), water_.solids.end(),
                         [&](const SolidChance& each) { return each.name == solid; });
  }

  void add_solids() {
    Rows rows{{say("page.ranges.index"), say("page.ranges.undrawn"), say("page.ranges.as_stated"),
               say("page.ranges.as_published"), say("page.ranges.chance"),
               say("page.ranges.carried_by")}};
    double error = 0;
    for (const FigureRange& each : water_.saturation_index) {
      if (!(std::max(each.undrawn, each.as_published.percentile_97_5) > kLeastIndexShown)) continue;
      const std::size_t before = rows.size();
      add_line(each.name, each, rows);
      if (rows.size() == before) rows.push_back(line(each.name, each));
      const DrawnChance& chance = chance_of(each.name).as_published;
      rows.back().insert(rows.back().end() - 1, detail::probability_text(chance.probability));
      error = std::max(error, chance.standard_error);
    }
    if (rows.size() == 1) return;
    out_ << '\n'
         << say("page.ranges.solids") << '\n'
         << table(rows, 3) << "  "
         << say("page.ranges.chance_words", {{"error", format_number(error, 2)}}) << '\n';
  }

  static std::string table(const Rows& rows, std::size_t ranges_and_chance) {
    std::vector<Column> columns{{Align::left, 22}, {Align::right, 0}};
    for (std::size_t c = 0; c < ranges_and_chance; ++c) columns.push_back({Align::right, 0});
    columns.push_back({Align::left, 0});
    return detail::aligned(rows, columns);
  }

  void add_carriers() {
    std::vector<std::pair<double, std::string>> order;
    for (const auto& [figure, weight] : weight_) order.emplace_back(-weight, figure);
    std::sort(order.begin(), order.end());
    if (order.empty()) return;
    out_ << '\n' << say("page.ranges.read_first") << '\n';
    for (std::size_t k = 0; k < std::min(order.size(), kReadFirst); ++k)
      add_carrier(carriers_.at(order[k].second));
  }

  void add_carrier(const DoubtCarrier& carrier) {
    const std::string stated =
        std::isnan(carrier.uncertainty)
            ? say("page.ranges.not_stated")
            : say("page.ranges.stated", {{"uncertainty", format_number(carrier.uncertainty, 2)}});
    const std::string others =
        carrier.others == 0
            ? ""
            : say(carrier.others == 1 ? "page.ranges.one_other" : "page.ranges.others",
                  {{"count", std::to_string(carrier.others)}});
    out_ << detail::paragraph(
        say("page.ranges.carrier", {{"subject", carrier.subject},
                                    {"stated", stated},
                                    {"others", others},
                                    {"basis", std::string(to_string(carrier.basis))},
                                    {"source", dataset_.source(carrier.source).text}}),
        100, "  " + detail::padded(carrier.figure, 6) + " ");
  }

  void add_notes() {
    out_ << '\n' << say("page.ranges.words") << '\n';
    if (!water_.exact.empty())
      out_ << say("page.ranges.exact", {{"figures", detail::join(water_.exact, ", ")}}) << '\n';
    if (water_.unanswered_as_stated + water_.unanswered_as_published > 0) {
      out_ << say("page.ranges.unanswered",
                  {{"stated", std::to_string(water_.unanswered_as_stated)},
                   {"published", std::to_string(water_.unanswered_as_published)}})
           << '\n';
    }
  }

  const WaterRanges& water_;
  const Speciation& speciation_;
  const Dataset& dataset_;
  std::ostringstream out_;
  std::map<std::string, DoubtCarrier> carriers_;
  std::map<std::string, double> weight_;
};

}  // namespace

std::string ranges_text(const WaterRanges& ranges, const Speciation& speciation,
                        const Dataset& dataset) {
  if (!ranges.message.empty()) return "\n" + ranges.message + "\n";
  return Page(ranges, speciation, dataset).text();
}

}  // namespace aeruca
