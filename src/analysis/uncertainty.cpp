// How far the readings of an analysis are known, carried to saturation indices.

#include <cmath>

#include "aeruca/analysis.hpp"

namespace aeruca {
namespace {

// Standard uncertainties where the laboratory states none.
constexpr double kUsualPh = 0.1;
constexpr double kUsualRelative = 0.05;

bool raise(Reading& reading, double usual) {
  if (!reading.detected()) return false;
  reading.value += std::isnan(reading.uncertainty) ? usual : reading.uncertainty;
  return true;
}

// The analysis with one reading each raised by its uncertainty.
std::vector<WaterAnalysis> moved_one_at_a_time(const WaterAnalysis& analysis,
                                               const SolvedWater& solved) {
  std::vector<WaterAnalysis> all;
  WaterAnalysis moved = analysis;
  if (raise(moved.ph, kUsualPh)) all.push_back(moved);
  if (analysis.potential_mv && solved.water.potential) {
    moved = analysis;
    *moved.potential_mv += 1000 * solved.water.potential->uncertainty_v;
    all.push_back(moved);
  }
  moved = analysis;
  if (raise(moved.alkalinity.reading, kUsualRelative * analysis.alkalinity.reading.value))
    all.push_back(moved);
  for (std::size_t i = 0; i < analysis.ions.size(); ++i) {
    moved = analysis;
    Reading& reading = moved.ions[i].amount.reading;
    if (raise(reading, kUsualRelative * reading.value)) all.push_back(moved);
  }
  return all;
}

}  // namespace

std::map<std::string, double> index_uncertainty_of_readings(
    const WaterAnalysis& analysis, const SolvedWater& solved,
    const std::shared_ptr<const Dataset>& dataset) {
  std::map<std::string, double> found;
  for (const WaterAnalysis& moved : moved_one_at_a_time(analysis, solved)) {
    const EquilibriumResult result =
        solve(analyse(moved, *dataset, solved.water.options), dataset).result;
    if (result.status != Status::converged) continue;
    for (const auto& [solid, index] : result.saturation_index) {
      const auto base = solved.result.saturation_index.find(solid);
      if (base != solved.result.saturation_index.end())
        found[solid] = std::hypot(found[solid], index - base->second);
    }
  }
  return found;
}

}  // namespace aeruca
