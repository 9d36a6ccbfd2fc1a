#pragma once

// The minerals guide, one mineral of it, and what a grain may be, as text and as JSON.

#include <string>

#include "aeruca/minerals.hpp"

namespace aeruca::detail {

std::string guide_text(const Dataset& dataset);
std::string guide_json(const Dataset& dataset);
std::string mineral_text(const Mineral& mineral, const Dataset& dataset);
std::string mineral_json(const Mineral& mineral, const Dataset& dataset);
std::string identification_text(const MineralIdentification& found, const Dataset& dataset);
std::string identification_json(const MineralIdentification& found, const Dataset& dataset);

}  // namespace aeruca::detail
