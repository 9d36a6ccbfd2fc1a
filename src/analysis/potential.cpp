// A potential read against an electrode, on the hydrogen scale.

#include <cmath>

#include "aeruca/analysis.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca {
namespace {

using detail::format_number;
using detail::say;

constexpr double kUsualPotentialMv = 20;  // standard uncertainty where none is stated
// The electrodes drift by up to 1 mV per K away from 25 degrees C (saturated silver chloride).
constexpr double kDriftVPerK = 0.001;

constexpr std::string_view kElectrodeQuantity = "electrode_potential";

const Figure& electrode(const std::string& id, const Dataset& dataset) {
  for (const Figure& figure : dataset.figures) {
    if (figure.quantity == kElectrodeQuantity && figure.id == id) return figure;
  }
  throw UnknownName("reference electrode", id,
                    detail::nearest_name(id, reference_electrodes(dataset)));
}

}  // namespace

std::vector<std::string> reference_electrodes(const Dataset& dataset) {
  std::vector<std::string> ids;
  for (const Figure& figure : dataset.figures) {
    if (figure.quantity == kElectrodeQuantity) ids.push_back(figure.id);
  }
  return ids;
}

HydrogenPotential hydrogen_potential(const WaterAnalysis& analysis, const Dataset& dataset) {
  if (!analysis.potential_mv)
    throw InputError("potential_mv", "none", "a potential as read, in mV");
  HydrogenPotential potential;
  potential.eh_v = *analysis.potential_mv / 1000;
  potential.uncertainty_v = analysis.potential_uncertainty_mv.value_or(kUsualPotentialMv) / 1000;
  const std::string mv = format_number(*analysis.potential_mv);
  if (analysis.reference_electrode.empty()) {
    potential.said = say("analysis.potential.hydrogen", {{"mv", mv}});
    return potential;
  }
  const Figure& figure = electrode(analysis.reference_electrode, dataset);
  const double drift_v = kDriftVPerK * std::abs(analysis.temperature_c - 25);
  potential.eh_v += figure.value;
  potential.uncertainty_v =
      std::hypot(potential.uncertainty_v, std::hypot(figure.uncertainty, drift_v));
  potential.figure = figure.id;
  potential.said =
      say("analysis.potential.electrode",
          {{"mv", mv}, {"electrode", figure.subject}, {"volts", format_number(figure.value)}});
  if (drift_v > 0) {
    potential.said += say("analysis.potential.temperature",
                          {{"temperature_c", format_number(analysis.temperature_c)}});
  }
  return potential;
}

}  // namespace aeruca
