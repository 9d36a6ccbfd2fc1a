#include "aeruca/crystallisation.hpp"

#include <algorithm>

namespace aeruca {

std::vector<MeasuredHumidity> crystallisation_humidities(const Dataset& dataset,
                                                         std::string_view salt) {
  const std::string& solid = dataset.salt(salt).solid;
  std::vector<MeasuredHumidity> found;
  for (const MeasuredHumidity& one : dataset.humidities) {
    if (one.solid == solid && one.equilibrium == "crystallisation") found.push_back(one);
  }
  std::sort(found.begin(), found.end(), [](const MeasuredHumidity& a, const MeasuredHumidity& b) {
    return a.rh_percent > b.rh_percent;
  });
  return found;
}

}  // namespace aeruca
