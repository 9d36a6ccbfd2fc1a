#include <algorithm>

#include "aeruca/casefile.hpp"

namespace aeruca {
namespace {

// practice/cautions, section 4, statement 8: no treatment by number for these.
const std::vector<std::string>& stopping_features() {
  static const std::vector<std::string> features{"composite",      "gilded",
                                                 "silvered",       "tinned",
                                                 "inlaid",         "painted",
                                                 "lacquered",      "enamelled",
                                                 "glass",          "mineralised organics",
                                                 "heavily leaded", "hollow mineralised",
                                                 "human remains",  "sacred"};
  return features;
}

}  // namespace

const std::vector<std::string>& object_features() {
  static const std::vector<std::string> features = [] {
    std::vector<std::string> all = stopping_features();
    all.insert(all.end(), {"old coating", "earlier treatment", "cracked", "little metal left"});
    return all;
  }();
  return features;
}

bool stops_treatment_by_number(std::string_view feature) {
  const auto& stopping = stopping_features();
  return std::find(stopping.begin(), stopping.end(), feature) != stopping.end();
}

const std::vector<std::string>& observation_kinds() {
  static const std::vector<std::string> kinds{"pale green powder", "new growth", "waxy grey-green",
                                              "smooth green",      "no change",  "other"};
  return kinds;
}

}  // namespace aeruca
