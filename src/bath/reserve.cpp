#include "bath/reserve.hpp"

#include <algorithm>
#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <numbers>

#include "aeruca/not_given.hpp"

namespace aeruca::detail {
namespace {

// Of a Rosenbrock method of second order for any matrix, L-stable (J. G. Verwer, ROS2; recalled).
constexpr double kGamma = 1 + 1 / std::numbers::sqrt2;
constexpr double kFirstFront = 1e-3;
constexpr int kStepsMax = 50'000;  // of one bath; a thousand are usual

}  // namespace

double front_constant(double solid_over_dissolved, double driving) {
  const double wanted = driving / solid_over_dissolved;
  const auto excess = [&](double k) {
    return std::log(std::sqrt(std::numbers::pi) * k * std::erf(k)) + k * k - std::log(wanted);
  };
  std::uintmax_t steps = 100;
  const auto bracket = boost::math::tools::toms748_solve(
      excess, 1e-9, 30.0, boost::math::tools::eps_tolerance<double>(48), steps);
  return 0.5 * (bracket.first + bracket.second);
}

ReserveInBaths::ReserveInBaths(double solid_over_dissolved, Fineness fineness)
    : solid_(solid_over_dissolved), tolerance_(fineness == Fineness::result ? 2e-6 : 2e-4) {
  const std::size_t cells = fineness == Fineness::result ? 48 : 16;
  for (std::size_t i = 0; i <= cells; ++i) {
    faces_.push_back(std::pow(static_cast<double>(i) / static_cast<double>(cells), 1.6));
  }
  for (std::size_t i = 0; i < cells; ++i) widths_.push_back(faces_[i + 1] - faces_[i]);
  gaps_.push_back(0.5 * widths_.front());
  for (std::size_t i = 1; i < cells; ++i) gaps_.push_back(0.5 * (widths_[i - 1] + widths_[i]));
  gaps_.push_back(0.5 * widths_.back());
  state_.u.resize(cells);
  first_.u.resize(cells);
  second_.u.resize(cells);
  upper_.resize(cells + 1);
}

double ReserveInBaths::concentration(const State& state) const {
  return least_ + state.drawn * over_alpha_;
}

// The exact front of an endless bath, as far as it has hardly left the surface.
void ReserveInBaths::begin(double concentration, double& tau) {
  const double k = front_constant(solid_, 1 - concentration);
  const double depth = std::min(kFirstFront, k * std::sqrt(tau));
  const double used = std::pow(depth / (2 * k), 2);
  double held = 0;
  for (std::size_t i = 0; i < state_.u.size(); ++i) {
    const double middle = 0.5 * (faces_[i] + faces_[i + 1]);
    state_.u[i] = concentration + (1 - concentration) * std::erf(k * middle) / std::erf(k);
    held += state_.u[i] * widths_[i];
  }
  state_.square = depth * depth;
  state_.drawn = depth * (1 + solid_ - held);
  tau -= used;
}

void ReserveInBaths::slope(const State& state, Slope& out) const {
  const std::size_t cells = state.u.size();
  const double depth = std::sqrt(state.square);
  const double rise = reached_metal_ ? 0 : (1 - state.u.back()) / gaps_.back();
  const double advance = reached_metal_ ? 0 : rise / solid_;
  const double inflow = (state.u.front() - concentration(state)) / gaps_.front();
  out.drawn = inflow / depth;
  out.square = 2 * advance;
  double below = inflow;  // at the lower face: gradient, and what the moving frame carries
  double carried_below = 0;
  for (std::size_t i = 0; i < cells; ++i) {
    const bool last = i + 1 == cells;
    const double above = last ? rise : (state.u[i + 1] - state.u[i]) / gaps_[i + 1];
    const double at_face = last ? (reached_metal_ ? state.u[i] : 1.0)
                                : (state.u[i] * widths_[i + 1] + state.u[i + 1] * widths_[i]) /
                                      (widths_[i] + widths_[i + 1]);
    const double carried = faces_[i + 1] * at_face;
    out.u[i] = (above - below + advance * (carried - carried_below - widths_[i] * state.u[i])) /
               (widths_[i] * state.square);
    below = above;
    carried_below = carried;
  }
}

// (1 - gamma h W) x = side, W the diffusion alone: what moves the front is slow.
void ReserveInBaths::solve(const State& at, double step, Slope& side) {
  const std::size_t cells = at.u.size();
  const double depth = std::sqrt(at.square);
  const double g = kGamma * step;
  // Row of what was drawn: d(drawn)/dt = (u0 - c(drawn)) / (gap depth).
  const double out = g / (gaps_.front() * depth);
  double pivot = 1 + out * over_alpha_;
  upper_[0] = -out / pivot;
  side.drawn /= pivot;
  double before = side.drawn;
  for (std::size_t i = 0; i < cells; ++i) {
    const double scale = g / (widths_[i] * at.square);
    const double down = i == 0 ? scale / gaps_[0] * over_alpha_ : scale / gaps_[i];
    const bool end = i + 1 == cells;
    const double up = end && reached_metal_ ? 0 : scale / gaps_[i + 1];
    const double middle = 1 + scale / gaps_[i] + up;
    pivot = middle + down * upper_[i];
    upper_[i + 1] = -up / pivot;
    side.u[i] = (side.u[i] + down * before) / pivot;
    before = side.u[i];
  }
  for (std::size_t i = cells - 1; i > 0; --i) side.u[i - 1] -= upper_[i] * side.u[i];
  side.drawn -= upper_[0] * side.u[0];
}

bool ReserveInBaths::try_step(double step, double& error) {
  slope(state_, first_);
  solve(state_, step, first_);
  trial_ = state_;
  trial_.drawn += step * first_.drawn;
  trial_.square += step * first_.square;
  for (std::size_t i = 0; i < trial_.u.size(); ++i) trial_.u[i] += step * first_.u[i];
  if (!(trial_.square > 0)) return false;
  slope(trial_, second_);
  second_.drawn -= 2 * first_.drawn;
  second_.square -= 2 * first_.square;
  for (std::size_t i = 0; i < trial_.u.size(); ++i) second_.u[i] -= 2 * first_.u[i];
  solve(state_, step, second_);
  // Against the first-order step: the difference of the two is the error of the lower one.
  const auto correct = [&](double& value, double one, double two, double scale) {
    const double change = 0.5 * step * (one + two);
    value += change;
    error = std::max(error, std::abs(change) / scale);
  };
  error = 0;
  correct(trial_.drawn, first_.drawn, second_.drawn, 1 + solid_);
  correct(trial_.square, first_.square, second_.square, std::max(state_.square, 1e-3));
  for (std::size_t i = 0; i < trial_.u.size(); ++i)
    correct(trial_.u[i], first_.u[i], second_.u[i], 30);
  return trial_.square > 0;
}

void ReserveInBaths::advance(double tau) {
  double step = std::min(tau, 1e-3 * state_.square);
  for (int tried = 0; tau > 0; ++tried) {
    if (tried == kStepsMax) {
      state_.drawn = kNotGiven;
      return;
    }
    step = std::min(step, tau);
    double error = 0;
    if (!try_step(step, error) || error > 8 * tolerance_) {
      step *= 0.4;
      continue;
    }
    if (!reached_metal_ && trial_.square > 1 + 1e-7) {  // stop where the last solid goes
      step *= (1 - state_.square) / (trial_.square - state_.square);
      if (step <= 0) step = 1e-12;
      continue;
    }
    state_ = trial_;
    tau -= step;
    if (!reached_metal_ && state_.square > 1 - 1e-7) {
      reached_metal_ = true;
      state_.square = 1;
    }
    step *= std::clamp(0.9 * std::sqrt(tolerance_ / std::max(error, 1e-12)), 0.3, 4.0);
  }
}

std::vector<ReservePoint> ReserveInBaths::run(std::span<const BathStep> baths) {
  std::vector<ReservePoint> ends;
  std::fill(state_.u.begin(), state_.u.end(), 0.0);
  state_.square = 0;
  reached_metal_ = false;
  const double load = 1 + solid_;  // in solubility x length
  double left = load;
  double held = 0;  // by the bath
  double before = 0;
  for (const BathStep& bath : baths) {
    const bool sink = std::isinf(bath.alpha);
    const double kept = bath.carry_over == 0 || sink ? 0 : bath.carry_over * before / bath.alpha;
    held = bath.carry_over * held + bath.fill * load * (1 - kept);
    over_alpha_ = sink ? 0 : 1 / bath.alpha;
    least_ = sink ? 0 : held * over_alpha_;
    if (!(least_ < 1)) {
      throw InputError("fill", bath.fill, "chloride below the solubility of the solid");
    }
    state_.drawn = 0;
    double tau = bath.tau;
    if (tau > 0 && state_.square == 0) begin(least_, tau);
    advance(tau);
    left -= state_.drawn;
    held = sink ? state_.drawn : held + state_.drawn;
    before = bath.alpha;
    ends.push_back({held / load, left / load, std::sqrt(state_.square)});
  }
  return ends;
}

}  // namespace aeruca::detail
