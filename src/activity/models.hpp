#pragma once

// The models behind make_activity.

#include <memory>
#include <span>
#include <string>

#include "aeruca/activity.hpp"

namespace aeruca::detail {

std::unique_ptr<Activity> make_ideal(const Dataset& dataset, std::span<const std::string> species);
std::unique_ptr<Activity> make_dilute(const Dataset& dataset, std::span<const std::string> species,
                                      double temperature_c);
std::unique_ptr<Activity> make_sit(const Dataset& dataset, std::span<const std::string> species,
                                   double temperature_c);
std::unique_ptr<Activity> make_pitzer(const Dataset& dataset, std::span<const std::string> species,
                                      double temperature_c);

}  // namespace aeruca::detail
