// aeruca salts: at which humidity each salt dissolves in water from the air, computed beside
// measured.

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>

#include "aeruca/brine.hpp"
#include "aeruca/errors.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"
#include "cli/commands.hpp"
#include "render/json_number.hpp"

namespace aeruca::cli {
namespace {

using detail::format_number;
using Json = nlohmann::ordered_json;
using detail::number_or_null;

struct Request {
  std::string salt;
  double temperature_c = 25.0;
  std::string pitzer_set;
  std::optional<double> molality;
  bool onset = false;
  bool alone = true;  // nothing beside --onset
};

std::string fixed(double value, int decimals) {
  return std::isnan(value) ? "-" : detail::fixed_text(value, decimals);
}

Json dataset_json(const Dataset& dataset) {
  return {{"version", dataset.version}, {"content_hash", dataset.content_hash}};
}

std::string dataset_line(const Dataset& dataset) {
  return "data set " + dataset.version + ", content " + dataset.content_hash;
}

std::string title_of(const Dataset& dataset, const std::string& key) {
  for (const auto& source : dataset.sources) {
    if (source.key == key) return source.text + (source.doi.empty() ? "" : ", doi " + source.doi);
  }
  return key;
}

// ---- JSON

Json to_json(const Deliquescence& d) {
  Json measured = Json::array();
  for (const auto& one : d.measured) {
    measured.push_back({{"rh_percent", one.measured.rh_percent},
                        {"uncertainty_percent", number_or_null(one.measured.uncertainty_percent)},
                        {"temperature_c", one.measured.temperature_c},
                        {"difference_percent", number_or_null(one.difference_percent)},
                        {"disagrees", one.disagrees},
                        {"doubtful", one.measured.doubtful},
                        {"kind", one.measured.kind},
                        {"source", one.measured.source},
                        {"basis", std::string(to_string(one.measured.basis))},
                        {"note", one.measured.note}});
  }
  return {
      {"salt", d.salt},
      {"solid", d.solid},
      {"temperature_c", d.temperature_c},
      {"rh_percent", number_or_null(d.rh_percent)},
      {"rh_uncertainty_percent", number_or_null(d.rh_uncertainty_percent)},
      {"uncertainty_from", d.uncertainty_from},
      {"basis", std::string(to_string(d.basis))},
      {"not_known_because", d.not_known_because},
      {"pitzer_set", d.pitzer_set},
      {"saturation_molality_measured_mol_per_kg", number_or_null(d.molality_measured)},
      {"saturation_molality_from_constant_mol_per_kg", number_or_null(d.molality_from_constant)},
      {"rh_from_constant_percent", number_or_null(d.rh_from_constant_percent)},
      {"independent_of_measured_humidity", !d.humidity_in_fit},
      {"measured", measured},
      {"warnings", d.warnings},
      {"note", d.note},
      {"sources", d.sources}};
}

// ---- text

std::string with_error(double value, double uncertainty) {
  if (std::isnan(value)) return "not known";
  if (std::isnan(uncertainty)) return fixed(value, 1);
  if (uncertainty < 0.005) return fixed(value, 2) + " +/- <0.01";
  const int decimals = uncertainty < 0.195 ? 2 : 1;
  return fixed(value, decimals) + " +/- " + fixed(uncertainty, decimals);
}

void write_row(std::ostream& out, const std::vector<std::pair<std::string, int>>& cells) {
  std::string line;
  for (const auto& [text, width] : cells) {
    line += detail::padded(text, static_cast<std::size_t>(width)) + ' ';
  }
  out << std::string(line.begin(),
                     line.begin() + static_cast<std::ptrdiff_t>(line.find_last_not_of(' ') + 1))
      << '\n';
}

std::string remark(const Deliquescence& d) {
  if (std::isnan(d.rh_percent)) return d.not_known_because;
  if (d.humidity_in_fit) return "measured humidity in fit: no test";
  return d.pitzer_set;
}

// Neither computed nor measured, one line for each reason.
void write_unknown(std::ostream& out, const std::vector<Deliquescence>& salts) {
  std::map<std::string, std::vector<std::string>> by_reason;
  for (const auto& d : salts) {
    if (!std::isnan(d.rh_percent) || !d.measured.empty()) continue;
    const auto at =
        d.not_known_because.find(d.solid);  // the same reason for several salts on one line
    std::string reason = d.not_known_because;
    if (at != std::string::npos) reason.replace(at, d.solid.size(), "the salt");
    by_reason[reason].push_back(d.solid);
  }
  if (!by_reason.empty()) out << "\nNot known at this temperature:\n";
  for (const auto& [reason, names] : by_reason) {
    out << "  " << detail::join(names, ", ") << ": " << reason << '\n';
  }
}

// The best measurement: its humidity with signs, its temperature, computed less measured there.
struct Beside {
  std::string humidity = "none known";
  std::string temperature = "-";
  std::string difference = "-";
};

Beside best_beside(const Deliquescence& d) {
  if (d.measured.empty()) return {};
  const auto& best = d.measured.front();
  const auto& m = best.measured;
  const bool known = !std::isnan(best.difference_percent);
  return {with_error(m.rh_percent, m.uncertainty_percent) + (m.doubtful ? " ?" : ""),
          format_number(m.temperature_c, 3),
          known ? (best.difference_percent < 0 ? "" : "+") + fixed(best.difference_percent, 1) +
                      (best.disagrees ? " !" : "")
                : "-"};
}

void write_signs(std::ostream& out, const std::vector<Deliquescence>& salts) {
  const auto any = [&](auto test) {
    return std::any_of(salts.begin(), salts.end(), [&](const auto& d) {
      return !d.measured.empty() && test(d.measured.front());
    });
  };
  if (any([](const auto& one) { return one.disagrees; }))
    out << "! computed and measured disagree by more than twice their combined uncertainty (1 % RH "
           "taken where\n  none is stated).\n";
  if (any([](const auto& one) { return one.measured.doubtful; }))
    out << "? only doubtful figures were found (superseded, biased or weak).\n";
}

void write_table(std::ostream& out, const std::vector<Deliquescence>& salts, double temperature_c) {
  out << "Salts dissolve in water from the air above these relative humidities, at "
      << format_number(temperature_c) << " degrees C.\n\n";
  write_row(out, {{"salt", 33},
                  {"formula", 15},
                  {"computed % RH", 14},
                  {"measured % RH", 14},
                  {"at C", 5},
                  {"less", 7},
                  {"sat. mol/kg", 12},
                  {"parameters", 0}});
  for (const auto& d : salts) {
    if (std::isnan(d.rh_percent) && d.measured.empty()) continue;
    const Beside beside = best_beside(d);
    const double m =
        std::isnan(d.molality_measured) ? d.molality_from_constant : d.molality_measured;
    write_row(out, {{d.solid, 33},
                    {d.salt, 15},
                    {with_error(d.rh_percent, d.rh_uncertainty_percent), 14},
                    {beside.humidity, 14},
                    {beside.temperature, 5},
                    {beside.difference, 7},
                    {fixed(m, 3), 12},
                    {remark(d), 0}});
  }
  write_unknown(out, salts);
  out << "\n\"less\" is computed less measured, both at the temperature of the measurement beside "
         "it.\n";
  write_signs(out, salts);
  out << "Uncertainties are one standard uncertainty. A mixture of salts stays wet below the "
         "lowest of its\n"
         "members; brine may dry out only well below these figures. 'aeruca salts NAME' shows one "
         "salt.\n";
}

void write_saturation(std::ostream& out, const Deliquescence& d) {
  if (!std::isnan(d.molality_measured)) {
    out << "  saturated solution, measured:     " << format_number(d.molality_measured, 5)
        << " mol/kg\n";
  }
  if (!std::isnan(d.molality_from_constant)) {
    out << "  saturated solution, from constant: " << format_number(d.molality_from_constant, 5)
        << " mol/kg, " << fixed(d.rh_from_constant_percent, 2) << " % RH\n";
  }
}

void write_measured(std::ostream& out, const Dataset& dataset, const Deliquescence& d) {
  if (d.measured.empty()) {
    out << "  no measured humidity within 5.5 degrees C in the data set\n";
    return;
  }
  out << "  measured (computed less measured in brackets):\n";
  for (const auto& one : d.measured) {
    const auto& m = one.measured;
    out << "    " << fixed(m.rh_percent, 2)
        << (std::isnan(m.uncertainty_percent) ? ""
            : m.uncertainty_percent < 0.005   ? " +/- <0.01"
                                              : " +/- " + fixed(m.uncertainty_percent, 2))
        << " % RH at " << format_number(m.temperature_c) << " degrees C ("
        << (std::isnan(one.difference_percent)
                ? "not computed there"
                : (one.difference_percent < 0 ? "" : "+") + fixed(one.difference_percent, 2))
        << (one.disagrees ? ", they disagree" : "") << "), " << (m.doubtful ? "doubtful, " : "")
        << m.kind << ", " << title_of(dataset, m.source) << " [" << to_string(m.basis) << "]\n";
    if (!m.note.empty()) out << "      " << m.note << '\n';
  }
}

void write_detail(std::ostream& out, const Dataset& dataset, const Deliquescence& d) {
  out << d.solid << ", " << d.salt << ", at " << format_number(d.temperature_c) << " degrees C\n";
  if (std::isnan(d.rh_percent)) {
    out << "  dissolves above: not known, because " << d.not_known_because << '\n';
  } else {
    out << "  dissolves above: " << fixed(d.rh_percent, 2) << " +/- "
        << fixed(d.rh_uncertainty_percent, 2) << " % RH, computed from the "
        << (d.basis == SaturationBasis::solubility ? "measured solubility" : "constant")
        << " with set " << d.pitzer_set << "\n  uncertainty: " << d.uncertainty_from << '\n';
  }
  write_saturation(out, d);
  out << "  independent of the measured humidity: " << (d.humidity_in_fit ? "no" : "yes") << '\n';
  write_measured(out, dataset, d);
  for (const auto& warning : d.warnings) out << "  note: " << warning << '\n';
  if (!d.note.empty()) out << "  note of the entry: " << d.note << '\n';
  for (const auto& key : d.sources) out << "  source: " << title_of(dataset, key) << '\n';
}

// ---- the four things asked for

void show_onset(const Dataset& dataset, Context& context) {
  if (context.json) {
    Json bands = Json::array();
    for (const auto& band : dataset.onset_bands) {
      bands.push_back({{"id", band.id},
                       {"title", band.title},
                       {"low_rh_percent", number_or_null(band.low_rh_percent)},
                       {"high_rh_percent", number_or_null(band.high_rh_percent)},
                       {"conditions", band.conditions},
                       {"source", band.source},
                       {"basis", std::string(to_string(band.basis))},
                       {"chosen", band.chosen},
                       {"reason", band.reason},
                       {"note", band.note}});
    }
    context.out << Json{{"onset_bands", bands}, {"data_set", dataset_json(dataset)}}.dump(2)
                << '\n';
    return;
  }
  context.out << "Published humidity limits for copper alloys with cuprous chloride (bronze "
                 "disease), % RH.\n"
                 "Nantokite reacts rather than dissolves: these are bands of experience, not "
                 "equilibria.\n\n";
  for (const auto& band : dataset.onset_bands) {
    context.out << (band.chosen ? "* " : "  ") << band.id << ": "
                << format_number(band.low_rh_percent)
                << (std::isnan(band.high_rh_percent) ? ""
                                                     : " to " + format_number(band.high_rh_percent))
                << ", " << band.title << "\n      " << band.conditions << "\n      "
                << title_of(dataset, band.source) << " [" << to_string(band.basis) << "]\n";
    if (!band.reason.empty())
      context.out << "      why " << (band.chosen ? "chosen: " : "not chosen: ") << band.reason
                  << '\n';
    if (!band.note.empty()) context.out << "      " << band.note << '\n';
  }
  context.out << "\n* used for verdicts unless another is named\n" << dataset_line(dataset) << '\n';
}

void show_solution(const Request& request, const Dataset& dataset, Context& context) {
  const auto s = single_salt(dataset, request.salt, *request.molality, request.temperature_c,
                             request.pitzer_set);
  if (context.json) {
    const Json result = {{"solid", s.solid},
                         {"anhydrous", s.anhydrous},
                         {"molality_mol_per_kg", s.molality},
                         {"temperature_c", s.temperature_c},
                         {"ionic_strength_mol_per_kg", s.ionic_strength},
                         {"osmotic_coefficient", s.osmotic_coefficient},
                         {"osmotic_uncertainty", s.osmotic_uncertainty},
                         {"mean_activity_coefficient", s.mean_activity_coefficient},
                         {"water_activity", s.water_activity},
                         {"water_activity_uncertainty", s.water_activity_uncertainty},
                         {"pitzer_set", s.pitzer_set},
                         {"warnings", s.warnings}};
    context.out << Json{{"solution", result}, {"data_set", dataset_json(dataset)}}.dump(2) << '\n';
    return;
  }
  context.out << s.anhydrous << ", " << format_number(s.molality) << " mol/kg, at "
              << format_number(s.temperature_c) << " degrees C, set " << s.pitzer_set
              << "\n  osmotic coefficient:       " << fixed(s.osmotic_coefficient, 4) << " +/- "
              << format_number(s.osmotic_uncertainty, 2)
              << "\n  mean activity coefficient: " << fixed(s.mean_activity_coefficient, 4)
              << "\n  water activity:            " << fixed(s.water_activity, 4) << " +/- "
              << format_number(s.water_activity_uncertainty, 2)
              << "\n  ionic strength:            " << format_number(s.ionic_strength, 5)
              << " mol/kg\n";
  for (const auto& warning : s.warnings) context.out << "  note: " << warning << '\n';
  context.out << dataset_line(dataset) << '\n';
}

void show_salts(const Request& request, const Dataset& dataset, Context& context) {
  std::vector<Deliquescence> found;
  for (const auto& salt : dataset.salts) {
    if (!request.salt.empty() && &salt != &dataset.salt(request.salt)) continue;
    found.push_back(deliquescence(dataset, salt.solid, request.temperature_c, request.pitzer_set));
  }
  const bool none = std::all_of(found.begin(), found.end(),
                                [](const auto& d) { return std::isnan(d.rh_percent); });
  if (none) context.exit_code = kNoAnswer;
  if (context.json) {
    Json list = Json::array();
    for (const auto& d : found) list.push_back(to_json(d));
    context.out << Json{{"salts", list}, {"data_set", dataset_json(dataset)}}.dump(2) << '\n';
    return;
  }
  if (request.salt.empty()) {
    write_table(context.out, found, request.temperature_c);
  } else {
    write_detail(context.out, dataset, found.front());
  }
  context.out << dataset_line(dataset) << '\n';
}

void run(const Request& request, Context& context) {
  const auto dataset = context.dataset();
  if (request.onset && !request.alone) {
    throw CLI::ValidationError("--onset", "goes with no salt and no other option of salts");
  }
  if (request.onset) return show_onset(*dataset, context);
  if (request.salt.empty() && (request.molality || !request.pitzer_set.empty())) {
    throw CLI::ValidationError("salts", "--molality and --set need the name of one salt");
  }
  if (std::isnan(request.temperature_c))
    throw InputError("--temperature", request.temperature_c, "0 to 50 degrees C");
  if (request.molality) return show_solution(request, *dataset, context);
  show_salts(request, *dataset, context);
}

}  // namespace

void add_salts(CLI::App& app, Context& context) {
  auto request = std::make_shared<Request>();
  CLI::App* command =
      app.add_subcommand("salts", "humidity at which salts dissolve, computed beside measured");
  command->add_option("salt", request->salt,
                      "one salt in detail: mineral (halite) or formula (NaCl)");
  command->add_option("--temperature", request->temperature_c, "degrees C, 0 to 50 (default 25)");
  command->add_option("--set", request->pitzer_set, "Pitzer set to use in place of the chosen one");
  command->add_option("--molality", request->molality,
                      "the solution of this strength instead (mol/kg)");
  command->add_flag("--onset", request->onset, "published humidity limits for bronze disease");
  command->callback([request, command, &context] {
    request->alone = command->count_all() == 2;  // the command and --onset
    run(*request, context);
  });
}

}  // namespace aeruca::cli
