#include "render/salts_text.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <sstream>

#include "aeruca/crystallisation.hpp"
#include "aeruca/nantokite.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"
#include "base/words.hpp"
#include "render/describe_brine.hpp"

namespace aeruca::detail {
namespace {

constexpr std::size_t kWidth = 100;  // of what is told below the table

std::string fixed(double value, int decimals) {
  return std::isnan(value) ? "-" : fixed_text(value, decimals);
}

std::string dataset_line(const Dataset& dataset) {
  return say("page.data_set_line", {{"version", dataset.version}, {"hash", dataset.content_hash}});
}

std::string title_of(const Dataset& dataset, const std::string& key) {
  for (const auto& source : dataset.sources) {
    if (source.key == key) return source.text + (source.doi.empty() ? "" : ", doi " + source.doi);
  }
  return key;
}

std::string with_error(double value, double uncertainty) {
  if (std::isnan(value)) return say("word.not_known");
  if (std::isnan(uncertainty)) return fixed(value, 1);
  if (uncertainty < 0.005) return fixed(value, 2) + " +/- <0.01";
  const int decimals = uncertainty < 0.195 ? 2 : 1;
  return fixed(value, decimals) + " +/- " + fixed(uncertainty, decimals);
}

void write_row(std::ostream& out, const std::vector<std::pair<std::string, int>>& cells) {
  std::string line;
  for (const auto& [text, width] : cells) {
    line += padded(text, static_cast<std::size_t>(width)) + ' ';
  }
  out << std::string(line.begin(),
                     line.begin() + static_cast<std::ptrdiff_t>(line.find_last_not_of(' ') + 1))
      << '\n';
}

std::string remark(const Deliquescence& d) {
  if (std::isnan(d.rh_percent)) return d.not_known_because;
  if (d.humidity_in_fit) return say("page.salts.in_fit");
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
    if (at != std::string::npos) reason.replace(at, d.solid.size(), say("page.salts.the_salt"));
    by_reason[reason].push_back(d.solid);
  }
  if (!by_reason.empty()) out << '\n' << say("page.salts.not_known") << '\n';
  for (const auto& [reason, names] : by_reason) {
    out << "  " << join(names, ", ") << ": " << reason << '\n';
  }
}

// The best measurement: its humidity with signs, its temperature, computed less measured there.
struct Beside {
  std::string humidity = say("page.salts.none_known");
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
    out << paragraph(say("page.salts.disagree"), kWidth, "! ");
  if (any([](const auto& one) { return one.measured.doubtful; }))
    out << paragraph(say("page.salts.doubtful"), kWidth, "? ");
}

void write_table(std::ostream& out, const std::vector<Deliquescence>& salts, double temperature_c) {
  out << say("page.salts.title", {{"temperature_c", format_number(temperature_c)}}) << "\n\n";
  write_row(out, {{say("column.salt"), 33},
                  {say("column.formula"), 15},
                  {say("page.salts.computed_rh"), 14},
                  {say("column.measured_rh"), 14},
                  {say("page.salts.at_c"), 5},
                  {say("page.salts.less"), 7},
                  {say("page.salts.saturation"), 12},
                  {say("page.salts.parameters"), 0}});
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
  out << '\n' << paragraph(say("page.salts.less_words"), kWidth);
  write_signs(out, salts);
  out << paragraph(say("page.salts.note"), kWidth);
}

void write_saturation(std::ostream& out, const Deliquescence& d) {
  if (!std::isnan(d.molality_measured)) {
    out << "  "
        << say("page.salts.measured_solution",
               {{"molality", format_number(d.molality_measured, 5)}})
        << '\n';
  }
  if (!std::isnan(d.molality_from_constant)) {
    out << "  "
        << say("page.salts.constant_solution",
               {{"molality", format_number(d.molality_from_constant, 5)},
                {"rh_percent", fixed(d.rh_from_constant_percent, 2)}})
        << '\n';
  }
}

void write_measured(std::ostream& out, const Dataset& dataset, const Deliquescence& d) {
  if (d.measured.empty()) {
    out << "  " << say("page.salts.none_near") << '\n';
    return;
  }
  out << "  " << say("page.salts.measured_heading") << '\n';
  for (const auto& one : d.measured) {
    const auto& m = one.measured;
    const std::string error = std::isnan(m.uncertainty_percent) ? ""
                              : m.uncertainty_percent < 0.005
                                  ? " +/- <0.01"
                                  : " +/- " + fixed(m.uncertainty_percent, 2);
    const std::string difference =
        std::isnan(one.difference_percent)
            ? say("page.salts.not_computed")
            : (one.difference_percent < 0 ? "" : "+") + fixed(one.difference_percent, 2);
    out << "    "
        << say("page.salts.one_measured",
               {{"rh_percent", fixed(m.rh_percent, 2) + error},
                {"temperature_c", format_number(m.temperature_c)},
                {"difference", difference + (one.disagrees ? say("page.salts.they_disagree") : "")},
                {"kind", (m.doubtful ? say("page.salts.is_doubtful") : "") + m.kind},
                {"source", title_of(dataset, m.source)},
                {"basis", std::string(to_string(m.basis))}})
        << '\n';
    if (!m.note.empty()) out << "      " << m.note << '\n';
  }
}

void write_crystallisation(std::ostream& out, const Dataset& dataset, const Deliquescence& d) {
  for (const MeasuredHumidity& m : crystallisation_humidities(dataset, d.solid)) {
    out << "  "
        << say("page.salts.crystallises",
               {{"rh_percent", format_number(m.rh_percent, 3)},
                {"uncertainty", std::isnan(m.uncertainty_percent)
                                    ? say("word.not_known")
                                    : format_number(m.uncertainty_percent, 2)},
                {"source", title_of(dataset, m.source)},
                {"basis", std::string(to_string(m.basis))},
                {"note", m.note}})
        << '\n';
  }
}

void write_detail(std::ostream& out, const Dataset& dataset, const Deliquescence& d) {
  out << say("page.salts.of",
             {{"salt", d.solid + ", " + d.salt}, {"temperature_c", format_number(d.temperature_c)}})
      << "\n  ";
  if (std::isnan(d.rh_percent)) {
    out << say("page.salts.unknown", {{"reason", d.not_known_because}}) << '\n';
  } else {
    out << say(d.basis == SaturationBasis::solubility ? "page.salts.by_solubility"
                                                      : "page.salts.by_constant",
               {{"rh_percent",
                 fixed(d.rh_percent, 2) + " +/- " + fixed(d.rh_uncertainty_percent, 2)},
                {"set", d.pitzer_set}})
        << "\n  " << say("page.salts.uncertainty", {{"from", d.uncertainty_from}}) << '\n';
  }
  write_saturation(out, d);
  out << "  " << say(d.humidity_in_fit ? "page.salts.not_independent" : "page.salts.independent")
      << '\n';
  write_measured(out, dataset, d);
  write_crystallisation(out, dataset, d);
  for (const auto& warning : d.warnings)
    out << "  " << say("page.note", {{"note", warning}}) << '\n';
  if (!d.note.empty()) out << "  " << say("page.salts.entry", {{"note", d.note}}) << '\n';
  for (const auto& key : d.sources)
    out << "  " << say("page.salts.source", {{"source", title_of(dataset, key)}}) << '\n';
}

std::string hydration_measured(const Dataset& dataset, const HydrationChange& change) {
  if (change.measured.empty()) return {};
  const MeasuredHumidity& best = change.measured.front().measured;
  return say("page.salts.hydration_measured", {{"kind", best.kind},
                                               {"rh_percent", format_number(best.rh_percent, 3)},
                                               {"temperature_c", format_number(best.temperature_c)},
                                               {"source", title_of(dataset, best.source)},
                                               {"basis", std::string(to_string(best.basis))}});
}

void write_hydration(std::ostream& out, const Dataset& dataset,
                     const std::vector<HydrationChange>& changes) {
  if (changes.empty()) return;
  out << "  " << say("page.salts.hydration_heading") << '\n';
  for (const auto& change : changes) {
    const bool known = !std::isnan(change.rh_percent);
    const std::string rh =
        known ? with_uncertainty(change.rh_percent, change.rh_uncertainty_percent, 1)
              : say("page.salts.hydration_unknown", {{"reason", change.not_known_because}});
    out << "    "
        << say(known ? "page.salts.hydration" : "page.salts.hydration_none",
               {{"upper", change.upper},
                {"lower", change.lower},
                {"rh_percent", rh},
                {"measured", hydration_measured(dataset, change)}})
        << '\n';
  }
}

}  // namespace

