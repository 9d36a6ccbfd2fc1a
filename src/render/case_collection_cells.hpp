#pragma once

// What is said of a case among others, alike in a terminal and on a page.

#include <string>

#include "aeruca/case_collection.hpp"

namespace aeruca::detail {

/// How many objects there are, and of which verdict.
std::string counts_sentence(const CaseCollection& collection);
/// That some objects are invented; empty when none is.
std::string invented_sentence(const CaseCollection& collection);

/// The probability of the verdict, two digits; of borderline, which has none of its own, how
/// probably it is dormant; or a dash.
std::string chance_cell(const ObjectCase& object);
/// Whole percent, or a dash.
std::string set_point_cell(const ObjectCase& object);
/// The day, and whether it has gone by; or a dash.
std::string look_again_cell(const ObjectCase& object);

}  // namespace aeruca::detail
