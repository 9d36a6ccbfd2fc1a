#pragma once

// A water in a laboratory's words, and its answer.

#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "aeruca/analysis.hpp"

namespace aeruca::test {

inline const std::shared_ptr<const Dataset>& data() {
  static const std::shared_ptr<const Dataset> dataset = default_dataset();
  return dataset;
}

inline AnalysedIon ion(const std::string& name, const std::string& amount) {
  return {name, *parse_amount(amount)};
}

inline WaterAnalysis water(std::vector<AnalysedIon> ions, double ph = 7) {
  WaterAnalysis analysis;
  analysis.ions = std::move(ions);
  analysis.ph.value = ph;
  analysis.potential_mv = 300;
  return analysis;
}

inline SolvedWater solved(const WaterAnalysis& analysis,
                          ActivityModel model = ActivityModel::ideal) {
  EquilibriumOptions options;
  options.activity = model;
  return solve(analyse(analysis, *data(), options), data());
}

}  // namespace aeruca::test
