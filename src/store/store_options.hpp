#pragma once

#include "aeruca/store.hpp"

namespace aeruca::detail {

/// Throws InputError for an option out of range, or an onset curve that is empty or not ordered.
void check_options(const StoreOptions& options);

}  // namespace aeruca::detail
