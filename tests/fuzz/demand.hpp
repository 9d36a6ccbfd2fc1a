#pragma once

// What a harness asks of an answer, and what counts as one.

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "aeruca/errors.hpp"

/// When it does not hold, the engine keeps the input.
inline void demand(bool fine) {
  if (!fine) std::abort();
}

/// check(text) on the bytes of an input. To refuse it in words is an answer, too; whatever else is
/// thrown is a find.
template <class Check>
int answer_or_refuse(const std::uint8_t* data, std::size_t size, Check&& check) {
  try {
    check(std::string_view(reinterpret_cast<const char*>(data), size));
  } catch (const aeruca::Error&) {
  }
  return 0;
}
