#pragma once

// The result of `aeruca speciate` as JSON.

#include <ostream>

#include "aeruca/analysis.hpp"

namespace aeruca::cli {

void print_speciation_json(const SolvedWater& solved, const Dataset& dataset, std::ostream& out);

}  // namespace aeruca::cli
