#pragma once

// The objects of a collection by risk, described once.

#include "aeruca/collection.hpp"
#include "render/describe_store.hpp"

namespace aeruca::detail {

template <>
struct Description<ObjectRisk> {
  static constexpr std::string_view name = "ObjectRisk";
  static constexpr std::string_view meaning =
      "One object of a collection: its logger file, and what that says of its conditions.";
  template <class Take>
  static void figures(Take take) {
    using O = ObjectRisk;
    take("rank", &O::rank, "", "from 1, the most at risk");
    take("file", &O::file, "", "logger file", at_a_glance);
    take("verdict", &O::verdict, "", "verdict", at_a_glance);
    take("probability_dormant", &O::probability_dormant, "", "probability of dormant conditions",
         at_a_glance, chance);
    take("probability_active", &O::probability_active, "", "probability of active conditions",
         chance);
    take("share_too_humid", &O::share_too_humid, "",
         "share of known time above the low end, as read", at_a_glance, digits(3));
    take("share_above_high", &O::share_above_high, "",
         "share of known time above the high end, as read", digits(3));
    take("worst_spell_h", &O::worst_spell_h, "h", "longest spell above the low end, as read",
         at_a_glance, digits(4));
    take("worst_spell_start_s", &O::worst_spell_start_s, "", "it began", moment,
         key("worst_spell_from"));
    take("worst_spell_end_s", &O::worst_spell_end_s, "", "it ended", moment, key("worst_spell_to"));
    take("start_s", &O::start_s, "", "first reading", moment, key("from"));
    take("end_s", &O::end_s, "", "last reading", moment, key("to"));
    take("utc", &O::utc, "", "times are UTC; else as the file writes them");
    take("readings", &O::readings, "", "readings assessed");
    take("coverage", &O::coverage, "", "share of the period that is known", digits(3));
    take("median_rh_percent", &O::median_rh_percent, "% RH", "median of the air", digits(3));
    take("set_point_rh_percent", &O::set_point_rh_percent, "% RH",
         "highest reading that keeps to dormant conditions", digits(3));
    take("too_humid_by_rh_percent", &O::too_humid_by_rh_percent, "% RH",
         "how much drier the record had to be to be dormant", digits(3));
    take("faults", &O::faults, "", "faults in the file");
    take("dropped", &O::dropped, "", "lines that gave no reading");
    take("reason", &O::reason, "", "why this verdict");
    take("problem", &O::problem, "", "why the file could not be used");
  }
};

template <>
struct Description<Collection> {
  static constexpr std::string_view name = "Collection";
  static constexpr std::string_view meaning =
      "The objects of a collection, the most at risk first.";
  template <class Take>
  static void figures(Take take) {
    take("onset", &Collection::onset, "", "limit judged against");
    take("active", &Collection::active, "", "objects in active conditions", at_a_glance);
    take("borderline", &Collection::borderline, "", "objects in borderline conditions",
         at_a_glance);
    take("dormant", &Collection::dormant, "", "objects in dormant conditions", at_a_glance);
    take("not_known", &Collection::not_known, "", "objects whose record says too little",
         at_a_glance);
    take("unusable", &Collection::unusable, "", "objects whose record could not be used",
         at_a_glance);
    take("objects", &Collection::objects, "", "objects");
  }
};

}  // namespace aeruca::detail
