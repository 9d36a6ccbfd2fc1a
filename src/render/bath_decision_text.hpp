#pragma once

// The page of a decision about baths, and of a plan for those to come.

#include <string>

#include "aeruca/bath_decision.hpp"
#include "aeruca/bath_schedule.hpp"

namespace aeruca::detail {

std::string bath_decision_text(const BathDecision& decision, const Dataset& dataset);
std::string bath_schedule_text(const BathSchedule& schedule);

}  // namespace aeruca::detail
