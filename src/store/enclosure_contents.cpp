// Water in the contents of an enclosure.

#include <algorithm>
#include <cmath>

#include "store/enclosure_moisture.hpp"

namespace aeruca::detail {
namespace {

// Slope of the cubic at a point between two stretches (Fritsch and Carlson 1980, in the harmonic
// form of Fritsch and Butland 1984): 0 where they turn, so that it never overshoots.
double slope_between(double width_before, double before, double width_after, double after) {
  if (before * after <= 0) return 0;
  const double w1 = 2 * width_after + width_before;
  const double w2 = width_after + 2 * width_before;
  return (w1 + w2) / (w1 / before + w2 / after);
}

}  // namespace

Contents::Contents(const Enclosure& box) {
  const std::size_t count = box.contents_rh_percent.size();
  if (count == 0) {
    straight_ = 0.1 * box.contents_g_per_rh / box.volume_m3;  // g for a percent: 0.1 kg for all
    return;
  }
  for (std::size_t i = 0; i < count; ++i)
    nodes_.push_back({box.contents_rh_percent[i] / 100,
                      box.contents_kg * box.contents_moisture_percent[i] / 100 / box.volume_m3, 0});
  const auto width = [&](std::size_t i) { return nodes_[i + 1].h - nodes_[i].h; };
  const auto rise = [&](std::size_t i) {
    return (nodes_[i + 1].water - nodes_[i].water) / width(i);
  };
  nodes_.front().slope = rise(0);
  nodes_.back().slope = rise(count - 2);
  for (std::size_t i = 1; i + 1 < count; ++i)
    nodes_[i].slope = slope_between(width(i - 1), rise(i - 1), width(i), rise(i));
}

MoistureAt Contents::by_points(double h) const {
  const auto beyond = [h](const Node& end) {
    return MoistureAt{end.water + end.slope * (h - end.h), end.slope};
  };
  if (h <= nodes_.front().h) return beyond(nodes_.front());
  if (h >= nodes_.back().h) return beyond(nodes_.back());
  std::size_t i = 0;
  while (nodes_[i + 1].h < h) ++i;
  const Node& low = nodes_[i];
  const Node& high = nodes_[i + 1];
  const double width = high.h - low.h;
  const double t = (h - low.h) / width;
  const double d0 = low.slope * width;
  const double d1 = high.slope * width;
  const double c2 = 3 * (high.water - low.water) - 2 * d0 - d1;
  const double c3 = 2 * (low.water - high.water) + d0 + d1;
  return {low.water + t * (d0 + t * (c2 + t * c3)), (d0 + t * (2 * c2 + 3 * t * c3)) / width};
}

}  // namespace aeruca::detail
