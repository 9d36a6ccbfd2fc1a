#include <algorithm>
#include <cmath>

#include "base/number_text.hpp"
#include "base/text_table.hpp"
#include "base/words.hpp"
#include "render/csv.hpp"
#include "render/describe_collection.hpp"
#include "render/json.hpp"
#include "render/store_report.hpp"

namespace aeruca::detail {
namespace {

constexpr std::size_t kShownObjects = 10;

std::string cell(double value, int digits) {
  return std::isnan(value) ? "-" : format_number(value, digits);
}

std::vector<std::string> row_of(const ObjectRisk& object) {
  return {std::to_string(object.rank.value_or(0)),
          object.file,
          choice_word("verdict", to_string(object.verdict)),
          probability_text(object.probability_dormant),
          cell(100 * object.share_too_humid, 3),
          cell(object.worst_spell_h, 4),
          cell(std::floor(object.set_point_rh_percent), 3)};
}

std::string ranked_lines(const Collection& collection) {
  std::vector<std::vector<std::string>> rows{{"", say("column.file"), say("column.verdict"),
                                              say("column.dormant"), say("column.too_humid"),
                                              say("column.worst_spell"), say("column.set_point")}};
  for (const ObjectRisk& object : collection.objects) {
    if (!object.rank || rows.size() > kShownObjects) break;
    rows.push_back(row_of(object));
  }
  if (rows.size() == 1) return "";
  return aligned(rows, {{Align::right},
                        {},
                        {},
                        {Align::right},
                        {Align::right},
                        {Align::right},
                        {Align::right}}) +
         "\n";
}

}  // namespace

std::string collection_text(const Collection& collection, const Dataset& dataset) {
  const auto number = [](std::size_t count) { return std::to_string(count); };
  std::string text = say("page.collection.counts", {{"objects", number(collection.objects.size())},
                                                    {"active", number(collection.active)},
                                                    {"borderline", number(collection.borderline)},
                                                    {"dormant", number(collection.dormant)},
                                                    {"not_known", number(collection.not_known)},
                                                    {"unusable", number(collection.unusable)},
                                                    {"onset", collection.onset.id}}) +
                     "\n\n" + ranked_lines(collection);
  for (const ObjectRisk& object : collection.objects) {
    if (!object.problem.empty())
      text += "  " + say("page.store.not_used", {{"problem", object.problem}}) + "\n";
  }
  return text + "  " + say("page.store.not_how_fast") + "\n\n" +
         say("page.data_set_line", {{"version", dataset.version}, {"hash", dataset.content_hash}}) +
         "\n";
}

std::string collection_json(const Collection& collection, const Dataset& dataset) {
  return document_text({{"collection", json_of(collection)}, {"data_set", data_set_json(dataset)}});
}

std::string collection_csv(const Collection& collection) {
  return csv_of(collection.objects);
}

}  // namespace aeruca::detail
