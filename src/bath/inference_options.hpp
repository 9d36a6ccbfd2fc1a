#pragma once

#include "aeruca/bath_posterior.hpp"

namespace aeruca::detail {

/// The options of an inference, checked, with the usual size of an error in one place
/// (`priors.scatter`). Throws InputError.
[[nodiscard]] BathInferenceOptions settled(BathInferenceOptions options);

}  // namespace aeruca::detail
