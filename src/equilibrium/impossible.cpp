#include "equilibrium/impossible.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>

#include "aeruca/constants.hpp"
#include "equilibrium/ties.hpp"

namespace aeruca::detail {

namespace {

constexpr double kRounding = 1e-10;
constexpr int kMostTurns = 300;

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

// Everything that may hold components, as rows over the balances; a reservoir stands twice, once
// for each sign. Where the balance of a column is that of charge, rows and totals carry the charge.
struct Holders {
  std::vector<std::vector<double>> rows;
  std::vector<double> totals;
};

Holders holders_of(const Chemistry& chemistry) {
  Holders all;
  const std::size_t columns = chemistry.columns();
  const std::size_t charge = chemistry.charge_column;
  const auto take = [&](const Expressions& from, std::size_t i, double sign, double its_charge) {
    std::vector<double> row(from.row(i), from.row(i) + columns);
    if (charge != kNone) row[charge] = its_charge;
    for (double& part : row) part *= sign;
    all.rows.push_back(std::move(row));
  };
  for (std::size_t i = 0; i < chemistry.species.size(); ++i)
    take(chemistry.species, i, 1, chemistry.charge[i]);
  for (std::size_t s = 0; s < chemistry.phases.size(); ++s) take(chemistry.phases, s, 1, 0);
  for (std::size_t k = 0; k < chemistry.pinned.size(); ++k) {
    take(chemistry.pinned, k, 1, 0);
    take(chemistry.pinned, k, -1, 0);
  }
  all.totals = chemistry.totals;
  if (charge != kNone) all.totals[charge] = 0;
  return all;
}

// Minimises |A x - b| over x >= 0 and returns b - A x.
VectorXd residual_of_nonnegative(const MatrixXd& a, const VectorXd& b) {
  std::vector<Index> in;
  VectorXd x = VectorXd::Zero(a.cols());
  VectorXd residual = b;
  for (int turn = 0; turn < kMostTurns; ++turn) {
    const VectorXd pull = a.transpose() * residual;
    Index best = -1;
    for (Index c = 0; c < pull.size(); ++c) {
      const bool is_in = std::find(in.begin(), in.end(), c) != in.end();
      if (!is_in && pull(c) > 1e-13 * a.col(c).norm() && (best < 0 || pull(c) > pull(best)))
        best = c;
    }
    if (best < 0) break;
    in.push_back(best);
    while (!in.empty()) {
      const VectorXd free = MatrixXd(a(Eigen::all, in)).colPivHouseholderQr().solve(b);
      double step = 1;
      for (std::size_t k = 0; k < in.size(); ++k) {
        const double value = free(static_cast<Index>(k));
        if (value <= 0) step = std::min(step, x(in[k]) / (x(in[k]) - value));
      }
      if (!(step >= 0)) step = 0;
      std::vector<Index> kept;
      for (std::size_t k = 0; k < in.size(); ++k) {
        x(in[k]) += step * (free(static_cast<Index>(k)) - x(in[k]));
        if (x(in[k]) > 0) kept.push_back(in[k]);
        if (!(x(in[k]) > 0)) x(in[k]) = 0;
      }
      const bool whole = kept.size() == in.size();
      in = std::move(kept);
      if (whole) break;
    }
    residual = b - a * x;
  }
  return residual;
}

}  // namespace

std::vector<double> contradicting_balances(const Chemistry& chemistry) {
  const Holders holders = holders_of(chemistry);
  const auto n = static_cast<Index>(holders.totals.size());
  MatrixXd a(n, static_cast<Index>(holders.rows.size()));
  VectorXd b(n);
  VectorXd scale(n);  // so that a trace weighs as much as moles
  for (Index j = 0; j < n; ++j) {
    const double total = holders.totals[static_cast<std::size_t>(j)];
    scale(j) = total != 0 ? 1 / std::abs(total) : 1;
    b(j) = total * scale(j);
    for (Index c = 0; c < a.cols(); ++c)
      a(j, c) = scale(j) * holders.rows[static_cast<std::size_t>(c)][static_cast<std::size_t>(j)];
  }
  for (Index c = 0; c < a.cols(); ++c) {
    const double norm = a.col(c).norm();
    if (norm > 0) a.col(c) /= norm;
  }
  const VectorXd residual = residual_of_nonnegative(a, b);
  std::vector<double> weights(static_cast<std::size_t>(n));
  double largest = 0;
  for (Index j = 0; j < n; ++j) largest = std::max(largest, std::abs(residual(j) * b(j)));
  if (!(largest > kRounding)) return {};
  for (Index j = 0; j < n; ++j) {
    const double part = residual(j);
    weights[static_cast<std::size_t>(j)] = std::abs(part) < kRounding ? 0 : -part * scale(j);
  }
  return balances_contradict(chemistry, weights) ? weights : std::vector<double>{};
}

bool balances_contradict(const Chemistry& chemistry, const std::vector<double>& weights) {
  const auto sum = [&](const std::vector<double>& row, double& size) {
    double net = 0;
    size = 0;
    for (std::size_t j = 0; j < row.size(); ++j) {
      net += weights[j] * row[j];
      size += std::abs(weights[j] * row[j]);
    }
    return net;
  };
  const Holders holders = holders_of(chemistry);
  double size = 0;
  for (const auto& row : holders.rows) {
    if (sum(row, size) < -kRounding * size) return false;
  }
  return sum(holders.totals, size) < -kRounding * size;
}

namespace {

// ln activity = constant + reduced . free potentials, with what is held in place.
struct Reduced {
  std::vector<double> row;
  double constant = 0;
};

class HeldOnly {
 public:
  explicit HeldOnly(const Chemistry& chemistry) : possible_(ties_.reset(chemistry)) {
    at_zero_.assign(chemistry.columns(), 0);
    if (possible_) ties_.complete(at_zero_, 0);
  }
  [[nodiscard]] bool possible() const { return possible_; }
  [[nodiscard]] Reduced reduce(const Expressions& all, std::size_t i) const {
    Reduced reduced;
    double water = 0;
    reduced.row.resize(ties_.free().size());
    ties_.reduce_row(all.row(i), all.water[i], reduced.row.data(), water);
    reduced.constant = all.value(i, at_zero_.data(), 0);
    return reduced;
  }

