#pragma once

// What is refused of an enclosure. Everything here throws InputError.

#include "aeruca/enclosure.hpp"

namespace aeruca::detail {

struct GelRange {
  double low_rh_percent, high_rh_percent;
};

void check_enclosure(const Enclosure& enclosure, const Climate& climate,
                     const EnclosureOptions& options, const GelRange& gel);
/// Volume, gel and contents alone.
void check_box(const Enclosure& enclosure);

}  // namespace aeruca::detail
