#pragma once

// One water of a case, brought to equilibrium: ions from mg/L, potential on the hydrogen scale.

#include <optional>
#include <string>
#include <vector>

#include "aeruca/equilibrium.hpp"
#include "casefile/sections.hpp"

namespace aeruca::detail {

/// The potential on the hydrogen scale and what was added to get there.
struct Potential {
  bool known = false;
  double eh_v = kNotGiven;
  double uncertainty_v = 0;
  std::string said;    ///< "read 210 mV against ag-agcl-3m, which stands 0.210 V above hydrogen"
  std::string figure;  ///< id of the electrode's figure; empty when read against hydrogen
};

struct WaterState {
  EquilibriumResult result;
  Potential potential;
  double temperature_c = 25;
  bool has_copper = false;       ///< copper was given, so saturation can be told
  bool copper_is_limit = false;  ///< ... as a detection limit: saturation is at most this
  double charge_error_percent = kNotGiven;  ///< (cations - anions) / (cations + anions)
  std::vector<std::string> absent;          ///< ions that were not given
};

/// Figures of the data set for reference electrodes have this quantity; their ids are what a case
/// names.
inline constexpr std::string_view kElectrodeQuantity = "electrode_potential";

/// Throws FileError for an electrode that the data set does not know.
Potential potential_of(const CaseFile& file, const CaseWater& water, const std::string& key,
                       const Dataset& dataset);

/// Solves the water. The pH must be given. A change of one reading (in its uncertainty) is asked
/// for by the shifts, in standard uncertainties.
struct WaterShift {
  double ph = 0, eh = 0, chloride = 0, copper = 0;
};
WaterState solve_water(const CaseWater& water, const Potential& potential,
                       const DatasetPointer& dataset, const WaterShift& shift = {});

}  // namespace aeruca::detail
