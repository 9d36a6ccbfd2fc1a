#include "aeruca/bath_bodies.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>

#include "bath/reserve.hpp"
#include "bath/stores.hpp"
#include "bath/treatment.hpp"

namespace aeruca {
namespace {

constexpr double kSharesOff = 1e-9;

void above_zero(const char* name, double value) {
  if (!(value > 0)) throw InputError(name, value, "above 0");
}

void check(std::span<const ChlorideStore> stores) {
  if (stores.empty()) throw InputError("stores", "none", "one store or more");
  double load = 0;
  double capacity = 0;
  for (const ChlorideStore& store : stores) {
    if (!(store.load_share >= 0 && store.load_share <= 1))
      throw InputError("load_share", store.load_share, "0 to 1");
    above_zero("capacity_share", store.capacity_share);
    above_zero("rate", store.rate);
    above_zero("biot", store.biot);
    if (store.load == InitialLoad::at_metal && store.shape != BodyShape::slab)
      throw InputError("load", "at-metal", "of a slab only");
    load += store.load_share;
    capacity += store.capacity_share;
  }
  if (!(std::abs(load - 1) < kSharesOff))
    throw InputError("load_share", load, "shares that add up to 1");
  if (!(std::abs(capacity - 1) < kSharesOff))
    throw InputError("capacity_share", capacity, "shares that add up to 1");
}

}  // namespace

BathSeries stores_series(std::span<const ChlorideStore> stores, std::span<const BathStep> baths) {
  check(stores);
  detail::check_treatment({}, baths, {});
  detail::StoresInBaths treatment(stores, detail::Fineness::result);
  const detail::StoresResult result = treatment.run(baths, true, true);
  BathSeries series;
  series.truncation_error = 1e-7;
  double tau = 0;
  double left = 1;
  for (std::size_t k = 0; k < baths.size(); ++k) {
    series.starts.push_back({tau, k, result.filled[k], left, 1 - left});
    tau += baths[k].tau;
    left = result.left[k];
    series.ends.push_back({tau, k, result.in_bath[k], left, 1 - left});
  }
  return series;
}

std::vector<ChlorideStore> spread_stores(double spread, std::size_t count) {
  if (!(spread > 0 && spread <= 3)) throw InputError("spread", spread, "above 0, at most 3");
  if (count < 2 || count > 16)
    throw InputError("count", static_cast<double>(count), "2 to 16 stores");
  // Of the standard normal: the recurrence of its polynomials has sqrt(k) beside a zero diagonal.
  const auto n = static_cast<Eigen::Index>(count);
  Eigen::VectorXd beside(n - 1);
  for (Eigen::Index k = 0; k + 1 < n; ++k) beside[k] = std::sqrt(static_cast<double>(k + 1));
  Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solver;
  solver.computeFromTridiagonal(Eigen::VectorXd::Zero(n), beside);
  std::vector<ChlorideStore> stores(count);
  double sum = 0;
  for (std::size_t i = 0; i < count; ++i) {
    const auto row = static_cast<Eigen::Index>(i);
    const double first = solver.eigenvectors()(0, row);
    stores[i].rate = std::exp(spread * solver.eigenvalues()[row]);
    stores[i].load_share = stores[i].capacity_share = first * first;
    sum += first * first;
  }
  for (ChlorideStore& store : stores) {
    store.load_share /= sum;
    store.capacity_share /= sum;
  }
  return stores;
}

std::vector<ReservePoint> reserve_series(const ReserveBody& body, std::span<const BathStep> baths) {
  const double solid = body.solid_over_dissolved;
  if (!(solid >= detail::kLeastSolid && solid <= detail::kMostSolid))
    throw InputError("solid_over_dissolved", solid, "0.3 to 1000");
  detail::check_treatment({}, baths, {});
  return detail::ReserveInBaths(solid, detail::Fineness::result).run(baths);
}

}  // namespace aeruca
