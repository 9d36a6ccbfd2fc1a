#include "render/path_text.hpp"

#include <cmath>

#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"
#include "base/words.hpp"
#include "render/describe_path.hpp"
#include "render/json.hpp"
#include "render/sheet.hpp"

namespace aeruca::detail {
namespace {

constexpr std::size_t kWidth = 100;
constexpr std::size_t kShown = 11;  // points of a path written out

using Rows = std::vector<std::vector<std::string>>;

std::string data_line(const Dataset& dataset) {
  return say("page.data_set_line", {{"version", dataset.version}, {"hash", dataset.content_hash}}) +
         "\n";
}

std::string happened(const PathEvent& event) {
  return event.change == PathChange::air_reached
             ? say("page.path.air_reached")
             : say(event.change == PathChange::appears ? "page.path.appears"
                                                       : "page.path.disappears",
                   {{"solid", event.solid}});
}

std::string events_text(const PathResult& path) {
  if (path.events.empty()) return say("page.path.no_event") + "\n";
  Rows rows;
  for (const PathEvent& event : path.events)
    rows.push_back({format_number(event.progress, 5), path.unit, happened(event),
                    "pH " + fixed_text(event.ph, 2)});
  return aligned(rows, {{Align::right}, {Align::left}, {Align::left}, {Align::left}});
}

std::string points_text(const PathResult& path) {
  Rows rows{{say("page.path.progress"), "pH", "Eh V", "kg"}};
  for (const PathAmount& solid : path.solids) rows[0].push_back(solid.name);
  const std::size_t n = path.progress.size();
  for (std::size_t k = 0; k < std::min(n, kShown); ++k) {
    const std::size_t i = n <= kShown ? k : k * (n - 1) / (kShown - 1);
    std::vector<std::string> row{format_number(path.progress[i], 4), fixed_text(path.ph[i], 2),
                                 fixed_text(path.eh_v[i], 3), format_number(path.solvent_kg[i], 4)};
    for (const PathAmount& solid : path.solids)
      row.push_back(format_number(solid.mol_per_kg[i], 3));
    rows.push_back(std::move(row));
  }
  return aligned(rows, std::vector<Column>(rows[0].size(), {Align::right}));
}

template <class Ready>
std::string told(const Ready& ready, const Dataset& dataset) {
  std::string text = "\n" + say("page.path.read") + "\n";
  for (const std::string& one : ready.read) text += paragraph(one, kWidth, "  - ");
  text += say("page.path.left_out") + "\n";
  for (const std::string& one : ready.left_out) text += paragraph(one, kWidth, "  ! ");
  return text + data_line(dataset);
}

std::string part(const std::string& title, const PathResult& path) {
  std::string text = "\n" + title + "\n" + events_text(path);
  if (!path.message.empty()) text += paragraph(path.message, kWidth, "  ! ");
  return text;
}

std::string bath_name(const NantokiteBath& bath) {
  return bath.mol_per_l > 0 ? bath.bath + " " + with_unit(format_number(bath.mol_per_l, 3), "mol/L")
                            : bath.bath;
}

std::vector<std::string> bath_row(const NantokiteBath& bath) {
  const auto percent = [](double value) { return format_number(std::abs(value), 3); };
  const std::string air = say(bath.air == AirContact::open ? "page.path.open" : "page.path.shut") +
                          (bath.solids_left_out.empty() ? "" : " *");
  if (bath.status != Status::converged) return {bath_name(bath), air, bath.message, "", "", "", ""};
  return {bath_name(bath),
          air,
          bath.solids.empty() ? say("page.path.all_dissolved") : join(bath.solids, ", "),
          fixed_text(bath.ph, 1),
          percent(bath.released_percent),
          percent(bath.locked_percent),
          percent(bath.kept_percent)};
}

template <class Ready>
std::string ready_json(const char* name, const Ready& ready, const Dataset& dataset) {
  return document_text({{name, json_of(ready)}, {"data_set", data_set_json(dataset)}});
}

}  // namespace

std::string path_text(const PathResult& path, const Dataset& dataset) {
  std::string text = say("page.path.title", {{"kind", std::string(to_string(path.kind))}}) + "\n\n";
  if (!path.progress.empty()) text += events_text(path) + "\n" + points_text(path);
  if (!path.message.empty()) text += paragraph(path.message, kWidth, "! ");
  for (const std::string& warning : path.warnings) text += paragraph(warning, kWidth, "! ");
  text += "\n" + paragraph(say("path.left_out.kinetics"), kWidth);
  return text + data_line(dataset);
}

std::string path_text(const CoinPath& coin, const Dataset& dataset) {
  return say("page.path.coin") + "\n" + part(say("page.path.at_metal"), coin.at_metal) +
         part(say("page.path.film"), coin.film) + told(coin, dataset);
}

std::string path_text(const PitInMoistAir& air, const Dataset& dataset) {
  return say("page.path.nantokite_air") + "\n" + part(say("page.path.alone"), air.alone) +
         part(say("page.path.beside_metal"), air.beside_metal) + told(air, dataset);
}

std::string path_text(const NantokiteInBaths& baths, const Dataset& dataset) {
  Rows rows{{say("column.bath"), say("page.path.air"), say("page.path.becomes"), "pH",
             say("page.path.released"), say("page.path.locked"), say("page.path.kept")}};
  for (const NantokiteBath& bath : baths.baths) rows.push_back(bath_row(bath));
  return say("page.path.nantokite_bath") + "\n\n" +
         aligned(rows, {{Align::left}, {Align::left}, {Align::left}}) +
         say("page.path.star", {{"solids", baths.baths.back().solids_left_out}}) + "\n" +
         told(baths, dataset);
}

std::string path_text(const CarbonateBathPath& bath, const Dataset& dataset) {
  return say("page.path.carbonate_bath") + "\n" + part(say("page.path.to_air"), bath.open) +
         told(bath, dataset);
}

std::string path_json(const PathResult& path, const Dataset& dataset) {
  return ready_json("path", path, dataset);
}
std::string path_json(const CoinPath& coin, const Dataset& dataset) {
  return ready_json("coin", coin, dataset);
}
std::string path_json(const PitInMoistAir& air, const Dataset& dataset) {
  return ready_json("pit_in_moist_air", air, dataset);
}
std::string path_json(const NantokiteInBaths& baths, const Dataset& dataset) {
  return ready_json("nantokite_in_baths", baths, dataset);
}
std::string path_json(const CarbonateBathPath& bath, const Dataset& dataset) {
  return ready_json("carbonate_bath", bath, dataset);
}

}  // namespace aeruca::detail
