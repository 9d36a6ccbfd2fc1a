#pragma once

// A sample of finds, described once.

#include "aeruca/finds_sample.hpp"
#include "render/figures.hpp"

namespace aeruca::detail {

template <>
struct Description<FindsSample> {
  static constexpr std::string_view name = "FindsSample";
  static constexpr std::string_view meaning =
      "How many finds of a site may be active, from those that were tested.";
  template <class Take>
  static void figures(Take take) {
    using S = FindsSample;
    take("finds", &S::finds, "", "finds in all");
    take("tested", &S::tested, "", "tested, picked at random");
    take("active", &S::active, "", "found active among them");
    take("at_least", &S::at_least, "", "active in all, at least (95 %)", at_a_glance);
    take("at_most", &S::at_most, "", "active in all, at most (95 %)", at_a_glance);
    take("tests_for_a_tenth", &S::tests_for_a_tenth, "",
         "to be tested, none active, until at most a tenth of all are (95 %)");
  }
};

}  // namespace aeruca::detail
