#include <algorithm>
#include <cmath>

#include "aeruca/errors.hpp"
#include "base/number_text.hpp"
#include "base/printable.hpp"
#include "base/text_table.hpp"
#include "base/words.hpp"
#include "render/case_collection_cells.hpp"
#include "render/case_collection_report.hpp"
#include "render/csv.hpp"
#include "render/describe_case_collection.hpp"
#include "render/json.hpp"

namespace aeruca::detail {
namespace {

constexpr std::size_t kShownObjects = 10;

using Rows = std::vector<std::vector<std::string>>;

void add_rows(const ObjectCase& object, Rows& rows) {
  rows.push_back({std::to_string(*object.rank),
                  object.name.empty() ? say("page.no_name") : object.name,
                  choice_word("verdict", to_string(object.verdict)), chance_cell(object),
                  set_point_cell(object), choice_word("washing", to_string(object.washing)),
                  look_again_cell(object)});
  std::string place = object.file;
  if (!object.record_to.empty())
    place += "; " + say("page.cases.record_to", {{"date", object.record_to}});
  rows.push_back({place});
  // What no chance stands for is told in words.
  if (std::isnan(object.probability_active) && std::isnan(object.probability_dormant))
    rows.push_back({object.reason});
  if (!object.not_worked_out.empty())
    rows.push_back({say("page.cases.not_worked_out", {{"what", object.not_worked_out}})});
  if (!object.measure_next.empty())
    rows.push_back({say("page.cases.next", {{"what", object.measure_next}})});
}

std::string objects_table(const CaseCollection& collection, std::size_t width, std::size_t shown) {
  Rows rows;
  for (const ObjectCase& object : collection.objects) {
    if (!object.rank || static_cast<std::size_t>(*object.rank) > shown) break;
    add_rows(object, rows);
  }
  if (rows.empty()) return "";
  return table_text({"", say("column.object"), say("column.verdict"), say("column.chance"),
                     say("column.at_most_rh"), say("column.washing"), say("column.look_again_by")},
                    rows, width, "") +
         "\n";
}

}  // namespace

std::string counts_sentence(const CaseCollection& collection) {
  const auto number = [](std::size_t count) { return std::to_string(count); };
  return say("page.cases.counts", {{"objects", number(collection.objects.size())},
                                   {"active", number(collection.active)},
                                   {"borderline", number(collection.borderline)},
                                   {"not_known", number(collection.not_known)},
                                   {"dormant", number(collection.dormant)},
                                   {"unusable", number(collection.unusable)}});
}

std::string invented_sentence(const CaseCollection& collection) {
  const auto count = std::count_if(collection.objects.begin(), collection.objects.end(),
                                   [](const ObjectCase& object) { return object.invented; });
  return count == 0 ? "" : say("page.cases.invented", {{"count", std::to_string(count)}});
}

std::string chance_cell(const ObjectCase& object) {
  const bool active = object.verdict == Verdict::active;
  const double chance = active ? object.probability_active : object.probability_dormant;
  if (std::isnan(chance)) return "-";
  return object.verdict == Verdict::borderline
             ? say("page.cases.chance_dormant", {{"chance", probability_text(chance)}})
             : probability_text(chance);
}

std::string set_point_cell(const ObjectCase& object) {
  return std::isnan(object.set_point_rh_percent) ? "-"
                                                 : format_number(object.set_point_rh_percent, 3);
}

std::string look_again_cell(const ObjectCase& object) {
  if (object.look_again_by.empty()) return "-";
  return object.overdue ? say("page.cases.overdue", {{"date", object.look_again_by}})
                        : object.look_again_by;
}

std::string case_collection_text(const CaseCollection& collection, int width,
                                 const std::string& all_in) {
  if (width < 60 || width > 200) throw InputError("width", width, "60 to 200 columns");
  const auto columns = static_cast<std::size_t>(width);
  const std::size_t usable = collection.objects.size() - collection.unusable;
  const std::size_t shown = all_in.empty() ? usable : std::min(usable, kShownObjects);
  std::string text = paragraph(counts_sentence(collection), columns) + "\n" +
                     objects_table(collection, columns, shown);
  if (shown < usable) {
    text += paragraph(
        say("page.cases.more", {{"count", std::to_string(usable - shown)}, {"files", all_in}}),
        columns, "  ");
  }
  for (const ObjectCase& object : collection.objects) {
    if (!object.problem.empty())
      text += paragraph(say("page.store.not_used", {{"problem", object.problem}}), columns, "  ");
  }
  for (const std::string& sentence :
       {say("page.cases.meaning"), invented_sentence(collection), say("summary.decides")}) {
    if (!sentence.empty()) text += paragraph(sentence, columns, "  ");
  }
  return printable(text, true) + "\n" +
         say("page.data_set_line",
             {{"version", collection.dataset_version}, {"hash", collection.dataset_hash}}) +
         "\n";
}

std::string case_collection_json(const CaseCollection& collection) {
  return document_text(
      {{"collection", json_of(collection)},
       {"data_set",
        {{"version", collection.dataset_version}, {"content_hash", collection.dataset_hash}}}});
}

std::string case_collection_csv(const CaseCollection& collection) {
  return csv_of(collection.objects);
}

}  // namespace aeruca::detail
