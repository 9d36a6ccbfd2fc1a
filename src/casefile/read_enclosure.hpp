#pragma once

// [store.enclosure] of a case file: the box, bag or case that the object is kept in.

#include "casefile/section.hpp"

namespace aeruca::detail {

/// Reads the table. What depends on the isotherm or on the record is seen when the box is followed.
CaseEnclosure read_enclosure(Section section);

}  // namespace aeruca::detail
