#pragma once

// What the tool must say of itself, and the cautions that belong to the materials of a case.

#include <string>
#include <vector>

#include "aeruca/assessment.hpp"

namespace aeruca::detail {

/// The limits of the method, in the order they matter to a reader.
std::vector<std::string> limits_of_the_method();

/// Cautions for what this case uses or plans; the first defers to safety data sheets and local
/// rules.
std::vector<Caution> cautions_for(const CaseFile& file);

}  // namespace aeruca::detail
