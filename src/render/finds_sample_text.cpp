#include "render/finds_sample_text.hpp"

#include "base/words.hpp"

namespace aeruca::detail {

std::string finds_sample_text(const FindsSample& sample) {
  const std::string finds = std::to_string(sample.finds);
  std::string text = say("sample.tested", {{"tested", std::to_string(sample.tested)},
                                           {"finds", finds},
                                           {"active", std::to_string(sample.active)}}) +
                     '\n';
  text += say("sample.bounds", {{"at_least", std::to_string(sample.at_least)},
                                {"at_most", std::to_string(sample.at_most)},
                                {"finds", finds}}) +
          '\n';
  text += say("sample.tenth", {{"tests", std::to_string(sample.tests_for_a_tenth)}}) + '\n';
  return text + '\n' + say("sample.random") + '\n';
}

}  // namespace aeruca::detail
