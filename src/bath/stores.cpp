#include "bath/stores.hpp"

#include <algorithm>
#include <cmath>
#include <complex>

#include "bath/modes.hpp"
#include "numerics/contour.hpp"

namespace aeruca::detail {
namespace {

using Complex = std::complex<double>;

const std::vector<ContourPoint>& contour(Fineness fineness) {
  static const std::vector<ContourPoint> kResult = exponential_contour(9);
  static const std::vector<ContourPoint> kReading = exponential_contour(6);
  return fineness == Fineness::result ? kResult : kReading;
}

// sum beta lambda r g and sum beta lambda r v g of one store, g = 1/(z + lambda r).
struct Response {
  Complex own, held;
};

Response response(const RelaxingParts& parts, const std::vector<double>& held, double rate,
                  Complex z) {
  double own_re = 0;
  double own_im = 0;
  double held_re = 0;
  double held_im = 0;
  const double zr = z.real();
  const double zi = z.imag();
  const std::size_t count = held.size();
  for (std::size_t n = 0; n < count; ++n) {
    const double fast = parts.rate[n] * rate;
    const double re = zr + fast;
    const double push = parts.weight[n] * fast / (re * re + zi * zi);
    own_re += push * re;
    own_im -= push * zi;
    held_re += push * re * held[n];
    held_im -= push * zi * held[n];
  }
  return {{own_re, own_im}, {held_re, held_im}};
}

}  // namespace

StoresInBaths::StoresInBaths(std::span<const ChlorideStore> stores, Fineness fineness)
    : stores_(stores.begin(), stores.end()), fineness_(fineness) {
  for (const ChlorideStore& store : stores_) {
    const RelaxingParts& parts = relaxing_parts(store.shape, store.load, fineness);
    state_.push_back({&parts, store.capacity_share, store.rate,
                      dimension(store.shape) * store.rate * store.biot,
                      std::vector<double>(parts.rate.size())});
  }
}

void StoresInBaths::fill(double load_scale) {
  for (std::size_t j = 0; j < state_.size(); ++j) {
    const double level = load_scale * stores_[j].load_share / stores_[j].capacity_share;
    const std::vector<double>& start = state_[j].parts->start;
    std::transform(start.begin(), start.end(), state_[j].held.begin(),
                   [&](double v) { return level * v; });
  }
}

double StoresInBaths::left() const {
  double sum = 0;
  for (const Store& store : state_) {
    for (std::size_t n = 0; n < store.held.size(); ++n)
      sum += store.capacity * store.parts->weight[n] * store.held[n];
  }
  return sum;
}

// Surface and bath stay at nothing; with a film the surface does not, and the contour is taken.
void StoresInBaths::advance_in_sink(double tau) {
  for (Store& store : state_) {
    for (std::size_t n = 0; n < store.held.size(); ++n)
      store.held[n] *= std::exp(-store.parts->rate[n] * store.rate * tau);
  }
}

void StoresInBaths::advance(const BathStep& bath, double& concentration) {
  if (bath.tau == 0) return;
  const bool sink = std::isinf(bath.alpha);
  const bool film = std::any_of(state_.begin(), state_.end(),
                                [](const Store& store) { return std::isfinite(store.film); });
  if (sink && !film) return advance_in_sink(bath.tau);
  double concentration_after = 0;
  std::vector<Response> responses(state_.size());
  for (auto& change : after_) std::fill(change.begin(), change.end(), 0.0);
  for (const ContourPoint& point : contour(fineness_)) {
    const Complex z = point.node / bath.tau;
    const Complex weight = point.weight / bath.tau;
    Complex taken = sink ? 0 : bath.alpha * concentration;
    Complex resistance = sink ? 0 : bath.alpha * z;
    for (std::size_t j = 0; j < state_.size(); ++j) {
      const Store& store = state_[j];
      responses[j] = response(*store.parts, store.held, store.rate, z);
      const Complex passing =
          std::isfinite(store.film) ? store.film / (z * responses[j].own + store.film) : 1.0;
      taken += store.capacity * passing * responses[j].held;
      resistance += store.capacity * passing * z * responses[j].own;
    }
    const Complex c = sink ? 0.0 : taken / resistance;
    concentration_after += (weight * c).real();
    for (std::size_t j = 0; j < state_.size(); ++j) {
      const Store& store = state_[j];
      const Complex surface = std::isfinite(store.film) ? (responses[j].held + store.film * c) /
                                                              (z * responses[j].own + store.film)
                                                        : c;
      add_parts(store, z, weight, surface, after_[j]);
    }
  }
  for (std::size_t j = 0; j < state_.size(); ++j) state_[j].held.swap(after_[j]);
  concentration = concentration_after;
}

// v = (v0 + lambda r s) / (z + lambda r), s the surface.
void StoresInBaths::add_parts(const Store& store, Complex z, Complex weight, Complex surface,
                              std::vector<double>& after) {
  const double zr = z.real();
  const double zi = z.imag();
  const double wr = weight.real();
  const double wi = weight.imag();
  const Complex ws = weight * surface;
  for (std::size_t n = 0; n < after.size(); ++n) {
    const double fast = store.parts->rate[n] * store.rate;
    const double re = zr + fast;
    const double over = 1 / (re * re + zi * zi);
    const double top_re = wr * store.held[n] + fast * ws.real();
    const double top_im = wi * store.held[n] + fast * ws.imag();
    after[n] += (top_re * re + top_im * zi) * over;
  }
}

StoresResult StoresInBaths::run(std::span<const BathStep> baths, bool with_load, bool with_fill) {
  StoresResult result;
  fill(with_load ? 1 : 0);
  after_.clear();
  for (const Store& store : state_) after_.emplace_back(store.held.size());
  double held = 0;  // by the bath
  double before = 0;
  for (const BathStep& bath : baths) {
    const bool sink = std::isinf(bath.alpha);
    const double kept = bath.carry_over == 0 || sink ? 0 : bath.carry_over * before / bath.alpha;
    held = bath.carry_over * held + (with_fill ? bath.fill * (1 - kept) : 0);
    result.filled.push_back(held);
    double concentration = sink ? 0 : held / bath.alpha;
    const double inside = sink ? left() : 0;
    advance(bath, concentration);
    held = sink ? inside - left() : bath.alpha * concentration;
    before = bath.alpha;
    result.in_bath.push_back(held);
    result.left.push_back(left());
  }
  return result;
}

}  // namespace aeruca::detail
