#pragma once

#include <string>

#include "aeruca/finds_sample.hpp"

namespace aeruca::detail {

/// The page of `aeruca sample`.
std::string finds_sample_text(const FindsSample& sample);

}  // namespace aeruca::detail
