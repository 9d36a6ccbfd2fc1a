#pragma once

/// \file
/// From the ions that a laboratory found in a salt, a poultice or a water to a neutral mixture of
/// salts.
///
/// Only proportions matter, so litres and kilograms need no density; but all amounts must be per
/// litre or all per kilogram. Charge: error = (cations - anions) / (cations + anions); within 5 % is
/// usual. What is in excess is assigned: taken off every ion of that sign in proportion, or given to
/// the one ion that is named. Above 30 % something was not analysed, and it is refused.

#include <map>
#include <string>
#include <vector>

#include "aeruca/analysis.hpp"

namespace aeruca {

struct SaltAnalysis {
  std::map<std::string, double> ions;    ///< by component, mol per litre or kilogram; neutral
  double error_percent = 0;              ///< (cations - anions) / (cations + anions), as analysed
  std::string assigned_to;               ///< species that took the imbalance up; empty: shared out
  std::vector<std::string> below_limit;  ///< names below their detection limit, taken as absent
};

/// Throws InputError for a unit that is not accepted, amounts per litre beside some per kilogram, an
/// ion twice, no cation or no anion, an error above 30 %, an ion to assign to that would vanish;
/// UnknownName for an ion.
[[nodiscard]] SaltAnalysis analyse_salts(const std::vector<AnalysedIon>& found,
                                         const Dataset& dataset,
                                         const std::string& charge_assigned_to = "");

/// Reads a table with the columns `ion` and `amount`, as "chloride,640 mg/kg", or `ion`, `amount`
/// and `unit`. Throws FileError naming the line and field.
[[nodiscard]] std::vector<AnalysedIon> read_salt_analysis(const std::string& path);

}  // namespace aeruca