std::string with_uncertainty(double value, double uncertainty, int decimals) {
  if (std::isnan(value)) return say("word.not_known");
  return fixed(value, decimals) + " +/- " + fixed(uncertainty, decimals);
}

std::string onset_text(const Dataset& dataset) {
  std::ostringstream out;
  out << say("page.onset.title") << '\n' << say("page.onset.experience") << '\n';
  out << nantokite_in_air(dataset).said << '\n' << say("brine.nantokite.no_rates") << "\n\n";
  for (const auto& band : dataset.onset_bands) {
    const std::string low = format_number(band.low_rh_percent);
    const std::string high = format_number(band.high_rh_percent);
    out << (band.chosen ? "* " : "  ") << band.id << ": "
        << (std::isnan(band.high_rh_percent) ? low
                                             : say("word.range", {{"low", low}, {"high", high}}))
        << ", " << band.title << "\n      " << band.conditions << "\n      "
        << title_of(dataset, band.source) << " [" << to_string(band.basis) << "]\n";
    if (!band.reason.empty())
      out << "      "
          << say(band.chosen ? "page.onset.why_chosen" : "page.onset.why_not",
                 {{"reason", band.reason}})
          << '\n';
    if (!band.note.empty()) out << "      " << band.note << '\n';
  }
  out << "\n* " << say("page.onset.used") << '\n' << dataset_line(dataset) << '\n';
  return out.str();
}

