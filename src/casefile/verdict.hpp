#pragma once

// From the sections to one decision, and from what is missing to what to measure next.

#include "casefile/sections.hpp"

namespace aeruca::detail {

struct CaseEvidence {
  const CaseFile& file;
  const StableAnswer& stable;
  const StoreAnswer& dry;
  const std::optional<BoxAnswer>& box;
  const WashAnswer& wash;
  const CaseSection& solution;
};

/// Fills verdict, probability, odds and reason.
void decide(const CaseEvidence& evidence, CaseAssessment& assessment);
/// The decision for a reader with one minute.
std::vector<std::string> in_short(const CaseEvidence& evidence, const CaseAssessment& assessment);
std::vector<std::string> not_known(const CaseEvidence& evidence);
/// In order of what each would settle.
std::vector<NextMeasurement> next_measurements(const CaseEvidence& evidence, Verdict verdict);

}  // namespace aeruca::detail
