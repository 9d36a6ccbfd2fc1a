#pragma once

// What the files that work out a bath share.

#include "aeruca/bath_recipe.hpp"

namespace aeruca::detail {

/// Lead or zinc over the least soluble solid the bath allows. Throws InputError for another metal.
[[nodiscard]] CarriedOff metal_in_bath(const std::shared_ptr<const Dataset>& dataset,
                                       const BathMakeup& bath, const std::string& metal);

/// The sentences of a bath, and its cautions.
void add_words(const Dataset& dataset, const BathRecipe& recipe, BathChemistry& bath);

}  // namespace aeruca::detail
