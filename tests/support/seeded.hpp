#pragma once

// Random numbers for tests that are the same with every standard library, and how many cases to
// run.

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <random>

namespace aeruca::test {

using Random = std::mt19937_64;

/// `full`, or fewer when AERUCA_SEEDED_CASES says so.
inline long seeded_cases(long full) {
  const char* shorter = std::getenv("AERUCA_SEEDED_CASES");
  return shorter != nullptr ? std::min(full, std::max(1L, std::atol(shorter))) : full;
}

/// `usual`, or as many as AERUCA_SEEDED_CASES says, up to `most`.
inline long seeded_cases(long usual, long most) {
  const char* wanted = std::getenv("AERUCA_SEEDED_CASES");
  return wanted != nullptr ? std::clamp(std::atol(wanted), 1L, most) : usual;
}

/// Not std::uniform_real_distribution: its values differ between standard libraries.
inline double uniform(Random& random, double low, double high) {
  return low + (high - low) * (static_cast<double>(random() >> 11) * 0x1.0p-53);
}

inline bool chance(Random& random, double probability) {
  return uniform(random, 0, 1) < probability;
}

inline double ten_to(Random& random, double low, double high) {
  return std::pow(10, uniform(random, low, high));
}

}  // namespace aeruca::test
