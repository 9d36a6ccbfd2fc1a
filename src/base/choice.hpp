#pragma once

// Choices written as words: the enumerator whose place a word has.

#include <array>
#include <cstddef>
#include <string>
#include <string_view>

#include "aeruca/errors.hpp"

namespace aeruca::detail {

/// Throws InputError that lists the words.
template <class Choice, std::size_t N>
Choice choice_from(const std::array<std::string_view, N>& words, const char* parameter,
                   std::string_view name) {
  std::string accepted;
  for (std::size_t i = 0; i < N; ++i) {
    if (words[i] == name) return static_cast<Choice>(i);
    accepted += (i == 0 ? "" : i + 1 == N ? " or " : ", ") + std::string(words[i]);
  }
  throw InputError(parameter, std::string(name), accepted);
}

}  // namespace aeruca::detail