std::string solution_text(const SaltSolution& s, const Dataset& dataset) {
  std::ostringstream out;
  const auto line = [&](const char* key, const std::string& figure) {
    out << "  " << padded(say(key), 27) << figure << '\n';
  };
  out << say("page.salts.solution", {{"salt", s.anhydrous},
                                     {"molality", format_number(s.molality)},
                                     {"temperature_c", format_number(s.temperature_c)},
                                     {"set", s.pitzer_set}})
      << '\n';
  line("page.salts.osmotic",
       fixed(s.osmotic_coefficient, 4) + " +/- " + format_number(s.osmotic_uncertainty, 2));
  line("page.salts.mean_activity", fixed(s.mean_activity_coefficient, 4));
  line("page.salts.water_activity",
       fixed(s.water_activity, 4) + " +/- " + format_number(s.water_activity_uncertainty, 2));
  line("page.salts.ionic_strength", format_number(s.ionic_strength, 5) + " mol/kg");
  for (const auto& warning : s.warnings)
    out << "  " << say("page.note", {{"note", warning}}) << '\n';
  out << dataset_line(dataset) << '\n';
  return out.str();
}

std::string salts_text(const std::vector<Deliquescence>& salts, double temperature_c,
                       const Dataset& dataset) {
  std::ostringstream out;
  write_table(out, salts, temperature_c);
  out << dataset_line(dataset) << '\n';
  return out.str();
}

std::string salt_text(const Deliquescence& salt, const std::vector<HydrationChange>& hydration,
                      const Dataset& dataset) {
  std::ostringstream out;
  write_detail(out, dataset, salt);
  write_hydration(out, dataset, hydration);
  out << dataset_line(dataset) << '\n';
  return out.str();
}

}  // namespace aeruca::detail
