#include "render/salts_text.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <sstream>

#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"
#include "render/describe_brine.hpp"

namespace aeruca::detail {
namespace {

std::string fixed(double value, int decimals) {
  return std::isnan(value) ? "-" : fixed_text(value, decimals);
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
    line += padded(text, static_cast<std::size_t>(width)) + ' ';
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
    out << "  " << join(names, ", ") << ": " << reason << '\n';
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

}  // namespace

std::string with_uncertainty(double value, double uncertainty, int decimals) {
  if (std::isnan(value)) return "not known";
  return fixed(value, decimals) + " +/- " + fixed(uncertainty, decimals);
}

std::string onset_text(const Dataset& dataset) {
  std::ostringstream out;
  out << "Published humidity limits for copper alloys with cuprous chloride (bronze "
         "disease), % RH.\n"
         "Nantokite reacts rather than dissolves: these are bands of experience, not "
         "equilibria.\n\n";
  for (const auto& band : dataset.onset_bands) {
    out << (band.chosen ? "* " : "  ") << band.id << ": " << format_number(band.low_rh_percent)
        << (std::isnan(band.high_rh_percent) ? "" : " to " + format_number(band.high_rh_percent))
        << ", " << band.title << "\n      " << band.conditions << "\n      "
        << title_of(dataset, band.source) << " [" << to_string(band.basis) << "]\n";
    if (!band.reason.empty())
      out << "      why " << (band.chosen ? "chosen: " : "not chosen: ") << band.reason << '\n';
    if (!band.note.empty()) out << "      " << band.note << '\n';
  }
  out << "\n* used for verdicts unless another is named\n" << dataset_line(dataset) << '\n';
  return out.str();
}

std::string solution_text(const SaltSolution& s, const Dataset& dataset) {
  std::ostringstream out;
  out << s.anhydrous << ", " << format_number(s.molality) << " mol/kg, at "
      << format_number(s.temperature_c) << " degrees C, set " << s.pitzer_set
      << "\n  osmotic coefficient:       " << fixed(s.osmotic_coefficient, 4) << " +/- "
      << format_number(s.osmotic_uncertainty, 2)
      << "\n  mean activity coefficient: " << fixed(s.mean_activity_coefficient, 4)
      << "\n  water activity:            " << fixed(s.water_activity, 4) << " +/- "
      << format_number(s.water_activity_uncertainty, 2)
      << "\n  ionic strength:            " << format_number(s.ionic_strength, 5) << " mol/kg\n";
  for (const auto& warning : s.warnings) out << "  note: " << warning << '\n';
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

std::string salt_text(const Deliquescence& salt, const Dataset& dataset) {
  std::ostringstream out;
  write_detail(out, dataset, salt);
  out << dataset_line(dataset) << '\n';
  return out.str();
}

}  // namespace aeruca::detail
