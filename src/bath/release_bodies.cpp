#include "bath/release_bodies.hpp"

#include <algorithm>
#include <cmath>

#include "bath/reserve.hpp"
#include "bath/stores.hpp"

namespace aeruca::detail {
namespace {

constexpr std::size_t kSpreadStores = 5;

double at(const LogNormalPrior& prior, double z) {
  return prior.median * std::pow(prior.factor, z);
}

// Quick and slow, alike in kind: the slow one holds its share of capacity too.
std::vector<ChlorideStore> quick_and_slow(double odds, double slowness) {
  std::vector<ChlorideStore> stores(2);
  const double slow = odds / (1 + odds);
  stores[0].load_share = stores[0].capacity_share = 1 - slow;
  stores[1].load_share = stores[1].capacity_share = slow;
  stores[1].rate = 1 / slowness;
  return stores;
}

std::vector<ChlorideStore> stores_of(BathModel model, const ModelUnknowns& unknowns) {
  ChlorideStore one;
  switch (model) {
    case BathModel::cylinder:
      one.shape = BodyShape::cylinder;
      return {one};
    case BathModel::sphere:
      one.shape = BodyShape::sphere;
      return {one};
    case BathModel::at_metal:
      one.load = InitialLoad::at_metal;
      return {one};
    case BathModel::film:
      one.biot = unknowns.first_extra;
      return {one};
    case BathModel::spread:
      return spread_stores(unknowns.first_extra, kSpreadStores);
    case BathModel::two_stores:
      return quick_and_slow(unknowns.first_extra, unknowns.second_extra);
    case BathModel::slab:
    case BathModel::reserve:
      break;
  }
  return {one};
}

std::vector<BathStep> scaled(std::span<const ObservedStep> steps, const ModelUnknowns& unknowns) {
  std::vector<BathStep> baths;
  for (const ObservedStep& step : steps) {
    baths.push_back({step.volume_l / unknowns.capacity_l, unknowns.rate_per_day * step.days,
                     step.fill_mg, step.carry_over});
  }
  return baths;
}

}  // namespace

std::size_t extra_unknowns(BathModel model) {
  if (model == BathModel::two_stores) return 2;
  return model == BathModel::film || model == BathModel::spread || model == BathModel::reserve ? 1
                                                                                               : 0;
}

ModelUnknowns unknowns_at(BathModel model, std::span<const double> point, const BathPriors& priors,
                          double first_volume_l, bool scatter_unknown) {
  ModelUnknowns unknowns;
  unknowns.rate_per_day = at(priors.rate_per_day, point[0]);
  unknowns.capacity_l = first_volume_l / at(priors.first_alpha, point[1]);
  std::size_t next = 2;
  if (model == BathModel::film) unknowns.first_extra = at(priors.biot, point[next++]);
  if (model == BathModel::spread) unknowns.first_extra = at(priors.spread, point[next++]);
  if (model == BathModel::reserve)
    unknowns.first_extra = at(priors.solid_over_dissolved, point[next++]);
  if (model == BathModel::two_stores) {
    unknowns.first_extra = at(priors.slow_odds, point[next++]);
    unknowns.second_extra = at(priors.slowness, point[next++]);
  }
  if (scatter_unknown) unknowns.scatter = at(priors.scatter, point[next]);
  return unknowns;
}

bool can_be_followed(BathModel model, const ModelUnknowns& unknowns) {
  constexpr double kMostSpread = 3;
  if (model == BathModel::spread) return unknowns.first_extra <= kMostSpread;
  if (model != BathModel::reserve) return true;
  return unknowns.first_extra >= kLeastSolid && unknowns.first_extra <= kMostSolid;
}

UnitRelease unit_release(BathModel model, const ModelUnknowns& unknowns,
                         std::span<const ObservedStep> steps, Fineness fineness) {
  std::vector<BathStep> baths = scaled(steps, unknowns);
  const bool filled =
      std::any_of(baths.begin(), baths.end(), [](const BathStep& bath) { return bath.fill > 0; });
  const std::vector<ChlorideStore> bodies = stores_of(model, unknowns);
  StoresInBaths stores(bodies, fineness);
  UnitRelease release;
  release.fill_mg.assign(steps.size(), 0.0);
  release.fill_left_mg.assign(steps.size(), 0.0);
  if (filled) {
    StoresResult brought = stores.run(baths, false, true);
    release.fill_mg = std::move(brought.in_bath);
    release.fill_left_mg = std::move(brought.left);
  }
  if (model == BathModel::reserve) {
    for (BathStep& bath : baths) bath.fill = 0;
    for (const ReservePoint& end : ReserveInBaths(unknowns.first_extra, fineness).run(baths)) {
      release.in_bath.push_back(std::max(end.in_bath, 0.0));
      release.left.push_back(end.left);
    }
    return release;
  }
  StoresResult result = stores.run(baths, true, false);
  for (double& share : result.in_bath) share = std::max(share, 0.0);
  release.in_bath = std::move(result.in_bath);
  release.left = std::move(result.left);
  return release;
}

}  // namespace aeruca::detail
