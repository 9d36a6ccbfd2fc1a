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
/// Date of the last observation of a kind ("day not stated" where it has none); empty if there is
/// none.
std::string last_seen(const CaseFile& file, std::string_view kind);
/// Last day of the humidity record; empty without one.
std::string day_record_ends(const CaseEvidence& evidence);
/// That the record ends before the object was treated or looked at, as a sentence; empty where it
/// does not: such a record speaks of an earlier state.
std::string record_is_older(const CaseEvidence& evidence);
/// The decision for a reader with one minute.
std::vector<std::string> in_short(const CaseEvidence& evidence, const CaseAssessment& assessment);
std::vector<std::string> not_known(const CaseEvidence& evidence);
/// In order of what each would settle.
std::vector<NextMeasurement> next_measurements(const CaseEvidence& evidence, Verdict verdict);

}  // namespace aeruca::detail
