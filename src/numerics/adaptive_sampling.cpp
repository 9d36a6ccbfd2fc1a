#include "numerics/adaptive_sampling.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>

#include "numerics/normal.hpp"

namespace aeruca::detail {
namespace {

constexpr double kFreedom = 6;  // of the Student kernels
constexpr std::size_t kKernels = 24;
constexpr double kNarrowing = 0.55;  // of a kernel's variance beside that of the whole cloud
constexpr double kLeastSpread = 30;  // effective points below which weights are flattened

// One number from 0 to 1, both excluded, the same on every platform.
double even(std::mt19937_64& random) {
  return (static_cast<double>(random() >> 11U) + 0.5) * 0x1p-53;
}

double halton(std::size_t index, unsigned base) {
  double value = 0;
  double digit = 1;
  for (std::size_t rest = index; rest > 0; rest /= base) {
    digit /= base;
    value += digit * static_cast<double>(rest % base);
  }
  return value;
}

// Kernels of one round: their places and the factor that all share.
struct Proposal {
  Eigen::MatrixXd places;    // a column each
  Eigen::MatrixXd whitened;  // the same in units of the spread
  Eigen::LLT<Eigen::MatrixXd> spread;
  double log_scale = 0;
  std::size_t drawn = 0;

  [[nodiscard]] double log_density(const Eigen::VectorXd& z) const {
    const double power = -0.5 * (kFreedom + static_cast<double>(z.size()));
    const Eigen::VectorXd at = spread.matrixL().solve(z);
    double sum = 0;
    for (Eigen::Index k = 0; k < whitened.cols(); ++k) {
      double square = 0;
      for (Eigen::Index i = 0; i < at.size(); ++i) {
        const double apart = at[i] - whitened(i, k);
        square += apart * apart;
      }
      sum += std::pow(1 + square / kFreedom, power);
    }
    return std::log(sum / static_cast<double>(places.cols())) + log_scale;
  }
};

class Sampler {
 public:
  Sampler(std::size_t dimension,
          const std::function<double(std::span<const double>)>& log_likelihood,
          const SamplingEffort& effort, std::uint64_t seed)
      : d_(static_cast<Eigen::Index>(dimension)),
        log_likelihood_(log_likelihood),
        effort_(effort),
        random_(seed) {}

  WeighedSample run() {
    first_points();
    weigh();
    for (std::size_t round = 0; round < effort_.rounds_max; ++round) {
      if (round >= effort_.rounds && result_.effective >= effort_.effective) break;
      if (result_.effective == 0) break;
      later_points();
      weigh();
    }
    return std::move(result_);
  }

 private:
  void first_points() {
    constexpr std::array<unsigned, 8> kPrimes{2, 3, 5, 7, 11, 13, 17, 19};
    std::vector<double> shift;
    for (Eigen::Index i = 0; i < d_; ++i) shift.push_back(even(random_));
    for (std::size_t n = 1; n <= effort_.first; ++n) {
      Eigen::VectorXd z(d_);
      for (Eigen::Index i = 0; i < d_; ++i) {
        const auto at = static_cast<std::size_t>(i);
        double share = halton(n, kPrimes[at]) + shift[at];
        share -= std::floor(share);
        z[i] = normal_quantile(std::clamp(share, 1e-9, 1 - 1e-9));
      }
      add(z);
    }
    for (std::size_t n = 0; n < z_.size(); ++n) mixture_.push_back(first_density(n));
  }

  [[nodiscard]] double prior(std::size_t n) const {
    return -0.5 * z_[n].squaredNorm() -
           0.5 * static_cast<double>(d_) * std::log(2 * std::numbers::pi);
  }
  // Of the points so far, times their number: what a point could have come from.
  [[nodiscard]] double first_density(std::size_t n) const {
    return static_cast<double>(effort_.first) * std::exp(prior(n));
  }

  void add(const Eigen::VectorXd& z) {
    z_.push_back(z);
    result_.log_density.push_back(
        log_likelihood_(std::span<const double>(z.data(), static_cast<std::size_t>(z.size()))));
  }

  void weigh() {
    const std::size_t count = z_.size();
    log_weight_.resize(count);
    double top = -std::numeric_limits<double>::infinity();
    for (std::size_t n = 0; n < count; ++n) {
      log_weight_[n] = result_.log_density[n] + prior(n) - std::log(mixture_[n]);
      top = std::max(top, log_weight_[n]);
    }
    result_.weight.assign(count, 0.0);
    result_.effective = 0;
    result_.log_integral = -std::numeric_limits<double>::infinity();
    if (std::isinf(top)) return finish();
    double sum = 0;
    for (std::size_t n = 0; n < count; ++n)
      sum += result_.weight[n] = std::exp(log_weight_[n] - top);
    double squares = 0;
    for (double& weight : result_.weight) {
      weight /= sum;
      squares += weight * weight;
    }
    result_.effective = 1 / squares;
    result_.log_integral = top + std::log(sum);
    finish();
  }