 private:
  Ties ties_;
  bool possible_;
  std::vector<double> at_zero_;
};

bool is_zero(const std::vector<double>& row) {
  return std::all_of(row.begin(), row.end(), [](double c) { return std::abs(c) < 1e-9; });
}

// q > 0 with a + q b = 0, or 0.
double counterweight(const std::vector<double>& a, const std::vector<double>& b) {
  double q = 0;
  for (std::size_t f = 0; f < a.size() && q == 0; ++f) {
    if (std::abs(b[f]) > 1e-9) q = -a[f] / b[f];
  }
  for (std::size_t f = 0; f < a.size(); ++f) {
    if (std::abs(a[f] + q * b[f]) > 1e-9) return 0;
  }
  return std::max(q, 0.0);
}

// m_i m_j^q = e^c: together least where m_j = q m_i.
double least_of_both(double c, double q) {
  if (q == 0) return std::exp(std::min(c, 700.0));
  return (1 + q) * std::exp(std::min((c - q * std::log(q)) / (1 + q), 700.0));
}

// ln a_i + q ln a_j over the components.
struct Product {
  std::vector<double> row;
  double constant = 0, water = 0;
};

Product product_of(const Chemistry& chemistry, const TooHigh& found) {
  const Expressions& species = chemistry.species;
  const auto columns = static_cast<std::ptrdiff_t>(chemistry.columns());
  const double* first = species.row(found.first);
  Product both{{first, first + columns}, species.constant[found.first], species.water[found.first]};
  if (found.second == kNone) return both;
  for (std::size_t j = 0; j < both.row.size(); ++j)
    both.row[j] += found.share * species.row(found.second)[j];
  both.constant += found.share * species.constant[found.second];
  both.water += found.share * species.water[found.second];
  return both;
}

// y with sum_k y_k p_k nearest to the product.
std::vector<double> weights_of_held(const Chemistry& chemistry, const Product& product) {
  const auto rows = static_cast<Index>(product.row.size());
  const auto count = static_cast<Index>(chemistry.pinned.size());
  if (count == 0) return {};
  const MatrixXd held =
      Eigen::Map<const MatrixXd>(chemistry.pinned.rows.data(), rows, count);  // a column each
  const VectorXd y =
      held.colPivHouseholderQr().solve(Eigen::Map<const VectorXd>(product.row.data(), rows));
  return {y.begin(), y.end()};
}

}  // namespace

std::optional<TooHigh> held_too_high(const Chemistry& chemistry) {
  const HeldOnly held(chemistry);
  if (!held.possible()) return std::nullopt;
  TooHigh highest;
  double most = kMostMolality;
  const auto take = [&](std::size_t i, std::size_t j, double share, double molality) {
    if (molality <= most) return;
    most = molality;
    highest = {i, j, share, {}};
  };
  std::vector<Reduced> all;
  for (std::size_t i = 0; i < chemistry.species.size(); ++i) {
    all.push_back(held.reduce(chemistry.species, i));
    if (is_zero(all[i].row)) take(i, kNone, 0, least_of_both(all[i].constant, 0));
  }
  for (std::size_t i = 0; i < all.size(); ++i) {
    for (std::size_t j = i + 1; j < all.size(); ++j) {
      if (is_zero(all[i].row) || is_zero(all[j].row)) continue;
      const double q = counterweight(all[i].row, all[j].row);
      if (q > 0) take(i, j, q, least_of_both(all[i].constant + q * all[j].constant, q));
    }
  }
  if (highest.first == kNone) return std::nullopt;
  highest.weights = weights_of_held(chemistry, product_of(chemistry, highest));
  return highest;
}

LeastMolality least_molality(const Chemistry& chemistry, const TooHigh& found) {
  Product left = product_of(chemistry, found);
  double size = 0;
  for (const double part : left.row) size += std::abs(part);
  for (std::size_t k = 0; k < found.weights.size(); ++k) {
    const double y = found.weights[k];
    for (std::size_t j = 0; j < left.row.size(); ++j) left.row[j] -= y * chemistry.pinned.row(k)[j];
    left.constant -= y * chemistry.pinned.constant[k];
    left.water -= y * chemistry.pinned.water[k];
  }
  for (const double part : left.row) {
    if (std::abs(part) > kRounding * size) return {};
  }
  const double driest = -kWaterMolarMass * kMostMolality;  // ln a_w
  return {least_of_both(left.constant, found.share),
          least_of_both(left.constant + std::min(left.water * driest, 0.0), found.share)};
}

std::size_t endless_solid(const Chemistry& chemistry) {
  const HeldOnly held(chemistry);
  for (std::size_t s = 0; held.possible() && s < chemistry.phases.size(); ++s) {
    const Reduced reduced = held.reduce(chemistry.phases, s);
    if (is_zero(reduced.row) && reduced.constant > 0) return s;
  }
  return kNone;
}

}  // namespace aeruca::detail
