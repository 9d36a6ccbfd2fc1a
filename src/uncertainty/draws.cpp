#include "uncertainty/draws.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <random>

namespace aeruca::detail {
namespace {

// Standard normal draws by Box and Muller: the same on every platform, unlike the library's
// distribution.
class Normal {
 public:
  explicit Normal(std::uint64_t seed) : engine_(seed) {}
  double operator()() {
    if (spare_) {
      const double value = *spare_;
      spare_.reset();
      return value;
    }
    const double radius = std::sqrt(-2 * std::log(uniform()));
    const double angle = 2 * std::numbers::pi * uniform();
    spare_ = radius * std::sin(angle);
    return radius * std::cos(angle);
  }

 private:
  // In (0, 1): 53 bits, never 0.
  double uniform() { return (static_cast<double>(engine_() >> 11) + 0.5) * 0x1.0p-53; }
  std::mt19937_64 engine_;
  std::optional<double> spare_;
};

}  // namespace

Draws::Draws(std::size_t samples, std::size_t figures, std::uint64_t seed)
    : samples_(samples), figures_(figures), drawn_(samples * figures) {
  std::generate(drawn_.begin(), drawn_.end(), Normal(seed));
}

double moved(const Errors& errors, std::span<const double> sample) {
  double sum = 0;
  for (const auto& [number, error] : errors) sum += error * sample[number];
  return sum;
}

}  // namespace aeruca::detail
