#pragma once

// Paths, ready-made ones too, as pages of text and as JSON.

#include <string>

#include "aeruca/ready_paths.hpp"

namespace aeruca::detail {

std::string path_text(const PathResult& path, const Dataset& dataset);
std::string path_text(const CoinPath& coin, const Dataset& dataset);
std::string path_text(const PitInMoistAir& air, const Dataset& dataset);
std::string path_text(const NantokiteInBaths& baths, const Dataset& dataset);
std::string path_text(const CarbonateBathPath& bath, const Dataset& dataset);

std::string path_json(const PathResult& path, const Dataset& dataset);
std::string path_json(const CoinPath& coin, const Dataset& dataset);
std::string path_json(const PitInMoistAir& air, const Dataset& dataset);
std::string path_json(const NantokiteInBaths& baths, const Dataset& dataset);
std::string path_json(const CarbonateBathPath& bath, const Dataset& dataset);

}  // namespace aeruca::detail
