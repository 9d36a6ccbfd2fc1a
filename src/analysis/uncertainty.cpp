// How far the readings of an analysis and the constants are known, carried to saturation indices.

#include <algorithm>
#include <cmath>

#include "analysis/amount.hpp"
#include "analysis/search.hpp"
#include "equilibrium/index_balance.hpp"

namespace aeruca::detail {
namespace {

// Standard uncertainties where the laboratory states none.
constexpr double kUsualPh = 0.1;
constexpr double kUsualRelative = 0.05;

bool stated(const Reading& reading) {
  return !std::isnan(reading.uncertainty);
}

// In a laboratory's unit, or with its uncertainty; a bare total per kg of water is what was weighed
// in.
bool measured(const Amount& amount) {
  return stated(amount.reading) || amount_unit(amount.unit, "unit").per != Per::kg_water;
}

bool measured(const WaterAnalysis& analysis) {
  if (stated(analysis.ph) || analysis.potential_uncertainty_mv) return true;
  if (analysis.alkalinity.reading.given()) return true;
  return std::any_of(analysis.ions.begin(), analysis.ions.end(),
                     [](const AnalysedIon& ion) { return measured(ion.amount); });
}

bool raise(Reading& reading, double usual) {
  if (!reading.detected()) return false;
  const double by = stated(reading) ? reading.uncertainty : usual;
  reading.value += by;
  return by > 0;
}

// The analysis with one reading each raised by its uncertainty.
std::vector<WaterAnalysis> moved_one_at_a_time(const SolvedWater& solved) {
  const WaterAnalysis& analysis = solved.water.analysis;
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
    if (!measured(analysis.ions[i].amount)) continue;
    moved = analysis;
    Reading& reading = moved.ions[i].amount.reading;
    if (raise(reading, kUsualRelative * reading.value)) all.push_back(moved);
  }
  return all;
}

}  // namespace

std::map<std::string, double> index_uncertainty(const SolvedWater& solved,
                                                const std::shared_ptr<const Dataset>& dataset) {
  std::map<std::string, double> found;
  if (!measured(solved.water.analysis)) return found;
  const auto balances =
      index_balances(solved.result, solved.water.input, solved.water.options, *dataset);
  for (const auto& [solid, balance] : balances)
    found[solid] = stated_uncertainty(*dataset, balance, solved.water.options.temperature_c);
  for (const WaterAnalysis& moved : moved_one_at_a_time(solved)) {
    const EquilibriumResult result =
        answer_of(analyse(moved, *dataset, solved.water.options), dataset).result;
    if (result.status != Status::converged) continue;
    for (const auto& [solid, index] : result.saturation_index) {
      const auto base = solved.result.saturation_index.find(solid);
      if (base != solved.result.saturation_index.end())
        found[solid] = std::hypot(found[solid], index - base->second);
    }
  }
  return found;
}

}  // namespace aeruca::detail
