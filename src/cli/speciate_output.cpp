#include "cli/speciate_output.hpp"

#include <algorithm>
#include <cmath>
#include <iomanip>
#include <nlohmann/json.hpp>
#include <numeric>
#include <sstream>
#include <string>
#include <vector>

#include "base/text.hpp"

namespace aeruca::cli {
namespace {

using Json = nlohmann::ordered_json;
using detail::format_number;

constexpr double kLeastShown = 1e-15;     // mol/kg in the table; JSON has all
constexpr double kLeastIndexShown = -3;   // saturation index in the table
constexpr double kSupersaturated = 5e-4;  // saturation index that the table shows above 0

std::string fixed(double value, int decimals) {
  std::ostringstream text;
  text << std::fixed << std::setprecision(decimals) << value;
  return text.str();
}

bool answered(const EquilibriumResult& result) {
  return result.status == Status::converged && result.certificate.holds();
}

void print_state(const EquilibriumResult& result, const EquilibriumOptions& options,
                 std::ostream& out) {
  out << "pH " << fixed(result.ph, 3)
      << (options.fixed_ph ? " (given)" : " (from the charge balance)") << ", Eh "
      << fixed(result.eh_v, 4) << " V against SHE (pe " << fixed(result.pe, 3) << ")\n"
      << "ionic strength " << format_number(result.ionic_strength, 4) << " mol/kg, water activity "
      << fixed(result.water_activity, 4) << ", " << format_number(options.temperature_c)
      << " degrees C, activity model " << to_string(options.activity) << '\n';
  if (options.fixed_ph) {
    out << "charge left over " << format_number(result.charge_mol_per_kg, 3)
        << " mol/kg (the pH was given, so the water as stated need not be neutral)\n";
  }
}

void print_dissolved(const EquilibriumResult& result, std::ostream& out) {
  std::vector<std::size_t> order(result.species.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(),
            [&](std::size_t a, std::size_t b) { return result.molality[a] > result.molality[b]; });
  out << "\nDissolved                molality      log10     log10     log10\n"
         "                           mol/kg   molality  activity  act.coeff.\n";
  std::size_t hidden = 0;
  for (const std::size_t i : order) {
    if (!(result.molality[i] > 0)) continue;
    if (result.molality[i] < kLeastShown) {
      ++hidden;
      continue;
    }
    const double gamma = result.log10_activity[i] - result.log10_molality[i];
    out << "  " << std::left << std::setw(20) << result.species[i] << std::right << std::setw(12)
        << format_number(result.molality[i], 5) << std::setw(10)
        << fixed(result.log10_molality[i], 3) << std::setw(10) << fixed(result.log10_activity[i], 3)
        << std::setw(10) << fixed(gamma == 0 ? 0 : gamma, 3) << '\n';
  }
  if (hidden > 0)
    out << "  and " << hidden << " below " << format_number(kLeastShown) << " mol/kg\n";
}

void print_solids(const EquilibriumResult& result, std::ostream& out) {
  out << "\nSolids formed (mol per kg water)\n";
  bool none = true;
  for (std::size_t s = 0; s < result.phases.size(); ++s) {
    if (!(result.phase_amount[s] > 0)) continue;
    none = false;
    out << "  " << std::left << std::setw(28) << result.phases[s] << std::right
        << format_number(result.phase_amount[s], 5) << '\n';
  }
  if (result.phases.empty()) {
    const bool wanted = std::any_of(result.saturation_index.begin(), result.saturation_index.end(),
                                    [](const auto& one) { return one.second > kSupersaturated; });
    out << (wanted
                ? "  no solid was allowed to form; see --solids all (the water is supersaturated)\n"
                : "  no solid was allowed to form; none is supersaturated\n");
  } else if (none) {
    out << "  none of the " << result.phases.size() << " allowed\n";
  }
}

bool allowed(const EquilibriumResult& result, const std::string& name) {
  return std::find(result.phases.begin(), result.phases.end(), name) != result.phases.end();
}

void print_indices(const EquilibriumResult& result, std::ostream& out) {
  std::vector<std::pair<double, std::string>> shown;
  for (const auto& [name, index] : result.saturation_index) {
    if (index > kLeastIndexShown) shown.emplace_back(-index, name);
  }
  std::sort(shown.begin(), shown.end());
  out << "\nSaturation index (log10; 0 saturated, above 0 supersaturated), those above "
      << kLeastIndexShown << '\n';
  for (const auto& [negative, name] : shown) {
    const double index = std::abs(negative) < 5e-4 ? 0 : -negative;
    out << "  " << std::left << std::setw(28) << name << std::right << std::setw(8)
        << fixed(index, 3) << (allowed(result, name) ? "" : "   not allowed to form") << '\n';
  }
}

void print_gases(const EquilibriumResult& result, std::ostream& out) {
  out << "\nGases in equilibrium with it (log10 of the fugacity in bar)\n";
  for (std::size_t g = 0; g < result.gases.size(); ++g) {
    if (!std::isfinite(result.log10_fugacity[g])) continue;
    out << "  " << std::left << std::setw(28) << result.gases[g] << std::right << std::setw(8)
        << fixed(result.log10_fugacity[g], 2) << '\n';
  }
}

void print_certificate(const Certificate& certificate, const Dataset& dataset, std::ostream& out) {
  out << "\nCertificate: mass balance " << format_number(certificate.mass_balance, 2) << ", charge "
      << format_number(certificate.charge_balance, 2) << ", supersaturation left "
      << format_number(std::max(certificate.supersaturation, 0.0), 2) << ", gap "
      << format_number(std::abs(certificate.duality_gap), 2) << ", activity "
      << format_number(certificate.activity_error, 2) << " (relative or in ln; "
      << certificate.iterations
      << " iterations): " << (certificate.holds() ? "holds" : "DOES NOT HOLD") << '\n'
      << "Equilibrium says what is possible, not how fast.\n"
      << "Data set " << dataset.version << " (content " << dataset.content_hash << ")\n";
}

Json certificate_json(const Certificate& certificate) {
  return {{"holds", certificate.holds()},
          {"mass_balance", certificate.mass_balance},
          {"charge_balance", certificate.charge_balance},
          {"supersaturation", certificate.supersaturation},
          {"smallest_phase", certificate.smallest_phase},
          {"duality_gap", certificate.duality_gap},
          {"activity_error", certificate.activity_error},
          {"iterations", certificate.iterations}};
}

Json finite(double value) {
  return std::isfinite(value) ? Json(value) : Json(nullptr);
}

void answer_json(const EquilibriumResult& result, Json& out) {
  out["ph"] = result.ph;
  out["pe"] = result.pe;
  out["eh_v"] = result.eh_v;
  out["ionic_strength_mol_per_kg"] = result.ionic_strength;
  out["water_activity"] = result.water_activity;
  out["charge_mol_per_kg"] = result.charge_mol_per_kg;
  for (std::size_t i = 0; i < result.species.size(); ++i) {
    out["species"][result.species[i]] = {{"molality_mol_per_kg", result.molality[i]},
                                         {"log10_molality", finite(result.log10_molality[i])},
                                         {"log10_activity", finite(result.log10_activity[i])}};
  }
  out["solids_mol_per_kg"] = Json::object();
  for (std::size_t s = 0; s < result.phases.size(); ++s)
    out["solids_mol_per_kg"][result.phases[s]] = result.phase_amount[s];
  out["saturation_index"] = result.saturation_index;
  for (std::size_t g = 0; g < result.gases.size(); ++g)
    out["log10_fugacity_bar"][result.gases[g]] = finite(result.log10_fugacity[g]);
}

}  // namespace

void print_speciation(const EquilibriumResult& result, const EquilibriumOptions& options,
                      const Dataset& dataset, std::ostream& out) {
  if (answered(result)) {
    print_state(result, options, out);
    print_dissolved(result, out);
    print_solids(result, out);
    print_indices(result, out);
    print_gases(result, out);
    for (const auto& warning : result.warnings) out << "\nCaution: " << warning << '.';
    for (const auto& remark : result.remarks) out << "\nNote: " << remark << '.';
    out << '\n';
  }
  print_certificate(result.certificate, dataset, out);
}

void print_speciation_json(const EquilibriumResult& result, const EquilibriumOptions& options,
                           const Dataset& dataset, std::ostream& out) {
  Json json;
  json["status"] = to_string(result.status);
  json["message"] = result.message;
  json["activity_model"] = to_string(options.activity);
  json["temperature_c"] = options.temperature_c;
  json["certificate"] = certificate_json(result.certificate);
  if (answered(result)) answer_json(result, json);
  json["warnings"] = result.warnings;
  json["remarks"] = result.remarks;
  json["figures"] = result.figures;
  json["data_set"] = {{"version", dataset.version}, {"content_hash", dataset.content_hash}};
  out << json.dump(2) << '\n';
}

}  // namespace aeruca::cli
