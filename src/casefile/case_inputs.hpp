#pragma once

// The files that a case rests on.

#include <vector>

#include "aeruca/assessment.hpp"

namespace aeruca::detail {

/// The files that a case file names, the case file first, without their content: paths as they are
/// written, to be found by `CaseFile::resolve`. Of a store's folder or pattern, each file that it
/// stands for; the name itself where it stands for none.
std::vector<InputFile> case_inputs(const CaseFile& file);

}  // namespace aeruca::detail
