#pragma once

// The page of the tool about what a bath is and does.

#include <string>

#include "aeruca/bath_recipe.hpp"
#include "aeruca/log_against_bath.hpp"

namespace aeruca::detail {

[[nodiscard]] std::string chemistry_text(const BathChemistry& bath, const Dataset& dataset);

[[nodiscard]] std::string log_against_text(const LogAgainstBath& log);

}  // namespace aeruca::detail
