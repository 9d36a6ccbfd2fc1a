// The silica gels of the data set: figures `GEL.parameter` of quantity sorption_*.

#include <algorithm>
#include <cmath>
#include <map>
#include <string>

#include "aeruca/enclosure.hpp"
#include "aeruca/errors.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "store/enclosure_moisture.hpp"

namespace aeruca {
namespace {

constexpr std::string_view kPrefix = "sorption_";
constexpr double kDeviationToSd = 1.2533;  // sqrt(pi / 2): mean absolute deviation of a normal one

const std::map<std::string, std::vector<std::string>, std::less<>>& forms() {
  static const std::map<std::string, std::vector<std::string>, std::less<>> all{
      {"dubinin_astakhov", {"w0", "e", "n"}},
      {"dubinin_arctan", {"a", "b", "c", "d"}},
      {"freundlich", {"a", "b"}}};
  return all;
}

void take_parameter(GelIsotherm& gel, const Figure& figure, const std::string& name) {
  const std::string form = figure.quantity.substr(kPrefix.size());
  const auto known = forms().find(form);
  if (known == forms().end()) return;
  gel.form = form;
  gel.title = figure.subject;
  gel.source = figure.source;
  gel.parameters.resize(known->second.size(), kNotGiven);
  const auto place = std::find(known->second.begin(), known->second.end(), name);
  if (place != known->second.end())
    gel.parameters[static_cast<std::size_t>(place - known->second.begin())] = figure.value;
}

void take_figure(GelIsotherm& gel, const Figure& figure, const std::string& name) {
  if (figure.quantity == "sorption_deviation") {
    gel.capacity_sd = kDeviationToSd * figure.value;
  } else if (figure.quantity == "sorption_range") {
    (name == "low" ? gel.low_rh_percent : gel.high_rh_percent) = figure.value;
  } else {
    take_parameter(gel, figure, name);
  }
}

bool complete(const GelIsotherm& gel) {
  return !gel.parameters.empty() && std::none_of(gel.parameters.begin(), gel.parameters.end(),
                                                 [](double p) { return std::isnan(p); });
}

}  // namespace

std::vector<GelIsotherm> gel_isotherms(const Dataset& dataset) {
  std::vector<GelIsotherm> gels;
  for (const Figure& figure : dataset.figures) {
    if (!figure.quantity.starts_with(kPrefix)) continue;
    const std::size_t dot = figure.id.rfind('.');
    if (dot == std::string::npos) continue;
    const std::string id = figure.id.substr(0, dot);
    auto gel =
        std::find_if(gels.begin(), gels.end(), [&](const auto& one) { return one.id == id; });
    if (gel == gels.end()) gel = gels.insert(gel, GelIsotherm{id, {}, {}, {}, 5, 95, 0.17, {}});
    take_figure(*gel, figure, figure.id.substr(dot + 1));
  }
  std::erase_if(gels, [](const GelIsotherm& gel) { return !complete(gel); });
  return gels;
}

GelIsotherm gel_isotherm(const Dataset& dataset, std::string_view id) {
  std::vector<std::string> names;
  for (const GelIsotherm& gel : gel_isotherms(dataset)) {
    if (gel.id == id) return gel;
    names.push_back(gel.id);
  }
  throw UnknownName("gel", std::string(id), detail::nearest_name(id, names));
}

double gel_water(const GelIsotherm& gel, double rh_percent, double temperature_c) {
  if (std::isnan(rh_percent) || std::isnan(temperature_c)) return kNotGiven;
  if (rh_percent < gel.low_rh_percent || rh_percent > gel.high_rh_percent) {
    throw InputError("rh_percent", rh_percent,
                     detail::say("enclosure.isotherm_range",
                                 {{"low", detail::format_number(gel.low_rh_percent)},
                                  {"high", detail::format_number(gel.high_rh_percent)}}));
  }
  if (temperature_c < 0 || temperature_c > 50)
    throw InputError("temperature_c", temperature_c, "0 to 50 degrees C");
  const detail::Warmth warmth = detail::warmth_of(gel, temperature_c);
  return warmth.gel_scale *
         detail::sorption(gel, warmth.gel_exponent * std::log(rh_percent / 100)).value;
}

}  // namespace aeruca
