#include "numerics/linear_program.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>

namespace aeruca::detail {

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double kRounding = 1e-11;  // of coefficients, which are counts of atoms
constexpr int kMostSteps = 2000;

class Simplex {
 public:
  Simplex(const LinearProgram& program, double tolerance)
      : rows_(static_cast<Index>(program.rows)),
        variables_(static_cast<Index>(program.value.size())),
        columns_(rows_, variables_ + rows_),
        right_(Eigen::Map<const VectorXd>(program.right.data(), rows_)),
        sign_(rows_) {
    if (rows_ > 0)
      columns_.leftCols(variables_) =
          Eigen::Map<const MatrixXd>(program.columns.data(), rows_, variables_);
    for (Index r = 0; r < rows_; ++r) sign_[r] = right_[r] < 0 ? -1 : 1;
    columns_.leftCols(variables_) = sign_.asDiagonal() * columns_.leftCols(variables_);
    right_ = sign_.cwiseProduct(right_);
    columns_.rightCols(rows_) = MatrixXd::Identity(rows_, rows_);
    for (Index r = 0; r < rows_; ++r) basis_.push_back(variables_ + r);
    allowed_ = tolerance * std::max(right_.size() > 0 ? right_.maxCoeff() : 0, 1e-300);
  }

  std::optional<LinearOptimum> maximise(const std::vector<double>& value) {
    VectorXd cost = VectorXd::Zero(variables_ + rows_);
    cost.tail(rows_).setConstant(-1);
    if (!climb(cost)) return std::nullopt;
    for (std::size_t k = 0; k < basis_.size(); ++k) {
      if (basis_[k] >= variables_ && held_[static_cast<Index>(k)] > allowed_) return std::nullopt;
    }
    cost.setZero();
    cost.head(variables_) = Eigen::Map<const VectorXd>(value.data(), variables_);
    met_ = true;
    if (!climb(cost)) return std::nullopt;
    return answer();
  }

 private:
  // False without a bound, or where it does not end.
  bool climb(const VectorXd& cost) {
    for (int step = 0; step < kMostSteps; ++step) {
      factor(cost);
      const Index entering = gains(cost);
      if (entering < 0) return true;
      const VectorXd given_up = factors_.solve(columns_.col(entering));
      const Index leaving = first_used_up(given_up);
      if (leaving < 0) return false;
      basis_[static_cast<std::size_t>(leaving)] = entering;
    }
    return false;
  }

  void factor(const VectorXd& cost) {
    MatrixXd matrix(rows_, rows_);
    VectorXd worth(rows_);
    for (Index k = 0; k < rows_; ++k) {
      matrix.col(k) = columns_.col(basis_[static_cast<std::size_t>(k)]);
      worth[k] = cost[basis_[static_cast<std::size_t>(k)]];
    }
    factors_.compute(matrix);
    held_ = factors_.solve(right_);
    price_ = factors_.transpose().solve(worth);
  }

  // The first variable worth more than what it is made of.
  [[nodiscard]] Index gains(const VectorXd& cost) const {
    for (Index j = 0; j < variables_; ++j) {
      const double gain = cost[j] - price_.dot(columns_.col(j));
      const bool is_in = std::find(basis_.begin(), basis_.end(), j) != basis_.end();
      if (!is_in && gain > kRounding * (1 + std::abs(cost[j]) + price_.cwiseAbs().sum())) return j;
    }
    return -1;
  }

  // Which of the basis goes first, of equals that of the lowest number; what stands in for a row
  // that follows from others goes at once, to whichever side.
  [[nodiscard]] Index first_used_up(const VectorXd& given_up) const {
    Index leaving = -1;
    double least = std::numeric_limits<double>::infinity();
    for (Index k = 0; k < rows_; ++k) {
      const Index own = basis_[static_cast<std::size_t>(k)];
      const bool stands_in = met_ && own >= variables_;
      if (stands_in && std::abs(given_up[k]) > 1e3 * kRounding) return k;
      if (!(given_up[k] > kRounding)) continue;
      const double until = std::max(held_[k], 0.0) / given_up[k];
      const bool sooner = until < least;
      const bool equal = until == least && own < basis_[static_cast<std::size_t>(leaving)];
      if (sooner || equal) least = until, leaving = k;
    }
    return leaving;
  }

  [[nodiscard]] LinearOptimum answer() const {
    LinearOptimum best;
    best.amount.assign(static_cast<std::size_t>(variables_), 0);
    for (Index k = 0; k < rows_; ++k) {
      const Index own = basis_[static_cast<std::size_t>(k)];
      if (own >= variables_) continue;
      best.amount[static_cast<std::size_t>(own)] = std::max(held_[k], 0.0);
      best.degenerate = best.degenerate || held_[k] <= allowed_;
    }
    for (Index r = 0; r < rows_; ++r) best.price.push_back(sign_[r] * price_[r]);
    return best;
  }

  Index rows_, variables_;
  MatrixXd columns_;  // of the variables, then of what stands in for each row
  VectorXd right_, sign_;
  std::vector<Index> basis_;
  double allowed_ = 0;
  bool met_ = false;  // the balances are
  Eigen::FullPivLU<MatrixXd> factors_;
  VectorXd held_, price_;
};

}  // namespace

std::optional<LinearOptimum> maximise(const LinearProgram& program, double tolerance) {
  return Simplex(program, tolerance).maximise(program.value);
}

}  // namespace aeruca::detail
