// What nobody can leave out of a water: for each round of Newton one exponential a species and one
// small factorisation, here for W waters side by side. Rounds: from within a factor of e Newton on
// the logarithms of the balances goes 1, 0.3, 0.05, 1e-3, 1e-6, 1e-12; the answer is looked at once.
// No start, no activity coefficients, no solids, no certificate.
//
//   bench_limit SPECIES COMPONENTS      prints seconds a water

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <random>
#include <vector>

#include "numerics/lanes.hpp"

namespace {

using namespace aeruca::detail;

#if defined(__AVX512F__) && defined(__AVX512DQ__)
constexpr int kWidth = 8;
#elif defined(__AVX2__)
constexpr int kWidth = 4;
#else
constexpr int kWidth = 2;
#endif
constexpr int kRounds = 6;
constexpr std::size_t kMost = 16;
using V = Lanes<kWidth>;

struct System {
  std::size_t species, components;
  std::vector<double> rows, constants;  // (species, components), (species)
  std::vector<V> totals;                // (components)
};

// Components bare, then complexes of one or two of them; totals of potentials of -7.
System made(std::size_t species, std::size_t components) {
  std::mt19937_64 random(3);
  System s{species, components, std::vector<double>(species * components, 0),
           std::vector<double>(species, 0), std::vector<V>(components, V{})};
  for (std::size_t i = 0; i < species; ++i) {
    const bool bare = i < components;
    s.rows[i * components + (bare ? i : random() % components)] = 1;
    if (!bare) s.rows[i * components + random() % components] += 1;
    s.constants[i] = bare ? 0 : 5.0;
    double ln = s.constants[i];
    for (std::size_t f = 0; f < components; ++f) ln -= 7 * s.rows[i * components + f];
    for (std::size_t f = 0; f < components; ++f)
      s.totals[f] += s.rows[i * components + f] * std::exp(ln);
  }
  return s;
}

// Potentials after all rounds.
void rounds(const System& s, V* potential) {
  const std::size_t c = s.components;
  V matrix[kMost * kMost];
  V lack[kMost];
  for (int round = 0; round < kRounds; ++round) {
    std::fill_n(matrix, c * c, V{});
    for (std::size_t f = 0; f < c; ++f) lack[f] = s.totals[f];
    for (std::size_t i = 0; i < s.species; ++i) {
      const double* row = s.rows.data() + i * c;
      V ln = lanes_of<kWidth>(s.constants[i]);
      for (std::size_t f = 0; f < c; ++f) {
        if (row[f] != 0) ln += row[f] * potential[f];
      }
      const V m = lane_exp<kWidth>(ln);
      for (std::size_t f = 0; f < c; ++f) {
        if (row[f] == 0) continue;
        const V part = row[f] * m;
        lack[f] -= part;
        for (std::size_t g = 0; g <= f; ++g) {
          if (row[g] != 0) matrix[f * c + g] += row[g] * part;
        }
      }
    }
    if (round + 1 == kRounds) return;
    for (std::size_t k = 0; k < c; ++k) {  // L D L'
      const V inverse = 1.0 / matrix[k * c + k];
      for (std::size_t i = k + 1; i < c; ++i) {
        const V factor = matrix[i * c + k] * inverse;
        for (std::size_t j = k + 1; j <= i; ++j) matrix[i * c + j] -= factor * matrix[j * c + k];
        lack[i] -= factor * lack[k];
      }
      lack[k] *= inverse;
    }
    for (std::size_t k = c; k-- > 0;) {
      for (std::size_t j = k + 1; j < c; ++j)
        lack[k] -= matrix[j * c + k] / matrix[k * c + k] * lack[j];
      potential[k] += lack[k];
    }
  }
}

double seconds_a_water(const System& s, int groups) {
  double sum = 0;
  const std::clock_t start = std::clock();
  for (int group = 0; group < groups; ++group) {
    V potential[kMost];
    for (std::size_t f = 0; f < s.components; ++f)
      potential[f] = lanes_of<kWidth>(-7.3 + 1e-9 * group);
    rounds(s, potential);
    sum += potential[0][0];
  }
  const double taken = static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
  // Newton ends where the totals came from, or this has measured something else.
  if (std::abs(sum / groups + 7) > 1e-6) std::exit(1);
  return taken / groups / kWidth;
}

}  // namespace

int main(int count, char** given) {
  if (count != 3) return 2;
  const System s = made(std::strtoul(given[1], nullptr, 10), std::strtoul(given[2], nullptr, 10));
  if (s.components < 1 || s.components > kMost || s.species < s.components) return 2;
  std::vector<double> times;
  for (int turn = 0; turn < 7; ++turn) times.push_back(seconds_a_water(s, 4000));
  std::sort(times.begin(), times.end());
  std::printf("%.4g\n", times[3]);
  return 0;
}
