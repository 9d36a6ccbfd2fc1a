// Names of the ways in which chloride may leave.

#include <array>
#include <string>
#include <vector>

#include "aeruca/bath_posterior.hpp"
#include "base/text.hpp"
#include "bath/release_bodies.hpp"

namespace aeruca {

std::string_view to_string(BathModel model) {
  constexpr std::array<std::string_view, 8> kNames{"slab", "cylinder", "sphere",     "at metal",
                                                   "film", "spread",   "two stores", "reserve"};
  return kNames[static_cast<std::size_t>(model)];
}

std::string_view to_string(BathStory story) {
  constexpr std::array<std::string_view, 3> kNames{"diffusion", "slow part", "reserve"};
  return kNames[static_cast<std::size_t>(story)];
}

BathStory story_of(BathModel model) {
  if (model == BathModel::reserve) return BathStory::reserve;
  return model == BathModel::spread || model == BathModel::two_stores ? BathStory::slow_part
                                                                      : BathStory::diffusion;
}

BathModel bath_model(std::string_view name) {
  std::vector<std::string> names;
  for (const BathModel model : detail::kBathModels) {
    if (to_string(model) == name) return model;
    names.emplace_back(to_string(model));
  }
  throw UnknownName("model", std::string(name), detail::nearest_name(name, names));
}

}  // namespace aeruca
