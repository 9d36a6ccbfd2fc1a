#include "equilibrium/valence_balance.hpp"

#include <cmath>

namespace aeruca::detail {

namespace {

constexpr double kWorthIt = 1e-3;  // of what the balance of electrons holds

std::size_t place_of_electrons(const FreeBalances& b) {
  for (std::size_t f = 0; f < b.free.size(); ++f) {
    if (b.kind[b.free[f]] == ColumnKind::electron) return f;
  }
  return kNone;
}

// Electrons to one of component c, as most of it has them.
double usual_valence(const FreeBalances& b, const std::vector<double>& electrons, std::size_t c) {
  double counted = 0;
  double all = 0;
  for (std::size_t i = 0; i < electrons.size(); ++i) {
    const double r = b.reduced[i * b.free.size() + c];
    counted += electrons[i] * r * b.molality[i];
    all += r * r * b.molality[i];
  }
  return all > 0 ? std::round(counted / all) : 0;
}

}  // namespace

void ValenceBalance::choose(const FreeBalances& b) {
  place = kNone;
  const std::size_t e = place_of_electrons(b);
  if (e == kNone) return;
  const std::size_t width = b.free.size();
  electrons.resize(b.molality.size());
  for (std::size_t i = 0; i < electrons.size(); ++i) electrons[i] = b.reduced[i * width + e];
  total = b.totals[e];
  const auto held = [&](std::size_t c, double v) {
    double sum = std::abs(total - v * b.totals[c]);
    for (std::size_t i = 0; i < electrons.size(); ++i)
      sum += std::abs(electrons[i] - v * b.reduced[i * width + c]) * b.molality[i];
    return sum;
  };
  const double usual = held(e, 0);
  for (std::size_t c = 0; c < width; ++c) {
    if (b.kind[b.free[c]] != ColumnKind::mass) continue;
    const double v = usual_valence(b, electrons, c);
    if (v == 0 || !(held(c, v) < held(c, 0))) continue;
    for (std::size_t i = 0; i < electrons.size(); ++i) electrons[i] -= v * b.reduced[i * width + c];
    total -= v * b.totals[c];
  }
  if (held(e, 0) < kWorthIt * usual) place = e;
}

}  // namespace aeruca::detail