  void finish() {
    result_.points.clear();
    for (const Eigen::VectorXd& z : z_)
      result_.points.insert(result_.points.end(), z.begin(), z.end());
  }

  // Weights to a power below 1, so that at least `kLeastSpread` points speak.
  [[nodiscard]] std::vector<double> flattened() const {
    const double top = *std::max_element(log_weight_.begin(), log_weight_.end());
    std::vector<double> weights(log_weight_.size());
    const auto spread = [&](double power) {
      double sum = 0;
      double squares = 0;
      for (std::size_t n = 0; n < weights.size(); ++n) {
        weights[n] = std::exp(power * (log_weight_[n] - top));
        sum += weights[n];
        squares += weights[n] * weights[n];
      }
      for (double& weight : weights) weight /= sum;
      return sum * sum / squares;
    };
    if (spread(1) >= kLeastSpread) return weights;
    double low = 0;
    double high = 1;
    for (int i = 0; i < 30; ++i) {
      const double middle = 0.5 * (low + high);
      (spread(middle) >= kLeastSpread ? low : high) = middle;
    }
    spread(low);
    return weights;
  }

  static std::size_t pick(const std::vector<double>& weights, double share) {
    double sum = 0;
    for (std::size_t n = 0; n < weights.size(); ++n) {
      sum += weights[n];
      if (sum >= share) return n;
    }
    return weights.size() - 1;
  }

  Proposal propose() {
    const std::vector<double> weights = flattened();
    Eigen::VectorXd middle = Eigen::VectorXd::Zero(d_);
    for (std::size_t n = 0; n < z_.size(); ++n) middle += weights[n] * z_[n];
    Eigen::MatrixXd spread = 1e-6 * Eigen::MatrixXd::Identity(d_, d_);
    for (std::size_t n = 0; n < z_.size(); ++n) {
      if (weights[n] > 0) spread += weights[n] * (z_[n] - middle) * (z_[n] - middle).transpose();
    }
    Proposal proposal;
    proposal.places.resize(d_, kKernels);
    const double start = even(random_);
    for (std::size_t k = 0; k < kKernels; ++k) {
      const double share = (static_cast<double>(k) + start) / kKernels;
      proposal.places.col(static_cast<Eigen::Index>(k)) = z_[pick(weights, share)];
    }
    proposal.spread.compute(kNarrowing * spread);
    proposal.whitened = proposal.spread.matrixL().solve(proposal.places);
    const Eigen::MatrixXd lower = proposal.spread.matrixL();
    const auto d = static_cast<double>(d_);
    proposal.log_scale = std::lgamma(0.5 * (kFreedom + d)) - std::lgamma(0.5 * kFreedom) -
                         0.5 * d * std::log(kFreedom * std::numbers::pi) -
                         lower.diagonal().array().log().sum();
    proposal.drawn = effort_.round;
    return proposal;
  }

  // Normal over the root of a chi-squared with kFreedom (even) degrees: a sum of exponentials.
  Eigen::VectorXd draw(const Proposal& proposal, std::size_t n) {
    Eigen::VectorXd z(d_);
    for (Eigen::Index i = 0; i < d_; ++i) z[i] = normal_quantile(even(random_));
    double square = 0;
    for (int i = 0; i < static_cast<int>(kFreedom) / 2; ++i) square -= 2 * std::log(even(random_));
    z = proposal.spread.matrixL() * z * std::sqrt(kFreedom / square);
    return z + proposal.places.col(static_cast<Eigen::Index>(n % kKernels));
  }

  void later_points() {
    const Proposal proposal = propose();
    const std::size_t known = z_.size();
    for (std::size_t n = 0; n < known; ++n) {
      mixture_[n] += static_cast<double>(proposal.drawn) * std::exp(proposal.log_density(z_[n]));
    }
    proposals_.push_back(proposal);
    for (std::size_t n = 0; n < proposal.drawn; ++n) add(draw(proposal, n));
    for (std::size_t n = known; n < z_.size(); ++n) {
      double sum = first_density(n);
      for (const Proposal& one : proposals_)
        sum += static_cast<double>(one.drawn) * std::exp(one.log_density(z_[n]));
      mixture_.push_back(sum);
    }
  }

  Eigen::Index d_;
  const std::function<double(std::span<const double>)>& log_likelihood_;
  SamplingEffort effort_;
  std::mt19937_64 random_;
  std::vector<Eigen::VectorXd> z_;
  std::vector<double> mixture_, log_weight_;
  std::vector<Proposal> proposals_;
  WeighedSample result_;
};

}  // namespace

WeighedSample sample_adaptively(
    std::size_t dimension, const std::function<double(std::span<const double>)>& log_likelihood,
    const SamplingEffort& effort, std::uint64_t seed) {
  return Sampler(dimension, log_likelihood, effort, seed).run();
}

}  // namespace aeruca::detail
