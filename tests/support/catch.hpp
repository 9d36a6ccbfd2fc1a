#pragma once

// Catch2 version 2 (Debian 12) and version 3 (later) behind one include.

#if __has_include(<catch2/catch_test_macros.hpp>)
#include <catch2/catch_test_macros.hpp>
#include <catch2/generators/catch_generators.hpp>
#include <catch2/generators/catch_generators_range.hpp>
#include <catch2/matchers/catch_matchers.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>
#include <catch2/matchers/catch_matchers_string.hpp>
namespace aeruca::test {
inline auto contains(const std::string& text) {
  return Catch::Matchers::ContainsSubstring(text);
}
}  // namespace aeruca::test
#else
#include <catch2/catch.hpp>
namespace aeruca::test {
inline auto contains(const std::string& text) {
  return Catch::Matchers::Contains(text);
}
}  // namespace aeruca::test
#endif
