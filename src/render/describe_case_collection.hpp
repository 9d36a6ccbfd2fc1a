#pragma once

// The cases of a collection by risk, described once.

#include "aeruca/case_collection.hpp"
#include "render/describe_store.hpp"

namespace aeruca::detail {

template <>
struct Description<ObjectCase> {
  static constexpr std::string_view name = "ObjectCase";
  static constexpr std::string_view meaning =
      "One object of a collection: its case file, and what that says.";
  template <class Take>
  static void figures(Take take) {
    using O = ObjectCase;
    take("rank", &O::rank, "", "from 1, the most at risk");
    take("name", &O::name, "", "object", at_a_glance);
    take("file", &O::file, "", "case file", at_a_glance);
    take("invented", &O::invented, "", "made up for teaching");
    take("verdict", &O::verdict, "", "verdict", at_a_glance);
    take("probability_active", &O::probability_active, "",
         "probability of active conditions by the store record", at_a_glance, chance);
    take("probability_dormant", &O::probability_dormant, "",
         "probability of dormant conditions by the store record", at_a_glance, chance);
    take("record_to", &O::record_to, "", "last reading of the store");
    take("set_point_rh_percent", &O::set_point_rh_percent, "% RH",
         "the most that the display of the logger may show", at_a_glance, digits(3));
    take("too_humid_by_rh_percent", &O::too_humid_by_rh_percent, "% RH",
         "how much drier the record had to be to be dormant", digits(3));
    take("washing", &O::washing, "", "what is to be done with the bath", at_a_glance);
    take("look_again_by", &O::look_again_by, "", "look at the box by", at_a_glance);
    take("overdue", &O::overdue, "", "that day has gone by");
    take("measure_next", &O::measure_next, "", "what to measure next", at_a_glance);
    take("ask_a_conservator", &O::ask_a_conservator, "", "the object forbids treatment by number");
    take("reason", &O::reason, "", "why this verdict");
    take("not_worked_out", &O::not_worked_out, "", "sections without an answer, and why");
    take("bad_log", &O::bad_log, "", "a log could not be used");
    take("problem", &O::problem, "", "why the case file could not be used");
  }
  static std::string said(const ObjectCase& o) {
    return (o.name.empty() ? o.file : o.name) + ": " +
           (o.problem.empty() ? std::string(to_string(o.verdict)) : o.problem);
  }
};

template <>
struct Description<CaseCollection> {
  static constexpr std::string_view name = "CaseCollection";
  static constexpr std::string_view meaning = "The cases of a collection, the most at risk first.";
  template <class Take>
  static void figures(Take take) {
    using C = CaseCollection;
    take("date", &C::date, "", "day of the assessments");
    take("dataset_version", &C::dataset_version, "", "version of the data set", apart);
    take("dataset_hash", &C::dataset_hash, "", "content of the data set", apart);
    take("active", &C::active, "", "objects in active conditions", at_a_glance);
    take("borderline", &C::borderline, "", "objects in borderline conditions", at_a_glance);
    take("not_known", &C::not_known, "", "objects of which too little is known", at_a_glance);
    take("dormant", &C::dormant, "", "objects in dormant conditions", at_a_glance);
    take("unusable", &C::unusable, "", "case files that could not be used", at_a_glance);
    take("objects", &C::objects, "", "objects");
  }
};

}  // namespace aeruca::detail
