#include <algorithm>
#include <cmath>
#include <map>

#include "aeruca/brine.hpp"
#include "aeruca/errors.hpp"
#include "base/text.hpp"
#include "brine/measured.hpp"
#include "brine/saturation.hpp"

namespace aeruca {
namespace detail {

std::vector<MeasuredHumidity> humidities_of(const Dataset& dataset, std::string_view solid) {
  std::vector<MeasuredHumidity> found;
  for (const auto& one : dataset.humidities) {
    if (one.solid == solid && one.equilibrium == "deliquescence" && one.kind != "computed")
      found.push_back(one);
  }
  return found;
}

}  // namespace detail

namespace {

// Mineral name of a salt given by any of its names; a solid that is no salt of the data set keeps
// its own.
std::string solid_name(const Dataset& dataset, std::string_view name) {
  for (const auto& salt : dataset.salts) {
    if (salt.solid == name || salt.formula == name) return salt.solid;
  }
  for (const auto& salt : dataset.salts) {
    if (salt.anhydrous == name) return salt.solid;
  }
  return std::string(name);
}

using Table = std::vector<MeasuredHumidity>;

// Evaluated values of one source, in order of temperature; the longest such table.
Table fullest_table(const std::vector<MeasuredHumidity>& all) {
  std::map<std::string, Table> by_source;
  for (const auto& one : all) {
    if (one.kind == "evaluated") by_source[one.source].push_back(one);
  }
  Table best;
  for (auto& [source, table] : by_source) {
    if (table.size() > best.size()) best = std::move(table);
  }
  std::sort(best.begin(), best.end(),
            [](const auto& a, const auto& b) { return a.temperature_c < b.temperature_c; });
  const auto same = [](const auto& a, const auto& b) { return a.temperature_c == b.temperature_c; };
  best.erase(std::unique(best.begin(), best.end(), same), best.end());
  return best;
}

// A mixture is the same in either order: `one+other` is `other+one`.
bool same_solid(const std::string& a, const std::string& b) {
  if (a == b) return true;
  const std::size_t plus = b.find('+');
  return plus != std::string::npos && a == b.substr(plus + 1) + "+" + b.substr(0, plus);
}

// Why there is no table: no such solid, or single values only, which are told.
[[noreturn]] void refuse(const Dataset& dataset, std::string_view solid) {
  const std::string name = solid_name(dataset, solid);
  std::vector<std::string> values;
  for (const auto& one : dataset.humidities) {
    if (same_solid(one.solid, name))
      values.push_back(detail::format_number(one.rh_percent, 4) + " % RH at " +
                       detail::format_number(one.temperature_c) + " degrees C (" + one.equilibrium +
                       ", " + one.source + ")");
  }
  if (!values.empty()) {
    throw InputError("solid", std::string(solid),
                     "a solid with an evaluated table over temperature; of this one single values "
                     "are known: " +
                         detail::join(values, ", "));
  }
  std::vector<std::string> known;
  for (const auto& one : dataset.humidities) {
    if (one.kind == "evaluated") known.push_back(one.solid);
  }
  throw UnknownName("solid with an evaluated humidity", std::string(solid),
                    detail::nearest_name(solid, known));
}

}  // namespace

MeasuredCurvePoint measured_humidity(const Dataset& dataset, std::string_view solid,
                                     double temperature_c) {
  const std::string name = solid_name(dataset, solid);
  const Table table = fullest_table(detail::humidities_of(dataset, name));
  if (table.empty()) refuse(dataset, solid);
  const double low = table.front().temperature_c;
  const double high = table.back().temperature_c;
  if (temperature_c < low || temperature_c > high) {
    throw InputError("temperature_c", temperature_c,
                     detail::format_number(low) + " to " + detail::format_number(high) +
                         " degrees C, the evaluated table of " + name);
  }
  std::vector<std::pair<double, double>> humidity;
  std::vector<std::pair<double, double>> uncertainty;
  for (const auto& one : table) {
    humidity.emplace_back(one.temperature_c, one.rh_percent);
    uncertainty.emplace_back(one.temperature_c, one.uncertainty_percent);
  }
  return {detail::interpolate(humidity, temperature_c),
          detail::interpolate(uncertainty, temperature_c), table.front().source, low, high};
}

}  // namespace aeruca
