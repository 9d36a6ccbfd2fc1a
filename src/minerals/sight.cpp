#include <algorithm>

#include "aeruca/errors.hpp"
#include "aeruca/minerals.hpp"
#include "base/text.hpp"

namespace aeruca {
namespace {

bool has(const std::vector<std::string>& words, std::string_view word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

const FieldTest& test_named(const Dataset& dataset, std::string_view id) {
  std::vector<std::string> ids;
  for (const FieldTest& test : dataset.field_tests) {
    if (test.id == id) return test;
    ids.push_back(test.id);
  }
  throw UnknownName("field test", std::string(id), detail::nearest_name(id, ids));
}

}  // namespace

MineralSight mineral_sight(const Dataset& dataset, std::string_view text) {
  text = detail::trim(text);
  const std::size_t equals = text.find('=');
  const std::string_view outcome =
      equals == std::string_view::npos ? text : detail::trim(text.substr(equals + 1));
  std::vector<std::string> known;
  const FieldTest* found = nullptr;
  for (const FieldTest& test : dataset.field_tests) {
    known.insert(known.end(), test.outcomes.begin(), test.outcomes.end());
    if (has(test.outcomes, outcome)) found = &test;
  }
  if (equals != std::string_view::npos) {
    const FieldTest& asked = test_named(dataset, detail::trim(text.substr(0, equals)));
    if (found != &asked)
      throw InputError("seen", std::string(text),
                       asked.id + "= one of " + detail::join(asked.outcomes, ", "));
  }
  if (found == nullptr)
    throw UnknownName("observation", std::string(outcome), detail::nearest_name(outcome, known));
  return {found->id, std::string(outcome)};
}

}  // namespace aeruca
