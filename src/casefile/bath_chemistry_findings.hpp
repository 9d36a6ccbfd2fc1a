#pragma once

// What the bath of [bath.solution] does beyond its fresh pH: ageing, locked chloride, metals carried
// off, and its log's pH and colour.

#include "aeruca/bath_recipe.hpp"
#include "casefile/sections.hpp"

namespace aeruca::detail {

/// Adds the findings. Without an answer the section says why and stays as it is.
void add_bath_chemistry(CaseSection& section, const CaseFile& file, const CaseSolution& solution,
                        const DatasetPointer& dataset, const BathLog* log);

}  // namespace aeruca::detail
