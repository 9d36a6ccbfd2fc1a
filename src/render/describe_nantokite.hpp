#pragma once

// Nantokite in air, described once.

#include "aeruca/nantokite.hpp"
#include "render/describe_dataset.hpp"

namespace aeruca::detail {

template <>
struct Description<NantokiteInAir> {
  static constexpr std::string_view name = "NantokiteInAir";
  static constexpr std::string_view meaning = "Nantokite in air, and the published limits.";
  template <class Take>
  static void figures(Take take) {
    using N = NantokiteInAir;
    take("said", &N::said, "", "in a sentence", at_a_glance);
    take("rh_percent", &N::rh_percent, "% RH", "humidity of the air");
    take("log10_affinity_dry", &N::log10_affinity_dry, "",
         "log10 to spare of 2 nantokite + 1/2 O2(g) = tenorite + tolbachite, without water",
         digits(3), at_a_glance);
    take("log10_affinity_moist", &N::log10_affinity_moist, "",
         "the same of 3 nantokite + 3/4 O2(g) + 3/2 H2O(g) = clinoatacamite + tolbachite",
         digits(3), at_a_glance);
    take("log10_oxygen_dry", &N::log10_oxygen_dry, "",
         "log10 bar of oxygen below which nantokite would stand in dry air", digits(3));
    take("uncertainty_log10", &N::uncertainty_log10, "", "one standard uncertainty of the first",
         digits(2));
    take("limits", &N::limits, "", "published limits with their evidence", apart);
  }
};

}  // namespace aeruca::detail
