#pragma once

/// \file
/// How results read: text of a fixed width for a terminal or a file, in English. Nothing is
/// calculated here; what a text needs is in the result.

#include <string>

#include "aeruca/analysis.hpp"
#include "aeruca/assessment.hpp"
#include "aeruca/ranges.hpp"
#include "aeruca/speciation.hpp"

namespace aeruca {

/// One water at equilibrium: the water and the checks of its analysis, each element and where it
/// is, the solids and what each would need, gases, notes, certificate. Of an answer that is not
/// certified, the certificate only. Lines of notes are not broken.
[[nodiscard]] std::string speciation_text(const SolvedWater& water, const Dataset& dataset);

/// The same as JSON, ranges included; of an answer that is not certified, status, message and
/// certificate only.
[[nodiscard]] std::string to_json(const Speciation& speciation, const Dataset& dataset);

/// How far the constants let that water be known: leading forms and solids with their ranges, what
/// carries the doubt, and what is not in it.
[[nodiscard]] std::string ranges_text(const WaterRanges& ranges, const Speciation& speciation,
                                      const Dataset& dataset);

/// The front sheet of an assessment as plain text in at most `width` columns (60 to 200, else
/// InputError).
[[nodiscard]] std::string front_text(const CaseAssessment& assessment, int width = 88);
/// A whole assessment as plain text in at most `width` columns, the front sheet first.
[[nodiscard]] std::string to_text(const CaseAssessment& assessment, int width = 88);
/// The same as JSON (UTF-8) that ends in a line feed, of the form `assessment_schema`; figures that
/// are not known are null.
[[nodiscard]] std::string to_json(const CaseAssessment& assessment);

}  // namespace aeruca
