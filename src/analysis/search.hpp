#pragma once

// A water that answers its analysis, without the uncertainty of its indices.

#include "aeruca/analysis.hpp"

namespace aeruca::detail {

SolvedWater answer_of(const AnalysedWater& water, const std::shared_ptr<const Dataset>& dataset);

/// See SolvedWater::index_uncertainty.
std::map<std::string, double> index_uncertainty(const SolvedWater& solved,
                                                const std::shared_ptr<const Dataset>& dataset);

}  // namespace aeruca::detail
